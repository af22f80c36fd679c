import type { Point } from '../piece/mesh/index.ts'
import type { Sprue } from './request.ts'
import { dot, minus, plus, sizeOf } from './vectors.ts'

/** The least distance between two straight lines, each from one point to another, mm. */
export const linesApart = (a: Point, b: Point, c: Point, d: Point): number => {
  const [u, v, w] = [minus(b, a), minus(d, c), minus(a, c)]
  const [uu, uv, vv, uw, vw] = [dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)]
  const clamp = (value: number): number => Math.min(1, Math.max(0, value))
  const alongSecond = (s: number): number => (vv > 0 ? clamp((s * uv + vw) / vv) : 0)
  const alongFirst = (t: number): number => (uu > 0 ? clamp((t * uv - uw) / uu) : 0)
  const cut = uu * vv - uv * uv
  const apartAt = (s: number, t: number): number => sizeOf(minus(plus(a, u, s), plus(c, v, t)))
  const meets = cut > 1e-12 * uu * vv ? clamp((uv * vw - vv * uw) / cut) : 0
  const t = alongSecond(meets)
  const first = apartAt(alongFirst(t), t)
  // where a line ends before the other comes nearest, one of the four ends is nearest
  return Math.min(
    first,
    ...[0, 1].map((s) => apartAt(s, alongSecond(s))),
    ...[0, 1].map((s) => apartAt(alongFirst(s), s)),
  )
}

const HALVINGS = 40

/**
 * The part of a sprue's line that lies outside the main sprue's neighbourhood, from the piece on; undefined
 * where none does. Within it the sprues run together into the main sprue, and no gap can be asked of them.
 */
export const outsideStem = (
  from: Point,
  axisZ: number,
  stem: { readonly foot: number; readonly end: number; readonly within: number },
): readonly [Point, Point] | undefined => {
  const onAxis: Point = [0, 0, axisZ]
  const way = minus(onAxis, from)
  const apart = (share: number): number => {
    const [x, y, z] = plus(from, way, share)
    return Math.hypot(x, y, z - Math.min(stem.end, Math.max(stem.foot, z)))
  }
  if (apart(0) <= stem.within) return undefined
  let [low, high] = [0, 1]
  for (let k = 0; k < HALVINGS; k += 1) {
    const middle = (low + high) / 2
    if (apart(middle) > stem.within) low = middle
    else high = middle
  }
  return [from, plus(from, way, low)]
}

/** How many gaps about the main sprue its neighbourhood reaches. */
const GAPS = 3
export const neighbourhood = (stem_mm: number, gap_mm: number): number => stem_mm / 2 + GAPS * gap_mm

/** A sprue is measured as short bars, each as thick as its thicker end: safe, and close. */
const PIECES = 8

export const barsOf = (
  sprue: Pick<Sprue, 'from_mm' | 'to_mm' | 'diameter_mm' | 'stemEnd_mm'>,
): readonly { readonly from: Point; readonly to: Point; readonly radius: number }[] => {
  const { from_mm, to_mm, diameter_mm, stemEnd_mm = diameter_mm } = sprue
  const way = minus(to_mm, from_mm)
  const pieces = stemEnd_mm === diameter_mm ? 1 : PIECES
  return Array.from({ length: pieces }, (_, k) => ({
    from: plus(from_mm, way, k / pieces),
    to: plus(from_mm, way, (k + 1) / pieces),
    radius:
      Math.max(
        diameter_mm + ((stemEnd_mm - diameter_mm) * k) / pieces,
        diameter_mm + ((stemEnd_mm - diameter_mm) * (k + 1)) / pieces,
      ) / 2,
  }))
}
