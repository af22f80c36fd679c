/**
 * The lowest fineness a charge may turn out to have, and the same as a constraint a linear solver can take.
 *
 * Expected fineness is linear in the shares x. Its fifth percentile is
 *   sum(x f) - sqrt(sum((x d)^2) + sum((z w)^2)),
 * d being the distance from a lot's value to its low end (assays of different lots are independent), z one
 * for each lot weighed, and w the 5 % reach of one weighing's rounding. The root is convex, so every tangent
 * to it is a linear limit that no truly allowed charge breaks: charges found outside are cut off one tangent
 * at a time until the best remaining one is inside, which is then the best of all.
 *
 * Source: combination of independent uncertainties, JCGM 100 (GUM) 5.1.2; outer approximation by tangents
 * for a convex limit, mathematical-programming textbooks.
 */

import { guardOf } from './limits.ts'
import type { ChargeRequest, CountedLot } from './lots.ts'
import { contentOf } from './lots.ts'

// Half width of a 90 % interval in standard deviations, and of a rounding one step wide: 1 / sqrt(12).
const reachOfFivePercent = 1.6448536269514722
const deviationOfRounding = 1 / Math.sqrt(12)

/** Fractions by mass. `worst` takes every assay at its low end and every weighing half a step wrong. */
export type FinenessSpread = { low: number; expected: number; high: number; worst: number }

/** How far one step of this lot in place of the charge's mean moves the fineness, a fraction of the charge. */
const pullOfStep = (request: ChargeRequest, lot: CountedLot, total: number): number =>
  Math.abs(contentOf(lot.lot, request.alloy.principal).value - wantedFineness(request)) / total

const wantedFineness = ({ alloy }: ChargeRequest): number =>
  (alloy.finenessTarget_ppt ??
    alloy.finenessLeast_ppt ??
    1000 * middle(alloy.limits[alloy.principal] ?? { low: 0, high: 1 })) / 1000

const middle = ({ low, high }: { low: number; high: number }): number => (low + high) / 2

// Fractions of a step are met while amounts are not yet whole; a solver's noise is no weighing.
const isUsed = (count: number): boolean => count > 1e-6

/** Fineness of a counted charge. A weighing error's pull is taken about the fineness wanted. */
export const finenessOf = (request: ChargeRequest, lots: CountedLot[], counts: number[]): FinenessSpread => {
  const total = counts.reduce((sum, count) => sum + count, 0)
  let expected = 0
  let worst = 0
  let below = 0
  let above = 0
  let weighing = 0
  lots.forEach((lot, index) => {
    const count = counts[index] ?? 0
    if (!isUsed(count)) return
    const content = contentOf(lot.lot, request.alloy.principal)
    const share = count / total
    const pull = pullOfStep(request, lot, total)
    expected += share * content.value
    worst += share * content.low - pull / 2
    below += (share * (content.value - content.low)) ** 2
    above += (share * (content.high - content.value)) ** 2
    weighing += (reachOfFivePercent * deviationOfRounding * pull) ** 2
  })
  return {
    low: expected - Math.sqrt(below + weighing),
    expected,
    high: expected + Math.sqrt(above + weighing),
    worst,
  }
}

/** Guarded fineness: the figure that is held against the least allowed. */
export const guardedFineness = (request: ChargeRequest, spread: FinenessSpread): number => {
  const guard = guardOf(request)
  return guard === 'expected' ? spread.expected : guard === 'worst case' ? spread.worst : spread.low
}

/** sum(count * perStep) + sum(used * perUse) >= 0, in steps, for a charge whose counts sum to the total. */
export type GuardRow = { perStep: number[]; perUse: number[] }

/** The worst-case guard as one row; it also implies the fifth-percentile guard. */
export const worstCaseRow = (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  least: number,
): GuardRow => ({
  perStep: lots.map((lot) => contentOf(lot.lot, request.alloy.principal).low - least),
  perUse: lots.map((lot) => (-pullOfStep(request, lot, total) * total) / 2),
})

/** Fifth percentile from the assays alone, in a charge whose weighings are not yet settled. */
export const lowFromAssays = (request: ChargeRequest, lots: CountedLot[], counts: number[]): number => {
  const total = counts.reduce((sum, count) => sum + count, 0)
  const contents = lots.map((lot) => contentOf(lot.lot, request.alloy.principal))
  const expected = contents.reduce((sum, { value }, index) => sum + (counts[index] ?? 0) * value, 0)
  return (
    (expected -
      Math.hypot(...contents.map(({ value, low }, index) => (counts[index] ?? 0) * (value - low)))) /
    total
  )
}

/** Tangent to the fifth-percentile guard at a charge; a flat one where the charge has no spread at all. */
export const tangentRow = (
  request: ChargeRequest,
  lots: CountedLot[],
  counts: number[],
  least: number,
  from: 'assays' | 'assays and weighings',
): GuardRow => {
  const total = counts.reduce((sum, count) => sum + count, 0)
  const reach = from === 'assays' ? 0 : reachOfFivePercent * deviationOfRounding
  const assays = lots.map((lot, index) => {
    const content = contentOf(lot.lot, request.alloy.principal)
    return ((counts[index] ?? 0) / total) * (content.value - content.low)
  })
  const weighings = lots.map((lot, index) =>
    isUsed(counts[index] ?? 0) ? reach * pullOfStep(request, lot, total) : 0,
  )
  const root = Math.hypot(...assays, ...weighings)
  return {
    perStep: lots.map((lot, index) => {
      const content = contentOf(lot.lot, request.alloy.principal)
      const lean = root > 0 ? ((assays[index] ?? 0) / root) * (content.value - content.low) : 0
      return content.value - least - lean
    }),
    perUse: lots.map((lot, index) => {
      const lean = root > 0 ? (weighings[index] ?? 0) / root : 0
      return -lean * reach * pullOfStep(request, lot, total) * total
    }),
  }
}
