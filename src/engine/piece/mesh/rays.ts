import { type BoxTree, visitAlongRay } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'
import type { Point } from './problems.ts'
import { triangleArea } from './volume.ts'

/** What one ray from just under the surface, going inward, says. */
export type Probe = {
  triangle: number
  at: Point
  /** How far the ray went before it left the metal; null where it never did. */
  depth: number | null
  /** How often the surface encloses the points just inside and just outside: 1 and 0 in a sound solid. */
  inside: number
  outside: number
}

/** A sequence that fills a triangle evenly and falls on no line that regular parts have, by steps of powers of the plastic ratio. */
function placeIn(ordinal: number): [number, number, number] {
  const u = (0.4142 + ordinal * 0.7548776662466927) % 1
  const v = (0.3187 + ordinal * 0.5698402909980532) % 1
  const [b, c] = u + v > 1 ? [1 - u, 1 - v] : [u, v]
  return [1 - b - c, b, c]
}
const TRIES = 3

/**
 * Sends rays inward from triangles spread evenly over the surface area, always the same ones for the same mesh.
 * A ray that grazes an edge says nothing sure and is sent again from another place of its triangle; one that
 * grazes three times is left out.
 */
export function probeInward(mesh: TriangleMesh, tree: BoxTree, count: number, rough: number): Probe[] {
  const { positions, corners } = mesh
  const triangles = corners.length / 3
  let total = 0
  for (let t = 0; t < triangles; t++) total += triangleArea(positions, corners, t * 3)
  const probes: Probe[] = []
  let sum = 0
  let sent = 0
  for (let t = 0; t < triangles && sent < count; t++) {
    sum += triangleArea(positions, corners, t * 3)
    for (; sent < count && sum >= ((sent + 0.5) / count) * total; sent++)
      for (let k = 0; k < TRIES; k++) {
        const probe = probeFrom(mesh, tree, t, placeIn(sent * TRIES + k), rough)
        if (probe) {
          probes.push(probe)
          break
        }
      }
  }
  return probes
}

function probeFrom(
  mesh: TriangleMesh,
  tree: BoxTree,
  triangle: number,
  start: readonly number[],
  rough: number,
): Probe | null {
  const { positions, corners } = mesh
  const at = [0, 0, 0]
  const p: number[] = []
  for (let k = 0; k < 3; k++)
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[corners[triangle * 3 + k]! * 3 + axis]!
      p.push(value)
      at[axis]! += start[k]! * value
    }
  const u = [p[3]! - p[0]!, p[4]! - p[1]!, p[5]! - p[2]!]
  const v = [p[6]! - p[0]!, p[7]! - p[1]!, p[8]! - p[2]!]
  const n = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!]
  const size = Math.hypot(...n)
  if (!(size > 0)) return null
  const direction = n.map((x) => -x / size)
  const hits = castRay(mesh, tree, at, direction, rough)
  if (!hits) return null
  // Hits at the surface itself are the triangle's own, and any that lies flush with it.
  let flush = 0
  let beyond = 0
  let depth: number | null = null
  for (const hit of hits) {
    if (Math.abs(hit.distance) <= 16 * rough) flush += hit.way
    else if (hit.distance > 0) {
      beyond += hit.way
      if (hit.way > 0 && (depth === null || hit.distance < depth)) depth = hit.distance
    }
  }
  return { triangle, at: at as unknown as Point, depth, inside: beyond, outside: beyond + flush }
}

/** A surface that rays are cast at. @property rough  what rounding may move its corners by, mm */
export interface Shape {
  readonly mesh: TriangleMesh
  readonly tree: BoxTree
  readonly rough: number
}

export type Hit = { distance: number; triangle: number; way: 1 | -1 }

/**
 * Every triangle that a ray from `origin` passes, including those at the origin itself.
 * `way` is 1 where it leaves the metal, -1 where it enters.
 * @param far what lies farther is neither told nor doubted; `direction` is then a unit vector
 * @returns null where it passes so near an edge that a hit might be counted twice or not at all
 */
export function castRay(
  { positions, corners }: TriangleMesh,
  tree: BoxTree,
  origin: readonly number[],
  direction: readonly number[],
  rough: number,
  far = Infinity,
): Hit[] | null {
  const hits: Hit[] = []
  let doubtful = false
  const [ox, oy, oz] = origin as [number, number, number]
  const [dx, dy, dz] = direction as [number, number, number]
  // Started a little behind, so that the surface at the origin is always among the boxes visited.
  const back = 32 * rough
  const visit = (triangle: number): void => {
    if (doubtful) return
    const a = corners[triangle * 3]! * 3
    const b = corners[triangle * 3 + 1]! * 3
    const c = corners[triangle * 3 + 2]! * 3
    const ux = positions[b]! - positions[a]!
    const uy = positions[b + 1]! - positions[a + 1]!
    const uz = positions[b + 2]! - positions[a + 2]!
    const vx = positions[c]! - positions[a]!
    const vy = positions[c + 1]! - positions[a + 1]!
    const vz = positions[c + 2]! - positions[a + 2]!
    const nx = uy * vz - uz * vy
    const ny = uz * vx - ux * vz
    const nz = ux * vy - uy * vx
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz)
    if (!(size > 0)) return
    const slope = (nx * dx + ny * dy + nz * dz) / size
    const wx = ox - positions[a]!
    const wy = oy - positions[a + 1]!
    const wz = oz - positions[a + 2]!
    const height = (nx * wx + ny * wy + nz * wz) / size
    if (Math.abs(slope) < 1e-7) {
      // Running along the triangle: only one that truly lies in it is in doubt.
      if (Math.abs(height) <= rough && runsInto(positions, a, b, c, origin, direction, rough)) doubtful = true
      return
    }
    const distance = -height / slope
    if (distance < -back || distance > far) return
    // Barycentric coordinates of the hit, from the offset q = d x w.
    const qx = dy * wz - dz * wy
    const qy = dz * wx - dx * wz
    const qz = dx * wy - dy * wx
    const det = slope * size
    const e = (vx * qx + vy * qy + vz * qz) / det
    const f = -(ux * qx + uy * qy + uz * qz) / det
    const g = 1 - e - f
    // How near an edge is too near: rounding of corners, seen against the triangle's least height.
    const longest = Math.sqrt(
      Math.max(
        ux * ux + uy * uy + uz * uz,
        vx * vx + vy * vy + vz * vz,
        (vx - ux) ** 2 + (vy - uy) ** 2 + (vz - uz) ** 2,
      ),
    )
    const margin = Math.min(0.4, (rough * longest) / (size * Math.abs(slope)) + 1e-10)
    if (e < -margin || f < -margin || g < -margin) return
    if (e < margin || f < margin || g < margin) {
      doubtful = true
      return
    }
    hits.push({ distance, triangle, way: slope > 0 ? 1 : -1 })
  }
  visitAlongRay(tree, [ox - dx * back, oy - dy * back, oz - dz * back], direction, visit, far + back)
  return doubtful ? null : hits
}

function runsInto(
  positions: Float64Array,
  a: number,
  b: number,
  c: number,
  origin: readonly number[],
  direction: readonly number[],
  rough: number,
): boolean {
  // The ray lies in the triangle's plane; it misses if all corners are on one side of it or behind.
  let ahead = false
  const side: number[][] = []
  for (const at of [a, b, c]) {
    const w = [0, 1, 2].map((k) => positions[at + k]! - origin[k]!)
    const along = w.reduce((sum, value, k) => sum + value * direction[k]!, 0)
    if (along > 0) ahead = true
    side.push(w.map((value, k) => value - along * direction[k]!))
  }
  if (!ahead) return false
  for (let i = 0; i < 3; i++) {
    const s = side[i]!
    const t = side[(i + 1) % 3]!
    if (s[0]! * t[0]! + s[1]! * t[1]! + s[2]! * t[2]! <= rough * rough) return true
  }
  return false
}

/** Three directions that no modeller's grid shares. */
const STRAY = [
  [0.5257, 0.3011, 0.7956],
  [-0.6131, 0.7411, 0.2737],
  [0.2689, -0.5717, 0.7751],
] as const

/**
 * How often each shell encloses a point: +1 within an outward shell, -1 within an inward one.
 * @returns windings of the shells where it is not 0, and the shells on whose surface the point lies (whose
 * winding says nothing); null where no ray gave a sure answer
 */
export function windingsAt(
  mesh: TriangleMesh,
  tree: BoxTree,
  shellOf: Int32Array,
  point: readonly number[],
  rough: number,
): { windings: Map<number, number>; touching: Set<number> } | null {
  for (const stray of STRAY) {
    const size = Math.hypot(...stray)
    const direction = stray.map((v) => v / size)
    const hits = castRay(mesh, tree, point, direction, rough)
    if (!hits) continue
    const windings = new Map<number, number>()
    const touching = new Set<number>()
    for (const { distance, triangle, way } of hits) {
      const shell = shellOf[triangle]!
      if (Math.abs(distance) <= 16 * rough) touching.add(shell)
      else if (distance > 0) {
        const next = (windings.get(shell) ?? 0) + way
        if (next === 0) windings.delete(shell)
        else windings.set(shell, next)
      }
    }
    return { windings, touching }
  }
  return null
}
