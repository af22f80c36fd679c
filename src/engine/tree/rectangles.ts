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
  const outX = Math.cos(print.angle) * print.halfDepth
  const outY = Math.sin(print.angle) * print.halfDepth
  const alongX = -Math.sin(print.angle) * print.halfWidth
  const alongY = Math.cos(print.angle) * print.halfWidth
  return [
    [print.x + outX + alongX, print.y + outY + alongY],
    [print.x + outX - alongX, print.y + outY - alongY],
    [print.x - outX - alongX, print.y - outY - alongY],
    [print.x - outX + alongX, print.y - outY + alongY],
  ]
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
const partedBy = (one: readonly Point[], other: readonly Point[]): boolean => {
  for (let side = 0; side < 2; side += 1) {
    const a = one[side] as Point
    const b = one[side + 1] as Point
    const dx = b[0] - a[0]
    const dy = b[1] - a[1]
    let lowOne = Number.POSITIVE_INFINITY
    let highOne = Number.NEGATIVE_INFINITY
    let lowOther = Number.POSITIVE_INFINITY
    let highOther = Number.NEGATIVE_INFINITY
    for (let corner = 0; corner < 4; corner += 1) {
      const p = one[corner] as Point
      const q = other[corner] as Point
      const alongOne = p[0] * dx + p[1] * dy
      const alongOther = q[0] * dx + q[1] * dy
      if (alongOne < lowOne) lowOne = alongOne
      if (alongOne > highOne) highOne = alongOne
      if (alongOther < lowOther) lowOther = alongOther
      if (alongOther > highOther) highOther = alongOther
    }
    if (highOne < lowOther || highOther < lowOne) return true
  }
  return false
}

/** Whether the circles round both already keep this gap: the cheap yes that most pairs of a ring get. */
export const surelyApart = (one: Footprint, other: Footprint, gap: number): boolean =>
  Math.hypot(one.x - other.x, one.y - other.y) -
    Math.hypot(one.halfWidth, one.halfDepth) -
    Math.hypot(other.halfWidth, other.halfDepth) >=
  gap

/** Gap between two footprints, 0 when they touch or overlap. Exact for rectangles. */
export const gapBetween = (one: Footprint, other: Footprint): number => {
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
export const reachOf = ({ x, y, halfWidth, halfDepth, angle }: Footprint): number => {
  const out = Math.abs(x * Math.cos(angle) + y * Math.sin(angle)) + halfDepth
  const along = Math.abs(y * Math.cos(angle) - x * Math.sin(angle)) + halfWidth
  return Math.hypot(out, along)
}
