/**
 * A linear model as plain numbers, and the one thing this room asks of a solver. The solver itself
 * (WebAssembly, loaded by the face) is handed in, so this room can be run and read without it.
 *
 * Variables and rows are known by their place in the list; there are no names to be misread.
 */
export type LinearVariable = {
  /** Objective coefficient. */
  cost: number
  /** Bounds; both finite in every model built here, so no model is unbounded. */
  low: number
  high: number
  kind: 'continuous' | 'integer' | 'binary'
}

/** low <= sum of coefficient * variable <= high; an absent side is -Infinity or Infinity. */
export type LinearRow = { low: number; high: number; terms: [variable: number, coefficient: number][] }

export type LinearModel = {
  direction: 'least' | 'most'
  variables: LinearVariable[]
  rows: LinearRow[]
}

export type LinearSolution =
  | { status: 'optimal'; objective: number; values: number[] }
  | { status: 'infeasible' }
  /** Neither an optimum nor a proof that there is none: `why` is the solver's own word. */
  | { status: 'undecided'; why: string }

export interface LinearSolver {
  /** Solves to proven optimality (no gap). Equal models give equal answers. */
  solve(model: LinearModel): Promise<LinearSolution>
}

/** The same model with whole-number demands dropped (or all but the yes-or-no ones): a bound on the true one. */
export const relax = (model: LinearModel, keep: 'none' | 'choices' = 'none'): LinearModel => ({
  ...model,
  variables: model.variables.map((variable) =>
    keep === 'choices' && variable.kind === 'binary' ? variable : { ...variable, kind: 'continuous' },
  ),
})
