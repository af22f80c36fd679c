import type { Region } from '../drawing.ts'
import type { Ring } from './triangulate.ts'

/**
 * The drawing as one net: neighbours name the same points along the line they share, so that their walls close
 * on one another without a slit. The points are numbered once for all regions.
 */
export interface Net {
  /** x, y of each point, mm */
  readonly xy: Float64Array
  /** by region: its rings, outside first, with every point that a neighbour has on them */
  readonly rings: readonly (readonly Ring[])[]
  /** by directed side (from * points + to): the region to its left */
  readonly leftOf: ReadonlyMap<number, number>
}

/** Places nearer than this are one point: the grid on which regions are found. */
const SAME_MM = 1e-4

const nets = new WeakMap<readonly Region[], Net>()

/** Kept as long as the regions themselves, since heights change far more often than lines. */
export const netOf = (regions: readonly Region[]): Net => {
  const known = nets.get(regions)
  if (known) return known
  const net = layNet(regions)
  nets.set(regions, net)
  return net
}

const layNet = (regions: readonly Region[]): Net => {
  const { xy, rings } = numberPoints(regions)
  const count = xy.length / 2
  const sides = sidesOf(rings, count)
  const lonely: { from: number; to: number }[] = []
  for (const key of sides.keys()) {
    const from = Math.floor(key / count)
    const to = key - from * count
    if (!sides.has(to * count + from)) lonely.push({ from, to })
  }
  const between = pointsBetween(xy, lonely, count)
  if (between.size === 0) return { xy, rings, leftOf: sides }
  const parted = rings.map((loops) =>
    loops.map((ring) =>
      ring.flatMap((point, i) => [
        point,
        ...(between.get(point * count + (ring[(i + 1) % ring.length] as number)) ?? []),
      ]),
    ),
  )
  return { xy, rings: parted, leftOf: sidesOf(parted, count) }
}

const numberPoints = (regions: readonly Region[]): { xy: Float64Array; rings: Ring[][] } => {
  let [left, low] = [Infinity, Infinity]
  for (const { outer } of regions)
    for (let i = 0; i < outer.length; i += 2) {
      left = Math.min(left, outer[i] as number)
      low = Math.min(low, outer[i + 1] as number)
    }
  const numbers = new Map<number, number>()
  const xy: number[] = []
  const ringOf = (loop: Float64Array): Ring => {
    const ring: number[] = []
    for (let i = 0; i < loop.length; i += 2) {
      const [x, y] = [loop[i] as number, loop[i + 1] as number]
      const key = Math.round((x - left) / SAME_MM) * 2 ** 26 + Math.round((y - low) / SAME_MM)
      let point = numbers.get(key)
      if (point === undefined) {
        point = xy.length / 2
        numbers.set(key, point)
        xy.push(x, y)
      }
      if (ring.at(-1) !== point) ring.push(point)
    }
    if (ring.length > 1 && ring[0] === ring.at(-1)) ring.pop()
    return ring
  }
  const rings = regions.map(({ outer, holes }) =>
    [outer, ...holes].map(ringOf).filter(({ length }) => length > 2),
  )
  return { xy: Float64Array.from(xy), rings }
}

const sidesOf = (rings: readonly (readonly Ring[])[], count: number): Map<number, number> => {
  const sides = new Map<number, number>()
  rings.forEach((loops, region) => {
    for (const ring of loops)
      for (let i = 0; i < ring.length; i++)
        sides.set((ring[i] as number) * count + (ring[(i + 1) % ring.length] as number), region)
  })
  return sides
}

/** By directed side: the ends of other lonely sides that lie on it, in order. A side with a neighbour has none. */
const pointsBetween = (
  xy: Float64Array,
  lonely: readonly { from: number; to: number }[],
  count: number,
): Map<number, number[]> => {
  const xOf = (point: number): number => xy[point * 2] as number
  const yOf = (point: number): number => xy[point * 2 + 1] as number
  const ends = [...new Set(lonely.flatMap(({ from, to }) => [from, to]))].sort((a, b) => xOf(a) - xOf(b))
  const between = new Map<number, number[]>()
  for (const { from, to } of lonely) {
    const [ax, ay, dx, dy] = [xOf(from), yOf(from), xOf(to) - xOf(from), yOf(to) - yOf(from)]
    const length = Math.hypot(dx, dy)
    const found: { point: number; along: number }[] = []
    for (let i = firstFrom(ends, xOf, Math.min(ax, ax + dx) - SAME_MM); i < ends.length; i++) {
      const point = ends[i] as number
      const [px, py] = [xOf(point) - ax, yOf(point) - ay]
      if (xOf(point) > Math.max(ax, ax + dx) + SAME_MM) break
      const along = (px * dx + py * dy) / length
      if (along > SAME_MM && along < length - SAME_MM && Math.abs(px * dy - py * dx) < SAME_MM * length)
        if (point !== from && point !== to) found.push({ point, along })
    }
    if (found.length > 0)
      between.set(
        from * count + to,
        found.sort((a, b) => a.along - b.along).map(({ point }) => point),
      )
  }
  return between
}

/** Where in a sorted list the values begin that are not below `least`. */
const firstFrom = (sorted: readonly number[], value: (item: number) => number, least: number): number => {
  let [low, high] = [0, sorted.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (value(sorted[middle] as number) < least) low = middle + 1
    else high = middle
  }
  return low
}
