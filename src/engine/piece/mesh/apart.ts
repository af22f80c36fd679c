import { buildBoxTree } from './box-tree.ts'
import type { TriangleMesh } from './model-reading.ts'
import { moved, type Transform } from './transform.ts'
import { apartSquared } from './triangle-pairs.ts'

const FANOUT = 4

/**
 * A mesh with a ball round every node of its tree. Balls stay balls however the mesh is turned, so two meshes
 * can be held against one another in any positions without building anything anew.
 */
export type BallTree = {
  mesh: TriangleMesh
  order: Uint32Array
  levels: number[]
  sizes: number[]
  /** x, y, z, radius of each node, level by level as in the tree of boxes */
  balls: Float64Array
}

export function buildBallTree(mesh: TriangleMesh): BallTree {
  const { positions, corners } = mesh
  const { order, boxes, levels, sizes } = buildBoxTree(mesh)
  const nodes = boxes.length / 6
  const balls = new Float64Array(nodes * 4)
  for (let n = 0; n < nodes; n++)
    for (let axis = 0; axis < 3; axis++)
      balls[n * 4 + axis] = (boxes[n * 6 + axis]! + boxes[n * 6 + 3 + axis]!) / 2
  for (let i = 0; i < order.length; i++) {
    let within = i
    for (let level = 0; level < sizes.length; level++) {
      const at = (levels[level]! + within) * 4
      for (let k = 0; k < 3; k++) {
        const p = corners[order[i]! * 3 + k]! * 3
        const dx = positions[p]! - balls[at]!
        const dy = positions[p + 1]! - balls[at + 1]!
        const dz = positions[p + 2]! - balls[at + 2]!
        const far = dx * dx + dy * dy + dz * dz
        if (far > balls[at + 3]!) balls[at + 3] = far
      }
      within = Math.floor(within / FANOUT)
    }
  }
  // A hair more, so that rounding never makes a ball smaller than what it holds.
  for (let n = 0; n < nodes; n++) balls[n * 4 + 3] = Math.sqrt(balls[n * 4 + 3]!) * (1 + 1e-12)
  return { mesh, order, levels, sizes, balls }
}

/** The ball round the whole mesh. */
export function ballRound({ balls }: BallTree): { centre: [number, number, number]; radius: number } {
  const at = balls.length - 4
  return { centre: [balls[at]!, balls[at + 1]!, balls[at + 2]!], radius: balls[at + 3]! }
}

/**
 * The least distance between two surfaces, mm; 0 where they meet. One wholly inside the other counts as apart.
 * @param motion takes the second mesh's coordinates to the first's; it must be rigid
 * @param within distances at or above it are of no interest, and it is what comes back for them
 * @param enough the search may stop at the first distance below this
 */
export function distanceApart(
  a: BallTree,
  b: BallTree,
  motion: Transform,
  within = Infinity,
  enough = 0,
): number {
  if (a.order.length === 0 || b.order.length === 0) return within
  let best = within
  const first = new Float64Array(9)
  const second = new Float64Array(9)
  const stack: number[] = [
    a.sizes.length - 1,
    0,
    b.sizes.length - 1,
    0,
    boundOf(a, a.sizes.length - 1, 0, b, b.sizes.length - 1, 0, motion),
  ]
  while (stack.length > 0) {
    const bound = stack.pop()!
    const nb = stack.pop()!
    const lb = stack.pop()!
    const na = stack.pop()!
    const la = stack.pop()!
    if (bound >= best) continue
    if (la === 0 && lb === 0) {
      takeTriangle(a, na, first)
      takeTriangle(b, nb, second)
      moveTriangle(second, motion)
      const apart = Math.sqrt(apartSquared(first, second))
      if (apart < best) {
        best = apart
        if (best < enough || best === 0) return best
      }
      continue
    }
    const radiusA = a.balls[(a.levels[la]! + na) * 4 + 3]!
    const radiusB = b.balls[(b.levels[lb]! + nb) * 4 + 3]!
    const openFirst = lb === 0 || (la > 0 && radiusA >= radiusB)
    const level = openFirst ? la - 1 : lb - 1
    const node = openFirst ? na : nb
    const last = Math.min((node + 1) * FANOUT, openFirst ? a.sizes[level]! : b.sizes[level]!)
    const start = stack.length
    for (let child = node * FANOUT; child < last; child++) {
      const next = openFirst
        ? boundOf(a, level, child, b, lb, nb, motion)
        : boundOf(a, la, na, b, level, child, motion)
      if (next >= best) continue
      let to = stack.length
      stack.push(0, 0, 0, 0, 0)
      for (; to > start && stack[to - 1]! < next; to -= 5)
        for (let k = 0; k < 5; k++) stack[to + k] = stack[to - 5 + k]!
      stack[to] = openFirst ? level : la
      stack[to + 1] = openFirst ? child : na
      stack[to + 2] = openFirst ? lb : level
      stack[to + 3] = openFirst ? nb : child
      stack[to + 4] = next
    }
  }
  return best
}

/** The least distance between a surface and a straight line from one point to another, in the mesh's coordinates. */
export function distanceToLine(
  a: BallTree,
  from: readonly number[],
  to: readonly number[],
  within = Infinity,
  enough = 0,
): number {
  const { balls, levels, sizes } = a
  if (a.order.length === 0) return within
  const [px, py, pz] = from as [number, number, number]
  const ux = to[0]! - px
  const uy = to[1]! - py
  const uz = to[2]! - pz
  const uu = ux * ux + uy * uy + uz * uz
  const bound = (level: number, n: number): number => {
    const at = (levels[level]! + n) * 4
    const wx = balls[at]! - px
    const wy = balls[at + 1]! - py
    const wz = balls[at + 2]! - pz
    const k = uu > 0 ? Math.min(1, Math.max(0, (ux * wx + uy * wy + uz * wz) / uu)) : 0
    return Math.sqrt((wx - k * ux) ** 2 + (wy - k * uy) ** 2 + (wz - k * uz) ** 2) - balls[at + 3]!
  }
  let best = within
  const line = Float64Array.from([px, py, pz, to[0]!, to[1]!, to[2]!, to[0]!, to[1]!, to[2]!])
  const triangle = new Float64Array(9)
  const stack: number[] = [sizes.length - 1, 0, bound(sizes.length - 1, 0)]
  while (stack.length > 0) {
    const least = stack.pop()!
    const n = stack.pop()!
    const level = stack.pop()!
    if (least >= best) continue
    if (level === 0) {
      takeTriangle(a, n, triangle)
      const apart = Math.sqrt(apartSquared(triangle, line))
      if (apart < best) {
        best = apart
        if (best < enough || best === 0) return best
      }
      continue
    }
    const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
    const start = stack.length
    for (let child = n * FANOUT; child < last; child++) {
      const next = bound(level - 1, child)
      if (next >= best) continue
      let at = stack.length
      stack.push(0, 0, 0)
      for (; at > start && stack[at - 1]! < next; at -= 3)
        for (let k = 0; k < 3; k++) stack[at + k] = stack[at - 3 + k]!
      stack[at] = level - 1
      stack[at + 1] = child
      stack[at + 2] = next
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
  const p = (a.levels[la]! + na) * 4
  const q = (b.levels[lb]! + nb) * 4
  const x = b.balls[q]!
  const y = b.balls[q + 1]!
  const z = b.balls[q + 2]!
  const dx = m[0]! * x + m[3]! * y + m[6]! * z + m[9]! - a.balls[p]!
  const dy = m[1]! * x + m[4]! * y + m[7]! * z + m[10]! - a.balls[p + 1]!
  const dz = m[2]! * x + m[5]! * y + m[8]! * z + m[11]! - a.balls[p + 2]!
  return Math.sqrt(dx * dx + dy * dy + dz * dz) - a.balls[p + 3]! - b.balls[q + 3]!
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
