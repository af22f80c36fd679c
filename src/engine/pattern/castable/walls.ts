import { type BoxTree, buildBoxTree } from '../../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { probeInward } from '../../piece/mesh/rays.ts'
import { thicknessAt } from '../../piece/mesh/thickness.ts'
import type { Place } from '../drawing.ts'

/** How thick the metal is at one place of the surface, mm. */
export interface WallAt {
  readonly at: readonly [number, number, number]
  readonly thickness_mm: number
}

/** Rounding of the modeller's 32-bit floats, in shares of the piece's size. */
const ROUGH = 1e-6
/** Boxes looked into, in all: a count, not a time, so that the answer is always the same. */
const MOST_VISITS = 12e6

export const roughOf = ({ positions }: TriangleMesh): number => {
  let farthest = 1
  for (const value of positions) farthest = Math.max(farthest, Math.abs(value))
  return ROUGH * farthest
}

/**
 * Diameters of the largest balls inside the metal at places spread evenly over the surface: the same measure
 * as for a model (`piece/mesh/thickness`), so that a drawing and its scanned wax compare.
 */
export const wallsOf = (mesh: TriangleMesh, tree: BoxTree, count: number): WallAt[] => {
  const surface = { mesh, tree, visits: 0 }
  const probes = probeInward(mesh, tree, count, roughOf(mesh))
  const walls: WallAt[] = []
  // Every 7th of what is left, then the next 7th: an early end leaves no side of the piece out.
  for (let from = 0; from < STRIDE; from++)
    for (let i = from; i < probes.length && surface.visits < MOST_VISITS; i += STRIDE) {
      const probe = probes[i]
      const thickness_mm = probe && thicknessAt(surface, probe)
      if (probe && thickness_mm) walls.push({ at: probe.at, thickness_mm })
    }
  return walls
}
const STRIDE = 7

export const treeOf = (mesh: TriangleMesh): BoxTree => buildBoxTree(mesh)

/** For each point of the mesh the thickness at the nearest place measured; 0 where none was measured. */
export const wallsByPoint = ({ positions }: TriangleMesh, walls: readonly WallAt[]): Float32Array => {
  const count = positions.length / 3
  const byPoint = new Float32Array(count)
  if (walls.length === 0) return byPoint
  const near = new Neighbours(walls.map(({ at }) => at))
  for (let i = 0; i < count; i++) {
    const nearest = near.nearest(positions[i * 3] ?? 0, positions[i * 3 + 1] ?? 0, positions[i * 3 + 2] ?? 0)
    byPoint[i] = walls[nearest]?.thickness_mm ?? 0
  }
  return byPoint
}

/** Places lie about so far apart, so a cell holds a few. */
const CELL_MM = 1
const FARTHEST = 24

type Point = readonly [number, number, number]

/** Places in cells, so that what lies near one is found without asking all. */
class Neighbours {
  readonly #cells = new Map<number, number[]>()
  readonly #at: Float64Array

  constructor(places: readonly Point[]) {
    this.#at = new Float64Array(3 * places.length)
    places.forEach(([x, y, z], i) => {
      this.#at.set([x, y, z], 3 * i)
      const key = keyOf(cellOf(x), cellOf(y), cellOf(z))
      const cell = this.#cells.get(key)
      if (cell) cell.push(i)
      else this.#cells.set(key, [i])
    })
  }

  /** The nearest place; the first of all where none lies within 24 cells. */
  nearest(px: number, py: number, pz: number): number {
    const [cx, cy, cz] = [cellOf(px), cellOf(py), cellOf(pz)]
    const at = this.#at
    let best = 0
    let least = Infinity
    // Rings of cells outward: beyond so many, nothing is nearer than their number of cells.
    for (let reach = 0; reach <= FARTHEST && least > ((reach - 1) * CELL_MM) ** 2; reach++)
      for (let x = -reach; x <= reach; x++)
        for (let y = -reach; y <= reach; y++) {
          const isSide = Math.abs(x) === reach || Math.abs(y) === reach
          for (let z = -reach; z <= reach; z += isSide || reach === 0 ? 1 : 2 * reach) {
            const cell = this.#cells.get(keyOf(cx + x, cy + y, cz + z))
            if (cell === undefined) continue
            for (const i of cell) {
              const dx = (at[3 * i] ?? 0) - px
              const dy = (at[3 * i + 1] ?? 0) - py
              const dz = (at[3 * i + 2] ?? 0) - pz
              const apart = dx * dx + dy * dy + dz * dz
              if (apart < least) {
                least = apart
                best = i
              }
            }
          }
        }
    return best
  }
}

const cellOf = (value: number): number => Math.floor(value / CELL_MM)
/** Cells far apart may share a number: then a place is asked about in vain, never missed. */
const keyOf = (x: number, y: number, z: number): number => (x * 8191 + y) * 8191 + z

/** Places that hang together when each is joined with those nearer than `apart_mm` in plan. */
export const clustersOf = <T>(items: readonly T[], placeOf: (item: T) => Place, apart_mm: number): T[][] => {
  const left = new Set(items.keys())
  const clusters: T[][] = []
  while (left.size > 0) {
    const [seed = 0] = left
    left.delete(seed)
    const queue = [seed]
    const cluster: T[] = []
    for (let i = queue.pop(); i !== undefined; i = queue.pop()) {
      const item = items[i] as T
      cluster.push(item)
      const [x, y] = placeOf(item)
      for (const j of left) {
        const [px, py] = placeOf(items[j] as T)
        if (Math.hypot(px - x, py - y) > apart_mm) continue
        left.delete(j)
        queue.push(j)
      }
    }
    clusters.push(cluster)
  }
  return clusters
}
