import type { RegionEdge } from '../../documents/index.ts'
import type { Loop } from '../drawing.ts'
import { isInside, signedArea } from '../loops.ts'
import type { SolidShop } from '../solids.ts'
import { CHORD_MM, depthAt, stepsOf } from './profile.ts'
import type { SeatPlan } from './seat.ts'
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
  /** corners; below the rim's count they name its points in the order of the rings, from there on `inner` */
  readonly triangles: Uint32Array
  /** how far in the edge came before the outline left no more room; the edge's width where it had room */
  readonly reached_mm: number
}

interface Level {
  readonly loops: readonly Loop[]
  /** the same loops by point number; face to their left */
  readonly rings: readonly Ring[]
}

/** Where a ring falls on a place at which the shape just parts, it is laid a hair beside it; mm. */
const BESIDE_MM = [0, -0.0031, 0.0029, -0.0083]
const HALVINGS = 7

/** @returns null where the rings cross and no face can be laid */
export const layCap = (
  shop: SolidShop,
  xy: ArrayLike<number>,
  rings: readonly Ring[],
  edge: RegionEdge,
): Cap | null => {
  const outline: Level = {
    loops: rings.map((ring) =>
      Float64Array.from(ring.flatMap((point) => [xy[point * 2] as number, xy[point * 2 + 1] as number])),
    ),
    rings: numbered(rings.map(({ length }) => length)),
  }
  const face = new Face(outline)
  let reached = 0
  let before = outline
  for (const { inset } of stepsOf(edge).slice(1)) {
    let next: Level | null = null
    for (const beside of inset > 0 ? BESIDE_MM : []) {
      next = face.step(shop, outline, before, edge, reached, inset + beside)
      if (next) break
    }
    if (!next) return null
    if (next.loops.length > 0) reached = inset
    else reached += face.peak_mm
    before = next
    if (next.loops.length === 0) break
  }
  if (before.rings.length > 0 && !face.fill(before.rings)) return null
  return {
    rimBelow_mm: depthAt(edge, 0),
    inner: face.innerPoints(),
    triangles: Uint32Array.from(face.triangles),
    reached_mm: reached,
  }
}

/** The upper face of a seat whose loops all lie inside its outline: ledge, wall, pocket and well, with their sides. */
export const laySeatCap = (
  xy: ArrayLike<number>,
  rings: readonly Ring[],
  { wall, pocket, well }: SeatPlan,
  wallHeight_mm: number,
  well_mm: number,
): Cap | null => {
  const outline: Level = {
    loops: rings.map((ring) =>
      Float64Array.from(ring.flatMap((point) => [xy[point * 2] as number, xy[point * 2 + 1] as number])),
    ),
    rings: numbered(rings.map(({ length }) => length)),
  }
  const face = new Face(outline)
  const flat: boolean[] = []
  let outer = outline.rings
  const within = (ring: Ring): Ring => [...ring].reverse()
  if (wall) {
    const [foot, rim] = [face.add(wall, 0), face.add(wall, -wallHeight_mm)]
    const [brim, ledge] = [face.add(pocket, -wallHeight_mm), face.add(pocket, 0)]
    flat.push(face.fill([...outer, within(foot)]), face.fill([rim, within(brim)]))
    face.wall(foot, rim)
    face.wall(within(ledge), within(brim))
    outer = [ledge]
  }
  if (well) {
    const [edge, floor] = [face.add(well, 0), face.add(well, well_mm)]
    flat.push(face.fill([...outer, within(edge)]), face.fill([floor]))
    face.wall(within(floor), within(edge))
  } else flat.push(face.fill(outer))
  if (flat.includes(false)) return null
  return {
    rimBelow_mm: 0,
    inner: face.innerPoints(),
    triangles: Uint32Array.from(face.triangles),
    reached_mm: 0,
  }
}

const numbered = (lengths: readonly number[]): Ring[] => {
  let count = 0
  return lengths.map((length) => Array.from({ length }, () => count++))
}

/** Points and triangles of a face as it grows inward. */
class Face {
  readonly triangles: number[] = []
  /** how far beyond the ring before it the last peak stood */
  peak_mm = 0
  readonly #rim: number
  readonly #xy: number[] = []
  readonly #depths: number[] = []

  constructor({ loops, rings }: Level) {
    for (const loop of loops) for (const value of loop) this.#xy.push(value)
    this.#rim = rings.reduce((sum, ring) => sum + ring.length, 0)
  }

  /** The band from one ring to the next, with the ridges and peaks that lie between the two. */
  step(
    shop: SolidShop,
    outline: Level,
    before: Level,
    edge: RegionEdge,
    from_mm: number,
    inset_mm: number,
  ): Level | null {
    const points = this.#depths.length
    const corners = this.triangles.length
    const next = this.#add(shop.inset(outline.loops, inset_mm, CHORD_MM), depthAt(edge, inset_mm))
    this.peak_mm = 0
    const peaks = partsOf(before.loops)
      .filter(([outer]) => outer && !next.loops.some((loop) => isInside([outer], loop[0] ?? 0, loop[1] ?? 0)))
      .map((part): Level => {
        const peak = deepestInset(shop, part, inset_mm - from_mm)
        if (!peak) return { loops: [], rings: [] }
        this.peak_mm = Math.max(this.peak_mm, peak.inset_mm)
        return this.#add(peak.loops, depthAt(edge, from_mm + peak.inset_mm))
      })
    const within = [next, ...peaks].flatMap(({ rings }) => rings.map((ring) => [...ring].reverse()))
    const laid = this.fill([...before.rings, ...within]) && peaks.every(({ rings }) => this.fill(rings))
    if (laid) return next
    this.#xy.length = (this.#rim + points) * 2
    this.#depths.length = points
    this.triangles.length = corners
    return null
  }

  /** One loop at one depth, as a ring to its left. */
  add(loop: Loop, depth: number): Ring {
    return this.#add([loop], depth).rings[0] ?? []
  }

  /** An upright side between two rings of the same points, its metal to their left. */
  wall(low: Ring, high: Ring): void {
    low.forEach((from, i) => {
      const next = (i + 1) % low.length
      const [to, above, aboveTo] = [low[next] as number, high[i] as number, high[next] as number]
      this.triangles.push(from, to, aboveTo, from, aboveTo, above)
    })
  }

  fill(rings: readonly Ring[]): boolean {
    const more = triangulate(this.#xy, rings)
    for (const corner of more ?? []) this.triangles.push(corner)
    return more !== null
  }

  innerPoints(): Float64Array {
    const inner = new Float64Array(this.#depths.length * 3)
    this.#depths.forEach((depth, i) => {
      const at = (this.#rim + i) * 2
      inner[i * 3] = this.#xy[at] as number
      inner[i * 3 + 1] = this.#xy[at + 1] as number
      inner[i * 3 + 2] = depth
    })
    return inner
  }

  #add(loops: readonly Loop[], depth: number): Level {
    const rings = loops.map((loop) => {
      const ring: number[] = []
      for (let i = 0; i < loop.length; i += 2) {
        ring.push(this.#xy.length / 2)
        this.#xy.push(loop[i] as number, loop[i + 1] as number)
        this.#depths.push(depth)
      }
      return ring
    })
    return { loops, rings }
  }
}

/** A shape's half width where it is widest, and what is left there; to a hundredth of `most_mm`. */
const deepestInset = (
  shop: SolidShop,
  part: readonly Loop[],
  most_mm: number,
): { inset_mm: number; loops: Loop[] } | null => {
  let deepest: { inset_mm: number; loops: Loop[] } | null = null
  let [low, high] = [0, most_mm]
  for (let i = 0; i < HALVINGS; i++) {
    const inset_mm = (low + high) / 2
    const loops = shop.inset(part, inset_mm, CHORD_MM)
    if (loops.length > 0) {
      deepest = { inset_mm, loops }
      low = inset_mm
    } else high = inset_mm
  }
  return deepest
}

/** Each outside with the holes in it. */
const partsOf = (loops: readonly Loop[]): Loop[][] => {
  const holes = loops.filter((loop) => signedArea(loop) < 0)
  return loops
    .filter((loop) => signedArea(loop) > 0)
    .map((outer) => [outer, ...holes.filter((hole) => isInside([outer], hole[0] ?? 0, hole[1] ?? 0))])
}
