import { type ArrangementFacts, arrangementKey } from '../engine/arrangement-verdict.ts'
import { type ChargeAnswer, type LinearSolver, makeUpCharge } from '../engine/charge/make-up/index.ts'
import { type FileSource, type Pour, restsOnFile, type Shop } from '../engine/documents/index.ts'
import { type CooledFlask, type DesignedBurnout, designBurnout, solveCooling } from '../engine/heat/index.ts'
import type { ReliefSolids } from '../engine/pattern/index.ts'
import type { Solids, TriangleMesh } from '../engine/piece/mesh/index.ts'
import type { MeshFacts } from '../engine/piece/mesh-facts.ts'
import { isShape, type Plan, planPour } from '../engine/plan.ts'
import type { DecodePicture } from './read-drawn-file.ts'
import { readShape } from './read-shape.ts'

/** A model's bytes, or why they can't be had. */
export type ModelBytes =
  | { readonly bytes: Uint8Array }
  | { readonly unreadable: string; readonly remedy: string }

/** What a face brings to finish the slow results: its files and its WebAssembly, each loaded when first wanted. */
export interface SlowWork {
  readonly readModel: (source: FileSource) => Promise<ModelBytes>
  readonly loadSolids: () => Promise<Solids>
  readonly loadReliefSolids: () => Promise<ReliefSolids>
  readonly decodePicture: DecodePicture
  readonly loadSolver: () => Promise<LinearSolver>
}

/** The make-up may move nothing that asks for another; a plan that keeps asking is a fault of ours. */
const MOST_ROUNDS = 6

export interface SettleOptions {
  /** reckons by the outside boxes of the waxes, without a place for each: sooner, and less sure */
  readonly byBoxes?: boolean
}

/**
 * The plan with every slow result finished: meshes measured, each wax given its place, the charge made up at least cost,
 * the burnout solved. The command line and the printed sheet wait for it; the page shows what the rule says meanwhile.
 */
export const settlePlan = async (
  shop: Shop,
  pour: Pour,
  now: number,
  work: SlowWork,
  options: SettleOptions = {},
): Promise<Plan> => {
  const meshes: Record<string, MeshFacts> = {}
  const solids: Record<string, TriangleMesh> = {}
  const makeUps: Record<string, ChargeAnswer> = {}
  const burnouts: Record<string, DesignedBurnout> = {}
  const coolings: Record<string, CooledFlask> = {}
  const arrangements: Record<string, ArrangementFacts> = {}
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const plan = planPour(shop, pour, { now, meshes, makeUps, burnouts, coolings, arrangements })
    // places rest on measured pieces, and charge and burnout rest on the places
    const key = options.byBoxes === true || plan.wanted.some(isShape) ? undefined : arrangementKey(plan)
    if (key !== undefined && arrangements[key] === undefined) {
      const { arrangePlan } = await import('../engine/arrange-plan.ts')
      arrangements[key] = arrangePlan(plan, solids, await work.loadSolids()).facts
      continue
    }
    if (plan.wanted.length === 0) return plan
    for (const wanted of plan.wanted) {
      if (wanted.kind === 'mesh' || wanted.kind === 'pattern') {
        const source = pour.pieces[wanted.pieceIndex]?.source
        if (source === undefined || !restsOnFile(source)) continue
        const shape = await readShape(source, work)
        meshes[wanted.key] = shape.facts
        if (shape.mesh !== undefined) solids[wanted.key] = shape.mesh
      } else if (wanted.kind === 'burnout') {
        if (plan.burnout.asked !== undefined)
          burnouts[wanted.key] = designBurnout(plan.burnout.asked.question)
      } else if (wanted.kind === 'cooling') {
        if (plan.quench.asked !== undefined) coolings[wanted.key] = solveCooling(plan.quench.asked.question)
      } else if (plan.charge.request !== undefined)
        makeUps[wanted.key] = await makeUpCharge(plan.charge.request, await work.loadSolver())
    }
  }
  throw new Error(`the plan still wants slow results after ${MOST_ROUNDS} rounds; expected it to settle`)
}
