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
  const normals = faceNormals(mesh)
  // Sides that wait for their other face hang in a chain at the lower of their two points.
  const first = new Int32Array(positions.length / 3).fill(-1)
  const next = new Int32Array(corners.length)
  const kept = new Uint32Array(2 * corners.length)
  let count = 0
  for (let t = 0; t < corners.length; t += 3)
    for (let side = 0; side < 3; side += 1) {
      const a = corners[t + side] ?? 0
      const b = corners[t + ((side + 1) % 3)] ?? 0
      const [low, high] = a < b ? [a, b] : [b, a]
      let before = first[low] ?? -1
      let holder = -1
      while (before >= 0 && !holds(corners, before, high)) {
        holder = before
        before = next[before] ?? -1
      }
      if (before < 0) {
        next[t + side] = first[low] ?? -1
        first[low] = t + side
        continue
      }
      if (holder < 0) first[low] = next[before] ?? -1
      else next[holder] = next[before] ?? -1
      const face = before - (before % 3)
      if (alongOf(normals, face, t) > FLAT) continue
      kept[count] = face
      kept[count + 1] = t + side
      count += 2
    }
  return drawn(mesh, normals, kept.subarray(0, count))
}

/** Whether a side has this point; of its other end is known that it is the lower one. */
const holds = (corners: Uint32Array, side: number, high: number): boolean =>
  corners[side] === high || corners[side - (side % 3) + ((side + 1) % 3)] === high

const alongOf = (normals: Float32Array, one: number, other: number): number =>
  (normals[one] ?? 0) * (normals[other] ?? 0) +
  (normals[one + 1] ?? 0) * (normals[other + 1] ?? 0) +
  (normals[one + 2] ?? 0) * (normals[other + 2] ?? 0)

/** @param kept  of each edge one face, and the side of the other that it lies on */
const drawn = (
  { positions, corners }: TriangleMesh,
  normals: Float32Array,
  kept: Uint32Array,
): ReliefEdges => {
  const ends = new Float32Array(3 * kept.length)
  const one = new Float32Array(3 * kept.length)
  const other = new Float32Array(3 * kept.length)
  const crease = new Float32Array(kept.length)
  for (let i = 0; i < kept.length; i += 2) {
    const before = kept[i] ?? 0
    const side = kept[i + 1] ?? 0
    const t = side - (side % 3)
    const isCrease = alongOf(normals, before, t) < CREASE ? 1 : 0
    for (let end = 0; end < 2; end += 1) {
      const at = 3 * (corners[t + ((side + end) % 3)] ?? 0)
      const to = 3 * (i + end)
      for (let axis = 0; axis < 3; axis += 1) {
        ends[to + axis] = positions[at + axis] ?? 0
        one[to + axis] = normals[before + axis] ?? 0
        other[to + axis] = normals[t + axis] ?? 0
      }
      crease[i + end] = isCrease
    }
  }
  return { ends, one, other, crease }
}
