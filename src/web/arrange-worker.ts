import {
  type Arrangement,
  type ArrangeProblem,
  type ArrangeRequest,
  asArrangement,
  type BenchSprue,
  benchSprues,
  type Dimension,
  type DrawnSheet,
  dimensionsOf,
  drawSheet,
  filleted,
  type Held,
  holdSurfaces,
  investmentBody,
  moveWax,
  type SheetUnit,
  type Sprue,
  type SprueByHand,
  type Standing,
  spruesFor,
} from '../engine/arrange/index.ts'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { arrangeRequest } from '../engine/arrange-request.ts'
import { type ArrangementFacts, arrangementKey, factsOfArrangement } from '../engine/arrangement-verdict.ts'
import type { Pour, Shop } from '../engine/documents/index.ts'
import { keepsArrangement } from '../engine/keep-arrangement.ts'
import { type MeasuredTree, measureArrangement } from '../engine/measure-arrangement.ts'
import { coarsen } from '../engine/piece/mesh/coarse.ts'
import { type Point, type Transform, type TriangleMesh, writeStl } from '../engine/piece/mesh/index.ts'
import type { MeshFacts } from '../engine/piece/mesh-facts.ts'
import { type Plan, planPour } from '../engine/plan.ts'
import { readShape, type ShapeWork } from '../settle/read-shape.ts'
import { loadSolids } from '../solids/manifold.ts'
import { loadReliefSolids } from '../solids/relief-solids.ts'
import { decodeHere } from './decode-here.ts'
import { meshShelf } from './mesh-shelf.ts'
import { edgesOf, type ReliefEdges } from './scene/relief-edges.ts'

/** The documents that an arrangement is worked out for, with the measures that their plan stands on. */
export interface ArrangeAsk {
  readonly shop: Shop
  readonly pour: Pour
  readonly now: number
  readonly meshes: Readonly<Record<string, MeshFacts>>
}

export interface Wax {
  readonly piece: string
  readonly copy: number
}
export interface PlacedWax extends Wax {
  readonly motion: Transform
}

/** A surface as it is drawn: coarse where the model is very fine. */
export interface DrawnShape {
  readonly mesh: TriangleMesh
  readonly edges: ReliefEdges
}

export interface DrawnPiece {
  /** under which its shape was sent, once */
  readonly shape: string
  /** the point that counts as its middle, and how far it reaches from there, in the wax's mm */
  readonly middle: Point
  readonly radius: number
  /** how many times as long as its file says the wax is */
  readonly over: number
}

export interface Arranged {
  /** names the tree it was worked out for */
  readonly key: string
  readonly facts: ArrangementFacts
  readonly sprues: readonly BenchSprue[]
  /** tightest against its need first, each with its two points */
  readonly dimensions: readonly Dimension[]
  readonly offAxis_mm: number | null
  readonly problems: readonly ArrangeProblem[]
  readonly arrangement?: Arrangement
  readonly pieces: Readonly<Record<string, DrawnPiece>>
  readonly base?: ArrangeRequest['base']
  readonly button_mm: number
  /** a hand has changed them, and no pour holds all of them: looked for anew they may be others */
  readonly onlyHere: boolean
  readonly took_ms: number
}

export type ArrangeJob =
  | { readonly do: 'arrange'; readonly ask: ArrangeAsk }
  /** waxes stand where they stand; one may be put elsewhere, and some get their sprues anew */
  | {
      readonly do: 'settle'
      readonly ask: ArrangeAsk
      readonly flask: NonNullable<Arrangement['flask']>
      readonly standing: Standing
      readonly moved: readonly PlacedWax[]
    }
  /** distances of one wax while it is on its way */
  | {
      readonly do: 'follow'
      readonly id: number
      readonly ask: ArrangeAsk
      readonly key: string
      readonly flask: NonNullable<Arrangement['flask']>
      readonly standing: Standing
      readonly wax: PlacedWax
      readonly byHand?: readonly SprueByHand[]
    }
  | {
      readonly do: 'investment'
      readonly ask: ArrangeAsk
      readonly key: string
      readonly arrangement: Arrangement
    }
  /** the sheet for the bench, named as the pour is now and in the caster's units */
  | {
      readonly do: 'draw'
      readonly ask: ArrangeAsk
      readonly sheet: SheetAsked
      readonly arrangement: Arrangement
    }

export interface SheetAsked {
  readonly key: string
  readonly name: string
  readonly unit: SheetUnit
}

export interface Followed {
  readonly id: number
  readonly wax: PlacedWax
  readonly sprues: readonly Sprue[]
  readonly dimensions: readonly Dimension[]
  readonly took_ms: number
}

export type ArrangeTold =
  | {
      readonly arranged: Arranged
      readonly shapes: Readonly<Record<string, DrawnShape>>
    }
  | {
      readonly bodyOf: string
      readonly body?: Uint8Array
      /** what the plan reckons with */
      readonly measured?: MeasuredTree
      readonly problem?: ArrangeProblem
    }
  | { readonly followed: Followed }
  | { readonly investmentOf: string; readonly investment?: DrawnShape; readonly problem?: ArrangeProblem }
  | { readonly drawn: SheetAsked & DrawnSheet }
  | { readonly failed: string; readonly at: ArrangeJob['do'] }

const shapeWork: ShapeWork = {
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

const readMeshes = meshShelf(async (source) => (await readShape(source, shapeWork)).mesh)

/** A surface of more triangles is drawn from a reduction, whose creases are not the model's. */
const MOST_DRAWN = 300_000
const MANY = 12

/** What is held ready for following hands, by the tree it belongs to. */
const holding = new Map<string, Held>()
const sent = new Set<string>()

const shapeName = ({ id, mesh, envelope, over }: ArrangeRequest['pieces'][number]): string => {
  const { positions } = envelope ?? mesh
  let sum = 0
  for (let k = 0; k < positions.length; k += 1) sum += (positions[k] ?? 0) * ((k % 7) + 1)
  return `${id} ${positions.length} ${sum} ${over ?? 1}`
}

const hold = (key: string, request: ArrangeRequest, flask: NonNullable<Arrangement['flask']>): Held => {
  const name = `${key} ${flask.id}`
  let held = holding.get(name)
  if (held === undefined) {
    held = holdSurfaces(request, flask, [...holding.values()])
    holding.set(name, held)
    for (const old of [...holding.keys()].slice(0, -MANY)) holding.delete(old)
  }
  return held
}

const planOf = ({ shop, pour, now, meshes }: ArrangeAsk): Plan => planPour(shop, pour, { now, meshes })

const requestOf = async (ask: ArrangeAsk) => {
  const plan = planOf(ask)
  return { plan, ...arrangeRequest(plan, await readMeshes(ask.pour)) }
}

const heldFor = async (
  key: string,
  ask: ArrangeAsk,
  flask: NonNullable<Arrangement['flask']>,
): Promise<Held | undefined> => {
  const already = holding.get(`${key} ${flask.id}`)
  if (already !== undefined) return already
  const { request } = await requestOf(ask)
  return request && hold(key, request, flask)
}

/** Sprues of a copy that the caster placed, in the mm of the wax. */
const placedByHand = (pour: Pour, wax: Wax, over: number): SprueByHand[] =>
  (pour.tree.sprues ?? []).filter(isIn(wax)).map(({ piece: _piece, copy: _copy, kept, at_mm, ...rest }) => {
    const [x, y, z] = at_mm
    return { ...rest, ...(kept === 'sprue' && { found: true }), at_mm: [x * over, y * over, z * over] }
  })

const drawnOf = (held: Held): { pieces: Record<string, DrawnPiece>; shapes: Record<string, DrawnShape> } => {
  const pieces: Record<string, DrawnPiece> = {}
  const shapes: Record<string, DrawnShape> = {}
  for (const [id, kind] of held.kinds) {
    const shape = shapeName(kind.piece)
    pieces[id] = { shape, middle: kind.centre, radius: kind.radius, over: kind.piece.over ?? 1 }
    if (sent.has(shape)) continue
    sent.add(shape)
    const { mesh, off } = coarsen(kind.piece.envelope ?? kind.piece.mesh, MOST_DRAWN)
    const edges = edgesOf(mesh)
    shapes[shape] = { mesh, edges: off === 0 ? edges : { ...edges, crease: edges.crease.map(() => 0) } }
  }
  return { pieces, shapes }
}

const tell = (told: ArrangeTold): void => postMessage(told)

const answer = async (
  began: number,
  plan: Plan,
  request: ArrangeRequest | undefined,
  arrangement: Arrangement | undefined,
  problems: readonly ArrangeProblem[],
  byHand?: { readonly dimensions: readonly Dimension[] },
): Promise<void> => {
  const key = arrangementKey(plan)
  const flask = arrangement?.flask ?? undefined
  const held = request && flask && hold(key, request, flask)
  const { pieces, shapes } = held ? drawnOf(held) : { pieces: {}, shapes: {} }
  tell({
    arranged: {
      key,
      facts: factsOfArrangement(arrangement, problems),
      sprues: request && arrangement ? benchSprues(request, arrangement) : [],
      dimensions: byHand?.dimensions ?? (held && arrangement ? dimensionsOf(held, arrangement) : []),
      offAxis_mm: arrangement?.offAxis_mm ?? null,
      problems,
      pieces,
      ...(arrangement !== undefined && { arrangement }),
      base: request?.base,
      button_mm: request?.button_mm ?? 0,
      onlyHere: byHand !== undefined && !keepsArrangement(plan.pour),
      took_ms: performance.now() - began,
    },
    shapes,
  })
  if (request === undefined || arrangement === undefined || flask === undefined) return
  const made = measureArrangement(request, arrangement, await loadSolids())
  tell({
    bodyOf: key,
    ...('problem' in made
      ? { problem: made.problem }
      : { body: writeStl(made.body.mesh, 'metal body, mm'), measured: made.measured }),
  })
}

const isIn =
  (wax: Wax) =>
  (one: Wax): boolean =>
    one.piece === wax.piece && one.copy === wax.copy

const settle = async (job: Extract<ArrangeJob, { do: 'settle' }>): Promise<void> => {
  const began = performance.now()
  const { ask, flask, moved } = job
  const { plan, request, problems } = await requestOf(ask)
  if (request === undefined) return answer(began, plan, undefined, undefined, problems)
  // the pour's own flask if it has chosen one
  const chosen = request.flasks.find(({ id }) => id === flask.id) ?? request.flasks[0] ?? flask
  const held = hold(arrangementKey(plan), request, chosen)
  let standing = job.standing
  // a lock written while another change was under way is a move too
  const strayed = standing.placements.flatMap((wax): PlacedWax[] => {
    const motion = request.pieces.find(({ id }) => id === wax.piece)?.locked.get(wax.copy)
    const isFar = motion?.some((value, k) => Math.abs(value - (wax.motion[k] ?? 0)) > 1e-6) === true
    return isFar && motion !== undefined ? [{ ...wax, motion }] : []
  })
  for (const wax of [...moved.filter((one) => !strayed.some(isIn(one))), ...strayed]) {
    const over = held.kinds.get(wax.piece)?.piece.over ?? 1
    standing = moveWax(held, standing, wax, placedByHand(ask.pour, wax, over))
  }
  const isLocked = (wax: Wax): boolean => (ask.pour.tree.locked ?? []).some(isIn(wax))
  const { arrangement, dimensions } = asArrangement(held, standing, isLocked)
  return answer(began, plan, request, arrangement, [...problems, ...arrangement.problems], { dimensions })
}

const follow = async (job: Extract<ArrangeJob, { do: 'follow' }>): Promise<void> => {
  const held = await heldFor(job.key, job.ask, job.flask)
  if (held === undefined) return
  const began = performance.now()
  const { wax, standing } = job
  const isIt = isIn(wax)
  const over = held.kinds.get(wax.piece)?.piece.over ?? 1
  const others = standing.sprues.filter((sprue) => !isIt(sprue))
  const byHand = job.byHand ?? placedByHand(job.ask.pour, wax, over)
  const sprues = spruesFor(held, wax, others, byHand)
  const placements = standing.placements.map((one) => (isIt(one) ? { ...one, motion: wax.motion } : one))
  const bare = placements.flatMap((one) =>
    (isIt(one) ? sprues : others).filter((sprue) => sprue.piece === one.piece && sprue.copy === one.copy),
  )
  const inOrder = filleted(held, { placements, sprues: bare }, wax)
  const dimensions = dimensionsOf(held, { placements, sprues: inOrder }, wax)
  tell({
    followed: { id: job.id, wax, sprues: inOrder, dimensions, took_ms: performance.now() - began },
  })
}

const investment = async (job: Extract<ArrangeJob, { do: 'investment' }>): Promise<void> => {
  const { flask } = job.arrangement
  const held = flask === null ? undefined : await heldFor(job.key, job.ask, flask)
  if (held === undefined) return
  const body = investmentBody(held.request, job.arrangement, await loadSolids())
  tell(
    'problem' in body
      ? { investmentOf: job.key, problem: body.problem }
      : { investmentOf: job.key, investment: { mesh: body.mesh, edges: edgesOf(body.mesh) } },
  )
}

const draw = async ({ ask, arrangement, sheet }: Extract<ArrangeJob, { do: 'draw' }>): Promise<void> => {
  const { flask } = arrangement
  const held = flask === null ? undefined : await heldFor(sheet.key, ask, flask)
  if (held !== undefined)
    tell({ drawn: { ...sheet, ...drawSheet(held.request, arrangement, sheet.name, sheet.unit) } })
}

const work = async (job: ArrangeJob): Promise<void> => {
  if (job.do === 'settle') return settle(job)
  if (job.do === 'follow') return follow(job)
  if (job.do === 'investment') return investment(job)
  if (job.do === 'draw') return draw(job)
  const began = performance.now()
  const plan = planOf(job.ask)
  const { request, arrangement, problems } = arrangePlan(plan, await readMeshes(job.ask.pour))
  return answer(began, plan, request, arrangement, problems)
}

let queue: Promise<void> = Promise.resolve()

addEventListener('message', ({ data }: MessageEvent<ArrangeJob>): void => {
  queue = queue
    .then(() => work(data))
    .catch((trouble: unknown) =>
      tell({ failed: trouble instanceof Error ? trouble.message : String(trouble), at: data.do }),
    )
})
