import { type TriangleMesh, volumeOf } from '../../piece/mesh/index.ts'

const SIDES = 48

/**
 * A round wire along a path in the x-z plane, mitred where it turns and cut square at its ends: a closed mesh.
 * Its section has the area of the true circle, so its volume is that area times the path's length.
 */
export const sweep = (path: readonly (readonly [number, number])[], diameter_mm: number): TriangleMesh => {
  const radius = (diameter_mm / 2) * Math.sqrt((2 * Math.PI) / SIDES / Math.sin((2 * Math.PI) / SIDES))
  const ways = path.slice(1).map(([x, z], i) => {
    const [fx, fz] = path[i] as readonly [number, number]
    const length = Math.hypot(x - fx, z - fz)
    return [(x - fx) / length, (z - fz) / length] as const
  })
  const positions: number[] = []
  path.forEach(([x, z], i) => {
    const before = ways[Math.max(0, i - 1)] ?? [1, 0]
    const after = ways[Math.min(ways.length - 1, i)] ?? before
    const [sx, sz] = [before[0] + after[0], before[1] + after[1]]
    const size = Math.hypot(sx, sz)
    // Across the wire in the plane of the path; on a mitre longer by the half angle's cosine.
    const long = radius / (size / 2)
    const [ax, az] = [(sz / size) * long, (-sx / size) * long]
    for (let k = 0; k < SIDES; k++) {
      const turn = (2 * Math.PI * k) / SIDES
      positions.push(x + ax * Math.cos(turn), radius * Math.sin(turn), z + az * Math.cos(turn))
    }
  })
  const corners: number[] = []
  for (let i = 0; i + 1 < path.length; i++)
    for (let k = 0; k < SIDES; k++) {
      const [a, b] = [i * SIDES + k, i * SIDES + ((k + 1) % SIDES)]
      corners.push(a, b, b + SIDES, a, b + SIDES, a + SIDES)
    }
  const last = (path.length - 1) * SIDES
  for (let k = 1; k + 1 < SIDES; k++) corners.push(0, k + 1, k, last, last + k, last + k + 1)
  const mesh = { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
  return volumeOf(mesh) < 0 ? insideOut(mesh) : mesh
}

const insideOut = ({ positions, corners }: TriangleMesh): TriangleMesh => {
  const turned = corners.slice()
  for (let t = 0; t < turned.length; t += 3) {
    turned[t + 1] = corners[t + 2] as number
    turned[t + 2] = corners[t + 1] as number
  }
  return { positions, corners: turned }
}
