import type { ChargeAnswer, ChargeNote } from './answer.ts'
import { composeAnswer, keepsGuard, keepsLimits } from './answer.ts'
import { checkRequest } from './check-request.ts'
import { findLimitsOutOfReach } from './explain-cannot.ts'
import { finenessOf, guardedFineness } from './fineness-guard.ts'
import { guardOf, limitsOf, returnedMostOf } from './limits.ts'
import type { ChargeRequest, Content, CountedLot, Lot, LotKind } from './lots.ts'
import { alloyingOf, contentOf, countLots, fineOf, isReturned } from './lots.ts'
import { problem } from './problems.ts'
import { toKilograms, toSteps } from './round-to-scale.ts'

/**
 * Make-up by the bench rule, without a solver: the returns the rule allows, then fine and alloying metal by
 * alligation, x = (wanted - what the returns bring - all alloying) / (fine - alloying), fine rounded up to
 * the scale and alloying metal making up the sum. An alloy with no fineness to reach takes casting grain.
 *
 * Keeps every limit, but neither seeks the least cost nor holds the new metal to the stock: a line that
 * wants more than its lot holds is noted. Standard fine and alloying metal stand in where no lot is listed.
 */
export const makeUpFromFine = (request: ChargeRequest): ChargeAnswer => {
  const bad = checkRequest(request)
  if (bad.length > 0) return { kind: 'cannot', problems: bad }
  const returns = takeReturns(request)
  const withReturns = blend(request, returns)
  if (withReturns.kind === 'made-up' || returns.length === 0) return withReturns
  const withoutReturns = blend(request, [])
  return withoutReturns.kind === 'made-up' ? withoutReturns : withReturns
}

type Part = { lot: CountedLot; count: number; pieces?: number[] }

/** Returns up to the share allowed; those melted most often first where that is wanted. */
const takeReturns = (request: ChargeRequest): Part[] => {
  const total = toSteps(request.target_kg, request.scaleStep_kg)
  const returns = countLots(request).lots.filter(({ lot, must }) => lot.kind === 'returns' || must > 0)
  const age = ({ lot }: CountedLot): number => (request.preferOldReturns ? (lot.generation ?? 0) : 0)
  returns.sort((a, b) => Number(b.must > 0) - Number(a.must > 0) || age(b) - age(a))
  let left = Math.floor(returnedMostOf(request) * total + 1e-9)
  return returns.flatMap((lot): Part[] => {
    const room = isReturned(lot.lot.kind) ? left : total
    const pieces = lot.pieces && fitPieces(lot.pieces, room)
    const wanted = isReturned(lot.lot.kind) ? lot.stock : lot.must
    const count = pieces ? pieces.reduce((sum, piece) => sum + piece, 0) : Math.min(wanted, room)
    if (count <= 0 || count < lot.least || count < lot.must) return []
    if (isReturned(lot.lot.kind)) left -= count
    return [{ lot, count, pieces }]
  })
}

const fitPieces = (pieces: number[], room: number): number[] => {
  let left = room
  return [...pieces]
    .sort((a, b) => b - a)
    .filter((piece) => {
      const fits = piece <= left
      if (fits) left -= piece
      return fits
    })
}

const blend = (request: ChargeRequest, taken: Part[]): ChargeAnswer => {
  const { alloy } = request
  const total = toSteps(request.target_kg, request.scaleStep_kg)
  const room = total - taken.reduce((sum, part) => sum + part.count, 0)
  const aims = [alloy.finenessTarget_ppt, alloy.finenessLeast_ppt].filter((aim) => aim !== undefined)
  if (aims.length === 0) return settle(request, [...taken, { lot: grainFor(request), count: room }])

  const fine = pick(request, ['fine'], fineOf(alloy))
  const alloying = pick(request, ['alloying', 'master alloy'], alloyingOf(alloy))
  if (!alloying) return settle(request, [...taken, { lot: fine, count: room }])
  const principal = (lot: CountedLot): number => contentOf(lot.lot, alloy.principal).value
  const gain = principal(fine) - principal(alloying)
  const brought = taken.reduce((sum, part) => sum + part.count * principal(part.lot), 0)
  const wanted = (total * Math.max(...aims)) / 1000 - brought - room * principal(alloying)
  const parts = (count: number): Part[] => [
    ...taken,
    { lot: fine, count },
    { lot: alloying, count: room - count },
  ]
  let count = gain > 0 ? clamp(Math.ceil(wanted / gain - 1e-9), 0, room) : room
  // The fineness counted on lies under the expected one by a spread that itself moves a little with the mix.
  while (count < room && !guardHolds(request, parts(count))) {
    const least = (alloy.finenessLeast_ppt ?? 0) / 1000
    const short = least - guardedFineness(request, finenessOf(request, ...apart(parts(count))))
    count = Math.min(room, count + Math.max(1, Math.floor((short * total) / Math.max(gain, 1e-6))))
  }
  return settle(request, parts(count))
}

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value))

const apart = (parts: Part[]): [CountedLot[], number[]] => [
  parts.map((part) => part.lot),
  parts.map((part) => part.count),
]

const guardHolds = (request: ChargeRequest, parts: Part[]): boolean =>
  keepsGuard(request, finenessOf(request, ...apart(parts)))

/** One part for each lot: metal that must go in may also be the fine or alloying metal chosen. */
const mergeParts = (parts: Part[]): Part[] => {
  const merged = new Map<string, Part>()
  for (const part of parts) {
    if (part.count <= 0) continue
    const other = merged.get(part.lot.lot.id)
    merged.set(part.lot.lot.id, other ? { ...other, count: other.count + part.count } : part)
  }
  return [...merged.values()]
}

const settle = (request: ChargeRequest, parts: Part[]): ChargeAnswer => {
  const used = mergeParts(parts)
  const [lots, counts] = apart(used)
  if (keepsLimits(request, lots, counts)) {
    const pieces = used.map((part) => part.pieces)
    const answer = composeAnswer(request, lots, counts, pieces, 'rule')
    return { ...answer, notes: [...answer.notes, ...used.flatMap((part) => noteBeyondStock(request, part))] }
  }
  const total = toSteps(request.target_kg, request.scaleStep_kg)
  // New metal is taken to be had in any amount: what stays out of reach then is out of reach by any blend.
  const unheld = lots.map((lot) => (isReturned(lot.lot.kind) ? lot : { ...lot, stock: total }))
  const problems = findLimitsOutOfReach(request, unheld, total, undefined)
  if (!guardHolds(request, used)) {
    const best_ppt = 1000 * guardedFineness(request, finenessOf(request, lots, counts))
    const wanted_ppt = request.alloy.finenessLeast_ppt ?? 0
    const facts = { where: 'alloy.finenessLeast_ppt', counted: guardOf(request), best_ppt, wanted_ppt }
    problems.push(problem({ kind: 'fineness-out-of-reach', ...facts }))
  }
  if (problems.length === 0) {
    const limits = limitsOf(request).map((limit) => `${limit.group} (${limit.id})`)
    problems.push(problem({ kind: 'limits-conflict', where: 'alloy', limits }))
  }
  return { kind: 'cannot', problems }
}

const noteBeyondStock = (request: ChargeRequest, { lot, count }: Part): ChargeNote[] => {
  const listed = request.lots.find((other) => other.id === lot.lot.id)
  if (!listed || count <= lot.stock) return []
  const short_kg = toKilograms(count - lot.stock, request.scaleStep_kg)
  return [{ kind: 'beyond-stock', lot: listed.id, name: listed.name, short_kg }]
}

/** The usable lot of these kinds that holds most, then the first that can be bought, then the standard one. */
function pick(request: ChargeRequest, kinds: LotKind[], standard: Lot): CountedLot
function pick(request: ChargeRequest, kinds: LotKind[], standard: Lot | undefined): CountedLot | undefined
function pick(request: ChargeRequest, kinds: LotKind[], standard: Lot | undefined): CountedLot | undefined {
  const [largest] = countLots(request)
    .lots.filter(({ lot, pieces }) => kinds.includes(lot.kind) && !pieces)
    .sort((a, b) => b.stock - a.stock)
  if (largest) return largest
  const lot = request.buyable?.find((other) => kinds.includes(other.kind)) ?? standard
  return lot && { lot, stock: 0, least: 0, must: 0 }
}

const grainFor = (request: ChargeRequest): CountedLot => {
  const { alloy } = request
  const middles = Object.entries(alloy.limits).map(([element, { low, high }]) => {
    const value = (low + high) / 2
    return [element, { value, low: value, high: value }] as [string, Content]
  })
  const named = middles.reduce((sum, [, { value }]) => sum + value, 0)
  const others = middles.filter(([element]) => element !== alloy.principal)
  const rest = 1 - others.reduce((sum, [, { value }]) => sum + value, 0)
  // Middles of limits rarely sum to one: the principal metal makes up the rest where its limits let it.
  const composition = Object.fromEntries(
    named > 0 && rest > 0
      ? [...others, [alloy.principal, { value: rest, low: rest, high: rest }]]
      : [[alloy.principal, { value: 1, low: 1, high: 1 }]],
  )
  const standard: Lot = {
    id: `casting-grain-${alloy.id}`,
    name: `casting grain, ${alloy.name}`,
    kind: 'casting grain',
    mass_kg: 0,
    composition,
    price_per_kg: 0,
    mayUse: true,
    owner: 'shop',
  }
  return pick(request, ['casting grain'], standard)
}
