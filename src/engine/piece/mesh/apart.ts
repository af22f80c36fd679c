import { buildBoxTree } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'
import { moved, type Transform } from './transform.ts'
import { apartSquared, wayFrom } from './triangle-pairs.ts'

const FANOUT = 4

/** Numbers kept for each node. */
const SIZE = 8

/**
 * A mesh with a ball and a slab round every node of its tree: the slab is square to the node's mean outward
 * way, and as thin as its triangles are flat. Both turn with the mesh, so two meshes can be held against one
 * another in any positions without building anything anew. Along a way that makes an angle with the slab's,
 * what is in both reaches no further than half the slab times the cosine and the radius times the sine.
 */
export type BallTree = {
  mesh: TriangleMesh
  order: Uint32Array
  levels: number[]
  sizes: number[]
  /** middle, radius, slab's way and half the slab of each node, level by level as in the tree of boxes */
  nodes: Float64Array
}

export function buildBallTree(mesh: TriangleMesh): BallTree {
  const { positions, corners } = mesh
  const { order, boxes, levels, sizes } = buildBoxTree(mesh)
  const count = boxes.length / 6
  const nodes = new Float64Array(count * SIZE)
  for (let n = 0; n < count; n++)
    for (let axis = 0; axis < 3; axis++)
      nodes[n * SIZE + axis] = (boxes[n * 6 + axis]! + boxes[n * 6 + 3 + axis]!) / 2
  for (let i = 0; i < order.length; i++) {
    const t = order[i]! * 3
    const [a, b, c] = [corners[t]! * 3, corners[t + 1]! * 3, corners[t + 2]! * 3]
    const ux = positions[b]! - positions[a]!
    const uy = positions[b + 1]! - positions[a + 1]!
    const uz = positions[b + 2]! - positions[a + 2]!
    const vx = positions[c]! - positions[a]!
    const vy = positions[c + 1]! - positions[a + 1]!
    const vz = positions[c + 2]! - positions[a + 2]!
    let within = i
    for (let level = 0; level < sizes.length; level++) {
      const at = (levels[level]! + within) * SIZE
      nodes[at + 4]! += uy * vz - uz * vy
      nodes[at + 5]! += uz * vx - ux * vz
      nodes[at + 6]! += ux * vy - uy * vx
      within = Math.floor(within / FANOUT)
    }
  }
  for (let at = 0; at < nodes.length; at += SIZE) {
    const size = Math.hypot(nodes[at + 4]!, nodes[at + 5]!, nodes[at + 6]!)
    if (size > 0) for (let axis = 4; axis < 7; axis++) nodes[at + axis]! /= size
    else nodes[at + 6] = 1
  }
  for (let i = 0; i < order.length; i++) {
    let within = i
    for (let level = 0; level < sizes.length; level++) {
      const at = (levels[level]! + within) * SIZE
      for (let k = 0; k < 3; k++) {
        const p = corners[order[i]! * 3 + k]! * 3
        const dx = positions[p]! - nodes[at]!
        const dy = positions[p + 1]! - nodes[at + 1]!
        const dz = positions[p + 2]! - nodes[at + 2]!
        const far = dx * dx + dy * dy + dz * dz
        if (far > nodes[at + 3]!) nodes[at + 3] = far
        const along = Math.abs(dx * nodes[at + 4]! + dy * nodes[at + 5]! + dz * nodes[at + 6]!)
        if (along > nodes[at + 7]!) nodes[at + 7] = along
      }
      within = Math.floor(within / FANOUT)
    }
  }
  // A hair more, so that rounding never makes a ball or a slab smaller than what it holds.
  for (let at = 0; at < nodes.length; at += SIZE) {
    const radius = Math.sqrt(nodes[at + 3]!) * (1 + 1e-12)
    nodes[at + 3] = radius
    nodes[at + 7] = nodes[at + 7]! + 1e-12 * radius
  }
  return { mesh, order, levels, sizes, nodes }
}

/** The ball round the whole mesh. */
export function ballRound({ nodes }: BallTree): { centre: [number, number, number]; radius: number } {
  const at = nodes.length - SIZE
  return { centre: [nodes[at]!, nodes[at + 1]!, nodes[at + 2]!], radius: nodes[at + 3]! }
}

/**
 * Whether the whole surface, moved, lies in the upright cylinder of that radius about the z axis between two
 * heights, mm. Both are convex, so corners decide; a node that lies within as a ball is not opened.
 */
export function liesWithin(
  { mesh, order, nodes, levels, sizes }: BallTree,
  motion: Transform,
  reach: number,
  low: number,
  high: number,
): boolean {
  if (!(reach >= 0 && high >= low)) return false
  const stack: number[] = [sizes.length - 1, 0]
  const inside = (x: number, y: number, z: number, radius: number): boolean =>
    radius <= reach &&
    z - radius >= low &&
    z + radius <= high &&
    x * x + y * y <= (reach - radius) * (reach - radius)
  while (stack.length > 0) {
    const n = stack.pop()!
    const level = stack.pop()!
    const at = (levels[level]! + n) * SIZE
    const [x, y, z] = moved(motion, nodes[at]!, nodes[at + 1]!, nodes[at + 2]!)
    if (inside(x, y, z, nodes[at + 3]!)) continue
    if (level > 0) {
      const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
      for (let child = n * FANOUT; child < last; child++) stack.push(level - 1, child)
      continue
    }
    for (let k = 0; k < 3; k++) {
      const corner = mesh.corners[order[n]! * 3 + k]! * 3
      const [cx, cy, cz] = moved(
        motion,
        mesh.positions[corner]!,
        mesh.positions[corner + 1]!,
        mesh.positions[corner + 2]!,
      )
      if (!inside(cx, cy, cz, 0)) return false
    }
  }
  return true
}

/** How far the node at `at` reaches from its middle along a way whose cosine with the slab's is given. */
function reachOf(nodes: Float64Array, at: number, cosine: number): number {
  const radius = nodes[at + 3]!
  const c = cosine < 0 ? -cosine : cosine
  const reach = c * nodes[at + 7]! + radius * Math.sqrt(c < 1 ? 1 - c * c : 0)
  return reach < radius ? reach : radius
}

/**
 * Scratch that every question uses anew, as making it costs more than most answers. A question opens one node
 * at a time into four, so it never waits with more than three for each level of both trees.
 */
const WAITING = 512
const waiting = new Int32Array(WAITING * 4)
const waitingBounds = new Float64Array(WAITING)
const first = new Float64Array(9)
const second = new Float64Array(9)
const way = new Float64Array(3)

/**
 * The least distance between two surfaces, mm; 0 where they meet. One wholly inside the other counts as apart.
 * @param motion takes the second mesh's coordinates to the first's; it must be rigid
 * @param within distances at or above it are of no interest, and it is what comes back for them
 * @param enough the search may stop at the first distance below this
 * @param pair filled with the two triangles that are nearest, where any came within
 */
export function distanceApart(
  a: BallTree,
  b: BallTree,
  motion: Transform,
  within = Infinity,
  enough = 0,
  pair?: Int32Array,
): number {
  if (a.order.length === 0 || b.order.length === 0) return within
  let best = within
  waiting[0] = a.sizes.length - 1
  waiting[1] = 0
  waiting[2] = b.sizes.length - 1
  waiting[3] = 0
  waitingBounds[0] = boundOf(a, a.sizes.length - 1, 0, b, b.sizes.length - 1, 0, motion)
  let count = 1
  let heldFirst = -1
  let heldSecond = -1
  while (count > 0) {
    count--
    if (waitingBounds[count]! >= best) continue
    const la = waiting[count * 4]!
    const na = waiting[count * 4 + 1]!
    const lb = waiting[count * 4 + 2]!
    const nb = waiting[count * 4 + 3]!
    if (la === 0 && na !== heldFirst) {
      takeTriangle(a, na, first)
      heldFirst = na
    }
    if (lb === 0 && nb !== heldSecond) {
      takeTriangle(b, nb, second)
      moveTriangle(second, motion)
      heldSecond = nb
    }
    if (la === 0 && lb === 0) {
      const apart = Math.sqrt(apartSquared(first, second, best))
      if (apart < best) {
        best = apart
        if (pair !== undefined) {
          pair[0] = a.order[na]!
          pair[1] = b.order[nb]!
        }
        if (best < enough || best === 0) return best
      }
      continue
    }
    const radiusA = a.nodes[(a.levels[la]! + na) * SIZE + 3]!
    const radiusB = b.nodes[(b.levels[lb]! + nb) * SIZE + 3]!
    const openFirst = lb === 0 || (la > 0 && radiusA >= radiusB)
    const level = openFirst ? la - 1 : lb - 1
    const node = openFirst ? na : nb
    const last = Math.min((node + 1) * FANOUT, openFirst ? a.sizes[level]! : b.sizes[level]!)
    const start = count
    for (let child = node * FANOUT; child < last; child++) {
      const next = openFirst
        ? lb === 0
          ? fromSecondTriangle(a, level, child)
          : boundOf(a, level, child, b, lb, nb, motion)
        : la === 0
          ? fromFirstTriangle(b, level, child, motion)
          : boundOf(a, la, na, b, level, child, motion)
      if (next >= best) continue
      // farthest first, so that the nearest is taken next
      let to = count++
      for (; to > start && waitingBounds[to - 1]! < next; to--) {
        waitingBounds[to] = waitingBounds[to - 1]!
        for (let k = to * 4; k < to * 4 + 4; k++) waiting[k] = waiting[k - 4]!
      }
      waitingBounds[to] = next
      waiting[to * 4] = openFirst ? level : la
      waiting[to * 4 + 1] = openFirst ? child : na
      waiting[to * 4 + 2] = openFirst ? lb : level
      waiting[to * 4 + 3] = openFirst ? nb : child
    }
  }
  return best
}

/**
 * The least distance between a surface and a straight line from one point to another, in the mesh's coordinates.
 * @param pair its first number becomes the triangle that is nearest
 */
export function distanceToLine(
  a: BallTree,
  from: readonly number[],
  to: readonly number[],
  within = Infinity,
  enough = 0,
  pair?: Int32Array,
): number {
  const { nodes, levels, sizes } = a
  if (a.order.length === 0) return within
  const [px, py, pz] = from as [number, number, number]
  const ux = to[0]! - px
  const uy = to[1]! - py
  const uz = to[2]! - pz
  const uu = ux * ux + uy * uy + uz * uz
  const bound = (level: number, n: number): number => {
    const at = (levels[level]! + n) * SIZE
    const wx = nodes[at]! - px
    const wy = nodes[at + 1]! - py
    const wz = nodes[at + 2]! - pz
    const k = uu > 0 ? Math.min(1, Math.max(0, (ux * wx + uy * wy + uz * wz) / uu)) : 0
    const dx = wx - k * ux
    const dy = wy - k * uy
    const dz = wz - k * uz
    const far = Math.sqrt(dx * dx + dy * dy + dz * dz)
    if (far === 0) return -nodes[at + 3]!
    // the whole line lies behind the plane through its nearest point, square to the way to the node
    return far - reachOf(nodes, at, (dx * nodes[at + 4]! + dy * nodes[at + 5]! + dz * nodes[at + 6]!) / far)
  }
  let best = within
  second[0] = px
  second[1] = py
  second[2] = pz
  second[3] = second[6] = to[0]!
  second[4] = second[7] = to[1]!
  second[5] = second[8] = to[2]!
  waiting[0] = sizes.length - 1
  waiting[1] = 0
  waitingBounds[0] = bound(sizes.length - 1, 0)
  let count = 1
  while (count > 0) {
    count--
    if (waitingBounds[count]! >= best) continue
    const level = waiting[count * 4]!
    const n = waiting[count * 4 + 1]!
    if (level === 0) {
      takeTriangle(a, n, first)
      const apart = Math.sqrt(apartSquared(first, second, best))
      if (apart < best) {
        best = apart
        if (pair !== undefined) pair[0] = a.order[n]!
        if (best < enough || best === 0) return best
      }
      continue
    }
    const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
    const start = count
    for (let child = n * FANOUT; child < last; child++) {
      const next = bound(level - 1, child)
      if (next >= best) continue
      let at = count++
      for (; at > start && waitingBounds[at - 1]! < next; at--) {
        waitingBounds[at] = waitingBounds[at - 1]!
        waiting[at * 4] = waiting[at * 4 - 4]!
        waiting[at * 4 + 1] = waiting[at * 4 - 3]!
      }
      waitingBounds[at] = next
      waiting[at * 4] = level - 1
      waiting[at * 4 + 1] = child
    }
  }
  return best
}

function boundOf(
  a: BallTree,
  la: number,
  na: number,
  b: BallTree,
  lb: number,
  nb: number,
  m: Transform,
): number {
  const p = (a.levels[la]! + na) * SIZE
  const q = (b.levels[lb]! + nb) * SIZE
  const first = a.nodes
  const second = b.nodes
  const x = second[q]!
  const y = second[q + 1]!
  const z = second[q + 2]!
  const dx = m[0]! * x + m[3]! * y + m[6]! * z + m[9]! - first[p]!
  const dy = m[1]! * x + m[4]! * y + m[7]! * z + m[10]! - first[p + 1]!
  const dz = m[2]! * x + m[5]! * y + m[8]! * z + m[11]! - first[p + 2]!
  const far = Math.sqrt(dx * dx + dy * dy + dz * dz)
  if (far === 0) return -first[p + 3]! - second[q + 3]!
  // the way between the two middles, in the second mesh's own frame
  const bx = m[0]! * dx + m[1]! * dy + m[2]! * dz
  const by = m[3]! * dx + m[4]! * dy + m[5]! * dz
  const bz = m[6]! * dx + m[7]! * dy + m[8]! * dz
  return (
    far -
    reachOf(first, p, (dx * first[p + 4]! + dy * first[p + 5]! + dz * first[p + 6]!) / far) -
    reachOf(second, q, (bx * second[q + 4]! + by * second[q + 5]! + bz * second[q + 6]!) / far)
  )
}

/** From `way`'s foot on a triangle or line to a node: all of it lies behind the plane there, square to the way. */
function behindFoot(nodes: Float64Array, at: number, squared: number, along: number): number {
  const far = Math.sqrt(squared)
  return far === 0 ? -nodes[at + 3]! : far * (1 - 1e-12) - reachOf(nodes, at, along / far)
}

/** What a node of the first mesh is at least away from the triangle of the second that is held. */
function fromSecondTriangle({ nodes, levels }: BallTree, level: number, n: number): number {
  const at = (levels[level]! + n) * SIZE
  const squared = wayFrom(second, nodes[at]!, nodes[at + 1]!, nodes[at + 2]!, way)
  const along = way[0]! * nodes[at + 4]! + way[1]! * nodes[at + 5]! + way[2]! * nodes[at + 6]!
  return behindFoot(nodes, at, squared, along)
}

/** What a node of the second mesh is at least away from the triangle of the first that is held. */
function fromFirstTriangle({ nodes, levels }: BallTree, level: number, n: number, m: Transform): number {
  const at = (levels[level]! + n) * SIZE
  const x = nodes[at]!
  const y = nodes[at + 1]!
  const z = nodes[at + 2]!
  const squared = wayFrom(
    first,
    m[0]! * x + m[3]! * y + m[6]! * z + m[9]!,
    m[1]! * x + m[4]! * y + m[7]! * z + m[10]!,
    m[2]! * x + m[5]! * y + m[8]! * z + m[11]!,
    way,
  )
  const [dx, dy, dz] = [way[0]!, way[1]!, way[2]!]
  return behindFoot(
    nodes,
    at,
    squared,
    (m[0]! * dx + m[1]! * dy + m[2]! * dz) * nodes[at + 4]! +
      (m[3]! * dx + m[4]! * dy + m[5]! * dz) * nodes[at + 5]! +
      (m[6]! * dx + m[7]! * dy + m[8]! * dz) * nodes[at + 6]!,
  )
}

function takeTriangle({ mesh, order }: BallTree, n: number, into: Float64Array): void {
  for (let k = 0; k < 3; k++) {
    const at = mesh.corners[order[n]! * 3 + k]! * 3
    into[k * 3] = mesh.positions[at]!
    into[k * 3 + 1] = mesh.positions[at + 1]!
    into[k * 3 + 2] = mesh.positions[at + 2]!
  }
}

function moveTriangle(corners: Float64Array, motion: Transform): void {
  for (let k = 0; k < 9; k += 3) {
    const [x, y, z] = moved(motion, corners[k]!, corners[k + 1]!, corners[k + 2]!)
    corners[k] = x
    corners[k + 1] = y
    corners[k + 2] = z
  }
}
