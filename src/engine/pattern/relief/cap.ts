import { Clipper, type Path64, type Paths64 } from 'clipper2-ts'
import type { RegionEdge } from '../../documents/index.ts'
import { deepestInset, insetOf, PER_MM, pathOf } from './inset.ts'
import { depthAt, stepsOf } from './profile.ts'
import { type Ring, triangulate } from './triangulate.ts'

/**
 * The upper face of a region, its edge worked, for any height: rings at growing distance from the outline, each
 * at its own depth, and triangles between them that have no corner elsewhere.
 */
export interface Cap {
  /** how far below the region's height its outline lies, mm */
  readonly rimBelow_mm: number
  /** points within: x, y, depth below the region's height, mm */
  readonly inner: Float64Array
  /** corners; below `rim.length` they name the rim's points in the order of the rings, from there on `inner` */
  readonly triangles: Uint32Array
  /** how far in the edge came before the outline left no more room; the edge's width where it had room */
  readonly reached_mm: number
}

interface Level {
  readonly depth: number
  readonly paths: Paths64
  /** the same loops by point number; face to their left */
  readonly rings: readonly Ring[]
}

/** @returns null where the rings cross and no face can be laid */
export const layCap = (xy: ArrayLike<number>, rings: readonly Ring[], edge: RegionEdge): Cap | null => {
  const rim = rings.flat()
  const centre = [xy[(rim[0] ?? 0) * 2] as number, xy[(rim[0] ?? 0) * 2 + 1] as number]
  const flat: number[] = rim.flatMap((point) => [xy[point * 2] as number, xy[point * 2 + 1] as number])
  const depths: number[] = []
  const number = (paths: Paths64, depth: number): Level => ({
    depth,
    paths,
    rings: paths.map((path) =>
      path.map(({ x, y }) => {
        flat.push(x / PER_MM + (centre[0] as number), y / PER_MM + (centre[1] as number))
        depths.push(depth)
        return flat.length / 2 - 1
      }),
    ),
  })
  let start = 0
  const outline: Level = {
    depth: depthAt(edge, 0),
    paths: rings.map((ring) => pathOf(xy, ring, centre)),
    rings: rings.map((ring) => ring.map(() => start++)),
  }
  const triangles: number[] = []
  const fill = (faces: readonly Ring[]): boolean => {
    const more = triangulate(flat, faces)
    for (const corner of more ?? []) triangles.push(corner)
    return more !== null
  }

  let reached = 0
  let before = outline
  for (const { inset, below } of stepsOf(edge).slice(1)) {
    if (before.rings.length === 0) break
    const next = number(insetOf(outline.paths, inset), below)
    const ends = next.rings.length === 0 || edge.shape === 'square' ? before.paths : endingHere(before, next)
    const peaks = partsOf(ends).map((part) => {
      const peak = deepestInset(part, inset - reached)
      return peak && { rings: number(peak.paths, depthAt(edge, reached + peak.inset_mm)).rings, peak }
    })
    const within = [...next.rings, ...peaks.flatMap((found) => found?.rings ?? [])]
    if (!fill([...before.rings, ...within.map((ring) => [...ring].reverse())])) return null
    for (const found of peaks) if (found && !fill(found.rings)) return null
    if (next.rings.length === 0) {
      reached += Math.max(0, ...peaks.map((found) => found?.peak.inset_mm ?? 0))
      before = next
      break
    }
    reached = inset
    before = next
  }
  if (before.rings.length > 0 && !fill(before.rings)) return null
  const inner = new Float64Array(depths.length * 3)
  depths.forEach((depth, i) => {
    inner.set([flat[(rim.length + i) * 2] as number, flat[(rim.length + i) * 2 + 1] as number, depth], i * 3)
  })
  return { rimBelow_mm: outline.depth, inner, triangles: Uint32Array.from(triangles), reached_mm: reached }
}

/** Loops of the parts of one level that leave nothing at the next: a ridge or a peak lies between the two. */
const endingHere = (before: Level, next: Level): Paths64 =>
  partsOf(before.paths)
    .filter(([outer = []]) => !next.paths.some(([place]) => place && isWithin(outer, place)))
    .flat()

/** Each outside with the holes in it. */
const partsOf = (paths: Paths64): Paths64[] => {
  const outsides = paths.filter((path) => Clipper.area(path) > 0)
  const holes = paths.filter((path) => Clipper.area(path) < 0)
  return outsides.map((outer) => [
    outer,
    ...holes.filter(([place]) => place !== undefined && isWithin(outer, place)),
  ])
}

const isWithin = (path: Path64, { x, y }: { x: number; y: number }): boolean => {
  let inside = false
  let before = path.at(-1)
  for (const point of path) {
    if (before && point.y > y !== before.y > y)
      if (x < ((before.x - point.x) * (y - point.y)) / (before.y - point.y) + point.x) inside = !inside
    before = point
  }
  return inside
}
