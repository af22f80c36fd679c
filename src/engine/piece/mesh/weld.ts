import type { TriangleMesh } from './model-reading.ts'

export type Welded = {
  mesh: TriangleMesh
  /** Triangles left out because two of their corners became one point. */
  collapsed: number
}

const IS_LITTLE = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1

/**
 * Makes corners at exactly the same place one point, and leaves out triangles that thereby have no area.
 * Leaving those out is harmless: their two remaining edges run there and back, and cancel.
 * Expects finite coordinates. Zero and minus zero are the same place.
 */
export function weldExactly(mesh: TriangleMesh): Welded {
  const { positions, corners } = mesh
  const pointCount = positions.length / 3
  const words = new Uint32Array(positions.buffer, positions.byteOffset, positions.length * 2)
  const high = IS_LITTLE ? 1 : 0
  // Open addressing: a power of two at least twice the number of points, filled with point number plus one.
  let size = 16
  while (size < pointCount * 2) size *= 2
  const slots = new Uint32Array(size)
  const keepAs = new Uint32Array(pointCount)
  const kept = new Float64Array(positions.length)
  let count = 0
  for (let i = 0; i < pointCount; i++) {
    const x = positions[i * 3]! + 0 // adding zero turns -0 into 0
    const y = positions[i * 3 + 1]! + 0
    const z = positions[i * 3 + 2]! + 0
    const w = i * 6
    // The high words with the sign of a zero dropped; numbers read from 32-bit floats have few low bits.
    const hx = x === 0 ? 0 : words[w + high]! ^ Math.imul(words[w + 1 - high]!, 0x9e3779b1)
    const hy = y === 0 ? 0 : words[w + 2 + high]! ^ Math.imul(words[w + 3 - high]!, 0x85ebca6b)
    const hz = z === 0 ? 0 : words[w + 4 + high]! ^ Math.imul(words[w + 5 - high]!, 0xc2b2ae35)
    let h =
      Math.imul(hx, 0x85ebca6b) ^
      Math.imul((hy << 13) | (hy >>> 19), 0xc2b2ae35) ^
      Math.imul((hz << 7) | (hz >>> 25), 0x27d4eb2f)
    h ^= h >>> 15
    h = Math.imul(h, 0x2c1b3c6d)
    h ^= h >>> 13
    let slot = h & (size - 1)
    for (;;) {
      const found = slots[slot]!
      if (found === 0) {
        slots[slot] = count + 1
        kept[count * 3] = x
        kept[count * 3 + 1] = y
        kept[count * 3 + 2] = z
        keepAs[i] = count++
        break
      }
      const k = (found - 1) * 3
      if (kept[k] === x && kept[k + 1] === y && kept[k + 2] === z) {
        keepAs[i] = found - 1
        break
      }
      slot = (slot + 1) & (size - 1)
    }
  }
  return renumber(kept.slice(0, count * 3), corners, keepAs)
}

/**
 * Joins points that lie within `tolerance` of each other (in the unit of the positions).
 * Space is cut into cells of that size; a point joins the first kept point found in its own cell or the
 * 26 round it. Points are taken in order, so the same file always gives the same answer.
 * @returns the joined mesh and how many points were joined to another
 */
export function weldWithin(mesh: TriangleMesh, tolerance: number): Welded & { joined: number } {
  const { positions, corners } = mesh
  const pointCount = positions.length / 3
  let size = 16
  while (size < pointCount * 2) size *= 2
  const heads = new Int32Array(size).fill(-1)
  const next = new Int32Array(pointCount).fill(-1)
  const keepAs = new Uint32Array(pointCount)
  const kept = new Float64Array(positions.length)
  const cell = (value: number): number => Math.floor(value / tolerance)
  const slotOf = (i: number, j: number, k: number): number => {
    let h = Math.imul(i | 0, 0x8da6b343) ^ Math.imul(j | 0, 0xd8163841) ^ Math.imul(k | 0, 0xcb1ab31f)
    h ^= h >>> 15
    return h & (size - 1)
  }
  let count = 0
  const limit = tolerance * tolerance
  for (let i = 0; i < pointCount; i++) {
    const x = positions[i * 3]!
    const y = positions[i * 3 + 1]!
    const z = positions[i * 3 + 2]!
    const ci = cell(x)
    const cj = cell(y)
    const ck = cell(z)
    let found = -1
    for (let d = 0; d < 27 && found < 0; d++) {
      const slot = slotOf(ci + (d % 3) - 1, cj + (Math.floor(d / 3) % 3) - 1, ck + Math.floor(d / 9) - 1)
      for (let at = heads[slot]!; at >= 0; at = next[at]!) {
        const dx = kept[at * 3]! - x
        const dy = kept[at * 3 + 1]! - y
        const dz = kept[at * 3 + 2]! - z
        if (dx * dx + dy * dy + dz * dz <= limit) {
          found = at
          break
        }
      }
    }
    if (found < 0) {
      found = count++
      kept[found * 3] = x
      kept[found * 3 + 1] = y
      kept[found * 3 + 2] = z
      const slot = slotOf(ci, cj, ck)
      next[found] = heads[slot]!
      heads[slot] = found
    }
    keepAs[i] = found
  }
  return { ...renumber(kept.slice(0, count * 3), corners, keepAs), joined: pointCount - count }
}

function renumber(positions: Float64Array, corners: Uint32Array, keepAs: Uint32Array): Welded {
  const list = new Uint32Array(corners.length)
  let n = 0
  for (let i = 0; i < corners.length; i += 3) {
    const a = keepAs[corners[i]!]!
    const b = keepAs[corners[i + 1]!]!
    const c = keepAs[corners[i + 2]!]!
    if (a === b || b === c || c === a) continue
    list[n] = a
    list[n + 1] = b
    list[n + 2] = c
    n += 3
  }
  const collapsed = (corners.length - n) / 3
  return { mesh: { positions, corners: collapsed ? list.slice(0, n) : list }, collapsed }
}
