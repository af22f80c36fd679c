import { type BoxTree, visitMeetingPairs } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'
import type { Point } from './problems.ts'

export type Crossings = {
  /** Pairs of triangles of one shell that pass through each other. */
  selfPairs: number
  /** Length of the lines along which they cross, added up. */
  selfLength: number
  selfAt: Point | null
  /** Shells of which some triangle passes through one of the same shell. */
  selfShells: Set<number>
  /** Pairs of shells that pass through each other, as `a * shells + b` with a < b. */
  shellPairs: Map<number, Point>
  /** Whether the search came to its end; if not, the counts are at least so many. */
  complete: boolean
}

/**
 * Most box comparisons spent on one model; about 10 s of work at the very worst, and some fifteen times
 * what a smooth million-triangle part needs.
 */
const CROSSING_BUDGET = 600_000_000
const ENOUGH_PAIRS = 2_000

/**
 * Finds triangles that pass through one another. Two triangles cross where each has corners on both sides
 * of the other's plane and the stretches that they take up on the planes' common line overlap. Touching,
 * lying in one plane and sharing an edge are not crossing; slivers get the benefit of the doubt, since
 * rounding turns their planes.
 * @param rough how far rounding may have moved a corner, in the unit of the positions
 * @param shallow crossings less deep or long than this are of no account: they move the volume by less than rounding
 */
export function findCrossings(
  mesh: TriangleMesh,
  tree: BoxTree,
  shellOf: Int32Array,
  shellCount: number,
  rough: number,
  shallow: number,
  budget = CROSSING_BUDGET,
): Crossings {
  const { positions, corners } = mesh
  const found: Crossings = {
    selfPairs: 0,
    selfLength: 0,
    selfAt: null,
    selfShells: new Set(),
    shellPairs: new Map(),
    complete: true,
  }
  const meet = new TrianglePair(positions, corners, rough, shallow)
  let enough = false
  const ended = visitMeetingPairs(tree, budget, (a, b) => {
    const s = shellOf[a]!
    const t = shellOf[b]!
    const key = s < t ? s * shellCount + t : t * shellCount + s
    if (s !== t && found.shellPairs.has(key)) return true
    if (!meet.cross(a * 3, b * 3)) return true
    if (s === t) {
      found.selfPairs++
      found.selfLength += meet.length
      found.selfAt ??= meet.place()
      found.selfShells.add(s)
      if (found.selfPairs >= ENOUGH_PAIRS) enough = true
    } else found.shellPairs.set(key, meet.place())
    return !enough
  })
  found.complete = ended && !enough
  return found
}

class TrianglePair {
  private readonly positions: Float64Array
  private readonly corners: Uint32Array
  private readonly rough: number
  private readonly shallow: number
  private readonly normal = new Float64Array(6)
  private readonly span = new Float64Array(4)
  private readonly where = new Float64Array(3)
  /** How long the line is along which the last two found crossing do so. */
  length = 0

  constructor(positions: Float64Array, corners: Uint32Array, rough: number, shallow: number) {
    this.positions = positions
    this.corners = corners
    this.rough = rough
    this.shallow = shallow
  }

  place(): Point {
    return [this.where[0]!, this.where[1]!, this.where[2]!]
  }

  /** Whether the triangles whose corners start at entries `s` and `t` pass through each other. */
  cross(s: number, t: number): boolean {
    const { corners, normal, span, rough, shallow } = this
    let shared = 0
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) if (corners[s + i] === corners[t + j]) shared++
    if (shared >= 2) return false
    const heightS = this.plane(s, 0)
    const heightT = this.plane(t, 3)
    if (heightS <= rough * 4 || heightT <= rough * 4) return false
    const dx = normal[1]! * normal[5]! - normal[2]! * normal[4]!
    const dy = normal[2]! * normal[3]! - normal[0]! * normal[5]!
    const dz = normal[0]! * normal[4]! - normal[1]! * normal[3]!
    const slant = Math.sqrt(dx * dx + dy * dy + dz * dz)
    if (slant < 1e-9) return false
    if (!this.stretch(s, t, 3, heightT, dx, dy, dz, 0)) return false
    if (!this.stretch(t, s, 0, heightS, dx, dy, dz, 2)) return false
    const from = Math.max(span[0]!, span[2]!)
    const to = Math.min(span[1]!, span[3]!)
    // The stretch is measured along a direction of length `slant`.
    if (to - from <= Math.max(8 * rough, shallow * slant)) return false
    this.length = (to - from) / slant
    this.findPlace(s, t)
    return true
  }

  /** Unit normal into `normal[at..]`; returns the least height, which says how far rounding can tilt it. */
  private plane(s: number, at: number): number {
    const { positions, corners, normal } = this
    const a = corners[s]! * 3
    const b = corners[s + 1]! * 3
    const c = corners[s + 2]! * 3
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
    if (!(size > 0)) return 0
    normal[at] = nx / size
    normal[at + 1] = ny / size
    normal[at + 2] = nz / size
    const wx = vx - ux
    const wy = vy - uy
    const wz = vz - uz
    const longest = Math.max(
      ux * ux + uy * uy + uz * uz,
      vx * vx + vy * vy + vz * vz,
      wx * wx + wy * wy + wz * wz,
    )
    return size / Math.sqrt(longest)
  }

  /** Where triangle `s` meets the plane of `t`, measured along the planes' common line; false if not on both sides. */
  private stretch(
    s: number,
    t: number,
    plane: number,
    height: number,
    dx: number,
    dy: number,
    dz: number,
    into: number,
  ): boolean {
    const { positions, corners, normal, span, rough, shallow } = this
    const o = corners[t]! * 3
    const ox = positions[o]!
    const oy = positions[o + 1]!
    const oz = positions[o + 2]!
    let over = false
    let under = false
    let min = Infinity
    let max = -Infinity
    let lastD = 0
    let lastL = 0
    for (let k = 0; k <= 3; k++) {
      const at = corners[s + (k % 3)]! * 3
      const x = positions[at]! - ox
      const y = positions[at + 1]! - oy
      const z = positions[at + 2]! - oz
      let d = normal[plane]! * x + normal[plane + 1]! * y + normal[plane + 2]! * z
      // Far corners are doubted more: a low triangle's plane may be tilted by rough / height.
      const doubt = Math.max(shallow, rough * (1 + Math.sqrt(x * x + y * y + z * z) / height))
      if (d < doubt && d > -doubt) d = 0
      const l = dx * x + dy * y + dz * z
      if (d > 0) over = true
      else if (d < 0) under = true
      else {
        if (l < min) min = l
        if (l > max) max = l
      }
      if (k > 0 && ((d > 0 && lastD < 0) || (d < 0 && lastD > 0))) {
        const cut = lastL + ((l - lastL) * lastD) / (lastD - d)
        if (cut < min) min = cut
        if (cut > max) max = cut
      }
      lastD = d
      lastL = l
    }
    if (!over || !under) return false
    // Both stretches are measured from the origin, not each from its own partner.
    const shift = dx * ox + dy * oy + dz * oz
    span[into] = min + shift
    span[into + 1] = max + shift
    return true
  }

  private findPlace(s: number, t: number): void {
    const { positions, corners, where } = this
    for (let axis = 0; axis < 3; axis++) {
      let sum = 0
      for (let k = 0; k < 3; k++)
        sum += positions[corners[s + k]! * 3 + axis]! + positions[corners[t + k]! * 3 + axis]!
      where[axis] = sum / 6
    }
  }
}
