import type { LinearSolver } from '../engine/charge/make-up/index.ts'
import type { ReliefSolids } from '../engine/pattern/index.ts'
import type { Solids } from '../engine/piece/mesh/index.ts'

/** What the command line brings to finish slow results, each loaded only when a plan wants it. */
export const loadSolver = async (): Promise<LinearSolver> =>
  (await import('../solver/highs.ts')).createHighsSolver()

export const loadSolids = async (): Promise<Solids> => (await import('../solids/manifold.ts')).loadSolids()

export const loadReliefSolids = async (): Promise<ReliefSolids> =>
  (await import('../solids/relief-solids.ts')).loadReliefSolids()

export const decodePicture = async (bytes: Uint8Array, name: string) =>
  (await import('../pixels/index.ts')).decodePicture(bytes, name)

export const slowLoaders = { loadSolids, loadReliefSolids, loadSolver, decodePicture } as const
