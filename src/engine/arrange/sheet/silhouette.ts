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

/** Of each triangle's three sides: the triangle across it, -1 where there is none, and whether the two meet sharply. */
interface Seams {
  readonly across: Int32Array
  readonly sharp: Uint8Array
}

/** By the corners, which a mesh keeps wherever it is moved: many copies of a fine model share them. */
const seams = new WeakMap<TriangleMesh['corners'], Seams>()

const seamsOf = (mesh: TriangleMesh): Seams => {
  const { positions, corners } = mesh
  const known = seams.get(corners)
  if (known !== undefined) return known
  const count = positions.length / 3
  const across = new Int32Array(corners.length).fill(-1)
  const sharp = new Uint8Array(corners.length)
  const open = new Map<number, number>()
  for (let side = 0; side < corners.length; side += 1) {
    const from = corners[side] ?? 0
    const to = corners[side % 3 === 2 ? side - 2 : side + 1] ?? 0
    const other = open.get(to * count + from)
    if (other === undefined) {
      open.set(from * count + to, side)
      continue
    }
    open.delete(to * count + from)
    const [one, two] = [Math.floor(side / 3), Math.floor(other / 3)]
    across[side] = two
    across[other] = one
    const [a, b] = [normalOf(mesh, one), normalOf(mesh, two)]
    if (dot(a, b) < SHARP * sizeOf(a) * sizeOf(b)) sharp[Math.min(side, other)] = 1
  }
  const found = { across, sharp }
  seams.set(corners, found)
  return found
}

const normalOf = (mesh: TriangleMesh, triangle: number): Point => {
  const [a, b, c] = cornersAt(mesh, triangle)
  return cross(minus(b, a), minus(c, a))
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
  const { across, sharp } = seamsOf(mesh)
  const seen = Uint8Array.from({ length: corners.length / 3 }, (_, t) =>
    dot(normalOf(mesh, t), eye) > 1e-9 ? 1 : 0,
  )
  const next = new Map<number, number[]>()
  const inner: [Flat, Flat][] = []
  for (let side = 0; side < corners.length; side += 1) {
    if (seen[Math.floor(side / 3)] !== 1) continue
    const from = corners[side] ?? 0
    const to = corners[side % 3 === 2 ? side - 2 : side + 1] ?? 0
    const other = across[side] ?? -1
    if (other >= 0 && seen[other] === 1) {
      if (sharp[side] === 1) inner.push([flat(from), flat(to)])
      continue
    }
    const ends = next.get(from) ?? []
    ends.push(to)
    next.set(from, ends)
  }
  const outline = roundsOf(next)
    .map((round) => straightened([...round, round[0] ?? 0].map(flat)).slice(0, -1))
    .filter((round) => round.length > 2)
  return { outline, inner: inner.length > MOST_INNER ? [] : inner }
}
