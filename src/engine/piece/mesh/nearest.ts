import type { BoxTree } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'

/** A mesh with its tree, and how many boxes were looked into so far: a count for callers that keep to a budget. */
export type SearchedMesh = { mesh: TriangleMesh; tree: BoxTree; visits: number }

export type Nearest = { triangle: number; distance: number; at: readonly [number, number, number] }

const FANOUT = 4
/** Boxes that wait to be looked into: deeper than any tree of triangles, each level leaving at most three. */
const MOST_WAITING = 4 * 32
const apartOf = new Float64Array(MOST_WAITING)
const levelOf = new Int32Array(MOST_WAITING)
const nodeOf = new Int32Array(MOST_WAITING)

/**
 * The surface point nearest to `point`, among those nearer than `within`.
 * @param slack 0 gives the nearest; a small share s lets the search pass over points that are nearer than the
 * one given by less than s of its distance, which spares it a whole sphere of triangles about a sphere's centre
 * @returns null where no surface point is nearer than `within`
 */
export function nearestOn(
  surface: SearchedMesh,
  point: readonly number[],
  within = Infinity,
  slack = 0,
): Nearest | null {
  const { mesh, tree } = surface
  const { order, boxes, levels, sizes } = tree
  if (order.length === 0) return null
  const [x, y, z] = point as [number, number, number]
  const least = (1 - slack) ** 2
  let best = within * within
  let triangle = -1
  const found: [number, number, number] = [0, 0, 0]
  const place: [number, number, number] = [0, 0, 0]
  apartOf[0] = 0
  levelOf[0] = sizes.length - 1
  nodeOf[0] = 0
  let waiting = 1
  let visits = 0
  while (waiting > 0) {
    visits++
    waiting--
    if (apartOf[waiting]! >= best * least) continue
    const n = nodeOf[waiting]!
    const level = levelOf[waiting]!
    if (level === 0) {
      const t = order[n]!
      const apart = placeOnTriangle(mesh, t, x, y, z, place)
      if (apart < best) {
        best = apart
        triangle = t
        found[0] = place[0]
        found[1] = place[1]
        found[2] = place[2]
      }
      continue
    }
    const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
    const base = levels[level - 1]!
    const start = waiting
    for (let child = n * FANOUT; child < last; child++) {
      const at = (base + child) * 6
      const dx = x < boxes[at]! ? boxes[at]! - x : x > boxes[at + 3]! ? x - boxes[at + 3]! : 0
      const dy = y < boxes[at + 1]! ? boxes[at + 1]! - y : y > boxes[at + 4]! ? y - boxes[at + 4]! : 0
      const dz = z < boxes[at + 2]! ? boxes[at + 2]! - z : z > boxes[at + 5]! ? z - boxes[at + 5]! : 0
      const apart = dx * dx + dy * dy + dz * dz
      if (apart >= best * least) continue
      // The nearest box goes on top, to be looked into first.
      let to = waiting++
      for (; to > start && apartOf[to - 1]! < apart; to--) {
        apartOf[to] = apartOf[to - 1]!
        levelOf[to] = level - 1
        nodeOf[to] = nodeOf[to - 1]!
      }
      apartOf[to] = apart
      levelOf[to] = level - 1
      nodeOf[to] = child
    }
  }
  surface.visits += visits
  return triangle < 0 ? null : { triangle, distance: Math.sqrt(best), at: found }
}

/**
 * Puts the point of a triangle nearest to (x, y, z) into `place`.
 * A triangle without area counts as its sides.
 * @returns the square of the distance
 */
export function placeOnTriangle(
  { positions, corners }: TriangleMesh,
  triangle: number,
  x: number,
  y: number,
  z: number,
  place: [number, number, number],
): number {
  const a = corners[triangle * 3]! * 3
  const b = corners[triangle * 3 + 1]! * 3
  const c = corners[triangle * 3 + 2]! * 3
  const ax = positions[a]!
  const ay = positions[a + 1]!
  const az = positions[a + 2]!
  const ux = positions[b]! - ax
  const uy = positions[b + 1]! - ay
  const uz = positions[b + 2]! - az
  const vx = positions[c]! - ax
  const vy = positions[c + 1]! - ay
  const vz = positions[c + 2]! - az
  const wx = x - ax
  const wy = y - ay
  const wz = z - az
  const uu = ux * ux + uy * uy + uz * uz
  const uv = ux * vx + uy * vy + uz * vz
  const vv = vx * vx + vy * vy + vz * vz
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  // Shares of u and v at the foot of the perpendicular; where they fall outside, the nearest point is on a side.
  const det = uu * vv - uv * uv
  const e = vv * uw - uv * vw
  const f = uu * vw - uv * uw
  let s = e / det
  let t = f / det
  if (!(det > 1e-14 * uu * vv) || e < 0 || f < 0 || e + f > det) {
    s = uu > 0 ? clamped(uw / uu) : 0
    t = 0
    let least = s * s * uu - 2 * s * uw
    const onV = vv > 0 ? clamped(vw / vv) : 0
    const alongV = onV * onV * vv - 2 * onV * vw
    if (alongV < least) {
      least = alongV
      s = 0
      t = onV
    }
    // The third side runs from u to v: u + k (v - u).
    const across = uu - 2 * uv + vv
    const k = across > 0 ? clamped((vw - uw + uu - uv) / across) : 0
    const third = (1 - k) * (1 - k) * uu + 2 * k * (1 - k) * uv + k * k * vv - 2 * ((1 - k) * uw + k * vw)
    if (third < least) {
      s = 1 - k
      t = k
    }
  }
  place[0] = ax + s * ux + t * vx
  place[1] = ay + s * uy + t * vy
  place[2] = az + s * uz + t * vz
  return (x - place[0]) ** 2 + (y - place[1]) ** 2 + (z - place[2]) ** 2
}

const clamped = (share: number): number => (share < 0 ? 0 : share > 1 ? 1 : share)
