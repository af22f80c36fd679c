/**
 * The lines of an invented cloak clasp: a waved border, twelve leaves round a seat for a carnelian of 18 x 13 mm.
 * Millimetres, the clasp's middle at 0, y upward.
 */
export type Point = readonly [number, number]

export interface Outline {
  readonly id: string
  readonly points: readonly Point[]
}

export const STONE = { length_mm: 18, width_mm: 13, gap_mm: 0.15 }
const WALL_MM = 0.95
const HALF = { x: 28.8, y: 21.9 }
const RIM_MM = 3.3
const LEAVES = 12

const around = (count: number): number[] => Array.from({ length: count }, (_, k) => (2 * Math.PI * k) / count)

/** A soft rectangle (power 3.2 in place of an ellipse's 2) with eight shallow waves. */
const borderAt = (angle: number, inset: number): Point => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const power = 3.2
  const radius =
    (Math.abs(c / (HALF.x - inset)) ** power + Math.abs(s / (HALF.y - inset)) ** power) ** (-1 / power)
  const waved = radius * (1 + 0.016 * Math.cos(8 * angle))
  return [waved * c, waved * s]
}

const oval = (a: number, b: number): Point[] => around(240).map((t) => [a * Math.cos(t), b * Math.sin(t)])

const seat = { a: STONE.length_mm / 2 + STONE.gap_mm, b: STONE.width_mm / 2 + STONE.gap_mm }

/** Middle line of a leaf: from near the wall to near the border, along its own ray. */
function leafRay(index: number): { from: Point; to: Point } {
  const angle = (2 * Math.PI * (index + 0.5)) / LEAVES
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const wall = 1 / Math.hypot(c / (seat.a + WALL_MM), s / (seat.b + WALL_MM))
  const [bx, by] = borderAt(angle, RIM_MM)
  const [start, end] = [wall + 1.3, Math.hypot(bx, by) - 1.3]
  return { from: [start * c, start * s], to: [end * c, end * s] }
}

const along = ({ from, to }: { from: Point; to: Point }, t: number, aside: number): Point => {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  return [from[0] + dx * t - (dy / long) * aside, from[1] + dy * t + (dx / long) * aside]
}

/** Widest a little beyond the middle; a point at the outer end, a rounder one at the wall. */
function leaf(index: number): Point[] {
  const ray = leafRay(index)
  const long = Math.hypot(ray.to[0] - ray.from[0], ray.to[1] - ray.from[1])
  const half = Math.min(2.35, 0.27 * long)
  const side = (t: number): number => half * Math.sin(Math.PI * t ** 0.85) ** 0.9
  const steps = Array.from({ length: 41 }, (_, k) => k / 40)
  return [
    ...steps.map((t) => along(ray, t, -side(t))),
    ...steps
      .slice(1, -1)
      .reverse()
      .map((t) => along(ray, t, side(t))),
  ]
}

/** In the order in which they are painted, each over the one before. */
export const claspOutlines = (): Outline[] => [
  { id: 'border', points: around(360).map((angle) => borderAt(angle, 0)) },
  { id: 'ground', points: around(360).map((angle) => borderAt(angle, RIM_MM)) },
  ...Array.from({ length: LEAVES }, (_, k) => ({ id: `leaf-${k + 1}`, points: leaf(k) })),
  { id: 'seat-wall', points: oval(seat.a + WALL_MM, seat.b + WALL_MM) },
  { id: 'seat', points: oval(seat.a, seat.b) },
]

/** A stroke inside each leaf that bounds nothing. */
export const claspVeins = (): Outline[] =>
  Array.from({ length: LEAVES }, (_, k) => ({
    id: `vein-${k + 1}`,
    points: [0.34, 0.44, 0.53, 0.62].map((t) => along(leafRay(k), t, 0)),
  }))
