import type { BoxTree } from '../../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { castRay } from '../../piece/mesh/rays.ts'
import { triangleArea } from '../../piece/mesh/volume.ts'
import type { Place } from '../drawing.ts'
import type { CastableSpot } from './find-castable.ts'
import { clustersOf } from './walls.ts'

/** A face that looks up or down more than this is no side of a groove. */
const UPRIGHT = 0.5
const STEP_MM = 0.1
const DEEPEST_MM = 6
const ONE_SPOT_MM = 2.5
const SPOTS = 8

interface Groove {
  readonly at: Place
  readonly width_mm: number
  readonly depth_mm: number
}

/**
 * Grooves, slots and holes that leave a thin upright fin of investment: narrower than `groove_mm` from wall to
 * wall and deeper than wide. Seen from places spread evenly over all upright faces.
 */
export const findGrooves = (
  mesh: TriangleMesh,
  tree: BoxTree,
  groove_mm: number,
  count: number,
  rough: number,
): CastableSpot[] => {
  const found: Groove[] = []
  for (const { at, normal } of uprightPlaces(mesh, count)) {
    const gap = gapFrom(mesh, tree, at, normal, rough)
    if (gap === null || gap >= groove_mm) continue
    const depth = depthOf(mesh, tree, at, normal, gap, groove_mm, rough)
    if (depth <= gap) continue
    const middle = [0, 1].map((k) => (at[k] ?? 0) + ((normal[k] ?? 0) * gap) / 2)
    found.push({ at: [middle[0] ?? 0, middle[1] ?? 0], width_mm: gap, depth_mm: depth })
  }
  return clustersOf(found, ({ at }) => at, ONE_SPOT_MM)
    .map((cluster) => cluster.reduce((one, other) => (other.width_mm < one.width_mm ? other : one)))
    .sort((one, other) => one.width_mm - other.width_mm)
    .slice(0, SPOTS)
    .map(({ at, width_mm, depth_mm }) => ({
      kind: 'narrow-groove',
      at_mm: at,
      size: width_mm,
      words: `a groove ${width_mm.toFixed(2)} mm wide and ${depth_mm.toFixed(1)} mm deep leaves a fin of investment that may break off and lie in the casting (common practice: at least ${groove_mm} mm, or no deeper than wide)`,
      remedy: 'widen it, make it shallower, or cut it with a graver after casting',
    }))
}

type Point = readonly [number, number, number]

/** Middles of stretches of upright faces, one for each equal share of their area. */
const uprightPlaces = (
  { positions, corners }: TriangleMesh,
  count: number,
): { at: Point; normal: Point }[] => {
  const faces: { area: number; points: [Point, Point, Point]; normal: Point }[] = []
  let total = 0
  for (let t = 0; t < corners.length; t += 3) {
    const area = triangleArea(positions, corners, t)
    if (!(area > 0)) continue
    const points = [0, 1, 2].map((k): Point => {
      const at = (corners[t + k] as number) * 3
      return [positions[at] as number, positions[at + 1] as number, positions[at + 2] as number]
    }) as [Point, Point, Point]
    const [a, b, c] = points
    const normal: Point = [
      ((b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1])) / (2 * area),
      ((b[2] - a[2]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[2] - a[2])) / (2 * area),
      ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / (2 * area),
    ]
    if (Math.abs(normal[2]) > UPRIGHT) continue
    total += area
    faces.push({ area, points, normal })
  }
  const places: { at: Point; normal: Point }[] = []
  let sum = 0
  let sent = 0
  for (const { area, points, normal } of faces) {
    sum += area
    for (; sent < count && sum >= ((sent + 0.5) / count) * total; sent++) {
      // Steps that fill a triangle evenly and fall on no line that regular parts have.
      const [u, v] = [(0.4142 + sent * 0.7548776662466927) % 1, (0.3187 + sent * 0.5698402909980532) % 1]
      const [s, w] = u + v > 1 ? [1 - u, 1 - v] : [u, v]
      const [a, b, c] = points
      const mix = (k: 0 | 1 | 2): number => (1 - s - w) * a[k] + s * b[k] + w * c[k]
      places.push({ at: [mix(0), mix(1), mix(2)], normal })
    }
  }
  return places
}

/** How far the open goes from a face until metal begins again: Infinity where it never does, null where none is sure. */
const gapFrom = (
  mesh: TriangleMesh,
  tree: BoxTree,
  at: readonly number[],
  direction: readonly number[],
  rough: number,
): number | null => {
  const hits = castRay(mesh, tree, at, direction, rough)
  if (!hits) return null
  let least = Infinity
  for (const { distance, way } of hits)
    if (way < 0 && distance > 16 * rough) least = Math.min(least, distance)
  return least
}

/** From the groove's floor, or the open back, up to where its sides no longer face one another. */
const depthOf = (
  mesh: TriangleMesh,
  tree: BoxTree,
  at: Point,
  normal: Point,
  gap: number,
  groove_mm: number,
  rough: number,
): number => {
  const along = (by: number, up: number): Point => [
    at[0] + normal[0] * by,
    at[1] + normal[1] * by,
    at[2] + up,
  ]
  // From a little higher, lest a place just above the floor starts on it.
  const lift = 64 * rough
  const floor = gapFrom(mesh, tree, along(gap / 2, lift), [0, 0, -1], rough)
  if (floor === null) return 0
  const down = Math.min(floor - lift, Math.max(0, at[2]))
  let up = 0
  while (up + down < DEEPEST_MM) {
    const middle = along(gap / 2, up + STEP_MM)
    const ahead = gapFrom(mesh, tree, middle, [normal[0], normal[1], 0], rough)
    const behind = gapFrom(mesh, tree, middle, [-normal[0], -normal[1], 0], rough)
    if (ahead === null || behind === null || ahead + behind > 1.5 * groove_mm) break
    up += STEP_MM
  }
  return down + up
}
