import type { Point, TriangleMesh } from '../../piece/mesh/index.ts'
import { cornersAt, cross, dot, minus, sizeOf } from '../vectors.ts'

/** Right and up on a drawing, mm. */
export type Flat = readonly [number, number]

/** What a drawing is looked at from: right and up on the paper, and out of it toward the eye. */
export interface Looking {
  readonly right: Point
  readonly up: Point
  readonly eye: Point
}

/** A closed mesh as it is seen from one side. */
export interface Silhouette {
  /** closed; filled with the non-zero rule they cover just what the solid hides */
  readonly outline: readonly (readonly Flat[])[]
  /** sharp edges of the faces that look at the eye */
  readonly inner: readonly (readonly [Flat, Flat])[]
}

const SHARP = Math.cos((40 * Math.PI) / 180)
/** A point nearer than this to the line between its neighbours is left out, mm. */
const STRAIGHT = 0.02
/** A finely worked face would be black with edges: beyond this many its outline is drawn alone. */
const MOST_INNER = 3000

const hundredths = (value: number): number => Math.round(value * 100) / 100 + 0

const offLine = ([x, y]: Flat, [ax, ay]: Flat, [bx, by]: Flat): number => {
  const [u, v] = [bx - ax, by - ay]
  const size = Math.hypot(u, v)
  return size < 1e-9 ? Math.hypot(x - ax, y - ay) : Math.abs((x - ax) * v - (y - ay) * u) / size
}

/** The same line with fewer points, none of those left out farther off it than `STRAIGHT`. */
const straightened = (points: readonly Flat[]): Flat[] => {
  const kept = new Set([0, points.length - 1])
  const open: [number, number][] = [[0, points.length - 1]]
  for (let span = open.pop(); span !== undefined; span = open.pop()) {
    const [from, to] = span
    const [a, b] = [points[from], points[to]]
    if (a === undefined || b === undefined) continue
    let far = STRAIGHT
    let at = -1
    for (let k = from + 1; k < to; k += 1) {
      const point = points[k]
      const off = point === undefined ? 0 : offLine(point, a, b)
      if (off > far) [far, at] = [off, k]
    }
    if (at < 0) continue
    kept.add(at)
    open.push([from, at], [at, to])
  }
  return points.filter((_, k) => kept.has(k))
}

/** Closed rounds along directed edges: at each corner as many leave as arrive, so that every walk comes back. */
const roundsOf = (next: Map<number, number[]>): number[][] => {
  const rounds: number[][] = []
  for (const [start, ends] of next)
    while (ends.length > 0) {
      const round = [start]
      let at = ends.pop()
      while (at !== undefined && at !== start) {
        round.push(at)
        at = next.get(at)?.pop()
      }
      rounds.push(round)
    }
  return rounds
}

/** How a closed mesh looks. Its outline is where faces that look at the eye meet faces that do not. */
export const silhouetteOf = (mesh: TriangleMesh, { right, up, eye }: Looking): Silhouette => {
  const { positions, corners } = mesh
  const flat = (corner: number): Flat => {
    const point: Point = [
      positions[corner * 3] ?? 0,
      positions[corner * 3 + 1] ?? 0,
      positions[corner * 3 + 2] ?? 0,
    ]
    return [hundredths(dot(point, right)), hundredths(dot(point, up))]
  }
  const count = positions.length / 3
  const triangles = corners.length / 3
  const normals = Array.from({ length: triangles }, (_, t) => {
    const [a, b, c] = cornersAt(mesh, t)
    return cross(minus(b, a), minus(c, a))
  })
  const seen = normals.map((normal) => dot(normal, eye) > 1e-9)
  const byEdge = new Map<number, number>()
  for (let t = 0; t < triangles; t += 1)
    for (let k = 0; k < 3; k += 1)
      byEdge.set((corners[t * 3 + k] ?? 0) * count + (corners[t * 3 + ((k + 1) % 3)] ?? 0), t)
  const next = new Map<number, number[]>()
  const inner: [Flat, Flat][] = []
  for (let t = 0; t < triangles; t += 1) {
    if (seen[t] !== true) continue
    for (let k = 0; k < 3; k += 1) {
      const from = corners[t * 3 + k] ?? 0
      const to = corners[t * 3 + ((k + 1) % 3)] ?? 0
      const other = byEdge.get(to * count + from)
      if (other === undefined || seen[other] !== true) {
        const ends = next.get(from) ?? []
        ends.push(to)
        next.set(from, ends)
        continue
      }
      const [one, two] = [normals[t], normals[other]]
      if (t < other && one && two && dot(one, two) < SHARP * sizeOf(one) * sizeOf(two))
        inner.push([flat(from), flat(to)])
    }
  }
  const outline = roundsOf(next)
    .map((round) => straightened([...round, round[0] ?? 0].map(flat)).slice(0, -1))
    .filter((round) => round.length > 2)
  return { outline, inner: inner.length > MOST_INNER ? [] : inner }
}
