import type { Transform, TriangleMesh } from '../piece/mesh/index.ts'
import { lengthToStem } from './bores.ts'
import { type Dimension, isOfStem, measureTree, type Stood, sameWax, withoutPoints } from './dimensions.ts'
import { type Feed, findFeeds } from './feeds.ts'
import { fillet } from './fillets.ts'
import { jointAt } from './joint.ts'
import { isShort, judgeStanding, judgeTight } from './judge.ts'
import { type Kind, prepareKind, surfaceOf } from './kind.ts'
import { type Standing as Judged, placedFeeds, steepest } from './placed.ts'
import { middleOf } from './reasons.ts'
import type { Arrangement, ArrangeRequest, PieceToArrange, PlacedSprue, RackFlask, Sprue } from './request.ts'
import { type Room, roomIn } from './room.ts'
import { spruesOn } from './search.ts'
import { sectionsOf } from './sections.ts'
import { sprueOf } from './sprue-of.ts'
import { minus, move, plus, undoing, unit } from './vectors.ts'

export type { Dimension } from './dimensions.ts'

/** A sprue as the caster wants it, in the mm of the wax. */
export type SprueByHand = PlacedSprue

/** Waxes and sprues as they stand while they are moved by hand. */
export interface Standing {
  readonly placements: readonly {
    readonly piece: string
    readonly copy: number
    readonly motion: Transform
  }[]
  readonly sprues: readonly Sprue[]
}

/** Everything that stays the same while waxes are moved about in one flask: surfaces made ready once. */
export interface Held {
  readonly request: ArrangeRequest
  readonly room: Room
  readonly kinds: ReadonlyMap<string, Kind>
}

const sameShape = (a: TriangleMesh | undefined, b: TriangleMesh | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    b !== undefined &&
    a.positions.length === b.positions.length &&
    a.corners.length === b.corners.length &&
    a.positions.every((value, k) => value === b.positions[k]) &&
    a.corners.every((value, k) => value === b.corners[k]))

/** Whether what was made ready of one piece does for another: all of it rests on the shape and where sprues may join. */
const isReadyFor = (a: PieceToArrange, b: PieceToArrange): boolean =>
  JSON.stringify([a.sprue.diameter_mm, a.keepClear, a.standIn]) ===
    JSON.stringify([b.sprue.diameter_mm, b.keepClear, b.standIn]) &&
  sameShape(a.mesh, b.mesh) &&
  sameShape(a.envelope, b.envelope)

/**
 * Slow, some tenths of a second for each kind of piece.
 * @param before  what was held for other requests: kinds that are the same are taken over
 */
export const holdSurfaces = (
  request: ArrangeRequest,
  flask: RackFlask,
  before: readonly Held[] = [],
): Held => {
  const known = before.flatMap((held) => [...held.kinds.values()])
  const kinds = request.pieces.map((piece) => {
    const old = known.find((kind) => isReadyFor(kind.piece, piece))
    // name, copies, places and sprues are those asked for now; the meshes stay the very ones that were made ready
    const { mesh, envelope } = old?.piece ?? piece
    const kind = old === undefined ? prepareKind(piece) : { ...old, piece: { ...piece, mesh, envelope } }
    surfaceOf(kind)
    return kind
  })
  return {
    request,
    room: roomIn(request, flask),
    kinds: new Map(kinds.map((kind) => [kind.piece.id, kind])),
  }
}

const stemEndOf = (held: Held, sprues: readonly Sprue[]): number =>
  Math.max(held.room.cone, ...sprues.map((sprue) => sprue.axis_mm[2]))

const sprueFrom = (
  held: Held,
  kind: Kind,
  wax: Standing['placements'][number],
  feed: Feed,
  stemEnd: number,
  count: number,
): Sprue => sprueOf(held.request, kind, wax, feed, count, Math.max(stemEnd, feed.axisZ))

/** The caster's own sprues; where one gives no height, the slope that is clear is sought. */
const feedsByHand = (
  held: Held,
  kind: Kind,
  wax: Standing['placements'][number],
  byHand: readonly SprueByHand[],
  end: number,
): Feed[] => {
  const asked = { ...kind, piece: { ...kind.piece, placed: new Map([[wax.copy, byHand]]) } }
  return placedFeeds(asked, wax.copy, wax.motion, held.room, { end, ended: false })
}

/**
 * The sprues of one wax where it stands: those placed by hand, or found as the arrangement finds them; the best
 * there is where none of them would do, which `asArrangement` then says.
 */
export const spruesFor = (
  held: Held,
  wax: Standing['placements'][number],
  others: readonly Sprue[],
  byHand: readonly SprueByHand[],
): readonly Sprue[] => {
  const kind = held.kinds.get(wax.piece)
  if (kind === undefined) return []
  const end = stemEndOf(held, others)
  const stem = { end, ended: false }
  const feeds =
    byHand.length > 0
      ? feedsByHand(held, kind, wax, byHand, end)
      : (findFeeds(held.request, kind, wax.motion, held.room, spruesOn(kind), [], stem) ??
        findFeeds(held.request, kind, wax.motion, held.room, 1, [], stem) ??
        steepest(kind, wax.motion, held.room))
  return feeds.map((feed) => sprueFrom(held, kind, wax, feed, end, feeds.length))
}

/** Standing sprues with their lengths made anew, for the main sprue ends where the highest of them asks. */
const lengthened = (held: Held, sprues: readonly Sprue[]): Sprue[] => {
  const end = stemEndOf(held, sprues)
  return sprues.map((sprue) => {
    const length = lengthToStem(sprue.from_mm, sprue.axis_mm[2], end, held.request.stem_mm / 2)
    const way = unit(minus(sprue.axis_mm, sprue.from_mm))
    return { ...sprue, to_mm: plus(sprue.from_mm, way, length), length_mm: length }
  })
}

const stoodOf = (held: Held, placements: Standing['placements']): Stood[] =>
  placements.flatMap(({ piece, copy, motion }) => {
    const kind = held.kinds.get(piece)
    return kind === undefined ? [] : [{ kind, copy, motion, back: undoing(motion) }]
  })

/**
 * Every distance between real surfaces where the waxes stand, tightest against its need first, each with its two points.
 * @param only  just those of this wax and its sprues
 */
export const dimensionsOf = (
  held: Held,
  { placements, sprues }: Standing,
  only?: { readonly piece: string; readonly copy: number },
): Dimension[] =>
  measureTree(held.request, held.room, stoodOf(held, placements), sprues, stemEndOf(held, sprues), only)

/** The sprues of one wax, or of all, with the fillets there is room for where they stand. */
export const filleted = (
  held: Held,
  { placements, sprues }: Standing,
  only?: { readonly piece: string; readonly copy: number },
): Sprue[] =>
  fillet(
    held.request,
    held.room,
    stoodOf(held, placements),
    sprues,
    stemEndOf(held, sprues),
    (sprue) => only === undefined || sameWax(sprue, only),
  )

/** One wax moved, its sprues found anew, and everything else left as it was. */
export const moveWax = (
  held: Held,
  standing: Standing,
  wax: Standing['placements'][number],
  byHand: readonly SprueByHand[],
): Standing => {
  const others = standing.sprues.filter((sprue) => !sameWax(sprue, wax))
  const found = spruesFor(held, wax, others, byHand)
  return {
    placements: standing.placements.map((one) => (sameWax(one, wax) ? { ...one, motion: wax.motion } : one)),
    sprues: lengthened(
      held,
      standing.placements.flatMap((one) =>
        (sameWax(one, wax) ? found : others).filter((sprue) => sameWax(sprue, one)),
      ),
    ),
  }
}

/** An arrangement of waxes that stand where a hand put them, measured and judged; and its distances with their points. */
export const asArrangement = (
  held: Held,
  standing: Standing,
  locked: (wax: { readonly piece: string; readonly copy: number }) => boolean,
): { readonly arrangement: Arrangement; readonly dimensions: readonly Dimension[] } => {
  const { room, request } = held
  const kinds = [...held.kinds.values()]
  const { placements } = standing
  const stood = stoodOf(held, placements)
  const sprues = filleted(held, standing)
  const stemEnd = stemEndOf(held, sprues)
  const dimensions = measureTree(request, room, stood, sprues, stemEnd)
  const all = dimensions.map(withoutPoints)
  const judged = stood.map((one): Judged => {
    const wax = { piece: one.kind.piece.id, copy: one.copy }
    const own = sprues.filter((sprue) => sameWax(sprue, wax))
    return { ...one, feeds: own.map((sprue) => feedOf(one.kind, one.back, sprue)), locked: locked(wax) }
  })
  const sections = sectionsOf(request, kinds)
  const arrangement: Arrangement = {
    fits: !all.some(isShort),
    flask: room.flask,
    placements: placements.map((wax) => ({ ...wax, locked: locked(wax) })),
    sprues,
    sections,
    stem: {
      from_mm: [0, 0, room.cone],
      to_mm: [0, 0, stemEnd],
      diameter_mm: request.stem_mm,
    },
    clearances: all.filter((one) => !isOfStem(one)),
    stemClearances: all.filter(isOfStem),
    offAxis_mm: middleOf(request, stood, sprues, stemEnd),
    problems: [
      ...judgeStanding(request, room, kinds, judged, sprues, stemEnd, sections, all),
      ...judgeTight(request, room, all),
    ],
  }
  return { arrangement, dimensions }
}

/** A standing sprue as it was laid: where on its wax, and how. */
const feedOf = (kind: Kind, back: Transform, sprue: Sprue): Feed => ({
  attach: jointAt(kind, move(back, sprue.from_mm), sprue.diameter_mm).attach,
  from: sprue.from_mm,
  axisZ: sprue.axis_mm[2],
  byHand: sprue.byHand,
  ...(sprue.found === true && { found: true }),
  diameter_mm: sprue.diameter_mm,
  stemEnd_mm: sprue.stemEnd_mm,
})
