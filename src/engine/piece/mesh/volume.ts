import type { TriangleMesh } from './model-reading.ts'
import type { Point } from './problems.ts'

const BLOCK = 256

/**
 * Volume enclosed by a closed, outward-facing set of triangles: the sum of signed tetrahedra.
 * They are taken about the first corner, which lies on the part itself, so that a part far from the
 * origin loses no digits; sums run in blocks, and the blocks are added with Neumaier's correction.
 * @returns cubic units of the positions; below zero where the surface faces inward; without meaning if open
 * Source: divergence theorem; checks G1 to G16.
 */
export function volumeOf({ positions, corners }: TriangleMesh): number {
  if (corners.length === 0) return 0
  const o = corners[0]! * 3
  const ox = positions[o]!
  const oy = positions[o + 1]!
  const oz = positions[o + 2]!
  let sum = 0
  let lost = 0
  for (let from = 0; from < corners.length; from += BLOCK * 3) {
    const to = Math.min(from + BLOCK * 3, corners.length)
    let block = 0
    for (let i = from; i < to; i += 3) {
      const a = corners[i]! * 3
      const b = corners[i + 1]! * 3
      const c = corners[i + 2]! * 3
      const ax = positions[a]! - ox
      const ay = positions[a + 1]! - oy
      const az = positions[a + 2]! - oz
      const bx = positions[b]! - ox
      const by = positions[b + 1]! - oy
      const bz = positions[b + 2]! - oz
      const cx = positions[c]! - ox
      const cy = positions[c + 1]! - oy
      const cz = positions[c + 2]! - oz
      block += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    }
    const next = sum + block
    lost += Math.abs(sum) >= Math.abs(block) ? sum - next + block : block - next + sum
    sum = next
  }
  return (sum + lost) / 6
}

/** Area of all triangles, in square units of the positions. */
export function areaOf({ positions, corners }: TriangleMesh): number {
  let sum = 0
  let lost = 0
  for (let from = 0; from < corners.length; from += BLOCK * 3) {
    const to = Math.min(from + BLOCK * 3, corners.length)
    let block = 0
    for (let i = from; i < to; i += 3) block += triangleArea(positions, corners, i)
    const next = sum + block
    lost += sum >= block ? sum - next + block : block - next + sum
    sum = next
  }
  return sum + lost
}

/** Area of the triangle whose corners start at entry `i` of the list. */
export function triangleArea(positions: Float64Array, corners: Uint32Array, i: number): number {
  const a = corners[i]! * 3
  const b = corners[i + 1]! * 3
  const c = corners[i + 2]! * 3
  const ux = positions[b]! - positions[a]!
  const uy = positions[b + 1]! - positions[a + 1]!
  const uz = positions[b + 2]! - positions[a + 2]!
  const vx = positions[c]! - positions[a]!
  const vy = positions[c + 1]! - positions[a + 1]!
  const vz = positions[c + 2]! - positions[a + 2]!
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  return 0.5 * Math.sqrt(nx * nx + ny * ny + nz * nz)
}

export type Bounds = { min: [number, number, number]; max: [number, number, number] }

/** The box, along the axes, round every point that a triangle uses; null without triangles. */
export function boundsOf({ positions, corners }: TriangleMesh): Bounds | null {
  if (corners.length === 0) return null
  const min: [number, number, number] = [Infinity, Infinity, Infinity]
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < corners.length; i++) {
    const at = corners[i]! * 3
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[at + axis]!
      if (value < min[axis]!) min[axis] = value
      if (value > max[axis]!) max[axis] = value
    }
  }
  return { min, max }
}

/** Centre of mass of the enclosed metal, taken about the first corner as the volume is; null without volume. */
export function centroidOf({ positions, corners }: TriangleMesh): Point | null {
  if (corners.length === 0) return null
  const o = corners[0]! * 3
  const origin = [positions[o]!, positions[o + 1]!, positions[o + 2]!]
  const moment = [0, 0, 0]
  let sixfold = 0
  const p = [0, 0, 0, 0, 0, 0, 0, 0, 0]
  for (let i = 0; i < corners.length; i += 3) {
    for (let k = 0; k < 9; k++)
      p[k] = positions[corners[i + Math.floor(k / 3)]! * 3 + (k % 3)]! - origin[k % 3]!
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = p as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ]
    const v = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    sixfold += v
    for (let axis = 0; axis < 3; axis++) moment[axis]! += (v * (p[axis]! + p[3 + axis]! + p[6 + axis]!)) / 4
  }
  if (!(Math.abs(sixfold) > 0)) return null
  return [
    origin[0]! + moment[0]! / sixfold,
    origin[1]! + moment[1]! / sixfold,
    origin[2]! + moment[2]! / sixfold,
  ]
}
