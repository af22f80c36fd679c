import type { TriangleMesh } from '../../piece/mesh/index.ts'
import type { castRay } from '../../piece/mesh/rays.ts'
import { triangleArea } from '../../piece/mesh/volume.ts'

type Point = readonly [number, number, number]

export interface UprightPlace {
  readonly at: Point
  readonly normal: Point
  /** of the stretch of wall that it lies on */
  readonly tall_mm: number
}

/** A face that looks up or down more than this is no side of a groove or wall. */
const UPRIGHT = 0.5
/** A place on each so much of a wall, and on each stretch at least one. */
const EACH_MM2 = 0.3
const MOST = 20_000
/** Sides look at one another when their faces are turned by more than 120 degrees. */
const OPPOSED = -0.5

interface Corner {
  readonly points: readonly [Point, Point, Point]
  readonly normal: Point
  readonly area: number
}

const cornersOf = ({ positions, corners }: TriangleMesh, t: number): Corner | undefined => {
  const area = triangleArea(positions, corners, t)
  if (!(area > 0)) return undefined
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
  return { points, normal, area }
}

/**
 * Places on the upright faces of the front. They depend on each face alone, so that a change elsewhere moves none.
 * @param mesh with a flat back at z = 0
 */
export const fromUpright = (mesh: TriangleMesh): UprightPlace[] => {
  const faces: Corner[] = []
  let total = 0
  for (let t = 0; t < mesh.corners.length; t += 3) {
    const face = cornersOf(mesh, t)
    if (face === undefined || Math.abs(face.normal[2]) > UPRIGHT) continue
    if (face.points[0][2] + face.points[1][2] + face.points[2][2] < 0) continue
    faces.push(face)
    total += face.area
  }
  const each = Math.max(EACH_MM2, total / MOST)
  return faces.flatMap(({ points: [a, b, c], normal, area }) => {
    const levels = [a[2], b[2], c[2]]
    const tall_mm = Math.max(...levels) - Math.min(...levels)
    return Array.from({ length: Math.ceil(area / each) }, (_, n): UprightPlace => {
      // Steps that fill a triangle evenly and fall on no line that regular parts have.
      const [u, v] = [(0.4142 + n * 0.7548776662466927) % 1, (0.3187 + n * 0.5698402909980532) % 1]
      const [s, w] = u + v > 1 ? [1 - u, 1 - v] : [u, v]
      const mix = (k: 0 | 1 | 2): number => (1 - s - w) * a[k] + s * b[k] + w * c[k]
      return { at: [mix(0), mix(1), mix(2)], normal, tall_mm }
    })
  })
}

/** How far to the nearest side met, if that side looks back: undefined where the ray meets an edge or a slope. */
export const facing = (
  mesh: TriangleMesh,
  hits: ReturnType<typeof castRay>,
  way: 1 | -1,
  normal: Point,
  beyond: number,
): number | undefined => {
  const met = hits
    ?.filter((hit) => hit.way === way && hit.distance > beyond)
    .reduce<{ distance: number; triangle: number } | undefined>(
      (least, hit) => (least === undefined || hit.distance < least.distance ? hit : least),
      undefined,
    )
  if (met === undefined) return undefined
  const other = cornersOf(mesh, 3 * met.triangle)?.normal
  if (other === undefined) return undefined
  return other[0] * normal[0] + other[1] * normal[1] + other[2] * normal[2] < OPPOSED
    ? met.distance
    : undefined
}

/** Members of a cluster within so much of its middle value are of one width. */
const ONE_WIDTH = 0.25

/**
 * The middle value of a cluster that is long enough and of one width; undefined where it is a wedge that runs to
 * nothing, whose width is any number down to nought and says nothing of a wall or a groove.
 */
export const middleOfEven = <T>(
  cluster: readonly T[],
  sizeOf: (item: T) => number,
  placeOf: (item: T) => Point,
  least_mm: number,
): T | undefined => {
  const sorted = cluster.toSorted(
    (a, b) => sizeOf(a) - sizeOf(b) || placeOf(a)[0] - placeOf(b)[0] || placeOf(a)[1] - placeOf(b)[1],
  )
  const middle = sorted[Math.floor(sorted.length / 2)]
  if (middle === undefined) return undefined
  const value = sizeOf(middle)
  const even = sorted.filter((item) => Math.abs(sizeOf(item) - value) <= ONE_WIDTH * value)
  if (even.length < cluster.length / 2) return undefined
  const spans = [0, 1, 2].map((k) => {
    const at = even.map((item) => placeOf(item)[k] ?? 0)
    return at.reduce((a, b) => Math.max(a, b), -Infinity) - at.reduce((a, b) => Math.min(a, b), Infinity)
  })
  return Math.hypot(...spans) >= least_mm ? middle : undefined
}
