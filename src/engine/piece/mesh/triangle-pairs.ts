/** Nine numbers: the corners of a triangle one after the other. */
type Corners = ArrayLike<number>

/**
 * The square of the least distance between two triangles; 0 where they touch or pass through one another.
 * A triangle without area counts as its sides, so that a line may be asked about as a triangle (a, b, b).
 * Where two triangles are apart, the least distance runs between two sides or from a corner to a face.
 * @param within distances at or above it are of no interest: Infinity may come back for them
 */
export function apartSquared(a: Corners, b: Corners, within = Infinity): number {
  if (within < Infinity && (beyondPlane(a, b, within) || beyondPlane(b, a, within))) return Infinity
  let best = Infinity
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const apart = sidesApart(a, i * 3, ((i + 1) % 3) * 3, b, j * 3, ((j + 1) % 3) * 3)
      if (apart < best) best = apart
    }
  for (let i = 0; i < 3; i++) {
    best = Math.min(best, cornerApart(a, i * 3, b), cornerApart(b, i * 3, a))
    if (best === 0) return 0
  }
  for (let i = 0; i < 3; i++)
    if (pierces(a, i * 3, ((i + 1) % 3) * 3, b) || pierces(b, i * 3, ((i + 1) % 3) * 3, a)) return 0
  return best
}

/**
 * The square of the distance from a triangle to a point. A triangle without area counts as its sides.
 * @param way filled with the way from the triangle's nearest point to that point
 */
export function wayFrom(b: Corners, x: number, y: number, z: number, way: Float64Array): number {
  let best = Infinity
  for (let from = 0; from < 9; from += 3) {
    const to = from === 6 ? 0 : from + 3
    const ux = b[to]! - b[from]!
    const uy = b[to + 1]! - b[from + 1]!
    const uz = b[to + 2]! - b[from + 2]!
    const wx = x - b[from]!
    const wy = y - b[from + 1]!
    const wz = z - b[from + 2]!
    const uu = ux * ux + uy * uy + uz * uz
    const k = uu > 0 ? share((ux * wx + uy * wy + uz * wz) / uu) : 0
    const dx = wx - k * ux
    const dy = wy - k * uy
    const dz = wz - k * uz
    const squared = dx * dx + dy * dy + dz * dz
    if (squared >= best) continue
    best = squared
    way[0] = dx
    way[1] = dy
    way[2] = dz
  }
  const ux = b[3]! - b[0]!
  const uy = b[4]! - b[1]!
  const uz = b[5]! - b[2]!
  const vx = b[6]! - b[0]!
  const vy = b[7]! - b[1]!
  const vz = b[8]! - b[2]!
  const wx = x - b[0]!
  const wy = y - b[1]!
  const wz = z - b[2]!
  const uu = ux * ux + uy * uy + uz * uz
  const uv = ux * vx + uy * vy + uz * vz
  const vv = vx * vx + vy * vy + vz * vz
  const det = uu * vv - uv * uv
  if (!(det > 1e-14 * uu * vv)) return best
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  const s = (vv * uw - uv * vw) / det
  const t = (uu * vw - uv * uw) / det
  if (s < 0 || t < 0 || s + t > 1) return best
  const dx = wx - s * ux - t * vx
  const dy = wy - s * uy - t * vy
  const dz = wz - s * uz - t * vz
  const squared = dx * dx + dy * dy + dz * dz
  if (squared >= best) return best
  way[0] = dx
  way[1] = dy
  way[2] = dz
  return squared
}

/** Whether one triangle lies wholly on one side of the other's plane, at that distance or more. */
function beyondPlane(a: Corners, b: Corners, within: number): boolean {
  const ux = a[3]! - a[0]!
  const uy = a[4]! - a[1]!
  const uz = a[5]! - a[2]!
  const vx = a[6]! - a[0]!
  const vy = a[7]! - a[1]!
  const vz = a[8]! - a[2]!
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const far = within * Math.sqrt(nx * nx + ny * ny + nz * nz) * (1 + 1e-12)
  if (!(far > 0)) return false
  const p = (b[0]! - a[0]!) * nx + (b[1]! - a[1]!) * ny + (b[2]! - a[2]!) * nz
  const q = (b[3]! - a[0]!) * nx + (b[4]! - a[1]!) * ny + (b[5]! - a[2]!) * nz
  const r = (b[6]! - a[0]!) * nx + (b[7]! - a[1]!) * ny + (b[8]! - a[2]!) * nz
  return (p >= far && q >= far && r >= far) || (p <= -far && q <= -far && r <= -far)
}

/** Squared distance of two line segments, each given by where its ends stand in its list. */
function sidesApart(a: Corners, p: number, q: number, b: Corners, r: number, s: number): number {
  const ux = a[q]! - a[p]!
  const uy = a[q + 1]! - a[p + 1]!
  const uz = a[q + 2]! - a[p + 2]!
  const vx = b[s]! - b[r]!
  const vy = b[s + 1]! - b[r + 1]!
  const vz = b[s + 2]! - b[r + 2]!
  const wx = a[p]! - b[r]!
  const wy = a[p + 1]! - b[r + 1]!
  const wz = a[p + 2]! - b[r + 2]!
  const uu = ux * ux + uy * uy + uz * uz
  const vv = vx * vx + vy * vy + vz * vz
  const uv = ux * vx + uy * vy + uz * vz
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  // The foot on the first line, held to its ends; then the nearest on the second; then back once.
  const across = uu * vv - uv * uv
  let k = across > 1e-14 * uu * vv ? share((uv * vw - vv * uw) / across) : 0
  let m = vv > 0 ? (uv * k + vw) / vv : 0
  if (m < 0) {
    m = 0
    k = uu > 0 ? share(-uw / uu) : 0
  } else if (m > 1) {
    m = 1
    k = uu > 0 ? share((uv - uw) / uu) : 0
  } else if (!(vv > 0)) k = uu > 0 ? share(-uw / uu) : 0
  const dx = wx + k * ux - m * vx
  const dy = wy + k * uy - m * vy
  const dz = wz + k * uz - m * vz
  return dx * dx + dy * dy + dz * dz
}

/** Squared distance from a corner to the face of a triangle where its foot falls inside; Infinity elsewhere. */
function cornerApart(a: Corners, p: number, b: Corners): number {
  const ux = b[3]! - b[0]!
  const uy = b[4]! - b[1]!
  const uz = b[5]! - b[2]!
  const vx = b[6]! - b[0]!
  const vy = b[7]! - b[1]!
  const vz = b[8]! - b[2]!
  const wx = a[p]! - b[0]!
  const wy = a[p + 1]! - b[1]!
  const wz = a[p + 2]! - b[2]!
  const uu = ux * ux + uy * uy + uz * uz
  const uv = ux * vx + uy * vy + uz * vz
  const vv = vx * vx + vy * vy + vz * vz
  const det = uu * vv - uv * uv
  if (!(det > 1e-14 * uu * vv)) return Infinity
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  const s = (vv * uw - uv * vw) / det
  const t = (uu * vw - uv * uw) / det
  if (s < 0 || t < 0 || s + t > 1) return Infinity
  const dx = wx - s * ux - t * vx
  const dy = wy - s * uy - t * vy
  const dz = wz - s * uz - t * vz
  return dx * dx + dy * dy + dz * dz
}

/** Whether a side of one triangle passes through the face of the other. */
function pierces(a: Corners, p: number, q: number, b: Corners): boolean {
  const ux = b[3]! - b[0]!
  const uy = b[4]! - b[1]!
  const uz = b[5]! - b[2]!
  const vx = b[6]! - b[0]!
  const vy = b[7]! - b[1]!
  const vz = b[8]! - b[2]!
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const from = (a[p]! - b[0]!) * nx + (a[p + 1]! - b[1]!) * ny + (a[p + 2]! - b[2]!) * nz
  const to = (a[q]! - b[0]!) * nx + (a[q + 1]! - b[1]!) * ny + (a[q + 2]! - b[2]!) * nz
  if (from * to > 0 || from === to) return false
  const k = from / (from - to)
  const wx = a[p]! + k * (a[q]! - a[p]!) - b[0]!
  const wy = a[p + 1]! + k * (a[q + 1]! - a[p + 1]!) - b[1]!
  const wz = a[p + 2]! + k * (a[q + 2]! - a[p + 2]!) - b[2]!
  const uu = ux * ux + uy * uy + uz * uz
  const uv = ux * vx + uy * vy + uz * vz
  const vv = vx * vx + vy * vy + vz * vz
  const uw = ux * wx + uy * wy + uz * wz
  const vw = vx * wx + vy * wy + vz * wz
  const det = uu * vv - uv * uv
  const s = vv * uw - uv * vw
  const t = uu * vw - uv * uw
  // through a needle without area anything seems to pass: its sides say how near it is
  return det > 1e-14 * uu * vv && s >= 0 && t >= 0 && s + t <= det
}

const share = (value: number): number => (value < 0 ? 0 : value > 1 ? 1 : value)
