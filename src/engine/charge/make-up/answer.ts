import type { FinenessSpread } from './fineness-guard.ts'
import { finenessOf, guardedFineness } from './fineness-guard.ts'
import { limitsOf, slackOf } from './limits.ts'
import type { ChargeRequest, CountedLot, ElementSymbol } from './lots.ts'
import { contentOf, isReturned } from './lots.ts'
import { type ChargeProblem, partsIn1000 } from './problems.ts'
import { toKilograms } from './round-to-scale.ts'

export type ChargeLine = { lot: string; name: string; mass_kg: number; pieces_kg?: number[] }

/** A limit or a stock that the charge rests against: loosening it could make the charge cheaper. */
export type BindingLimit = { id: string; says: string }

/** Something to know of a charge that holds every limit. */
export type ChargeNote =
  | { kind: 'untested-scrap'; lot: string; name: string; elements: ElementSymbol[] }
  | { kind: 'beyond-stock'; lot: string; name: string; short_kg: number }
  | { kind: 'guarded-by-worst-case' }

export type ChargeMade = {
  kind: 'made-up'
  /** 'solved' is the least cost of all charges; 'by rule' is alligation, not held to the stock. */
  by: 'solved' | 'rule'
  lines: ChargeLine[]
  /** In the currency of the prices; absent where a metal without a price is used. */
  cost?: number
  finenessExpected_ppt: number
  /** 5th percentile, expected, 95th percentile. */
  fineness: { low_ppt: number; expected_ppt: number; high_ppt: number }
  /** Every assay at its low end and every weighing half a step wrong. */
  finenessWorst_ppt: number
  composition: Record<ElementSymbol, number>
  returnedShare: number
  /** Highest count of earlier melts among the metal used, where known. */
  oldestGeneration?: number
  bindingLimits: BindingLimit[]
  notes: ChargeNote[]
}

export type ChargeCannot = { kind: 'cannot'; problems: ChargeProblem[] }

export type ChargeAnswer = ChargeMade | ChargeCannot

// Float noise in sums of shares; a millionth of a part per thousand.
const noise = 1e-9

/** Whether counted lots keep every limit of the request, the guarded fineness included. */
export const keepsLimits = (request: ChargeRequest, lots: CountedLot[], counts: number[]): boolean =>
  limitsOf(request).every((limit) => slackOf(limit, lots, counts) >= -noise) &&
  keepsGuard(request, finenessOf(request, lots, counts))

export const keepsGuard = (request: ChargeRequest, spread: FinenessSpread, forgiven = noise): boolean => {
  const least = request.alloy.finenessLeast_ppt
  return least === undefined || guardedFineness(request, spread) >= least / 1000 - forgiven
}

export const composeAnswer = (
  request: ChargeRequest,
  lots: CountedLot[],
  counts: number[],
  pieces: (number[] | undefined)[],
  by: ChargeMade['by'],
): ChargeMade => {
  const step = request.scaleStep_kg
  const total = counts.reduce((sum, count) => sum + count, 0)
  const used = lots.flatMap((lot, index) => {
    const count = counts[index] ?? 0
    return count > 0 ? [{ lot, count, pieces: pieces[index] }] : []
  })
  const spread = finenessOf(request, lots, counts)
  const elements = [...new Set(used.flatMap(({ lot }) => Object.keys(lot.lot.composition)))].sort()
  const shareOf = (of: (lot: CountedLot) => number): number =>
    used.reduce((sum, { lot, count }) => sum + count * of(lot), 0) / total
  const priced = new Set([...request.lots, ...(request.buyable ?? [])].map((lot) => lot.id))
  const generations = used.flatMap(({ lot }) => lot.lot.generation ?? [])
  const ppt = (fraction: number): number => fraction * 1000

  return {
    kind: 'made-up',
    by,
    lines: used.map(({ lot, count, pieces: taken }) => ({
      lot: lot.lot.id,
      name: lot.lot.name,
      mass_kg: toKilograms(count, step),
      ...(taken ? { pieces_kg: taken.map((piece) => toKilograms(piece, step)) } : {}),
    })),
    ...(used.every(({ lot }) => priced.has(lot.lot.id))
      ? { cost: used.reduce((sum, { lot, count }) => sum + count * step * lot.lot.price_per_kg, 0) }
      : {}),
    finenessExpected_ppt: ppt(spread.expected),
    fineness: {
      low_ppt: ppt(spread.low),
      expected_ppt: ppt(spread.expected),
      high_ppt: ppt(spread.high),
    },
    finenessWorst_ppt: ppt(spread.worst),
    composition: Object.fromEntries(
      elements.map((element) => [element, shareOf(({ lot }) => contentOf(lot, element).value)]),
    ),
    returnedShare: shareOf(({ lot }) => (isReturned(lot.kind) ? 1 : 0)),
    ...(generations.length > 0 ? { oldestGeneration: Math.max(...generations) } : {}),
    bindingLimits: findBinding(request, lots, counts, spread),
    notes: used.flatMap(({ lot }) => noteUntested(request, lot)),
  }
}

// Within one step moved from one lot to another of breaking: the scale cannot bring the charge closer.
const findBinding = (
  request: ChargeRequest,
  lots: CountedLot[],
  counts: number[],
  spread: FinenessSpread,
): BindingLimit[] => {
  const total = counts.reduce((sum, count) => sum + count, 0)
  const binding: BindingLimit[] = []
  const restsWithin = (slack: number, values: number[]): boolean =>
    slack <= (Math.max(...values) - Math.min(...values)) / total + noise
  for (const limit of limitsOf(request)) {
    const values = lots.map(limit.of)
    if (Math.max(...values) === Math.min(...values)) continue
    if (!restsWithin(slackOf(limit, lots, counts), values)) continue
    const says =
      limit.group === 'returned'
        ? `at most ${partsIn1000(limit.level)} metal melted before`
        : limit.element
          ? `${limit.element} at ${limit.side} ${partsIn1000(limit.level)}`
          : `fineness at ${limit.side} ${partsIn1000(limit.level)}`
    binding.push({ id: `${limit.group}.${limit.id}`, says })
  }
  const least = request.alloy.finenessLeast_ppt
  const principal = lots.map(({ lot }) => contentOf(lot, request.alloy.principal).value)
  if (least !== undefined && restsWithin(guardedFineness(request, spread) - least / 1000, principal)) {
    binding.push({ id: 'fineness.guard', says: `fineness counted on at least ${partsIn1000(least / 1000)}` })
  }
  lots.forEach((lot, index) => {
    if ((counts[index] ?? 0) >= lot.stock)
      binding.push({ id: `stock.${lot.lot.id}`, says: `all of ${lot.lot.name} is used` })
  })
  return binding
}

// Scrap of which nobody said whether it holds lead or cadmium is used on trust, and the answer says so.
const noteUntested = (request: ChargeRequest, { lot }: CountedLot): ChargeNote[] => {
  if (lot.kind !== 'scrap') return []
  const elements = Object.keys(request.alloy.forbidden ?? {}).filter(
    (element) => !(element in lot.composition),
  )
  return elements.length > 0 ? [{ kind: 'untested-scrap', lot: lot.id, name: lot.name, elements }] : []
}
