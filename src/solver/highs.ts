import type { Highs, InitOptions, ModelData, VariableType } from 'highs'
import type {
  LinearModel,
  LinearSolution,
  LinearSolver,
  LinearVariable,
} from '../engine/charge/make-up/linear-model.ts'

/**
 * Loads the linear solver when it is first asked, not before: its WebAssembly is 3.5 MB.
 *
 * Node finds `highs.wasm` beside the package by itself. A page passes `wasmUrl`, the address at which the
 * face serves that file (bundlers: `import wasmUrl from 'highs/runtime?url'`). A failed load is tried
 * afresh at the next question; the promise it was asked for rejects.
 */
export const createHighsSolver = (options: { wasmUrl?: string } = {}): LinearSolver => {
  let loading: Promise<Highs> | undefined
  const load = (): Promise<Highs> => {
    loading ??= loadHighs(options.wasmUrl).catch((error: unknown) => {
      loading = undefined
      throw error
    })
    return loading
  }
  return { solve: async (model) => solveWith(await load(), model) }
}

const loadHighs = async (wasmUrl: string | undefined): Promise<Highs> => {
  const { default: start } = await import('highs')
  const init: InitOptions = wasmUrl === undefined ? {} : { locateFile: () => wasmUrl }
  return start(init)
}

const kindCode: Record<LinearVariable['kind'], VariableType> = { continuous: 0, integer: 1, binary: 1 }

// Model status codes of the solver's C interface that we act on.
const optimal = 7
const infeasible = 8
const unboundedOrInfeasible = 9

const solverOptions = {
  output_flag: false,
  random_seed: 0,
  // The answer is proven best, not nearly best: two faces must not print different charges.
  mip_rel_gap: 0,
  mip_abs_gap: 1e-9,
  primal_feasibility_tolerance: 1e-9,
  mip_feasibility_tolerance: 1e-9,
  // A bound on work, not on time, so that a slow machine gives the same answer as a fast one.
  mip_max_nodes: 200_000,
}

const solveWith = (highs: Highs, model: LinearModel): LinearSolution => {
  // The solver calls a model without variables "empty" whatever its rows say.
  if (model.variables.length === 0) {
    const holds = model.rows.every((row) => row.low <= 0 && row.high >= 0)
    return holds ? { status: 'optimal', objective: 0, values: [] } : { status: 'infeasible' }
  }
  const first = solveOnce(highs, model, 'choose')
  // Presolve may stop at "infeasible or unbounded"; every model of ours is bounded, yet we prove it.
  return first.status === 'undecided' && first.why === 'infeasible or unbounded'
    ? solveOnce(highs, model, 'off')
    : first
}

const solveOnce = (highs: Highs, model: LinearModel, presolve: 'choose' | 'off'): LinearSolution =>
  // Sparse arrays rather than model text: a name in text is parsed, and "a-1" would be read as a sum.
  highs.withModel(toSparse(highs, model), (native): LinearSolution => {
    native.options.set({ ...solverOptions, presolve })
    native.run()
    const status = native.getModelStatus()
    if (status === optimal) {
      const values = Array.from(native.getSolution().colValue)
      return { status: 'optimal', objective: native.getObjectiveValue(), values }
    }
    if (status === infeasible) return { status: 'infeasible' }
    return {
      status: 'undecided',
      why: status === unboundedOrInfeasible ? 'infeasible or unbounded' : `solver status ${status}`,
    }
  })

const toSparse = (highs: Highs, model: LinearModel): ModelData => {
  const { variables, rows, direction } = model
  const starts = [0]
  const indices: number[] = []
  const values: number[] = []
  for (const row of rows) {
    for (const [variable, coefficient] of row.terms) {
      indices.push(variable)
      values.push(coefficient)
    }
    starts.push(indices.length)
  }
  const { minimize, maximize } = highs.constants.objectiveSense
  return {
    numCols: variables.length,
    numRows: rows.length,
    sense: direction === 'least' ? minimize : maximize,
    colCost: variables.map((variable) => variable.cost),
    colLower: variables.map((variable) => variable.low),
    colUpper: variables.map((variable) => variable.high),
    rowLower: rows.map((row) => row.low),
    rowUpper: rows.map((row) => row.high),
    matrix: { format: 'csr', numRows: rows.length, numCols: variables.length, starts, indices, values },
    integrality: variables.map((variable) => kindCode[variable.kind]),
  }
}
