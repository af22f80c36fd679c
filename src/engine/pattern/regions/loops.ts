import type { Loop, Place } from '../drawing.ts'
import { isInside } from '../loops.ts'

export interface Box {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

export const boxOf = (points: Float64Array): Box => {
  let [minX, minY, maxX, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ]
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i] as number
    const y = points[i + 1] as number
    if (x < minX) minX = x
    if (x > maxX) maxX = x
    if (y < minY) minY = y
    if (y > maxY) maxY = y
  }
  return { minX, minY, maxX, maxY }
}

export const squaredDistanceToSegment = (
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number => {
  const dx = bx - ax
  const dy = by - ay
  const long = dx * dx + dy * dy
  const share = long === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / long))
  const ex = x - ax - share * dx
  const ey = y - ay - share * dy
  return ex * ex + ey * ey
}

/** Distance to the nearest edge, negative outside. */
const clearance = (loops: readonly Loop[], x: number, y: number): number => {
  let nearest = Number.POSITIVE_INFINITY
  for (const loop of loops) {
    const last = loop.length - 2
    for (let i = 0, j = last; i <= last; j = i, i += 2) {
      const squared = squaredDistanceToSegment(
        x,
        y,
        loop[j] as number,
        loop[j + 1] as number,
        loop[i] as number,
        loop[i + 1] as number,
      )
      if (squared < nearest) nearest = squared
    }
  }
  return (isInside(loops, x, y) ? 1 : -1) * Math.sqrt(nearest)
}

interface Cell {
  readonly x: number
  readonly y: number
  readonly half: number
  readonly clear: number
  /** no point of the cell is clearer than this */
  readonly most: number
}

const CELLS_AT_MOST = 600
const CELLS_AT_LEAST = 40
const EDGE_VISITS_AT_MOST = 1e5
const SEEDS = 6

/** From the middle of an edge of the outline straight inward, halfway to what comes first. */
const midwayAcross = (loops: readonly Loop[], edge: number): [number, number] => {
  const outer = loops[0] as Loop
  const i = 2 * edge
  const j = (i + 2) % outer.length
  const [ax, ay] = [outer[i] as number, outer[i + 1] as number]
  const [bx, by] = [outer[j] as number, outer[j + 1] as number]
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2]
  const long = Math.hypot(bx - ax, by - ay)
  const [nx, ny] = [-(by - ay) / long, (bx - ax) / long]
  let far = Number.POSITIVE_INFINITY
  for (const loop of loops)
    for (let k = 0; k < loop.length; k += 2) {
      if (loop === outer && k === i) continue
      const m = (k + 2) % loop.length
      const [px, py] = [(loop[k] as number) - mx, (loop[k + 1] as number) - my]
      const [qx, qy] = [(loop[m] as number) - mx, (loop[m + 1] as number) - my]
      // Along the edge and inward from it.
      const [s, t] = [px * ny - py * nx, qx * ny - qy * nx]
      if (s > 0 === t > 0) continue
      const [u, v] = [px * nx + py * ny, qx * nx + qy * ny]
      const at = u + ((v - u) * s) / (s - t)
      if (at > 0 && at < far) far = at
    }
  return Number.isFinite(far) ? [mx + (nx * far) / 2, my + (ny * far) / 2] : [mx, my]
}

/**
 * The place farthest from every edge, to within a hundredth of the face's size: the face's box is quartered
 * again and again, the most promising quarter first. A hundred cells are enough for all but hair-thin faces.
 */
export const placeWellInside = (outer: Loop, holes: readonly Loop[]): Place => {
  const loops = [outer, ...holes]
  const edges = loops.reduce((sum, loop) => sum + loop.length / 2, 0)
  const { minX, minY, maxX, maxY } = boxOf(outer)
  const cellAt = (x: number, y: number, half: number): Cell => {
    const clear = clearance(loops, x, y)
    return { x, y, half, clear, most: clear + half * Math.SQRT2 }
  }
  // Thin faces hold few middles of squares: midway across, from a few edges inward, lies inside for certain.
  let best = cellAt((minX + maxX) / 2, (minY + maxY) / 2, 0)
  const corners = outer.length / 2
  for (let n = 0; n < Math.min(SEEDS, corners); n += 1) {
    const seed = cellAt(...midwayAcross(loops, Math.floor((n * corners) / Math.min(SEEDS, corners))), 0)
    if (seed.clear > best.clear) best = seed
  }
  const size = Math.min(maxX - minX, maxY - minY)
  const open: Cell[] = []
  for (let x = minX; x < maxX; x += size)
    for (let y = minY; y < maxY && open.length < 64; y += size)
      open.push(cellAt(x + size / 2, y + size / 2, size / 2))
  for (const cell of open) if (cell.clear > best.clear) best = cell
  const enough = Math.max(maxX - minX, maxY - minY) / 200
  const cells = Math.max(CELLS_AT_LEAST, Math.min(CELLS_AT_MOST, EDGE_VISITS_AT_MOST / edges))
  for (let tried = 0; open.length > 0 && (tried < cells || best.clear <= 0) && tried < 20_000; tried += 4) {
    let at = 0
    for (let i = 1; i < open.length; i += 1) if ((open[i] as Cell).most > (open[at] as Cell).most) at = i
    const cell = open[at] as Cell
    open[at] = open[open.length - 1] as Cell
    open.pop()
    if (cell.most - best.clear <= (best.clear > 0 ? enough : 0)) break
    const half = cell.half / 2
    for (const [sx, sy] of [
      [-1, -1],
      [1, -1],
      [-1, 1],
      [1, 1],
    ] as const) {
      const quarter = cellAt(cell.x + sx * half, cell.y + sy * half, half)
      if (quarter.clear > best.clear) best = quarter
      if (quarter.most > best.clear) open.push(quarter)
    }
  }
  return [best.x, best.y]
}
