import type { Point, TriangleMesh } from '../piece/mesh/index.ts'
import { cross, dot, minus, sizeOf } from './vectors.ts'

export type Line = readonly [Point, Point]

const SHARP = Math.cos((40 * Math.PI) / 180)

/**
 * The lines of a closed mesh that show when it is looked at along a direction: those where it turns away, and
 * those where two faces meet sharply. All of them, also where something else hides them.
 */
export const outlineOf = (
  mesh: TriangleMesh,
  along: Point,
): { readonly edge: readonly Line[]; readonly inner: readonly Line[] } => {
  const { positions, corners } = mesh
  const point = (corner: number): Point => [
    positions[corner * 3] ?? 0,
    positions[corner * 3 + 1] ?? 0,
    positions[corner * 3 + 2] ?? 0,
  ]
  const count = positions.length / 3
  const sides = new Map<number, { readonly normal: Point; readonly line: Line }>()
  const edge: Line[] = []
  const inner: Line[] = []
  for (let t = 0; t < corners.length; t += 3) {
    const three = [corners[t] ?? 0, corners[t + 1] ?? 0, corners[t + 2] ?? 0] as const
    const [a, b, c] = three.map(point) as [Point, Point, Point]
    const normal = cross(minus(b, a), minus(c, a))
    for (const [p, q] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ] as const) {
      const [from, to] = [three[p] ?? 0, three[q] ?? 0]
      const key = Math.min(from, to) * count + Math.max(from, to)
      const other = sides.get(key)
      if (other === undefined) {
        sides.set(key, { normal, line: [point(from), point(to)] })
        continue
      }
      sides.delete(key)
      const [one, two] = [dot(normal, along), dot(other.normal, along)]
      if (one > 0 !== two > 0) edge.push(other.line)
      else if (dot(normal, other.normal) < SHARP * sizeOf(normal) * sizeOf(other.normal))
        inner.push(other.line)
    }
  }
  return { edge, inner }
}
