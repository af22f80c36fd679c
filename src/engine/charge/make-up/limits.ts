import type { ChargeRequest, CountedLot, ElementSymbol, FinenessGuard } from './lots.ts'
import { contentOf, isReturned } from './lots.ts'

/** What a limit is about. Each group can be left out of a model to ask which of them is in the way. */
export type LimitGroup = 'fineness' | 'fineness most' | 'element' | 'forbidden' | 'returned'

/** One limit, linear in the shares: sum of share * of(lot) is at least, or at most, `level`. */
export type Limit = {
  group: LimitGroup
  id: string
  element?: ElementSymbol
  side: 'least' | 'most'
  level: number
  of: (lot: CountedLot) => number
}

export const guardOf = (request: ChargeRequest): FinenessGuard => request.guard ?? 'fifth percentile'

export const returnedMostOf = (request: ChargeRequest): number => request.returnedMost ?? 0.5

/** Every limit of the request but the guarded least fineness, which has `fineness-guard.ts` to itself. */
export const limitsOf = (request: ChargeRequest): Limit[] => {
  const { alloy } = request
  const fineness = ({ lot }: CountedLot) => contentOf(lot, alloy.principal).value
  const limits: Limit[] = []
  const target = alloy.finenessTarget_ppt
  const least = guardOf(request) === 'expected' ? alloy.finenessLeast_ppt : undefined
  if (target !== undefined) {
    limits.push({ group: 'fineness', id: 'aim', side: 'least', level: target / 1000, of: fineness })
  }
  if (least !== undefined) {
    limits.push({ group: 'fineness', id: 'least', side: 'least', level: least / 1000, of: fineness })
  }
  if (alloy.finenessMost_ppt !== undefined) {
    const level = alloy.finenessMost_ppt / 1000
    limits.push({ group: 'fineness most', id: 'most', side: 'most', level, of: fineness })
  }
  for (const [element, { low, high }] of Object.entries(alloy.limits)) {
    const of = ({ lot }: CountedLot) => contentOf(lot, element).value
    if (low > 0) limits.push({ group: 'element', id: element, element, side: 'least', level: low, of })
    if (high < 1) limits.push({ group: 'element', id: element, element, side: 'most', level: high, of })
  }
  for (const [element, level] of Object.entries(alloy.forbidden ?? {})) {
    const of = ({ lot }: CountedLot) => contentOf(lot, element).high
    limits.push({ group: 'forbidden', id: element, element, side: 'most', level, of })
  }
  if (returnedMostOf(request) < 1) {
    const of = ({ lot }: CountedLot) => (isReturned(lot.kind) ? 1 : 0)
    limits.push({ group: 'returned', id: 'returned', side: 'most', level: returnedMostOf(request), of })
  }
  return limits
}

/** How far the charge is inside a limit, in mass fraction; negative outside it. */
export const slackOf = (limit: Limit, lots: CountedLot[], counts: number[]): number => {
  const total = counts.reduce((sum, count) => sum + count, 0)
  const held = lots.reduce((sum, lot, index) => sum + (counts[index] ?? 0) * limit.of(lot), 0) / total
  return limit.side === 'least' ? held - limit.level : limit.level - held
}
