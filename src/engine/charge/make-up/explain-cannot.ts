import { buildChargeModel } from './charge-model.ts'
import type { ChargeFound, ChargeSearch } from './find-charge.ts'
import { findCharge, findFractions } from './find-charge.ts'
import { lowFromAssays, tangentRow } from './fineness-guard.ts'
import type { Limit } from './limits.ts'
import { guardOf, limitsOf, returnedMostOf } from './limits.ts'
import type { LinearModel, LinearSolver } from './linear-model.ts'
import type { ChargeRequest, CountedLot, SetAside } from './lots.ts'
import { buyableFor, contentOf, isReturned, nameElement, REST_UNKNOWN } from './lots.ts'
import type { ChargeProblem, Purchase } from './problems.ts'
import { partsIn1000, problem } from './problems.ts'
import { toKilograms, toSteps } from './round-to-scale.ts'

/**
 * Why no charge keeps every limit: each limit that the stock cannot meet even when all others are dropped;
 * failing those, the smallest set of limits that cannot be met together; failing that, what whole pieces,
 * least amounts and the scale's step rule out.
 */
export const explainCannot = async (
  request: ChargeRequest,
  lots: CountedLot[],
  setAside: SetAside[],
  solver: LinearSolver,
): Promise<ChargeProblem[]> => {
  const total = toSteps(request.target_kg, request.scaleStep_kg)
  const usable = lots.reduce((sum, lot) => sum + lot.stock, 0)
  const buy = await findPurchase(request, lots, total, solver)
  if (usable < total) {
    const masses = [usable, total, total - usable].map((steps) => toKilograms(steps, request.scaleStep_kg))
    const [usable_kg = 0, target_kg = 0, short_kg = 0] = masses
    const aside = setAside.map((lot) => `${lot.name} (${lot.why})`)
    const untold = setAside.filter(({ why }) => why === REST_UNKNOWN).map(({ name }) => name)
    const facts = { where: 'lots', usable_kg, target_kg, short_kg, setAside: aside, untold, buy }
    return [problem({ kind: 'not-enough-metal', ...facts })]
  }
  const alone = [
    ...findLimitsOutOfReach(request, lots, total, buy),
    ...(await findGuardOutOfReach(request, lots, total, solver, buy)),
  ]
  if (alone.length > 0) return alone
  const search: ChargeSearch = {
    request,
    lots,
    total,
    limits: limitsOf(request),
    guarded: request.alloy.finenessLeast_ppt !== undefined,
    objective: { direction: 'least', perStep: lots.map(() => 0) },
  }
  const fractions = await findFractions(freeAmounts(search), solver)
  if (fractions.kind === 'undecided')
    return [problem({ kind: 'undecided', where: 'lots', why: fractions.why })]
  if (fractions.kind === 'none') return [await findConflict(freeAmounts(search), solver, buy)]
  return [await explainSteps(search, solver, buy)]
}

/**
 * The least metal that, bought in beside the stock, lets the charge be made; and of all such purchases the
 * one with the least precious metal, so that it reaches the aim and no more.
 */
const findPurchase = async (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  solver: LinearSolver,
): Promise<Purchase[] | undefined> => {
  const bought = buyableFor(request).map(
    (lot): CountedLot => ({
      lot: { ...lot, id: `bought ${lot.id}`, mustUse_kg: undefined, leastUse_kg: undefined },
      stock: total,
      least: 0,
      must: 0,
    }),
  )
  const shelf = [...lots, ...bought]
  const isBought = new Set(bought)
  const search = (limits: Limit[], of: (lot: CountedLot) => number): Promise<ChargeFound> =>
    findCharge(
      {
        request,
        lots: shelf,
        total,
        limits,
        guarded: true,
        objective: { direction: 'least', perStep: shelf.map((lot) => (isBought.has(lot) ? of(lot) : 0)) },
      },
      solver,
    )
  const limits = limitsOf(request)
  const least = await search(limits, () => 1)
  if (least.kind !== 'found') return undefined
  const mass = least.counts.slice(lots.length).reduce((sum, steps) => sum + steps, 0)
  const noMore: Limit = {
    group: 'returned',
    id: 'bought',
    side: 'most',
    level: mass / total,
    of: (lot) => (isBought.has(lot) ? 1 : 0),
  }
  const leanest = await search(
    [...limits, noMore],
    ({ lot }) => contentOf(lot, request.alloy.principal).value,
  )
  const found = leanest.kind === 'found' ? leanest : least
  return buyableFor(request).flatMap((lot, index) => {
    const steps = found.counts[lots.length + index] ?? 0
    const mass_kg = toKilograms(steps, request.scaleStep_kg)
    return steps > 0 ? [{ lot: lot.id, name: lot.name, mass_kg }] : []
  })
}

/** Least or most of a linear share that this stock can be brought to, whatever else: filled greedily. */
const reach = (
  lots: CountedLot[],
  total: number,
  side: 'lowest' | 'highest',
  of: (lot: CountedLot) => number,
): number => {
  const sign = side === 'lowest' ? 1 : -1
  let left = total - lots.reduce((sum, lot) => sum + lot.must, 0)
  let held = lots.reduce((sum, lot) => sum + lot.must * of(lot), 0)
  for (const lot of [...lots].sort((a, b) => sign * (of(a) - of(b)))) {
    const steps = Math.min(left, lot.stock - lot.must)
    held += steps * of(lot)
    left -= steps
  }
  return held / total
}

const noise = 1e-9

/** Every limit that cannot be met by any charge from these lots, each taken alone. */
export const findLimitsOutOfReach = (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  buy: Purchase[] | undefined,
): ChargeProblem[] =>
  limitsOf(request).flatMap((limit): ChargeProblem[] => {
    const reached = reach(lots, total, limit.side === 'least' ? 'highest' : 'lowest', limit.of)
    const short = limit.side === 'least' ? limit.level - reached : reached - limit.level
    return short > noise ? [nameOutOfReach(request, lots, total, limit, reached, buy)] : []
  })

const nameOutOfReach = (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  limit: Limit,
  reached: number,
  buy: Purchase[] | undefined,
): ChargeProblem => {
  const element = limit.element ?? ''
  switch (limit.group) {
    case 'fineness': {
      const where = limit.id === 'aim' ? 'alloy.finenessTarget_ppt' : 'alloy.finenessLeast_ppt'
      const facts = { best_ppt: reached * 1000, wanted_ppt: limit.level * 1000, buy }
      return problem({ kind: 'fineness-out-of-reach', where, counted: 'expected', ...facts })
    }
    case 'fineness most': {
      const facts = { lowest_ppt: reached * 1000, most_ppt: limit.level * 1000, buy }
      return problem({ kind: 'too-fine', where: 'alloy.finenessMost_ppt', ...facts })
    }
    case 'element': {
      const facts = { element, side: limit.side, reachable: reached, limit: limit.level, buy }
      return problem({ kind: 'element-out-of-limits', where: `alloy.limits.${element}`, ...facts })
    }
    case 'forbidden': {
      const from = lots.filter((lot) => limit.of(lot) > limit.level).map((lot) => lot.lot.name)
      const facts = { element, lowest: reached, most: limit.level, from, buy }
      return problem({ kind: 'forbidden-element', where: `alloy.forbidden.${element}`, ...facts })
    }
    case 'returned': {
      const most = returnedMostOf(request)
      const newMetal = lots.reduce((sum, lot) => sum + (isReturned(lot.lot.kind) ? 0 : lot.stock), 0)
      const short = Math.ceil((1 - most) * total - noise) - newMetal
      const newMetalShort_kg = toKilograms(short, request.scaleStep_kg)
      const facts = { leastShare: reached, most, newMetalShort_kg, buy }
      return problem({ kind: 'too-much-returned', where: 'returnedMost', ...facts })
    }
  }
}

const findGuardOutOfReach = async (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  solver: LinearSolver,
  buy: Purchase[] | undefined,
): Promise<ChargeProblem[]> => {
  const least = request.alloy.finenessLeast_ppt
  const counted = guardOf(request)
  if (least === undefined || counted === 'expected') return []
  const { principal } = request.alloy
  const best =
    counted === 'worst case'
      ? reach(lots, total, 'highest', ({ lot }) => contentOf(lot, principal).low)
      : await bestFifthPercentile(request, lots, total, solver)
  if (best === undefined || best >= least / 1000 - noise) return []
  const facts = { where: 'alloy.finenessLeast_ppt', counted, best_ppt: best * 1000, wanted_ppt: least }
  return [problem({ kind: 'fineness-out-of-reach', ...facts, buy })]
}

const mostTangents = 40

/** Highest fifth percentile of the fineness over all charges, weighing left out: tangents from above. */
const bestFifthPercentile = async (
  request: ChargeRequest,
  lots: CountedLot[],
  total: number,
  solver: LinearSolver,
): Promise<number | undefined> => {
  const height = lots.length
  const model: LinearModel = {
    direction: 'most',
    variables: [
      ...lots.map(({ must, stock }) => ({ cost: 0, low: must, high: stock, kind: 'continuous' as const })),
      { cost: 1, low: -1, high: 1, kind: 'continuous' },
    ],
    rows: [{ low: total, high: total, terms: lots.map((_, index) => [index, 1]) }],
  }
  let counts = lots.map(() => 0)
  let best: number | undefined
  for (let round = 0; round < mostTangents; round++) {
    const { perStep } = tangentRow(request, lots, round === 0 ? spread(lots, total) : counts, 0, 'assays')
    const terms = perStep.map((value, index): [number, number] => [index, value / total])
    model.rows.push({ low: 0, high: Infinity, terms: [...terms, [height, -1]] })
    const solution = await solver.solve(model)
    if (solution.status !== 'optimal') return undefined
    counts = solution.values.slice(0, height)
    best = solution.values[height] ?? 0
    if (lowFromAssays(request, lots, counts) >= best - noise) break
  }
  return best
}

// Any charge will do to start from: every lot in proportion to its stock.
const spread = (lots: CountedLot[], total: number): number[] => {
  const usable = lots.reduce((sum, lot) => sum + lot.stock, 0)
  return lots.map((lot) => (lot.stock * total) / usable)
}

/** The same search with pieces melted together and least amounts and the count of lots dropped. */
const freeAmounts = (search: ChargeSearch): ChargeSearch => ({
  ...search,
  request: { ...search.request, mostLots: undefined },
  lots: search.lots.map(({ lot, stock, must }) => ({ lot, stock, must, least: 0 })),
})

/** Drops limits one at a time for as long as there is still no charge; those left conflict, and no fewer do. */
const findConflict = async (
  search: ChargeSearch,
  solver: LinearSolver,
  buy: Purchase[] | undefined,
): Promise<ChargeProblem> => {
  let { limits, guarded } = search
  const fails = async (without: Partial<ChargeSearch>): Promise<boolean> =>
    (await findFractions({ ...search, limits, guarded, ...without }, solver)).kind === 'none'
  if (guarded && (await fails({ guarded: false }))) guarded = false
  for (const limit of limits) {
    const rest = limits.filter((other) => other !== limit)
    if (await fails({ limits: rest })) limits = rest
  }
  const words = limits.map(nameLimit)
  const least = search.request.alloy.finenessLeast_ppt
  if (guarded && least !== undefined) words.push(`fineness counted on at least ${partsIn1000(least / 1000)}`)
  return problem({ kind: 'limits-conflict', where: 'alloy', limits: words, buy })
}

const nameLimit = (limit: Limit): string => {
  const parts = partsIn1000(limit.level)
  switch (limit.group) {
    case 'fineness':
    case 'fineness most':
      return `fineness at ${limit.side} ${parts}`
    case 'element':
    case 'forbidden':
      return `${nameElement(limit.element ?? '')} at ${limit.side} ${parts}`
    case 'returned':
      return `at most ${parts} melted before`
  }
}

/**
 * Fractions of steps and of pieces would do. What stands in the way: the scale's step, the number of lots
 * allowed, or whole pieces and least amounts?
 */
const explainSteps = async (
  search: ChargeSearch,
  solver: LinearSolver,
  buy: Purchase[] | undefined,
): Promise<ChargeProblem> => {
  const { request, lots } = search
  const { mostLots, scaleStep_kg } = request
  const choices = await findCharge(search, solver, 'choices')
  if (choices.kind === 'undecided') return problem({ kind: 'undecided', where: 'lots', why: choices.why })
  if (choices.kind === 'found') {
    return problem({ kind: 'scale-too-coarse', where: 'scaleStep_kg', step_kg: scaleStep_kg })
  }
  if (mostLots !== undefined) {
    const ones = lots.map(() => 1)
    const objective = { ...search.objective, perUse: ones }
    const unlimited = { ...search, request: { ...request, mostLots: undefined }, objective }
    const fewest = await findCharge(unlimited, solver)
    if (fewest.kind === 'found') {
      const used = fewest.counts.filter((count) => count > 0).length
      return problem({ kind: 'too-few-lots', where: 'mostLots', most: mostLots, fewest: used })
    }
  }
  const nearestBelow_kg = await findNearest(search, solver, 'below')
  const nearestAbove_kg = await findNearest(search, solver, 'above')
  return problem({ kind: 'pieces-do-not-add-up', where: 'lots', nearestBelow_kg, nearestAbove_kg, buy })
}

/** The nearest charge on one side of the target that can be weighed, if one is found at once. */
const findNearest = async (
  search: ChargeSearch,
  solver: LinearSolver,
  side: 'below' | 'above',
): Promise<number | undefined> => {
  const { request, lots, total, limits } = search
  const usable = lots.reduce((all, lot) => all + lot.stock, 0)
  const model = buildChargeModel({
    lots,
    sum: side === 'below' ? { low: 1, high: total } : { low: total, high: usable },
    limits,
    guardRows: [],
    mostLots: request.mostLots,
    objective: { direction: side === 'below' ? 'most' : 'least', perStep: lots.map(() => 1) },
  })
  const solution = await solver.solve(model.model)
  if (solution.status !== 'optimal') return undefined
  const steps = model.read(solution.values).counts.reduce((all, count) => all + count, 0)
  // Found under the linear limits alone: it is named only if the guarded fineness holds there too.
  const there = await findCharge({ ...search, total: steps }, solver)
  return there.kind === 'found' ? toKilograms(steps, request.scaleStep_kg) : undefined
}
