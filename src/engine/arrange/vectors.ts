import type { Point, Transform, TriangleMesh } from '../piece/mesh/index.ts'
import { moved } from '../piece/mesh/transform.ts'

export const plus = (a: Point, b: Point, times = 1): Point => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
]
export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const sizeOf = (a: Point): number => Math.hypot(a[0], a[1], a[2])
export const unit = (a: Point): Point => {
  const size = sizeOf(a)
  return [a[0] / size, a[1] / size, a[2] / size]
}

export const move = (m: Transform, [x, y, z]: Point): Point => moved(m, x, y, z)

/** A direction turned as the motion turns it. */
export const turn = (m: Transform, d: Point): Point => minus(move(m, d), move(m, [0, 0, 0]))

/** The motion that takes three axes of unit length, each square to the others, to three others. */
export const turning = (
  from: readonly [Point, Point, Point],
  to: readonly [Point, Point, Point],
): Transform => {
  const entry = (row: number, column: number): number =>
    from.reduce((sum, axis, k) => sum + (to[k]?.[row] ?? 0) * (axis[column] ?? 0), 0)
  return [0, 1, 2].flatMap((column) => [0, 1, 2].map((row) => entry(row, column))).concat(0, 0, 0)
}

export const turningAboutAxis = (angle: number): Transform => {
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  return [c, s, 0, -s, c, 0, 0, 0, 1, 0, 0, 0]
}

export const shifting = (by: Point): Transform => [1, 0, 0, 0, 1, 0, 0, 0, 1, ...by]

/** Undoes a rigid motion. */
export const undoing = (m: Transform): Transform => {
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, h = 0, i = 1, x = 0, y = 0, z = 0] = m
  return [
    a,
    d,
    g,
    b,
    e,
    h,
    c,
    f,
    i,
    -(a * x + b * y + c * z),
    -(d * x + e * y + f * z),
    -(g * x + h * y + i * z),
  ]
}

/** How far a motion is from keeping every distance: 0 for a turn and a shift, without mirroring. */
export const strain = (m: Transform): number => {
  const axes = [0, 3, 6].map((k): Point => [m[k] ?? 0, m[k + 1] ?? 0, m[k + 2] ?? 0]) as [Point, Point, Point]
  const [a, b, c] = axes
  return Math.max(
    ...axes.map((axis) => Math.abs(sizeOf(axis) - 1)),
    Math.abs(dot(a, b)),
    Math.abs(dot(b, c)),
    Math.abs(dot(a, c)),
    Math.abs(dot(cross(a, b), c) - 1),
  )
}

/** Row-major 4 x 4, acting on column vectors. */
export const matrixOf = (m: Transform): number[] => [
  ...[0, 1, 2].flatMap((row) => [0, 3, 6, 9].map((column) => m[column + row] ?? 0)),
  0,
  0,
  0,
  1,
]

export const motionOf = (matrix: readonly number[]): Transform =>
  [0, 1, 2, 3].flatMap((column) => [0, 1, 2].map((row) => matrix[row * 4 + column] ?? 0))

/** The same from a model's own mm: a drawn piece's wax is its drawing, `over` times as long, and then moved. */
export const matrixFromModel = (motion: Transform, over: number): number[] =>
  matrixOf(motion.map((value, k) => (k < 9 ? value * over : value)))

/** A place in the flask in a model's own mm. */
export const placeInModel = (motion: Transform, over: number, place: Point): [number, number, number] => {
  const [x, y, z] = move(undoing(motion), place)
  return [x / over, y / over, z / over]
}

/** Any direction square to this one. */
export const squareTo = (direction: Point): Point =>
  unit(cross(direction, Math.abs(direction[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]))

/** The corners of a triangle. */
export const cornersAt = ({ positions, corners }: TriangleMesh, triangle: number): [Point, Point, Point] =>
  [0, 1, 2].map((k): Point => {
    const at = (corners[triangle * 3 + k] ?? 0) * 3
    return [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0]
  }) as [Point, Point, Point]
