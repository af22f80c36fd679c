import type { BoxTree } from '../../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { castRay } from '../../piece/mesh/rays.ts'
import { facing, fromUpright } from './upright.ts'

/** A place of thin metal, where no other edge, only the metal's other side, makes it so. */
export interface ThinAt {
  readonly at: readonly [number, number, number]
  readonly thickness_mm: number
}

/** Plates are looked through from above on a grid of this step, laid from the drawing's own origin. */
const STEP_MM = 0.4
const MOST_RAYS = 24_000
/** Off the grid's lines by so much, since drawings like whole numbers. */
const ASIDE_MM = [0.0137, 0.0071] as const
/** Metal whose top lies no higher stands on the back. */
const FRONT_MM = 0.05

/**
 * Floors and plates thinner than the limit, seen from above: the front's own metal from its top down. Counted only
 * where all that lies round is as thin, so that a rim that slopes to its edge, or a tip, is none.
 * @param mesh with a flat back at z = 0
 */
export const thinPlates = (mesh: TriangleMesh, tree: BoxTree, limit_mm: number, rough: number): ThinAt[] => {
  const { positions } = mesh
  let [left, low, right, high, top] = [Infinity, Infinity, -Infinity, -Infinity, -Infinity]
  for (let i = 0; i < positions.length; i += 3) {
    const [x = 0, y = 0, z = 0] = [positions[i], positions[i + 1], positions[i + 2]]
    left = Math.min(left, x)
    right = Math.max(right, x)
    low = Math.min(low, y)
    high = Math.max(high, y)
    top = Math.max(top, z)
  }
  const step = Math.max(STEP_MM, Math.sqrt(((right - left) * (high - low)) / MOST_RAYS))
  const [firstX, firstY] = [Math.floor(left / step), Math.floor(low / step)]
  const across = Math.ceil(right / step) - firstX + 1
  const up = Math.ceil(high / step) - firstY + 1
  const thick = new Float32Array(across * up).fill(Infinity)
  const tops = new Float32Array(across * up)
  for (let row = 0; row < up; row += 1)
    for (let column = 0; column < across; column += 1) {
      const [x, y] = [(firstX + column) * step + ASIDE_MM[0], (firstY + row) * step + ASIDE_MM[1]]
      const hits = castRay(mesh, tree, [x, y, top + 1], [0, 0, -1], rough)
      const enter = nearest(hits, -1, 0)
      if (enter === undefined || top + 1 - enter < FRONT_MM) continue
      const leave = nearest(hits, 1, enter)
      if (leave === undefined) continue
      thick[row * across + column] = leave - enter
      tops[row * across + column] = top + 1 - enter
    }
  const found: ThinAt[] = []
  for (let row = 1; row < up - 1; row += 1)
    for (let column = 1; column < across - 1; column += 1) {
      let thickest = 0
      for (const dr of [-1, 0, 1])
        for (const dc of [-1, 0, 1])
          thickest = Math.max(thickest, thick[(row + dr) * across + column + dc] ?? 0)
      if (thickest >= limit_mm) continue
      const at = row * across + column
      found.push({
        at: [(firstX + column) * step, (firstY + row) * step, tops[at] ?? 0],
        thickness_mm: thick[at] ?? 0,
      })
    }
  return found
}

const nearest = (hits: ReturnType<typeof castRay>, way: 1 | -1, beyond: number): number | undefined =>
  hits
    ?.filter((hit) => hit.way === way && hit.distance > beyond)
    .reduce<number | undefined>((least, { distance }) => Math.min(least ?? Infinity, distance), undefined)

/**
 * Upright walls thinner than the limit and taller than thick, through to a side that looks the other way.
 * @param mesh with a flat back at z = 0
 */
export const thinFins = (mesh: TriangleMesh, tree: BoxTree, limit_mm: number, rough: number): ThinAt[] =>
  fromUpright(mesh).flatMap(({ at, normal, tall_mm }): ThinAt[] => {
    const inward = [-normal[0], -normal[1], -normal[2]] as const
    const through = facing(
      mesh,
      castRay(mesh, tree, at, inward, rough, Math.min(limit_mm, tall_mm) + 2 * rough),
      1,
      normal,
      16 * rough,
    )
    if (through === undefined || through >= limit_mm || through > tall_mm) return []
    const middle = [0, 1, 2].map((k) => (at[k] ?? 0) + ((inward[k] ?? 0) * through) / 2)
    return [{ at: [middle[0] ?? 0, middle[1] ?? 0, middle[2] ?? 0], thickness_mm: through }]
  })
