import type { TriangleMesh } from './model-reading.ts'

/** A mesh as binary STL: 84 bytes, then 50 for each triangle, in the mesh's own unit as 32-bit floats. */
export function writeStl({ positions, corners }: TriangleMesh, header: string): Uint8Array {
  const count = corners.length / 3
  const bytes = new Uint8Array(84 + 50 * count)
  bytes.set(new TextEncoder().encode(header).subarray(0, 80))
  const view = new DataView(bytes.buffer)
  view.setUint32(80, count, true)
  for (let t = 0; t < count; t++) {
    const p: number[] = []
    for (let k = 0; k < 3; k++)
      for (let axis = 0; axis < 3; axis++) p.push(positions[corners[t * 3 + k]! * 3 + axis]!)
    const u = [p[3]! - p[0]!, p[4]! - p[1]!, p[5]! - p[2]!]
    const v = [p[6]! - p[0]!, p[7]! - p[1]!, p[8]! - p[2]!]
    const n = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!]
    const size = Math.hypot(...n) || 1
    const at = 84 + t * 50
    for (let k = 0; k < 3; k++) view.setFloat32(at + k * 4, n[k]! / size, true)
    for (let k = 0; k < 9; k++) view.setFloat32(at + 12 + k * 4, p[k]!, true)
  }
  return bytes
}
