import type { TriangleMesh } from './model-reading.ts'

const FANOUT = 4
const CELLS = 1023
/** Testing two triangles takes about as long as comparing so many boxes. */
const VISIT_COST = 20

/**
 * A tree of boxes over the triangles of a mesh, packed into two arrays. Triangles are put in the order of a
 * space-filling (Morton) curve, then every four neighbours share a box, every four of those another, and
 * so on up: no splitting has to be chosen, and node `n` of a level covers nodes `4n .. 4n+3` of the one below.
 */
export type BoxTree = {
  /** Triangles in curve order. */
  order: Uint32Array
  /** min x, y, z, max x, y, z of each node; level 0 (single triangles) first, the root last. */
  boxes: Float64Array
  /** First node of each level. */
  levels: number[]
  /** Nodes in each level. */
  sizes: number[]
}

export function buildBoxTree({ positions, corners }: TriangleMesh): BoxTree {
  const count = corners.length / 3
  const sizes = [count]
  while (sizes.at(-1)! > 1) sizes.push(Math.ceil(sizes.at(-1)! / FANOUT))
  const levels: number[] = []
  let nodes = 0
  for (const size of sizes) {
    levels.push(nodes)
    nodes += size
  }
  const order = curveOrder(positions, corners, count)
  const boxes = new Float64Array(nodes * 6)
  for (let n = 0; n < count; n++) {
    const t = order[n]! * 3
    for (let axis = 0; axis < 3; axis++) {
      const a = positions[corners[t]! * 3 + axis]!
      const b = positions[corners[t + 1]! * 3 + axis]!
      const c = positions[corners[t + 2]! * 3 + axis]!
      boxes[n * 6 + axis] = a < b ? (a < c ? a : c) : b < c ? b : c
      boxes[n * 6 + 3 + axis] = a > b ? (a > c ? a : c) : b > c ? b : c
    }
  }
  for (let level = 1; level < sizes.length; level++)
    for (let n = 0; n < sizes[level]!; n++) {
      const to = (levels[level]! + n) * 6
      const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
      for (let axis = 0; axis < 3; axis++) {
        let min = Infinity
        let max = -Infinity
        for (let child = n * FANOUT; child < last; child++) {
          const at = (levels[level - 1]! + child) * 6
          if (boxes[at + axis]! < min) min = boxes[at + axis]!
          if (boxes[at + 3 + axis]! > max) max = boxes[at + 3 + axis]!
        }
        boxes[to + axis] = min
        boxes[to + 3 + axis] = max
      }
    }
  return { order, boxes, levels, sizes }
}

function curveOrder(positions: Float64Array, corners: Uint32Array, count: number): Uint32Array {
  const min = [Infinity, Infinity, Infinity]
  const max = [-Infinity, -Infinity, -Infinity]
  const middles = new Float64Array(count * 3)
  for (let t = 0; t < count; t++)
    for (let axis = 0; axis < 3; axis++) {
      const m =
        (positions[corners[t * 3]! * 3 + axis]! +
          positions[corners[t * 3 + 1]! * 3 + axis]! +
          positions[corners[t * 3 + 2]! * 3 + axis]!) /
        3
      middles[t * 3 + axis] = m
      if (m < min[axis]!) min[axis] = m
      if (m > max[axis]!) max[axis] = m
    }
  const scale = CELLS / Math.max(max[0]! - min[0]!, max[1]! - min[1]!, max[2]! - min[2]!, 1e-300)
  const keys = new Uint32Array(count)
  for (let t = 0; t < count; t++)
    keys[t] =
      spread((middles[t * 3]! - min[0]!) * scale) |
      (spread((middles[t * 3 + 1]! - min[1]!) * scale) << 1) |
      (spread((middles[t * 3 + 2]! - min[2]!) * scale) << 2)
  return sortByKey(keys)
}

/** Puts two empty bits between the ten bits of a whole number. */
function spread(value: number): number {
  let v = value & 0x3ff
  v = (v | (v << 16)) & 0x030000ff
  v = (v | (v << 8)) & 0x0300f00f
  v = (v | (v << 4)) & 0x030c30c3
  return (v | (v << 2)) & 0x09249249
}

/** Radix sort in three passes of ten bits; ties keep the order of the file. */
function sortByKey(keys: Uint32Array): Uint32Array {
  let from = Uint32Array.from(keys, (_, i) => i)
  let to = new Uint32Array(keys.length)
  const starts = new Uint32Array(1025)
  for (let shift = 0; shift < 30; shift += 10) {
    starts.fill(0)
    for (let i = 0; i < keys.length; i++) starts[((keys[i]! >>> shift) & 1023) + 1]!++
    for (let i = 0; i < 1024; i++) starts[i + 1]! += starts[i]!
    for (let i = 0; i < from.length; i++) {
      const item = from[i]!
      to[starts[(keys[item]! >>> shift) & 1023]!++] = item
    }
    ;[from, to] = [to, from]
  }
  return from
}

/**
 * Calls `visit` with every pair of triangles whose boxes meet, each pair once.
 * @param budget the most work, in comparisons of two boxes: a count, not a time, so that the answer is always the same
 * @returns whether the search came to its end within the budget
 */
export function visitMeetingPairs(
  tree: BoxTree,
  budget: number,
  visit: (a: number, b: number) => boolean,
): boolean {
  const { order, boxes, levels, sizes } = tree
  if (order.length < 2) return true
  // Pairs of nodes of one level: level, first, second.
  const stack: number[] = [sizes.length - 1, 0, 0]
  let spent = 0
  while (stack.length > 0) {
    const b = stack.pop()!
    const a = stack.pop()!
    const level = stack.pop()!
    const below = level - 1
    const base = levels[below]!
    const lastA = Math.min((a + 1) * FANOUT, sizes[below]!)
    const lastB = Math.min((b + 1) * FANOUT, sizes[below]!)
    for (let i = a * FANOUT; i < lastA; i++) {
      const p = (base + i) * 6
      for (let j = a === b ? i : b * FANOUT; j < lastB; j++) {
        if (i === j) {
          if (below > 0) stack.push(below, i, i)
          continue
        }
        const q = (base + j) * 6
        if (++spent > budget) return false
        if (
          boxes[p]! > boxes[q + 3]! ||
          boxes[q]! > boxes[p + 3]! ||
          boxes[p + 1]! > boxes[q + 4]! ||
          boxes[q + 1]! > boxes[p + 4]! ||
          boxes[p + 2]! > boxes[q + 5]! ||
          boxes[q + 2]! > boxes[p + 5]!
        )
          continue
        if (below > 0) stack.push(below, i, j)
        else {
          spent += VISIT_COST
          if (!visit(order[i]!, order[j]!)) return true
        }
      }
    }
  }
  return true
}

/** Deeper than any tree of triangles: each level leaves at most three nodes waiting. */
const MOST_WAITING = 4 * 32
const waiting = new Int32Array(2 * MOST_WAITING)

/**
 * Calls `visit` with every triangle whose box a ray passes through. Directions may hold zeros.
 * @param visit casts no ray itself
 * @param far boxes that begin farther along the ray are left out, in lengths of `direction`
 */
export function visitAlongRay(
  tree: BoxTree,
  origin: readonly number[],
  direction: readonly number[],
  visit: (triangle: number) => void,
  far = Infinity,
): void {
  const { order, boxes, levels, sizes } = tree
  if (order.length === 0) return
  const [ox, oy, oz] = origin as [number, number, number]
  const ix = 1 / direction[0]!
  const iy = 1 / direction[1]!
  const iz = 1 / direction[2]!
  waiting[0] = sizes.length - 1
  waiting[1] = 0
  let count = 2
  while (count > 0) {
    const n = waiting[--count]!
    const level = waiting[--count]!
    const at = (levels[level]! + n) * 6
    const x0 = (boxes[at]! - ox) * ix
    const x1 = (boxes[at + 3]! - ox) * ix
    const y0 = (boxes[at + 1]! - oy) * iy
    const y1 = (boxes[at + 4]! - oy) * iy
    const z0 = (boxes[at + 2]! - oz) * iz
    const z1 = (boxes[at + 5]! - oz) * iz
    const enter = Math.max(Math.min(x0, x1), Math.min(y0, y1), Math.min(z0, z1))
    const leave = Math.min(Math.max(x0, x1), Math.max(y0, y1), Math.max(z0, z1))
    // Written so that a comparison with NaN (a ray within a flat box) keeps the node.
    if (leave < 0 || enter > leave || enter > far) continue
    if (level === 0) visit(order[n]!)
    else {
      const last = Math.min((n + 1) * FANOUT, sizes[level - 1]!)
      for (let child = n * FANOUT; child < last; child++) {
        waiting[count++] = level - 1
        waiting[count++] = child
      }
    }
  }
}
