import { type BallTree, distanceApart, distanceToLine } from './apart.ts'
import type { Point } from './problems.ts'
import { moved, type Transform } from './transform.ts'

/** How far apart two things are, and the two points where they are nearest. */
export type NearestPair = { distance: number; on: Point; other: Point }

type Triangle = readonly [Point, Point, Point]

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const along = (a: Point, way: Point, k: number): Point => [
  a[0] + k * way[0],
  a[1] + k * way[1],
  a[2] + k * way[2],
]
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const share = (value: number): number => (value > 0 ? Math.min(1, value) : 0)

const triangleOf = ({ mesh: { positions, corners } }: BallTree, triangle: number): Triangle =>
  [0, 1, 2].map((k): Point => {
    const at = corners[triangle * 3 + k]! * 3
    return [positions[at]!, positions[at + 1]!, positions[at + 2]!]
  }) as unknown as Triangle

/** Nearest points of two straight lines with ends. */
export function betweenSides(p: Point, q: Point, r: Point, s: Point): [Point, Point] {
  const u = minus(q, p)
  const v = minus(s, r)
  const w = minus(p, r)
  const [uu, vv, uv, uw, vw] = [dot(u, u), dot(v, v), dot(u, v), dot(u, w), dot(v, w)]
  const square = uu * vv - uv * uv
  let k = square > 1e-14 * uu * vv ? share((uv * vw - vv * uw) / square) : 0
  const m = vv > 0 ? share((uv * k + vw) / vv) : 0
  k = uu > 0 ? share((uv * m - uw) / uu) : 0
  return [along(p, u, k), along(r, v, m)]
}

/** Where a line through `from` that way meets the triangle's plane, if that is inside the triangle. */
function inFace([a, b, c]: Triangle, from: Point, way: Point, most: number): Point | undefined {
  const n = cross(minus(b, a), minus(c, a))
  const slope = dot(n, way)
  if (slope === 0) return undefined
  const k = dot(n, minus(a, from)) / slope
  if (k < 0 || k > most) return undefined
  const at = along(from, way, k)
  const sides: readonly (readonly [Point, Point])[] = [
    [a, b],
    [b, c],
    [c, a],
  ]
  return sides.every(([p, q]) => dot(cross(minus(q, p), minus(at, p)), n) >= 0) ? at : undefined
}

/** Nearest points of two triangles; where they cross, one point of the crossing twice. */
function betweenTriangles(one: Triangle, other: Triangle): [Point, Point] {
  let least = Infinity
  let found: [Point, Point] = [one[0], other[0]]
  const offer = (a: Point, b: Point): void => {
    const w = minus(a, b)
    const apart = dot(w, w)
    if (apart < least) {
      least = apart
      found = [a, b]
    }
  }
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      offer(...betweenSides(one[i]!, one[(i + 1) % 3]!, other[j]!, other[(j + 1) % 3]!))
  for (const [face, edges, swapped] of [
    [other, one, false],
    [one, other, true],
  ] as const) {
    const n = cross(minus(face[1], face[0]), minus(face[2], face[0]))
    for (let i = 0; i < 3; i++) {
      const corner = edges[i]!
      const side = minus(edges[(i + 1) % 3]!, corner)
      const pierced = inFace(face, corner, side, 1)
      if (pierced !== undefined) offer(pierced, pierced)
      const down = dot(n, minus(face[0], corner)) < 0 ? ([-n[0], -n[1], -n[2]] as const) : n
      const foot = inFace(face, corner, down, Infinity)
      if (foot !== undefined) swapped ? offer(foot, corner) : offer(corner, foot)
    }
  }
  return found
}

/**
 * The least distance between two surfaces and where it is, both points in the first one's coordinates.
 * @param motion takes the second mesh's coordinates to the first's; it must be rigid
 */
export function nearestPair(a: BallTree, b: BallTree, motion: Transform): NearestPair {
  const pair = new Int32Array(2)
  const distance = distanceApart(a, b, motion, Infinity, 0, pair)
  const second = triangleOf(b, pair[1]!).map((p) => moved(motion, ...p)) as unknown as Triangle
  const [on, other] = betweenTriangles(triangleOf(a, pair[0]!), second)
  return { distance, on, other }
}

/** The same between a surface and a straight line with ends; and which triangle is nearest. */
export function nearestToLine(a: BallTree, from: Point, to: Point): NearestPair & { triangle: number } {
  const pair = new Int32Array(1)
  const distance = distanceToLine(a, from, to, Infinity, 0, pair)
  const triangle = pair[0]!
  const [on, other] = betweenTriangles(triangleOf(a, triangle), [from, to, to])
  return { distance, on, other, triangle }
}
