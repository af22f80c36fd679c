/**
 * Distances between surfaces by trying every pair of triangles, written for the checks alone and sharing nothing
 * with the engine. Two triangles are nearest at a corner of one, between an edge of each, or where they cross.
 */
export type V = readonly [number, number, number]
export type Surface = readonly {
  readonly corners: readonly [V, V, V]
  readonly middle: V
  readonly round: number
}[]

const less = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const times = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const square = (a: V, b: V): V => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const along = (a: V, way: V, k: number): V => [a[0] + k * way[0], a[1] + k * way[1], a[2] + k * way[2]]
const far = (a: V, b: V): number => Math.sqrt(times(less(a, b), less(a, b)))
const held = (k: number): number => (k > 0 ? Math.min(1, k) : 0)

/** Surface of a mesh set down by a row-major 4 x 4 matrix acting on columns. */
export const placedSurface = (
  mesh: { readonly positions: ArrayLike<number>; readonly corners: ArrayLike<number> },
  matrix: readonly number[],
): Surface => {
  const at = (corner: number): V => {
    const p = [0, 1, 2].map((k) => mesh.positions[corner * 3 + k] ?? Number.NaN).concat(1)
    const row = (r: number): number => p.reduce((sum, value, k) => sum + value * (matrix[r * 4 + k] ?? 0), 0)
    return [row(0), row(1), row(2)]
  }
  return Array.from({ length: mesh.corners.length / 3 }, (_, t) => {
    const corners = [0, 1, 2].map((k) => at(mesh.corners[t * 3 + k] ?? 0)) as unknown as [V, V, V]
    const middle = along(along(along([0, 0, 0], corners[0], 1 / 3), corners[1], 1 / 3), corners[2], 1 / 3)
    return { corners, middle, round: Math.max(...corners.map((corner) => far(corner, middle))) }
  })
}

const pointToLine = (p: V, a: V, b: V): number => {
  const way = less(b, a)
  return far(p, along(a, way, held(times(less(p, a), way) / times(way, way))))
}

const pointToTriangle = (p: V, [a, b, c]: readonly [V, V, V]): number => {
  const normal = square(less(b, a), less(c, a))
  const size = Math.sqrt(times(normal, normal))
  const over = (from: V, to: V): boolean => times(square(less(to, from), less(p, from)), normal) >= 0
  if (size > 0 && over(a, b) && over(b, c) && over(c, a)) return Math.abs(times(less(p, a), normal)) / size
  return Math.min(pointToLine(p, a, b), pointToLine(p, b, c), pointToLine(p, c, a))
}

const lineToLine = (a: V, b: V, c: V, d: V): number => {
  const [u, v, w] = [less(b, a), less(d, c), less(a, c)]
  const [uu, uv, vv, uw, vw] = [times(u, u), times(u, v), times(v, v), times(u, w), times(v, w)]
  const whole = uu * vv - uv * uv
  let best = Math.min(pointToLine(a, c, d), pointToLine(b, c, d), pointToLine(c, a, b), pointToLine(d, a, b))
  if (whole > 1e-14 * uu * vv) {
    const s = (uv * vw - vv * uw) / whole
    const t = (uu * vw - uv * uw) / whole
    if (s > 0 && s < 1 && t > 0 && t < 1) best = Math.min(best, far(along(a, u, s), along(c, v, t)))
  }
  return best
}

const crosses = (p: V, q: V, [a, b, c]: readonly [V, V, V]): boolean => {
  const normal = square(less(b, a), less(c, a))
  const [high, low] = [times(less(p, a), normal), times(less(q, a), normal)]
  if (high * low > 0 || high === low) return false
  const at = along(p, less(q, p), high / (high - low))
  const over = (from: V, to: V): boolean => times(square(less(to, from), less(at, from)), normal) >= 0
  return over(a, b) && over(b, c) && over(c, a)
}

const SIDES = [
  [0, 1],
  [1, 2],
  [2, 0],
] as const

export const triangleToTriangle = (one: readonly [V, V, V], other: readonly [V, V, V]): number => {
  let best = Infinity
  for (const p of one) best = Math.min(best, pointToTriangle(p, other))
  for (const p of other) best = Math.min(best, pointToTriangle(p, one))
  for (const [i, j] of SIDES) {
    if (crosses(one[i], one[j], other) || crosses(other[i], other[j], one)) return 0
    for (const [k, l] of SIDES) best = Math.min(best, lineToLine(one[i], one[j], other[k], other[l]))
  }
  return best
}

/** Least distance of two surfaces, or `within` where it is no less; pairs whose balls are further are passed over. */
export const surfaceToSurface = (one: Surface, other: Surface, within = Infinity): number => {
  let best = within
  for (const a of one)
    for (const b of other) {
      const reach = best + a.round + b.round
      const [x, y, z] = less(a.middle, b.middle)
      if (x * x + y * y + z * z < reach * reach)
        best = Math.min(best, triangleToTriangle(a.corners, b.corners))
    }
  return best
}

export const lineToSurface = (from: V, to: V, surface: Surface, within = Infinity): number => {
  let best = within
  for (const { corners, middle, round } of surface) {
    if (pointToLine(middle, from, to) >= best + round) continue
    if (crosses(from, to, corners)) return 0
    best = Math.min(best, pointToTriangle(from, corners), pointToTriangle(to, corners))
    for (const [i, j] of SIDES) best = Math.min(best, lineToLine(from, to, corners[i], corners[j]))
  }
  return best
}

/** Whether a point is in the metal: by how often a crooked ray from it goes through the surface. */
export const within = (p: V, surface: Surface): boolean => {
  const end = along(p, [0.5773, 0.2971, 0.7613], 1e4)
  return surface.filter(({ corners }) => crosses(p, end, corners)).length % 2 === 1
}
