import type { TriangleMesh } from '../piece/mesh/index.ts'

const HEAD = 80
const RECORD = 50

/**
 * Binary STL in millimetres, every length times `scale`: one over one less the shrink for a wax, 1 for the piece
 * itself. Only the scale is applied. STL holds no unit; its head says millimetres.
 */
export const writeStl = ({ positions, corners }: TriangleMesh, scale = 1): Uint8Array => {
  const count = corners.length / 3
  const bytes = new Uint8Array(HEAD + 4 + RECORD * count)
  // a head that began with "solid" would be taken for the text form
  bytes.set(new TextEncoder().encode(`Millimetres, scaled by ${scale.toFixed(6)}`).subarray(0, HEAD))
  const view = new DataView(bytes.buffer)
  view.setUint32(HEAD, count, true)
  for (let t = 0; t < count; t += 1) {
    const at = HEAD + 4 + RECORD * t
    const [a, b, c] = [0, 1, 2].map((k) => {
      const corner = 3 * (corners[3 * t + k] ?? 0)
      return [0, 1, 2].map((axis) => (positions[corner + axis] ?? 0) * scale)
    })
    const [u, v] = [b, c].map((end) => [0, 1, 2].map((axis) => (end?.[axis] ?? 0) - (a?.[axis] ?? 0)))
    const [ux = 0, uy = 0, uz = 0] = u ?? []
    const [vx = 0, vy = 0, vz = 0] = v ?? []
    const normal = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
    const long = Math.hypot(...normal)
    const numbers = [
      ...normal.map((n) => (long === 0 ? 0 : n / long)),
      ...(a ?? []),
      ...(b ?? []),
      ...(c ?? []),
    ]
    numbers.forEach((value, i) => {
      view.setFloat32(at + 4 * i, value, true)
    })
  }
  return bytes
}
