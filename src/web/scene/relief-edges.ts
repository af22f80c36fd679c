import type { TriangleMesh } from '../../engine/piece/mesh/index.ts'

/** Edges worth drawing: two ends each, the way both faces look, and whether they meet in a crease. */
export interface ReliefEdges {
  /** x, y, z of each end, mm */
  readonly ends: Float32Array
  /** unit directions of the two faces, given for each end */
  readonly one: Float32Array
  readonly other: Float32Array
  /** 1 in a crease, 0 where a smooth face may turn away from the reader; for each end */
  readonly crease: Float32Array
}

/** Faces that meet at less than this are smooth there. */
const CREASE = Math.cos((28 * Math.PI) / 180)
/** Faces nearer one plane than this never turn away from one another. */
const FLAT = 0.999_99

const faceNormals = ({ positions, corners }: TriangleMesh): Float32Array => {
  const normals = new Float32Array(corners.length)
  for (let t = 0; t < corners.length; t += 3) {
    const [a, b, c] = [3 * (corners[t] ?? 0), 3 * (corners[t + 1] ?? 0), 3 * (corners[t + 2] ?? 0)]
    const [ax = 0, ay = 0, az = 0] = [positions[a], positions[a + 1], positions[a + 2]]
    const [ux, uy, uz] = [
      (positions[b] ?? 0) - ax,
      (positions[b + 1] ?? 0) - ay,
      (positions[b + 2] ?? 0) - az,
    ]
    const [vx, vy, vz] = [
      (positions[c] ?? 0) - ax,
      (positions[c + 1] ?? 0) - ay,
      (positions[c + 2] ?? 0) - az,
    ]
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
    const length = Math.hypot(nx, ny, nz) || 1
    normals[t] = nx / length
    normals[t + 1] = ny / length
    normals[t + 2] = nz / length
  }
  return normals
}

/** Walks every edge of a closed mesh once; an edge of flat ground is left out. */
export const edgesOf = (mesh: TriangleMesh): ReliefEdges => {
  const { positions, corners } = mesh
  const count = positions.length / 3
  const normals = faceNormals(mesh)
  const seen = new Map<number, number>()
  const ends: number[] = []
  const one: number[] = []
  const other: number[] = []
  const crease: number[] = []
  for (let t = 0; t < corners.length; t += 3)
    for (let side = 0; side < 3; side += 1) {
      const a = corners[t + side] ?? 0
      const b = corners[t + ((side + 1) % 3)] ?? 0
      const name = a < b ? a * count + b : b * count + a
      const before = seen.get(name)
      if (before === undefined) {
        seen.set(name, t)
        continue
      }
      seen.delete(name)
      const [px = 0, py = 0, pz = 0] = [normals[before], normals[before + 1], normals[before + 2]]
      const [qx = 0, qy = 0, qz = 0] = [normals[t], normals[t + 1], normals[t + 2]]
      const along = px * qx + py * qy + pz * qz
      if (along > FLAT) continue
      for (const end of [a, b]) {
        ends.push(positions[3 * end] ?? 0, positions[3 * end + 1] ?? 0, positions[3 * end + 2] ?? 0)
        one.push(px, py, pz)
        other.push(qx, qy, qz)
        crease.push(along < CREASE ? 1 : 0)
      }
    }
  return {
    ends: Float32Array.from(ends),
    one: Float32Array.from(one),
    other: Float32Array.from(other),
    crease: Float32Array.from(crease),
  }
}
