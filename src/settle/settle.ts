import { type ChargeAnswer, type LinearSolver, makeUpCharge } from '../engine/charge/make-up/index.ts'
import type { FileSource, Piece, Pour, Shop } from '../engine/documents/index.ts'
import {
  isPicture,
  type Picture,
  type ReliefSolids,
  readPattern,
  shapePattern,
} from '../engine/pattern/index.ts'
import { measureModel, type Solids } from '../engine/piece/mesh/index.ts'
import { factsOf, type MeshFacts } from '../engine/piece/mesh-facts.ts'
import { type Plan, planPour } from '../engine/plan.ts'

type MeshSource = Extract<Piece['source'], { from: 'mesh' }>
type PatternSource = Extract<Piece['source'], { from: 'pattern' }>

/** A model's bytes, or why they can't be had. */
export type ModelBytes =
  | { readonly bytes: Uint8Array }
  | { readonly unreadable: string; readonly remedy: string }

/** What a face brings to finish the slow results: its files and its WebAssembly, each loaded when first wanted. */
export interface SlowWork {
  readonly readModel: (source: FileSource) => Promise<ModelBytes>
  readonly loadSolids: () => Promise<Solids>
  readonly loadReliefSolids: () => Promise<ReliefSolids>
  /** pixels of a photo, upright and at a size that is safe to work at */
  readonly decodePicture: (
    bytes: Uint8Array,
    name: string,
  ) => Promise<{ readonly picture: Picture } | { readonly unreadable: string; readonly remedy: string }>
  readonly loadSolver: () => Promise<LinearSolver>
}

const nothingOf = (file: string, found: { unreadable: string; remedy: string }): MeshFacts => ({
  volume_mm3: null,
  area_mm2: null,
  bounds_mm: null,
  thickness_mm: null,
  problems: [{ what: found.unreadable, where: file, remedy: found.remedy }],
})

const measure = async (source: MeshSource, work: SlowWork): Promise<MeshFacts> => {
  const found = await work.readModel(source)
  if ('unreadable' in found) return nothingOf(source.file, found)
  const options = { units: source.units, acceptRepair: source.acceptRepair }
  const first = measureModel(found.bytes, source.file, options)
  // only overlapping shells want the solid modeller, so it is loaded for them alone
  if (first.volume_mm3 !== null || first.shells < 2) return factsOf(first)
  return factsOf(measureModel(found.bytes, source.file, { ...options, solids: await work.loadSolids() }))
}

const shape = async (source: PatternSource, work: SlowWork): Promise<MeshFacts> => {
  const found = await work.readModel(source)
  if ('unreadable' in found) return nothingOf(source.file, found)
  const { bytes } = found
  let picture: Picture | undefined
  if (isPicture(bytes)) {
    const decoded = await work.decodePicture(bytes, source.file)
    if ('unreadable' in decoded) return nothingOf(source.file, decoded)
    picture = decoded.picture
  }
  const reading = readPattern({ bytes, name: source.file, heights: source.heights, picture })
  return shapePattern(reading, source.heights, await work.loadReliefSolids()).facts
}

/** The make-up may move nothing that asks for another; a plan that keeps asking is a fault of ours. */
const MOST_ROUNDS = 6

/**
 * The plan with every slow result finished: meshes measured and the charge made up at least cost. The
 * command line and the printed sheet wait for it; the page shows what the rule says meanwhile.
 */
export const settlePlan = async (shop: Shop, pour: Pour, now: number, work: SlowWork): Promise<Plan> => {
  const meshes: Record<string, MeshFacts> = {}
  const makeUps: Record<string, ChargeAnswer> = {}
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const plan = planPour(shop, pour, { now, meshes, makeUps })
    if (plan.wanted.length === 0) return plan
    for (const wanted of plan.wanted) {
      if (wanted.kind === 'mesh') {
        const source = pour.pieces[wanted.pieceIndex]?.source
        if (source?.from === 'mesh') meshes[wanted.key] = await measure(source, work)
      } else if (wanted.kind === 'pattern') {
        const source = pour.pieces[wanted.pieceIndex]?.source
        if (source?.from === 'pattern') meshes[wanted.key] = await shape(source, work)
      } else if (plan.charge.request !== undefined)
        makeUps[wanted.key] = await makeUpCharge(plan.charge.request, await work.loadSolver())
    }
  }
  throw new Error(`the plan still wants slow results after ${MOST_ROUNDS} rounds; expected it to settle`)
}
