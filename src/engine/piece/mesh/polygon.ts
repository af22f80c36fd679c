/**
 * Splits a polygon in space into triangles that keep its direction.
 * Works in the plane that the polygon is nearest to (Newell's normal), by cutting ears; a polygon
 * that has no ear left (it crosses itself in that plane) is finished as a fan.
 * @param positions x, y, z of all points
 * @param ring point numbers in order, at least 3
 * @param emit called with the three point numbers of each of the `ring.length - 2` triangles
 * @returns whether every triangle was a true ear
 */
export function triangulate(
  positions: Float64Array,
  ring: readonly number[],
  emit: (a: number, b: number, c: number) => void,
): boolean {
  if (ring.length === 3) {
    emit(ring[0]!, ring[1]!, ring[2]!)
    return true
  }
  const flat = flatten(positions, ring)
  const left = ring.map((_, i) => i)
  let from = 0
  let effort = EFFORT * ring.length
  while (left.length > 3 && effort > 0) {
    const { ear, tried } = findEar(flat, left, from)
    if (ear < 0) break
    effort -= tried
    const n = left.length
    emit(ring[left[(ear + n - 1) % n]!]!, ring[left[ear]!]!, ring[left[(ear + 1) % n]!]!)
    left.splice(ear, 1)
    // Going on round the ring, not back to its start, spreads the cuts: slivers stay rare.
    from = (ear + 1) % left.length
  }
  for (let i = 1; i + 1 < left.length; i++) emit(ring[left[0]!]!, ring[left[i]!]!, ring[left[i + 1]!]!)
  return left.length === 3
}

/** Corners tried for an ear, per corner of the polygon, before the rest becomes a fan: ample for drawn shapes. */
const EFFORT = 50

/** Twice the vector area of a closed ring of points (Newell), whatever its origin. */
export function ringNormal(positions: Float64Array, ring: readonly number[]): [number, number, number] {
  let nx = 0
  let ny = 0
  let nz = 0
  const o = ring[0]! * 3
  const ox = positions[o]!
  const oy = positions[o + 1]!
  const oz = positions[o + 2]!
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i]! * 3
    const b = ring[(i + 1) % ring.length]! * 3
    const ax = positions[a]! - ox
    const ay = positions[a + 1]! - oy
    const az = positions[a + 2]! - oz
    const bx = positions[b]! - ox
    const by = positions[b + 1]! - oy
    const bz = positions[b + 2]! - oz
    nx += ay * bz - az * by
    ny += az * bx - ax * bz
    nz += ax * by - ay * bx
  }
  return [nx, ny, nz]
}

/** Points of the ring in its own plane, turning anticlockwise. */
function flatten(positions: Float64Array, ring: readonly number[]): Float64Array {
  const [nx, ny, nz] = ringNormal(positions, ring)
  const size = Math.hypot(nx, ny, nz) || 1
  // Any direction not along the normal gives the first axis.
  const [hx, hy, hz] = Math.abs(nx) < 0.6 * size ? [1, 0, 0] : [0, 1, 0]
  let ux = (hy! * nz - hz! * ny) / size
  let uy = (hz! * nx - hx! * nz) / size
  let uz = (hx! * ny - hy! * nx) / size
  const u = Math.hypot(ux, uy, uz) || 1
  ux /= u
  uy /= u
  uz /= u
  const vx = (ny * uz - nz * uy) / size
  const vy = (nz * ux - nx * uz) / size
  const vz = (nx * uy - ny * ux) / size
  const o = ring[0]! * 3
  const flat = new Float64Array(ring.length * 2)
  ring.forEach((point, i) => {
    const x = positions[point * 3]! - positions[o]!
    const y = positions[point * 3 + 1]! - positions[o + 1]!
    const z = positions[point * 3 + 2]! - positions[o + 2]!
    flat[i * 2] = x * ux + y * uy + z * uz
    flat[i * 2 + 1] = x * vx + y * vy + z * vz
  })
  return flat
}

function findEar(flat: Float64Array, left: readonly number[], from: number): { ear: number; tried: number } {
  const n = left.length
  for (let step = 0; step < n; step++) {
    const at = (from + step) % n
    const a = left[(at + n - 1) % n]!
    const b = left[at]!
    const c = left[(at + 1) % n]!
    if (turn(flat, a, b, c) <= 0) continue
    let empty = true
    for (let k = 0; empty && k < n; k++) {
      const p = left[k]!
      if (p === a || p === b || p === c) continue
      empty = !(turn(flat, a, b, p) >= 0 && turn(flat, b, c, p) >= 0 && turn(flat, c, a, p) >= 0)
    }
    if (empty) return { ear: at, tried: step + 1 }
  }
  return { ear: -1, tried: n }
}

function turn(flat: Float64Array, a: number, b: number, c: number): number {
  const ax = flat[a * 2]!
  const ay = flat[a * 2 + 1]!
  return (flat[b * 2]! - ax) * (flat[c * 2 + 1]! - ay) - (flat[b * 2 + 1]! - ay) * (flat[c * 2]! - ax)
}
