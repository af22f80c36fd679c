import type { MeshBuilder, TriangleMesh } from './model-reading.ts'

/** An affine map: x' = m0 x + m3 y + m6 z + m9, y' = m1 x + m4 y + m7 z + m10, z' = m2 x + m5 y + m8 z + m11. */
export type Transform = readonly number[]

export const unmoved: Transform = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]

/** First `inner`, then `outer`. */
export function after(outer: Transform, inner: Transform): Transform {
  const both: number[] = []
  for (let column = 0; column < 4; column++)
    for (let row = 0; row < 3; row++) {
      let sum = column === 3 ? outer[9 + row]! : 0
      for (let k = 0; k < 3; k++) sum += outer[k * 3 + row]! * inner[column * 3 + k]!
      both.push(sum)
    }
  return both
}

/** Below zero where the map mirrors, so that triangles must turn about to keep facing outward. */
export function determinant(m: Transform): number {
  return (
    m[0]! * (m[4]! * m[8]! - m[5]! * m[7]!) -
    m[3]! * (m[1]! * m[8]! - m[2]! * m[7]!) +
    m[6]! * (m[1]! * m[5]! - m[2]! * m[4]!)
  )
}

export const moved = (m: Transform, x: number, y: number, z: number): [number, number, number] => [
  m[0]! * x + m[3]! * y + m[6]! * z + m[9]!,
  m[1]! * x + m[4]! * y + m[7]! * z + m[10]!,
  m[2]! * x + m[5]! * y + m[8]! * z + m[11]!,
]

/** Whether every entry is finite and the map does not flatten what it moves. */
export const isSound = (m: Transform): boolean =>
  m.length === 12 && m.every(Number.isFinite) && Math.abs(determinant(m)) > 1e-30

/** Adds a moved copy; a mirrored one turns its triangles about, so that they go on facing outward. */
export function appendMesh(builder: MeshBuilder, mesh: TriangleMesh, transform: Transform): void {
  const first = builder.pointCount
  const { positions, corners } = mesh
  if (transform === unmoved)
    for (let i = 0; i < positions.length; i += 3)
      builder.addPoint(positions[i]!, positions[i + 1]!, positions[i + 2]!)
  else
    for (let i = 0; i < positions.length; i += 3) {
      const [x, y, z] = moved(transform, positions[i]!, positions[i + 1]!, positions[i + 2]!)
      builder.addPoint(x, y, z)
    }
  const mirrored = determinant(transform) < 0
  for (let i = 0; i < corners.length; i += 3) {
    const a = first + corners[i]!
    const b = first + corners[i + 1]!
    const c = first + corners[i + 2]!
    if (mirrored) builder.addTriangle(a, c, b)
    else builder.addTriangle(a, b, c)
  }
}
