import type { BoxTree } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'
import { nearestOn, type SearchedMesh } from './nearest.ts'
import type { Probe } from './rays.ts'

/**
 * How thick the metal is: diameters, in mm, of the largest balls that fit inside it where they touch the
 * surface, at places spread evenly over the surface's area.
 *
 * Beside an edge such a ball is tiny however thick the part, so a ball that is held by walls on one side only
 * is rolled out of its corner, growing, until walls hold it from sides that face one another (two walls that
 * meet at less than 60 degrees count as facing: a wedge keeps its own thickness all along). A plate so reads
 * its thickness at its rim too, a cube its side, a bar of round or square section its diameter or side.
 *
 * `p95` is the thickest section: a twentieth of the surface lies over thicker metal. A planner of feeds takes
 * this one. `p05` is the thinnest section in the same sense: what may fail to fill. A lump or a thin place
 * under less than a twentieth of the surface is not seen in either; where walls meet, the lump at the
 * junction counts as a section of its own, 1.17 times the wall at a square corner.
 * A faceted surface reads its facets: a round bar of 24 sides 0.9 % under its diameter. Each ball may pass
 * through the surface by a hundredth of its radius.
 */
export type Thickness = {
  p05: number
  median: number
  p95: number
  /**
   * Balls that the percentiles rest on: up to 1000. Those whose inward ray grazed an edge are left out; and
   * on dense meshes of balls, where all triangles are near one centre, fewer tell as much (24 at the least).
   */
  samples: number
}

/** A ball inside the metal and two of the points where it touches: no `other` where none was found. */
type Ball = { centre: Vector; radius: number; touch: Vector; other: Vector | null }
type Vector = readonly [number, number, number]

/** How far a ball may pass through the surface, as a share of its radius: more than the bend of fine facets. */
const SLACK = 0.01
const MOST_SHRINKS = 40
const MOST_ROLLS = 60
/** Cosine of half the least angle, seen from the centre, between two touching points that hold a ball: 120 degrees. */
const HELD = 0.5
const LEAST_GAIN = 1.01
const LEAST_STEP = 1 / 16
const MOST_DOUBLINGS = 40
const LOOSE = 0.03
/** Boxes of the tree looked into, in all: a count, not a time, so that the answer is always the same. */
const MOST_VISITS = 2e6
const LEAST_SAMPLES = 24

export function thicknessOf(mesh: TriangleMesh, tree: BoxTree, probes: readonly Probe[]): Thickness | null {
  const surface = { mesh, tree, visits: 0 }
  const sure = probes.flatMap((probe) => (probe.depth === null ? [] : [{ ...probe, depth: probe.depth }]))
  const widths: number[] = []
  // Taken in an order of which any beginning is spread over the whole surface, so that it may end early.
  const stride = strideOf(sure.length)
  for (let k = 0; k < sure.length; k++) {
    if (k >= LEAST_SAMPLES && surface.visits > MOST_VISITS) break
    const probe = sure[(k * stride) % sure.length]!
    widths.push(2 * largestBall(surface, probe, probe.depth).radius)
  }
  if (widths.length === 0) return null
  widths.sort((a, b) => a - b)
  const at = (share: number): number => widths[Math.round(share * (widths.length - 1))]!
  return { p05: at(0.05), median: at(0.5), p95: at(0.95), samples: widths.length }
}

/** The largest ball found inside the metal from one place of its surface. */
export type InscribedBall = {
  /** where on the surface it was sought from, and the way out of the metal there */
  at: Vector
  outward: Vector
  centre: Vector
  radius: number
}

/** The balls that the percentiles of `thicknessOf` rest on, each with its place: where the metal is thick and thin. */
export function inscribedBalls(mesh: TriangleMesh, tree: BoxTree, probes: readonly Probe[]): InscribedBall[] {
  const surface = { mesh, tree, visits: 0 }
  const balls: InscribedBall[] = []
  const sure = probes.flatMap((probe) => (probe.depth === null ? [] : [{ ...probe, depth: probe.depth }]))
  const stride = strideOf(sure.length)
  for (let k = 0; k < sure.length; k++) {
    if (k >= LEAST_SAMPLES && surface.visits > MOST_VISITS) break
    const probe = sure[(k * stride) % sure.length]!
    const [x, y, z] = inwardOf(mesh, probe.triangle)
    const { centre, radius } = largestBall(surface, probe, probe.depth)
    balls.push({ at: probe.at, outward: [-x, -y, -z], centre, radius })
  }
  return balls
}

/**
 * Thickness at one place: the diameter of the ball found there, as above.
 * @returns null where the ray inward from the place never left the metal
 */
export const thicknessAt = (surface: SearchedMesh, probe: Probe): number | null =>
  probe.depth === null ? null : 2 * largestBall(surface, probe, probe.depth).radius

/** The step near the golden section of `count` that comes to every number below it. */
function strideOf(count: number): number {
  const common = (a: number, b: number): number => (b === 0 ? a : common(b, a % b))
  let stride = Math.max(1, Math.round(count * 0.618))
  while (common(stride, count) > 1) stride++
  return stride
}

/** The largest ball found from one place: the one that touches there, rolled out of its corner. */
function largestBall(surface: SearchedMesh, { triangle, at }: Probe, depth: number): Ball {
  let ball = shrink(surface, at, inwardOf(surface.mesh, triangle), depth / 2)
  for (let roll = 0; roll < MOST_ROLLS; roll++) {
    const larger = rollOut(surface, ball)
    if (!larger) break
    ball = larger
  }
  return ball
}

/**
 * The largest ball up to `radius` that touches the surface at `touch` and lies inside: as long as a surface
 * point lies within it, it is shrunk to pass through that point and `touch`.
 */
function shrink(surface: SearchedMesh, touch: Vector, inward: Vector, radius: number): Ball {
  let r = radius
  let other: Vector | null = null
  for (let k = 0; ; k++) {
    const centre = add(touch, inward, r)
    const nearer = k < MOST_SHRINKS ? nearestOn(surface, centre, r * (1 - SLACK), SLACK / 2) : null
    if (!nearer) return { centre, radius: r, touch, other }
    const apart = minus(nearer.at, touch)
    const along = dot(apart, inward)
    const next = dot(apart, apart) / (2 * along)
    // Nearer than r, it lies ahead of the tangent plane; only rounding on a ball of no size says otherwise.
    if (!(next > 0 && next < r)) return { centre, radius: r, touch, other }
    r = next
    other = nearer.at
  }
}

/**
 * A larger ball, reached by moving away from the points where this one touches.
 * @returns null where the ball is held, or cannot grow
 */
function rollOut(surface: SearchedMesh, { centre, radius, touch, other }: Ball): Ball | null {
  if (!other) return null
  const middle = add(towards(touch, centre), towards(other, centre), 1)
  const size = Math.sqrt(dot(middle, middle))
  // Half of it is the cosine of half the angle between the two, and how fast the ball grows on its way.
  if (size / 2 <= HELD) return null
  const away: Vector = [middle[0] / size, middle[1] / size, middle[2] / size]
  // A step shorter than the radius ends inside the ball, so inside the metal.
  for (let step = 0.9; step >= LEAST_STEP; step /= 2) {
    const next = add(centre, away, step * radius)
    // Whether anything hinders is asked loosely: about the middle of a ball of facets, all are as near.
    if (!nearestOn(surface, next, radius * LEAST_GAIN, LOOSE)) return growAbout(surface, next)
  }
  return null
}

/** The largest ball that touches where the surface is nearest to `middle`, on the line through both. */
function growAbout(surface: SearchedMesh, middle: Vector): Ball | null {
  const nearest = nearestOn(surface, middle, Infinity, SLACK / 2)
  if (!nearest) return null
  const inward = towards(nearest.at, middle)
  let r = nearest.distance
  for (let k = 0; k < MOST_DOUBLINGS; k++) {
    r *= 2
    const ball = shrink(surface, nearest.at, inward, r)
    if (ball.other) return ball
  }
  return null
}

function inwardOf({ positions, corners }: TriangleMesh, triangle: number): Vector {
  const [a, b, c] = [0, 1, 2].map((k): Vector => {
    const at = corners[triangle * 3 + k]! * 3
    return [positions[at]!, positions[at + 1]!, positions[at + 2]!]
  }) as [Vector, Vector, Vector]
  const u = minus(b, a)
  const v = minus(c, a)
  return towards([u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]], [0, 0, 0])
}

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const add = (from: Vector, way: Vector, length: number): Vector => [
  from[0] + way[0] * length,
  from[1] + way[1] * length,
  from[2] + way[2] * length,
]

/** The unit vector from one point to another. */
function towards(from: Vector, to: Vector): Vector {
  const way = minus(to, from)
  const size = Math.sqrt(dot(way, way))
  return [way[0] / size, way[1] / size, way[2] / size]
}
