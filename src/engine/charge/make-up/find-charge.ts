import type { ChargeNote } from './answer.ts'
import { keepsGuard } from './answer.ts'
import type { ChargeModel, ChargeObjective } from './charge-model.ts'
import { buildChargeModel } from './charge-model.ts'
import type { GuardRow } from './fineness-guard.ts'
import { finenessOf, lowFromAssays, tangentRow, worstCaseRow } from './fineness-guard.ts'
import type { Limit } from './limits.ts'
import { guardOf } from './limits.ts'
import type { LinearSolver } from './linear-model.ts'
import { relax } from './linear-model.ts'
import type { ChargeRequest, CountedLot } from './lots.ts'

export type ChargeSearch = {
  request: ChargeRequest
  lots: CountedLot[]
  total: number
  limits: Limit[]
  /** Whether the least fineness is held, by the request's guard. */
  guarded: boolean
  objective: ChargeObjective
}

export type ChargeFound =
  | { kind: 'found'; counts: number[]; pieces: (number[] | undefined)[]; notes: ChargeNote[] }
  | { kind: 'none' }
  | { kind: 'undecided'; why: string }

export type FractionsFound =
  | { kind: 'found'; amounts: number[]; guardRows: GuardRow[] }
  | { kind: 'none' }
  | { kind: 'undecided'; why: string }

const mostTangents = 40
// A hundredth of a part in a million: finer than any assay, coarser than the solver's tolerance.
const closeEnough = 1e-8

const modelFor = (search: ChargeSearch, guardRows: GuardRow[]): ChargeModel => {
  const { request, lots, total, limits, objective } = search
  return buildChargeModel({
    lots,
    sum: { low: total, high: total },
    limits,
    guardRows,
    mostLots: request.mostLots,
    objective,
  })
}

const leastOf = ({ request, guarded }: ChargeSearch): number | undefined => {
  const least = guarded ? request.alloy.finenessLeast_ppt : undefined
  return least === undefined ? undefined : least / 1000
}

/**
 * The best charge when amounts may be fractions of a step and of a piece, and the tangents that led to it.
 * Every tangent also holds for whole steps.
 */
export const findFractions = async (search: ChargeSearch, solver: LinearSolver): Promise<FractionsFound> => {
  const { request, lots, total } = search
  const least = leastOf(search)
  const guard = guardOf(request)
  const guardRows: GuardRow[] = []
  if (least !== undefined && guard === 'worst case') guardRows.push(worstCaseRow(request, lots, total, least))
  for (let round = 0; round < mostTangents; round++) {
    const { model, amounts: read } = modelFor(search, guardRows)
    const solution = await solver.solve(relax(model))
    if (solution.status === 'infeasible') return { kind: 'none' }
    if (solution.status === 'undecided') return { kind: 'undecided', why: solution.why }
    const amounts = read(solution.values)
    const settled =
      least === undefined ||
      guard !== 'fifth percentile' ||
      lowFromAssays(request, lots, amounts) >= least - closeEnough
    if (settled || round === mostTangents - 1) return { kind: 'found', amounts, guardRows }
    guardRows.push(tangentRow(request, lots, amounts, least, 'assays'))
  }
  return { kind: 'undecided', why: 'no tangent settled' }
}

/**
 * The best charge in whole steps under the limits given, or proof that there is none. With `whole` at
 * 'choices', pieces and lots are still taken or left but amounts may be fractions of a step.
 */
export const findCharge = async (
  search: ChargeSearch,
  solver: LinearSolver,
  whole: 'steps' | 'choices' = 'steps',
): Promise<ChargeFound> => {
  const { request, lots, total } = search
  const least = leastOf(search)
  const fractions = await findFractions(search, solver)
  if (fractions.kind !== 'found') return fractions
  const guardRows = [...fractions.guardRows]
  const byTangents = least !== undefined && guardOf(request) === 'fifth percentile'
  if (byTangents) {
    guardRows.push(tangentRow(request, lots, fractions.amounts, least, 'assays and weighings'))
  }
  const forgiven = whole === 'steps' ? undefined : closeEnough
  for (let round = 0; round < mostTangents; round++) {
    const { model, read, amounts } = modelFor(search, guardRows)
    const solution = await solver.solve(whole === 'steps' ? model : relax(model, 'choices'))
    if (solution.status === 'infeasible') return { kind: 'none' }
    if (solution.status === 'undecided') return { kind: 'undecided', why: solution.why }
    const { pieces, counts: steps } = read(solution.values)
    const counts = whole === 'steps' ? steps : amounts(solution.values)
    if (!byTangents || keepsGuard(request, finenessOf(request, lots, counts), forgiven)) {
      return { kind: 'found', counts, pieces, notes: [] }
    }
    guardRows.push(tangentRow(request, lots, counts, least, 'assays and weighings'))
  }
  // The worst case is the stricter guard and needs one row: a charge that holds it is allowed, if dearer.
  if (least === undefined) return { kind: 'undecided', why: 'no tangent settled' }
  const { model, read } = modelFor(search, [worstCaseRow(request, lots, total, least)])
  const solution = await solver.solve(model)
  if (solution.status !== 'optimal') return { kind: 'undecided', why: 'no tangent settled' }
  return { kind: 'found', ...read(solution.values), notes: [{ kind: 'guarded-by-worst-case' }] }
}
