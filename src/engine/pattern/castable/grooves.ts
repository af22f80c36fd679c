import type { BoxTree } from '../../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { castRay } from '../../piece/mesh/rays.ts'
import type { CastableSpot } from './find-castable.ts'
import { facing, fromUpright, middleOfEven } from './upright.ts'
import { clustersOf } from './walls.ts'

const STEP_MM = 0.1
const DEEPEST_MM = 6
const ONE_SPOT_MM = 2.5
const SPOTS = 8
/** Narrower, two faces lie on one another and nothing stands between them. */
const SLIT_MM = 0.02
/** Shorter than this, nothing of it can break off. */
const LEAST_MM = 1

interface Groove {
  readonly at: Point
  readonly width_mm: number
  readonly depth_mm: number
}

/**
 * Grooves, slots and holes that leave a thin upright fin of investment: narrower than `groove_mm` from wall to
 * wall and deeper than wide. Seen from places on all upright faces.
 */
export const findGrooves = (
  mesh: TriangleMesh,
  tree: BoxTree,
  groove_mm: number,
  rough: number,
): CastableSpot[] => {
  const found: Groove[] = []
  for (const { at, normal } of fromUpright(mesh)) {
    const gap = facing(mesh, castRay(mesh, tree, at, normal, rough, groove_mm), -1, normal, 16 * rough)
    if (gap === undefined || gap >= groove_mm || gap < SLIT_MM) continue
    const depth = depthOf(mesh, tree, at, normal, gap, groove_mm, rough)
    if (depth <= gap) continue
    const middle = (k: 0 | 1 | 2): number => at[k] + (normal[k] * gap) / 2
    found.push({ at: [middle(0), middle(1), middle(2)], width_mm: gap, depth_mm: depth })
  }
  return clustersOf(found, ({ at: [x, y] }) => [x, y], ONE_SPOT_MM)
    .flatMap(
      (cluster) =>
        middleOfEven(
          cluster,
          ({ width_mm }) => width_mm,
          ({ at }) => at,
          LEAST_MM,
        ) ?? [],
    )
    .sort((one, other) => one.width_mm - other.width_mm)
    .slice(0, SPOTS)
    .map(({ at, width_mm, depth_mm }) => ({
      kind: 'narrow-groove',
      at_mm: [at[0], at[1]],
      size: width_mm,
      words: `a groove ${width_mm.toFixed(2)} mm wide and ${depth_mm.toFixed(1)} mm deep leaves a fin of investment that may break off and lie in the casting (common practice: at least ${groove_mm} mm, or no deeper than wide)`,
      remedy: 'widen it, make it shallower, or cut it with a graver after casting',
    }))
}

type Point = readonly [number, number, number]

/** How far the open goes from a face until metal begins again: Infinity where it does not within `far`, null where none is sure. */
const gapFrom = (
  mesh: TriangleMesh,
  tree: BoxTree,
  at: readonly number[],
  direction: readonly number[],
  rough: number,
  far: number,
): number | null => {
  const hits = castRay(mesh, tree, at, direction, rough, far)
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
  const floor = gapFrom(mesh, tree, along(gap / 2, lift), [0, 0, -1], rough, Math.max(0, at[2]) + 2 * lift)
  if (floor === null) return 0
  const down = Math.min(floor - lift, Math.max(0, at[2]))
  const far = 1.5 * groove_mm
  let up = 0
  while (up + down < DEEPEST_MM) {
    const middle = along(gap / 2, up + STEP_MM)
    const ahead = gapFrom(mesh, tree, middle, [normal[0], normal[1], 0], rough, far)
    const behind = gapFrom(mesh, tree, middle, [-normal[0], -normal[1], 0], rough, far)
    if (ahead === null || behind === null || ahead + behind > far) break
    up += STEP_MM
  }
  return down + up
}
