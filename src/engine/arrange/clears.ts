import { distanceApart, distanceToLine } from '../piece/mesh/apart.ts'
import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { linesApart, neighbourhood, outsideStem } from './bores.ts'
import { type Feed, radiusOf } from './feeds.ts'
import type { Kind } from './kind.ts'
import type { ArrangeRequest } from './request.ts'
import { type Room, SAFE } from './room.ts'
import { minus, move, sizeOf } from './vectors.ts'

export interface Placed {
  readonly kind: Kind
  readonly copy: number
  readonly motion: Transform
  readonly back: Transform
  readonly centre: Point
  /** middles and radii of balls inside it, four numbers each, in the flask */
  readonly inner: Float64Array
  readonly feeds: readonly Feed[]
  readonly locked: boolean
  /** it sits on the end of the main sprue */
  readonly onEnd: boolean
}

export interface Tree {
  readonly placed: readonly Placed[]
  /** where the centre line of the main sprue ends */
  readonly stemEnd: number
  /** a sprue sits on the end of the main sprue, which therefore can't be carried on */
  readonly ended: boolean
}

export const needBetween = (request: ArrangeRequest, a: Kind, b: Kind): number =>
  request.rules.gap_mm + a.off + b.off + SAFE

/** Whether the balls round two waxes come so near that the waxes might. */
const nearEnough = (request: ArrangeRequest, a: Placed, b: Placed): boolean =>
  sizeOf(minus(a.centre, b.centre)) < a.kind.radius + b.kind.radius + needBetween(request, a.kind, b.kind)

export const waxesClear = (request: ArrangeRequest, a: Placed, b: Placed): boolean => {
  if (!nearEnough(request, a, b)) return true
  const need = needBetween(request, a.kind, b.kind)
  return distanceApart(a.kind.outside, b.kind.outside, after(a.back, b.motion), need, need) >= need
}

/** How far a point is from a straight line between two others. */
const fromLine = (x: number, y: number, z: number, from: Point, to: Point): number => {
  const ux = to[0] - from[0]
  const uy = to[1] - from[1]
  const uz = to[2] - from[2]
  const wx = x - from[0]
  const wy = y - from[1]
  const wz = z - from[2]
  const uu = ux * ux + uy * uy + uz * uz
  const k = uu > 0 ? Math.min(1, Math.max(0, (ux * wx + uy * wy + uz * wz) / uu)) : 0
  return Math.sqrt((wx - k * ux) ** 2 + (wy - k * uy) ** 2 + (wz - k * uz) ** 2)
}

const lineClears = (
  request: ArrangeRequest,
  placed: Placed,
  from: Point,
  to: Point,
  radius: number,
): boolean => {
  const need = request.rules.gap_mm + radius + placed.kind.off + SAFE
  const [x, y, z] = placed.centre
  if (fromLine(x, y, z, from, to) >= placed.kind.radius + need) return true
  // what comes too near a ball inside the wax comes too near the wax, and that is asked far sooner
  const { inner } = placed
  for (let k = 0; k < inner.length; k += 4)
    if (
      fromLine(inner[k] ?? 0, inner[k + 1] ?? 0, inner[k + 2] ?? 0, from, to) <
      (inner[k + 3] ?? 0) + radius + request.rules.gap_mm
    )
      return false
  return (
    distanceToLine(placed.kind.outside, move(placed.back, from), move(placed.back, to), need, need) >= need
  )
}

export const axis = (z: number): Point => [0, 0, z]

/** Everything that must be so between a piece with its sprues and the tree that stands already. */
export const clears = (request: ArrangeRequest, room: Room, tree: Tree, one: Placed): boolean =>
  tree.placed.every((other) => waxesClear(request, one, other)) && spruesClear(request, room, tree, one)

/** Sprue from sprue, once both have left the neighbourhood of the main sprue in which they come together. */
const feedsClear = (
  request: ArrangeRequest,
  room: Room,
  one: Placed,
  other: Placed,
  end: number,
): boolean => {
  const { gap_mm } = request.rules
  const stem = { foot: room.cone, end, within: neighbourhood(request) }
  const linesOf = ({ feeds, kind }: Placed) =>
    feeds.flatMap((feed) => {
      const line = outsideStem(feed.from, feed.axisZ, stem)
      return line === undefined ? [] : [{ line, radius: radiusOf(feed, kind) }]
    })
  const others = linesOf(other)
  return linesOf(one).every(({ line: [from, to], radius }) =>
    others.every((second) => linesApart(from, to, ...second.line) - radius - second.radius >= gap_mm + SAFE),
  )
}

/** One wax with its sprues against another with its, the main sprue being carried up for it where it must. */
export const spruesClearOf = (
  request: ArrangeRequest,
  room: Room,
  stemEnd: number,
  one: Placed,
  other: Placed,
): boolean => {
  const end = Math.max(stemEnd, ...one.feeds.map((feed) => feed.axisZ))
  return (
    other.feeds.every((feed) =>
      lineClears(request, one, feed.from, axis(feed.axisZ), radiusOf(feed, other.kind)),
    ) &&
    one.feeds.every((feed) =>
      lineClears(request, other, feed.from, axis(feed.axisZ), radiusOf(feed, one.kind)),
    ) &&
    feedsClear(request, room, one, other, end) &&
    (end <= stemEnd || lineClears(request, other, axis(room.cone), axis(end), request.stem_mm / 2))
  )
}

export const spruesClear = (request: ArrangeRequest, room: Room, tree: Tree, one: Placed): boolean =>
  tree.placed.every((other) => spruesClearOf(request, room, tree.stemEnd, one, other))
