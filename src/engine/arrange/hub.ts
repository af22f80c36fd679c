import type { Point } from '../piece/mesh/index.ts'
import { type Bar, barsOf } from './bores.ts'
import type { Sprue } from './request.ts'
import { cross, minus, plus, sizeOf, unit } from './vectors.ts'

/** Where several sprues meet the main sprue at about one height: their metal and its own are one lump. */
export interface Hub {
  /** the sprues by their numbers, from 1 */
  readonly sprues: readonly number[]
  /** height on the axis, mm */
  readonly at_mm: number
  /** volume over the area that plaster cools, mm */
  readonly modulus_mm: number
  /** how many times as long as the main sprue by itself it stays liquid, by the square of the moduli (Chvorinov's rule) */
  readonly outlasts: number
}

/** A slice across the flask's axis: a cylinder about it, mm. */
interface Slice {
  readonly low: number
  readonly high: number
  readonly radius: number
}

/** Fewer than this make no lump to speak of. */
const FEWEST = 3
/** Heights at which most metal meets the main sprue, so many of them looked at. */
const MOST_SLICES = 3
/** Steps across the slice's radius, round a bar, and along it for each of its radii. */
const ACROSS = 24
const ROUND = 36
const ALONG = 8

/** Whether a point lies in a bar with round ends. */
const isIn = ([x, y, z]: Point, { from, to, radius }: Bar): boolean => {
  const [ux, uy, uz] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  const [wx, wy, wz] = [x - from[0], y - from[1], z - from[2]]
  const whole = ux * ux + uy * uy + uz * uz
  const share = whole > 0 ? Math.min(1, Math.max(0, (wx * ux + wy * uy + wz * uz) / whole)) : 0
  return (wx - share * ux) ** 2 + (wy - share * uy) ** 2 + (wz - share * uz) ** 2 < radius * radius
}

const holds = ({ low, high, radius }: Slice, [x, y, z]: Point): boolean =>
  z >= low && z <= high && x * x + y * y <= radius * radius

/** Two directions square to a third and to each other. */
const squareTo = (way: Point): readonly [Point, Point] => {
  const across = unit(cross(way, Math.abs(way[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]))
  return [across, cross(way, across)]
}

/** Points spread over a bar's surface, its side and its round ends, each with the area it stands for. */
function* surfaceOfBar({ from, to, radius }: Bar): Generator<readonly [Point, number]> {
  const way = minus(to, from)
  const length = sizeOf(way)
  const along: Point = length > 0 ? unit(way) : [0, 0, 1]
  const [u, v] = squareTo(along)
  const onRim = (middle: Point, across: number, angle: number): Point =>
    plus(plus(middle, u, across * Math.cos(angle)), v, across * Math.sin(angle))
  const steps = Math.ceil((ALONG * length) / radius)
  const area = (2 * Math.PI * radius * length) / (ROUND * steps)
  for (let k = 0; k < steps; k += 1)
    for (let j = 0; j < ROUND; j += 1)
      yield [
        onRim(plus(from, way, (k + 0.5) / steps), radius, ((j + (k % 2) / 2) * 2 * Math.PI) / ROUND),
        area,
      ]
  // bands of equal height on a ball have equal areas
  const bands = ROUND / 2
  for (const [end, sign] of [
    [from, -1],
    [to, 1],
  ] as const)
    for (let k = 0; k < bands; k += 1) {
      const up = (k + 0.5) / bands
      for (let j = 0; j < ROUND; j += 1)
        yield [
          plus(
            onRim(end, radius * Math.sqrt(1 - up * up), (j * 2 * Math.PI) / ROUND),
            along,
            sign * radius * up,
          ),
          (2 * Math.PI * radius * radius) / (bands * ROUND),
        ]
    }
}

/**
 * Volume over cooled area of the bars' metal in a slice, mm; what the slice itself cuts cools nothing. By points on a
 * grid and on the bars' surfaces, to about a hundredth.
 */
export const modulusInSlice = (bars: readonly Bar[], slice: Slice): number => {
  const step = slice.radius / ACROSS
  const levels = Math.max(1, Math.round((slice.high - slice.low) / step))
  const rise = (slice.high - slice.low) / levels
  let inside = 0
  for (let i = 0; i < 2 * ACROSS; i += 1)
    for (let j = 0; j < 2 * ACROSS; j += 1)
      for (let k = 0; k < levels; k += 1) {
        const point: Point = [
          (i + 0.5 - ACROSS) * step,
          (j + 0.5 - ACROSS) * step,
          slice.low + (k + 0.5) * rise,
        ]
        if (holds(slice, point) && bars.some((bar) => isIn(point, bar))) inside += 1
      }
  let cooled = 0
  for (const bar of bars)
    for (const [point, area] of surfaceOfBar(bar))
      if (holds(slice, point) && bars.every((other) => other === bar || !isIn(point, other))) cooled += area
  return (inside * step * step * rise) / cooled
}

/**
 * The heaviest lump that sprues make where they meet the main sprue at about one height; undefined where no three do.
 * @param foot  where the main sprue begins on the axis, mm
 * @param end  where its middle line ends
 */
export const hubOf = (
  sprues: readonly Sprue[],
  stem_mm: number,
  foot: number,
  end: number,
): Hub | undefined => {
  const radius = stem_mm / 2
  const stem: Bar = { from: [0, 0, foot], to: [0, 0, end], radius }
  const slices = sprues
    .map((middle) => {
      const level = Math.hypot(middle.from_mm[0], middle.from_mm[1])
      const length = Math.hypot(level, middle.from_mm[2] - middle.axis_mm[2])
      const half = Math.max(radius, ((middle.stemEnd_mm / 2) * length) / Math.max(level, length / 4))
      const near = sprues.flatMap((sprue, index) =>
        Math.abs(sprue.to_mm[2] - middle.to_mm[2]) <= half ? [{ sprue, number: index + 1 }] : [],
      )
      return { half, near, key: near.map(({ number }) => number).join() }
    })
    .filter(
      ({ near, key }, index, all) =>
        near.length >= FEWEST && all.findIndex((one) => one.key === key) === index,
    )
    .sort((a, b) => metalOf(b.near) - metalOf(a.near))
    .slice(0, MOST_SLICES)
  const hubs = slices.map(({ half, near }): Hub => {
    const heights = near.map(({ sprue }) => sprue.to_mm[2])
    const at_mm = (Math.min(...heights) + Math.max(...heights)) / 2
    const across = radius + Math.max(...near.map(({ sprue }) => sprue.stemEnd_mm)) / 2
    const slice = { low: at_mm - half, high: at_mm + half, radius: across }
    const bars = sprues.flatMap((sprue) => barsOf(sprue)).filter((bar) => comesNear(bar, slice))
    const modulus_mm = modulusInSlice([stem, ...bars], slice)
    return {
      sprues: near.map(({ number }) => number),
      at_mm,
      modulus_mm,
      outlasts: (modulus_mm / (radius / 2)) ** 2,
    }
  })
  return hubs.sort((a, b) => b.outlasts - a.outlasts)[0]
}

/** How much metal meets at a height, as far as one is more than another: by the sections of the sprues. */
const metalOf = (near: readonly { readonly sprue: Sprue }[]): number =>
  near.reduce((sum, { sprue }) => sum + sprue.stemEnd_mm ** 2, 0)

/** Whether a bar may have metal in a slice: as high as that, and as near the axis. */
const comesNear = ({ from, to, radius }: Bar, { low, high, radius: across }: Slice): boolean => {
  const least = Math.min(from[2], to[2]) - radius
  const most = Math.max(from[2], to[2]) + radius
  if (most < low || least > high) return false
  const way = minus(to, from)
  const level = way[0] * way[0] + way[1] * way[1]
  const share = level > 0 ? Math.min(1, Math.max(0, -(from[0] * way[0] + from[1] * way[1]) / level)) : 0
  return Math.hypot(from[0] + share * way[0], from[1] + share * way[1]) - radius <= across
}
