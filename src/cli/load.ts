import type { LinearSolver } from '../engine/charge/make-up/index.ts'
import type { Solids } from '../engine/piece/mesh/index.ts'

/** WebAssembly for the command line, loaded only when a plan wants it. */
export const loadSolver = async (): Promise<LinearSolver> =>
  (await import('../solver/highs.ts')).createHighsSolver()

export const loadSolids = async (): Promise<Solids> => (await import('../solids/manifold.ts')).loadSolids()
