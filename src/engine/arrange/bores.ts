import type { Point } from '../piece/mesh/index.ts'
import type { ArrangeRequest, Sprue } from './request.ts'
import { minus, plus } from './vectors.ts'

const clamp = (value: number): number => Math.min(1, Math.max(0, value))

/** The least distance between two straight lines, each from one point to another, mm: a search asks it by the million, so it makes no points. */
export const linesApart = (a: Point, b: Point, c: Point, d: Point): number => {
  const [ax, ay, az] = a
  const [cx, cy, cz] = c
  const ux = b[0] - ax
  const uy = b[1] - ay
  const uz = b[2] - az
  const vx = d[0] - cx
  const vy = d[1] - cy
  const vz = d[2] - cz
  const wx = ax - cx
  const wy = ay - cy
  const wz = az - cz
  const uu = ux * ux + uy * uy + uz * uz
  const uv = ux * vx + uy * vy + uz * vz
  const vv = vx * vx + vy * vy + vz * vz
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  const alongSecond = (s: number): number => (vv > 0 ? clamp((s * uv + vw) / vv) : 0)
  const alongFirst = (t: number): number => (uu > 0 ? clamp((t * uv - uw) / uu) : 0)
  const cut = uu * vv - uv * uv
  const squaredAt = (s: number, t: number): number => {
    const x = wx + s * ux - t * vx
    const y = wy + s * uy - t * vy
    const z = wz + s * uz - t * vz
    return x * x + y * y + z * z
  }
  const meets = cut > 1e-12 * uu * vv ? clamp((uv * vw - vv * uw) / cut) : 0
  const t = alongSecond(meets)
  const first = squaredAt(alongFirst(t), t)
  // where a line ends before the other comes nearest, one of the four ends is nearest
  return Math.sqrt(
    Math.min(
      first,
      squaredAt(0, alongSecond(0)),
      squaredAt(1, alongSecond(1)),
      squaredAt(alongFirst(0), 0),
      squaredAt(alongFirst(1), 1),
    ),
  )
}

/** How long a sprue is from the piece to the main sprue's surface: the end of the main sprue is half a ball. */
export const lengthToStem = (from: Point, axisZ: number, stemEnd: number, stemRadius: number): number => {
  const out = Math.hypot(from[0], from[1])
  const whole = Math.hypot(out, from[2] - axisZ)
  const inside = axisZ >= stemEnd - 1e-9 ? stemRadius : (stemRadius * whole) / Math.max(out, 1e-9)
  return whole - inside
}

/**
 * The part of a sprue's line that lies outside the main sprue's neighbourhood, from the piece on; undefined
 * where none does. Within it the sprues run together into the main sprue, and no gap can be asked of them.
 */
export const outsideStem = (
  from: Point,
  axisZ: number,
  stem: { readonly foot: number; readonly end: number; readonly within: number },
): readonly [Point, Point] | undefined => {
  const { foot, end, within } = stem
  const out = Math.sqrt(from[0] * from[0] + from[1] * from[1])
  const fall = axisZ - from[2]
  const beyond = (z: number): number => z - Math.min(end, Math.max(foot, z))
  if (Math.sqrt(out * out + beyond(from[2]) ** 2) <= within) return undefined
  // it comes in through the side of the neighbourhood, or through the ball at one end of it
  let share = out > within ? 1 - within / out : 0
  const over = beyond(from[2] + share * fall)
  if (over !== 0) {
    const above = from[2] - (over > 0 ? end : foot)
    const whole = out * out + fall * fall
    const half = out * out - above * fall
    const rest = out * out + above * above - within * within
    const cut = half * half - whole * rest
    share = cut < 0 ? 1 : clamp((half - Math.sqrt(cut)) / whole)
  }
  return [from, [from[0] * (1 - share), from[1] * (1 - share), from[2] + share * fall]]
}

/**
 * How far from the axis a disc reaches whose middle lies `out` from it, on a line that meets it and to which the disc
 * is square.
 * @param rise  sine of that line's angle above level
 */
export const discReach = (out: number, rise: number, radius: number): number => {
  // on the rim, t radii outward: out² + 2 out r s t + r² (1 − (1 − s²) t²), greatest at t = out s/(r (1 − s²)) or at 1
  const s = Math.abs(rise)
  const level = 1 - s * s
  const t = radius * level > out * s ? (out * s) / (radius * level) : 1
  return Math.sqrt(out * out + 2 * out * radius * s * t + radius * radius * (1 - level * t * t))
}

/** How many gaps about the main sprue its neighbourhood reaches, in which two sprues may run together. */
export const GAPS = 3
export const neighbourhood = ({ stem_mm, rules }: Pick<ArrangeRequest, 'stem_mm' | 'rules'>): number =>
  stem_mm / 2 + GAPS * (rules.byStem_mm ?? rules.gap_mm)

/** Within one gap of the main sprue nothing is told of two sprues that run into it. */
export const zoneByStem = (stem_mm: number, gap_mm: number): number => stem_mm / 2 + gap_mm

/** A round bar with round ends; a ball where both ends are one. */
export interface Bar {
  readonly from: Point
  readonly to: Point
  readonly radius: number
}

/** A sprue is measured as short bars, each as thick as its thicker end: safe, and close. */
const PIECES = 8

/** From the wax to the axis: past where its middle enters the main sprue, its lower side still lies outside that. */
export const barsOf = (
  sprue: Pick<Sprue, 'from_mm' | 'to_mm' | 'axis_mm' | 'diameter_mm' | 'stemEnd_mm'>,
): readonly Bar[] => {
  const { from_mm, to_mm, axis_mm, diameter_mm, stemEnd_mm = diameter_mm } = sprue
  const way = minus(to_mm, from_mm)
  const pieces = stemEnd_mm === diameter_mm ? 1 : PIECES
  const inside: Bar = { from: to_mm, to: axis_mm, radius: stemEnd_mm / 2 }
  const outside = Array.from(
    { length: pieces },
    (_, k): Bar => ({
      from: plus(from_mm, way, k / pieces),
      to: plus(from_mm, way, (k + 1) / pieces),
      radius:
        Math.max(
          diameter_mm + ((stemEnd_mm - diameter_mm) * k) / pieces,
          diameter_mm + ((stemEnd_mm - diameter_mm) * (k + 1)) / pieces,
        ) / 2,
    }),
  )
  return [...outside, inside]
}

/** A fillet keeps metal from turning a sharp corner and plaster from breaking off; common practice, mm. */
const FILLET = 1
/** The widest fillet a sprue is given: a quarter of its width and at most 1 mm. */
export const widestFillet = (diameter: number): number => Math.min(FILLET, diameter / 4)

/**
 * The ball about a sprue's joint that holds its fillet, as wide as the fillet where it meets the wax: at a turn t of
 * its quarter circle it is r + f (1 − sin t) wide and f (1 − cos t) from the joint, and no farther than r + f.
 */
export const filletOf = ({
  from_mm,
  diameter_mm,
  stemEnd_mm,
  length_mm,
  fillet_mm,
}: Pick<Sprue, 'from_mm' | 'diameter_mm' | 'stemEnd_mm' | 'length_mm' | 'fillet_mm'>): readonly Bar[] => {
  if (!(fillet_mm > 0)) return []
  const grown = Math.max(0, ((stemEnd_mm - diameter_mm) / 2) * Math.min(1, fillet_mm / length_mm))
  return [{ from: from_mm, to: from_mm, radius: diameter_mm / 2 + grown + fillet_mm }]
}
