import type { TriangleMesh } from './model-reading.ts'
import { areaOf, boundsOf } from './volume.ts'

/**
 * A mesh with fewer triangles, and how far any of its points may be from the true surface, mm.
 * Every point of the true surface lies within `off` of the coarse one, so a distance measured on coarse
 * meshes less the sum of their `off` is never more than the true distance.
 */
export type CoarseMesh = { mesh: TriangleMesh; off: number }

/**
 * Gathers corners that share a cell of a grid at their middle. Triangles that fall together to a line stay as
 * lines, so that no part of the surface is lost. Not closed in general: good for distances, not for volumes.
 * @param most about how many triangles may remain; a smaller mesh is given back as it is, with nothing off
 */
export function coarsen(mesh: TriangleMesh, most: number): CoarseMesh {
  const { positions, corners } = mesh
  const bounds = boundsOf(mesh)
  if (bounds === null || corners.length / 3 <= most) return { mesh, off: 0 }
  const cell = Math.sqrt((4 * areaOf(mesh)) / most)
  const [nx, ny] = [0, 1].map((axis) => Math.floor((bounds.max[axis]! - bounds.min[axis]!) / cell) + 1) as [
    number,
    number,
  ]
  const groups = new Map<number, number>()
  const groupOf = new Int32Array(positions.length / 3).fill(-1)
  const sums: number[] = []
  const counts: number[] = []
  for (const corner of corners) {
    if (groupOf[corner]! >= 0) continue
    const [x, y, z] = [0, 1, 2].map((axis) =>
      Math.floor((positions[corner * 3 + axis]! - bounds.min[axis]!) / cell),
    ) as [number, number, number]
    const key = (z * ny + y) * nx + x
    let group = groups.get(key)
    if (group === undefined) {
      group = counts.length
      groups.set(key, group)
      counts.push(0)
      sums.push(0, 0, 0)
    }
    groupOf[corner] = group
    counts[group]!++
    for (let axis = 0; axis < 3; axis++) sums[group * 3 + axis]! += positions[corner * 3 + axis]!
  }
  const middles = Float64Array.from(sums, (sum, i) => sum / counts[Math.floor(i / 3)]!)
  let off = 0
  for (let corner = 0; corner < groupOf.length; corner++) {
    const group = groupOf[corner]!
    if (group < 0) continue
    const far = Math.hypot(
      positions[corner * 3]! - middles[group * 3]!,
      positions[corner * 3 + 1]! - middles[group * 3 + 1]!,
      positions[corner * 3 + 2]! - middles[group * 3 + 2]!,
    )
    if (far > off) off = far
  }
  const faces: number[] = []
  const seen = new Set<number>()
  const sides = new Set<number>()
  const lines = new Set<number>()
  const points = new Set<number>()
  const used = new Uint8Array(counts.length)
  for (let i = 0; i < corners.length; i += 3) {
    const [a, b, c] = [groupOf[corners[i]!]!, groupOf[corners[i + 1]!]!, groupOf[corners[i + 2]!]!].sort(
      (p, q) => p - q,
    ) as [number, number, number]
    if (a === c) points.add(a)
    else if (a === b || b === c) lines.add(a * counts.length + c)
    else {
      const key = (a * counts.length + b) * counts.length + c
      if (seen.has(key)) continue
      seen.add(key)
      faces.push(a, b, c)
      sides.add(a * counts.length + b)
      sides.add(b * counts.length + c)
      sides.add(a * counts.length + c)
      used[a] = used[b] = used[c] = 1
    }
  }
  for (const line of lines) {
    if (sides.has(line)) continue
    const [a, c] = [Math.floor(line / counts.length), line % counts.length]
    faces.push(a, c, c)
    used[a] = used[c] = 1
  }
  for (const point of points) if (used[point] === 0) faces.push(point, point, point)
  return { mesh: { positions: middles, corners: Uint32Array.from(faces) }, off }
}
