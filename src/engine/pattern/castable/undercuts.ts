import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { castRay } from '../../piece/mesh/rays.ts'
import { triangleArea } from '../../piece/mesh/volume.ts'
import type { Place } from '../drawing.ts'
import type { CastableSpot } from './find-castable.ts'
import { clustersOf, roughOf, treeOf } from './walls.ts'

/** Hardware stands behind the back; what is that far behind it is its own affair. */
const BEHIND_MM = -0.05
const LEAST_MM2 = 0.05
const ONE_SPOT_MM = 3

/**
 * Faces of the front that look backward onto metal: a two-part rubber mould cannot let go of them, and a graver
 * cannot reach them. What looks backward into the open, as the back and its hollow do, is none.
 * @param mesh with a flat back at z = 0
 */
export const findUndercuts = (mesh: TriangleMesh, backward_deg: number): CastableSpot[] => {
  const { positions, corners } = mesh
  const backward = -Math.sin((backward_deg * Math.PI) / 180)
  const found: { at: Place; deg: number; area: number }[] = []
  let tree: ReturnType<typeof treeOf> | undefined
  const rough = roughOf(mesh)
  for (let t = 0; t < corners.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k): Point => {
      const at = (corners[t + k] as number) * 3
      return [positions[at] as number, positions[at + 1] as number, positions[at + 2] as number]
    }) as [Point, Point, Point]
    if ((a[2] + b[2] + c[2]) / 3 < -BEHIND_MM) continue
    const up = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    const area = triangleArea(positions, corners, t)
    if (!(area > 0) || up / (2 * area) >= backward) continue
    // A little off the middle, where no edge of a regular part runs.
    const at = [0, 1, 2].map((k) => 0.31 * (a[k] ?? 0) + 0.36 * (b[k] ?? 0) + 0.33 * (c[k] ?? 0))
    tree ??= treeOf(mesh)
    const hits = castRay(mesh, tree, at, [0, 0, -1], rough)
    const floor = hits?.filter(({ distance, way }) => way < 0 && distance > 16 * rough)
    const nearest = floor && Math.min(...floor.map(({ distance }) => distance))
    if (nearest === undefined || (at[2] ?? 0) - nearest < BEHIND_MM) continue
    found.push({
      at: [at[0] ?? 0, at[1] ?? 0],
      deg: (Math.asin(Math.min(1, -up / (2 * area))) * 180) / Math.PI,
      area,
    })
  }
  return clustersOf(found, ({ at }) => at, ONE_SPOT_MM)
    .filter((cluster) => cluster.reduce((sum, { area }) => sum + area, 0) > LEAST_MM2)
    .map((cluster) => cluster.reduce((one, other) => (other.deg > one.deg ? other : one)))
    .sort((one, other) => other.deg - one.deg)
    .map(({ at, deg }) => ({
      kind: 'undercut',
      at_mm: at,
      size: deg,
      words: `a face looks backward by ${deg.toFixed(0)}° over metal: investment fills it, but a rubber mould will not let go of it`,
      remedy: 'make the wall upright, or carve the wax by hand for each casting',
    }))
}

type Point = readonly [number, number, number]
