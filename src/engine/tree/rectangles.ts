/** A piece's footprint on the base: a rectangle, its middle, half sizes and the direction of its width. */
export interface Footprint {
  readonly x: number
  readonly y: number
  /** half width, along the direction of `angle` + 90° (tangential) */
  readonly halfWidth: number
  /** half depth, along `angle` (radial) */
  readonly halfDepth: number
  /** radians; the direction from the axis to the piece's middle */
  readonly angle: number
}

type Point = readonly [x: number, y: number]

export const cornersOf = (print: Footprint): readonly Point[] => {
  const out: Point = [Math.cos(print.angle), Math.sin(print.angle)]
  const along: Point = [-out[1], out[0]]
  return [
    [1, 1],
    [1, -1],
    [-1, -1],
    [-1, 1],
  ].map(([d = 0, w = 0]) => [
    print.x + out[0] * d * print.halfDepth + along[0] * w * print.halfWidth,
    print.y + out[1] * d * print.halfDepth + along[1] * w * print.halfWidth,
  ])
}

const pointToSegment = (p: Point, a: Point, b: Point): number => {
  const dx = b[0] - a[0]
  const dy = b[1] - a[1]
  const length2 = dx * dx + dy * dy
  const along =
    length2 === 0 ? 0 : Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length2))
  return Math.hypot(p[0] - a[0] - along * dx, p[1] - a[1] - along * dy)
}

/** Whether a direction of `one`'s sides parts the two (separating axis). */
const partedBy = (one: readonly Point[], other: readonly Point[]): boolean =>
  [0, 1].some((side) => {
    const [a, b] = [one[side], one[side + 1]] as [Point, Point]
    const axis: Point = [b[0] - a[0], b[1] - a[1]]
    const spanOf = (points: readonly Point[]): [number, number] => {
      const along = points.map((point) => point[0] * axis[0] + point[1] * axis[1])
      return [Math.min(...along), Math.max(...along)]
    }
    const [lowOne, highOne] = spanOf(one)
    const [lowOther, highOther] = spanOf(other)
    return highOne < lowOther || highOther < lowOne
  })

/** Gap between two footprints, 0 when they touch or overlap. Exact for rectangles. */
export const gapBetween = (one: Footprint, other: Footprint): number => {
  const reach = Math.hypot(one.halfWidth, one.halfDepth) + Math.hypot(other.halfWidth, other.halfDepth)
  const apart = Math.hypot(one.x - other.x, one.y - other.y) - reach
  // far apart: the circles round them already bound the gap from below, which is all a fit needs
  if (apart > reach) return apart
  const a = cornersOf(one)
  const b = cornersOf(other)
  if (!partedBy(a, b) && !partedBy(b, a)) return 0
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < 4; i += 1)
    for (let j = 0; j < 4; j += 1) {
      least = Math.min(least, pointToSegment(a[i] as Point, b[j] as Point, b[(j + 1) % 4] as Point))
      least = Math.min(least, pointToSegment(b[i] as Point, a[j] as Point, a[(j + 1) % 4] as Point))
    }
  return least
}

/** How far the footprint reaches from the flask's axis. */
export const reachOf = (print: Footprint): number =>
  Math.max(...cornersOf(print).map(([x, y]) => Math.hypot(x, y)))
