import type { BallTree } from '../piece/mesh/apart.ts'
import type { Point, Transform } from '../piece/mesh/index.ts'
import { betweenSides as betweenLines, nearestPair, nearestToLine } from '../piece/mesh/nearest-pair.ts'
import { after } from '../piece/mesh/transform.ts'
import { barsOf, lengthToStem, neighbourhood, outsideStem } from './bores.ts'
import { encloses, trueSurfaces } from './clearances.ts'
import type { Placed } from './clears.ts'
import { type Feed, findFeeds } from './feeds.ts'
import { jointAt } from './joint.ts'
import { isShort, judgeStanding } from './judge.ts'
import { allReach, type Kind, prepareKind } from './kind.ts'
import { type Standing as Judged, placedFeeds, steepest } from './placed.ts'
import { middleOf } from './reasons.ts'
import type {
  Arrangement,
  ArrangeRequest,
  Clearance,
  PieceToArrange,
  PlacedSprue,
  RackFlask,
  Sprue,
} from './request.ts'
import { type Room, roomIn } from './room.ts'
import { spruesOn } from './search.ts'
import { sectionsOf } from './sections.ts'
import { sprueOf } from './sprue-of.ts'
import { fillet } from './tapers.ts'
import { minus, move, plus, sizeOf, undoing, unit } from './vectors.ts'

/** A clearance with the two points where the surfaces are nearest, in the flask's mm. */
export interface Dimension extends Clearance {
  readonly points: readonly [Point, Point]
}

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
  readonly surfaces: ReadonlyMap<Kind, BallTree>
}

/** Whether a kind made ready for one request does for a piece of another: only where it stands may differ. */
const isSame = (a: PieceToArrange, b: PieceToArrange): boolean =>
  a.id === b.id &&
  a.over === b.over &&
  JSON.stringify([a.sprue, a.keepClear, a.standIn]) === JSON.stringify([b.sprue, b.keepClear, b.standIn]) &&
  a.mesh.positions.length === b.mesh.positions.length &&
  a.mesh.positions.every((value, k) => value === b.mesh.positions[k])

/**
 * Slow, some tenths of a second for each kind of piece.
 * @param before  what was held for other requests: kinds that are the same are taken over
 */
export const holdSurfaces = (
  request: ArrangeRequest,
  flask: RackFlask,
  before: readonly Held[] = [],
): Held => {
  const known = before.flatMap((held) => [...held.kinds.values()].map((kind) => ({ kind, held })))
  const surfaces = new Map<Kind, BallTree>()
  const kinds = request.pieces.map((piece) => {
    const old = known.find(({ kind }) => isSame(kind.piece, piece))
    const kind = old?.kind ?? prepareKind(piece)
    const surface = old?.held.surfaces.get(kind) ?? trueSurfaces([kind]).get(kind)
    if (surface !== undefined) surfaces.set(kind, surface)
    return kind
  })
  return {
    request,
    room: roomIn(request, flask),
    kinds: new Map(kinds.map((kind) => [kind.piece.id, kind])),
    surfaces,
  }
}

const nameOf = ({ piece, copy }: { piece: string; copy: number }): string => `${piece}/${copy}`
export const sameWax = (
  a: { readonly piece: string; readonly copy: number },
  b: { readonly piece: string; readonly copy: number },
): boolean => a.piece === b.piece && a.copy === b.copy

const stemEndOf = (held: Held, sprues: readonly Sprue[]): number =>
  Math.max(held.room.cone, ...sprues.map((sprue) => sprue.axis_mm[2]))

const sprueFrom = (
  held: Held,
  kind: Kind,
  wax: Standing['placements'][number],
  feed: Feed,
  stemEnd: number,
  count: number,
): Sprue => sprueOf(kind, wax, feed, count, { mm: held.request.stem_mm, end: Math.max(stemEnd, feed.axisZ) })

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

interface Stood {
  readonly name: string
  readonly piece: string
  readonly copy: number
  readonly motion: Transform
  readonly back: Transform
  readonly kind: Kind
  readonly tree: BallTree
}

/** The corners of a placed surface that lie farthest out, lowest and highest. */
const corners = ({ tree, motion }: Stood): { out: Point; low: Point; high: Point } => {
  let [far, low, high] = [-1, Infinity, -Infinity]
  let [outAt, lowAt, highAt]: [Point, Point, Point] = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ]
  allReach(tree.mesh, (px, py, pz) => {
    const p = move(motion, [px, py, pz])
    const away = p[0] * p[0] + p[1] * p[1]
    if (away > far) [far, outAt] = [away, p]
    if (p[2] < low) [low, lowAt] = [p[2], p]
    if (p[2] > high) [high, highAt] = [p[2], p]
    return true
  })
  return { out: outAt, low: lowAt, high: highAt }
}

/** From a middle line as far as its bar's surface, towards another point but not past it. */
const towards = (line: Point, on: Point, radius: number): Point => {
  const way = minus(on, line)
  const size = sizeOf(way)
  return size > 1e-9 ? plus(line, way, Math.min(radius, size) / size) : line
}

const onWall = (point: Point, radius: number): Point => {
  const out = Math.hypot(point[0], point[1]) || 1
  return [(point[0] / out) * radius, (point[1] / out) * radius, point[2]]
}

/**
 * Every distance between real surfaces where the waxes stand, tightest against its need first, each with its two
 * points. @param only  just those of this wax and its sprues
 */
export const dimensionsOf = (
  held: Held,
  { placements, sprues }: Standing,
  only?: { readonly piece: string; readonly copy: number },
): Dimension[] => {
  const { request, room } = held
  const { rules } = request
  const radius = room.flask.diameter_mm / 2
  const list: Dimension[] = []
  const matters = (...those: readonly { piece: string; copy: number }[]): boolean =>
    only === undefined || those.some((one) => sameWax(one, only))
  const add = (a: string, b: string, distance: number, needed: number, on: Point, other: Point): void => {
    list.push({
      between: [a, b],
      distance_mm: Math.max(distance, a === 'wall' || a === 'top' || a === 'base' ? -Infinity : 0),
      needed_mm: needed,
      points: [on, other],
    })
  }
  const stood = placements.flatMap((wax): Stood[] => {
    const kind = held.kinds.get(wax.piece)
    if (kind === undefined) return []
    const tree = held.surfaces.get(kind) ?? kind.outside
    return [{ ...wax, name: nameOf(wax), back: undoing(wax.motion), kind, tree }]
  })
  const stemEnd = stemEndOf(held, sprues)
  stood.forEach((one, index) => {
    if (matters(one)) {
      const { out, low, high } = corners(one)
      add('wall', one.name, radius - Math.hypot(out[0], out[1]), rules.wall_mm, onWall(out, radius), out)
      const roof: Point = [high[0], high[1], room.flask.height_mm]
      add('top', one.name, room.flask.height_mm - high[2], room.neededTop, roof, high)
      add('base', one.name, low[2] - room.cone, rules.gap_mm, [low[0], low[1], room.cone], low)
      const stem = nearestToLine(
        one.tree,
        move(one.back, [0, 0, room.cone]),
        move(one.back, [0, 0, Math.max(stemEnd, room.cone + 1e-6)]),
      )
      const [on, line] = [move(one.motion, stem.on), move(one.motion, stem.other)]
      const half = request.stem_mm / 2
      const side =
        stem.distance > 1e-9 ? plus(line, unit(minus(on, line)), Math.min(half, stem.distance)) : line
      add('stem', one.name, stem.distance - half, rules.gap_mm, side, on)
    }
    for (const other of stood.slice(index + 1)) {
      if (!matters(one, other)) continue
      const pair = nearestPair(one.tree, other.tree, after(one.back, other.motion))
      const [on, there] = [move(one.motion, pair.on), move(one.motion, pair.other)]
      const within =
        encloses(solid(one), one.tree, solid(other)) || encloses(solid(other), other.tree, solid(one))
      add(one.name, other.name, within ? 0 : pair.distance, rules.gap_mm, on, there)
    }
  })
  const stem = { foot: room.cone, end: stemEnd, within: neighbourhood(request.stem_mm, rules.gap_mm) }
  sprues.forEach((sprue, index) => {
    const name = `sprue/${index + 1}`
    const half = Math.max(sprue.diameter_mm, sprue.stemEnd_mm) / 2
    if (matters(sprue)) {
      const way = minus(sprue.from_mm, sprue.to_mm)
      const level = Math.hypot(way[0], way[1]) / Math.max(sizeOf(way), 1e-12)
      const ends = [sprue.from_mm, sprue.to_mm]
      const far = ends.reduce((a, b) => (Math.hypot(b[0], b[1]) > Math.hypot(a[0], a[1]) ? b : a))
      const highest = ends.reduce((a, b) => (b[2] > a[2] ? b : a))
      const out = Math.hypot(far[0], far[1]) + half
      const high = highest[2] + half * level
      add('wall', name, radius - out, rules.wall_mm, onWall(far, radius), onWall(far, out))
      const [x, y] = highest
      add(
        'top',
        name,
        room.flask.height_mm - high,
        room.neededTop,
        [x, y, room.flask.height_mm],
        [x, y, high],
      )
    }
    for (const one of stood) {
      if (sameWax(one, sprue) || !matters(sprue, one)) continue
      const nearest = barsOf(sprue)
        .map((bar) => {
          const apart = nearestToLine(one.tree, move(one.back, bar.from), move(one.back, bar.to))
          return { ...apart, radius: bar.radius, gap: apart.distance - bar.radius }
        })
        .reduce((a, b) => (b.gap < a.gap ? b : a))
      const [on, line] = [move(one.motion, nearest.on), move(one.motion, nearest.other)]
      add(name, one.name, nearest.gap, rules.gap_mm, towards(line, on, nearest.radius), on)
    }
    sprues.slice(index + 1).forEach((other, k) => {
      if (sameWax(sprue, other) || !matters(sprue, other)) return
      const [a, b] = [sprue, other].map(({ from_mm, axis_mm }) => outsideStem(from_mm, axis_mm[2], stem))
      if (a === undefined || b === undefined) return
      const [on, there] = betweenLines(a[0], a[1], b[0], b[1])
      const [first, second] = [half, Math.max(other.diameter_mm, other.stemEnd_mm) / 2]
      const gap = sizeOf(minus(on, there)) - first - second
      const sides = [towards(on, there, first), towards(there, on, second)] as const
      add(name, `sprue/${index + k + 2}`, gap, rules.gap_mm, ...sides)
    })
  })
  return list.sort((a, b) => a.distance_mm - a.needed_mm - (b.distance_mm - b.needed_mm))
}

const solid = ({ kind, motion, back }: Stood): Pick<Placed, 'kind' | 'motion' | 'back' | 'centre'> => ({
  kind,
  motion,
  back,
  centre: move(motion, kind.centre),
})

/** Between the main sprue or the base and a wax: kept apart from the others in an arrangement's lists. */
const isOfStem = ({ between: [one] }: Clearance): boolean => one === 'stem' || one === 'base'

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

/** An arrangement of waxes that stand where a hand put them, measured and judged. */
export const asArrangement = (
  held: Held,
  { placements, sprues }: Standing,
  locked: (wax: { readonly piece: string; readonly copy: number }) => boolean,
  dimensions: readonly Dimension[],
  words: (place: string) => string,
): Arrangement => {
  const { room, request } = held
  const kinds = [...held.kinds.values()]
  const clearances = dimensions.map(({ between, distance_mm, needed_mm }) => ({
    between,
    distance_mm,
    needed_mm,
  }))
  const placed = placements.flatMap((wax): Judged[] => {
    const kind = held.kinds.get(wax.piece)
    if (kind === undefined) return []
    const back = undoing(wax.motion)
    const feeds = sprues.filter((sprue) => sameWax(sprue, wax)).map((sprue) => feedOf(kind, back, sprue))
    return [{ ...wax, kind, back, feeds, locked: locked(wax) }]
  })
  const stemEnd = stemEndOf(held, sprues)
  const sections = sectionsOf(request, kinds)
  return {
    fits: !clearances.some(isShort),
    flask: room.flask,
    placements: placements.map((wax) => ({ ...wax, locked: locked(wax) })),
    sprues: fillet(sprues, clearances),
    sections,
    stem: {
      from_mm: [0, 0, room.cone],
      to_mm: [0, 0, stemEnd],
      diameter_mm: request.stem_mm,
    },
    clearances: clearances.filter((one) => !isOfStem(one)),
    stemClearances: clearances.filter(isOfStem),
    offAxis_mm: middleOf(placed, sprues),
    problems: judgeStanding(request, room, kinds, placed, stemEnd, sections, clearances, words),
  }
}

/** A standing sprue as it was laid: where on its wax, and how. */
const feedOf = (kind: Kind, back: Transform, sprue: Sprue): Feed => ({
  attach: jointAt(kind, move(back, sprue.from_mm)).attach,
  from: sprue.from_mm,
  axisZ: sprue.axis_mm[2],
  byHand: sprue.byHand,
  diameter_mm: sprue.diameter_mm,
  stemEnd_mm: sprue.stemEnd_mm,
})
