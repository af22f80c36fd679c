import {
  type ArrangeProblem,
  type BenchSprue,
  benchSprues,
  type Clearance,
  drawArrangement,
  metalBody,
} from '../engine/arrange/index.ts'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { type ArrangementFacts, arrangementKey } from '../engine/arrangement-verdict.ts'
import { type Pour, restsOnFile, type Shop } from '../engine/documents/index.ts'
import { type TriangleMesh, writeStl } from '../engine/piece/mesh/index.ts'
import { type MeshFacts, shapeKey } from '../engine/piece/mesh-facts.ts'
import { planPour } from '../engine/plan.ts'
import { readShape, type ShapeWork } from '../settle/read-shape.ts'
import { loadSolids } from '../solids/manifold.ts'
import { loadReliefSolids } from '../solids/relief-solids.ts'
import { decodeHere } from './decode-here.ts'

/** The documents that an arrangement is worked out for, with the measures that their plan stands on. */
export interface ArrangeAsk {
  readonly shop: Shop
  readonly pour: Pour
  readonly now: number
  readonly meshes: Readonly<Record<string, MeshFacts>>
}

export interface Arranged {
  /** names the tree it was worked out for */
  readonly key: string
  readonly facts: ArrangementFacts
  readonly sprues: readonly BenchSprue[]
  /** of waxes and sprues, tightest against its need first */
  readonly clearances: readonly Clearance[]
  readonly offAxis_mm: number | null
  readonly problems: readonly ArrangeProblem[]
  readonly drawing?: string
  /** the metal as one closed solid, as a file */
  readonly body?: Uint8Array
  readonly took_ms: number
}

export type ArrangeTold = Arranged | { readonly failed: string }

const shapes: ShapeWork = {
  readModel: async ({ sha256 }) => {
    const answer = sha256 === undefined ? undefined : await fetch(`/api/models/${sha256}`)
    return answer?.ok === true
      ? { bytes: new Uint8Array(await answer.arrayBuffer()) }
      : { unreadable: 'its bytes are not here', remedy: 'bring the file again' }
  },
  loadSolids: () => loadSolids(),
  loadReliefSolids: () => loadReliefSolids(),
  decodePicture: (bytes) =>
    decodeHere(bytes).then(
      (picture) => ({ picture }),
      (trouble: Error) => ({ unreadable: trouble.message, remedy: 'bring the picture again' }),
    ),
}

const readMeshes = async (pour: Pour): Promise<Record<string, TriangleMesh>> => {
  const meshes: Record<string, TriangleMesh> = {}
  for (const { source } of pour.pieces) {
    const key = shapeKey(source)
    if (key === undefined || meshes[key] !== undefined || !restsOnFile(source)) continue
    const { mesh } = await readShape(source, shapes)
    if (mesh !== undefined) meshes[key] = mesh
  }
  return meshes
}

const work = async ({ shop, pour, now, meshes }: ArrangeAsk): Promise<Arranged> => {
  const began = performance.now()
  const plan = planPour(shop, pour, { now, meshes })
  const { request, arrangement, facts, problems: found } = arrangePlan(plan, await readMeshes(pour))
  const problems = [...found]
  const told = {
    key: arrangementKey(plan),
    facts,
    sprues: request && arrangement ? benchSprues(request, arrangement) : [],
    clearances: arrangement?.clearances ?? [],
    offAxis_mm: arrangement?.offAxis_mm ?? null,
  }
  if (request === undefined || arrangement === undefined || arrangement.flask === null)
    return { ...told, problems, took_ms: performance.now() - began }
  const body = metalBody(request, arrangement, await loadSolids())
  if ('problem' in body) problems.push(body.problem)
  return {
    ...told,
    problems,
    drawing: drawArrangement(request, arrangement, pour.name),
    ...('mesh' in body && { body: writeStl(body.mesh, 'metal body, mm') }),
    took_ms: performance.now() - began,
  }
}

addEventListener('message', ({ data }: MessageEvent<ArrangeAsk>): void => {
  work(data).then(
    (told) => postMessage(told satisfies ArrangeTold),
    (trouble: unknown) =>
      postMessage({
        failed: trouble instanceof Error ? trouble.message : String(trouble),
      } satisfies ArrangeTold),
  )
})
