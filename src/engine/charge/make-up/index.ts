/**
 * Which metal goes into the crucible: grams of each lot for one charge.
 *
 * Needs a request (target, scale step, alloy limits, lots) and a linear solver handed in; gives the cheapest
 * charge that keeps every limit in masses the scale can weigh, or every reason why there is none.
 * `makeUpFromFine` answers at once without a solver, by alligation.
 * A request is plain JSON and equal requests give equal answers, so a finished answer may be kept by a hash
 * of its request. This room does not know how much metal a pour needs, which marks a fineness may carry,
 * or how the solver is loaded. Read `make-up.ts` first.
 */
export type {
  BindingLimit,
  ChargeAnswer,
  ChargeCannot,
  ChargeLine,
  ChargeMade,
  ChargeNote,
} from './answer.ts'
export { makeUpFromFine } from './by-rule.ts'
export type { LinearModel, LinearRow, LinearSolution, LinearSolver, LinearVariable } from './linear-model.ts'
export type { ChargeAlloy, ChargeRequest, Content, FinenessGuard, Lot, LotKind } from './lots.ts'
export { buyableFor, isRestUnknown } from './lots.ts'
export { makeUpCharge } from './make-up.ts'
export type { Cause } from './one-cause.ts'
export { causesOf } from './one-cause.ts'
export type { ChargeProblem, Purchase } from './problems.ts'
export { inWords } from './problems.ts'
