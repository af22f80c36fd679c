import type { Loop } from '../drawing.ts'

/** Longer spikes than this many times the distance are blunted, sides and all: at a tip sharper than 23°. */
const LONGEST_MITRE = 5

/**
 * Finds the piece of a rim on which a point lies. Cells about as large as a usual edge keep a drawing of many
 * thousand points quick. Material lies to the left of the rim.
 */
export class RimIndex {
  readonly #within: number
  readonly #cell: number
  /** x0, y0, x1, y1 of each edge, and which edges come before and after it */
  readonly #edges: { ax: number; ay: number; bx: number; by: number; before: number; after: number }[] = []
  readonly #cells = new Map<string, number[]>()

  constructor(rim: readonly Loop[], within: number) {
    this.#within = within
    let length = 0
    for (const loop of rim) {
      const first = this.#edges.length
      const n = loop.length / 2
      for (let i = 0; i < n; i += 1) {
        const j = (i + 1) % n
        const [ax = 0, ay = 0, bx = 0, by = 0] = [loop[2 * i], loop[2 * i + 1], loop[2 * j], loop[2 * j + 1]]
        this.#edges.push({ ax, ay, bx, by, before: first + ((i + n - 1) % n), after: first + j })
        length += Math.hypot(bx - ax, by - ay)
      }
    }
    this.#cell = Math.max(length / Math.max(1, this.#edges.length), 100 * within)
    this.#edges.forEach(({ ax, ay, bx, by }, edge) => {
      for (const name of this.#along(ax, ay, bx, by)) {
        const cell = this.#cells.get(name)
        if (cell) cell.push(edge)
        else this.#cells.set(name, [edge])
      }
    })
  }

  /** Names of the cells within reach of an edge, walked in steps of half a cell. */
  #along(ax: number, ay: number, bx: number, by: number): Set<string> {
    const names = new Set<string>()
    const steps = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / this.#cell))
    for (let i = 0; i <= steps; i += 1) {
      const column = Math.floor((ax + ((bx - ax) * i) / steps) / this.#cell)
      const row = Math.floor((ay + ((by - ay) * i) / steps) / this.#cell)
      for (let x = column - 1; x <= column + 1; x += 1)
        for (let y = row - 1; y <= row + 1; y += 1) names.add(`${x},${y}`)
    }
    return names
  }

  #near(x: number, y: number): { edge: number; along: number }[] {
    const found: { edge: number; along: number }[] = []
    const name = `${Math.floor(x / this.#cell)},${Math.floor(y / this.#cell)}`
    for (const edge of this.#cells.get(name) ?? []) {
      const side = this.#edges[edge]
      if (side === undefined) continue
      const [dx, dy] = [side.bx - side.ax, side.by - side.ay]
      const square = dx * dx + dy * dy
      const share =
        square === 0 ? 0 : Math.min(1, Math.max(0, ((x - side.ax) * dx + (y - side.ay) * dy) / square))
      if (Math.hypot(side.ax + share * dx - x, side.ay + share * dy - y) <= this.#within)
        found.push({ edge, along: share * Math.sqrt(square) })
    }
    return found
  }

  /** Which edges a point lies on, counted through all loops in order, and how far along each, mm. */
  edgesAt(x: number, y: number): readonly { readonly edge: number; readonly along: number }[] {
    return this.#near(x, y)
  }

  /** Whether both ends and the middle of an edge lie on the rim. */
  holds(ax: number, ay: number, bx: number, by: number): boolean {
    return (
      this.#near((ax + bx) / 2, (ay + by) / 2).length > 0 &&
      this.#near(ax, ay).length > 0 &&
      this.#near(bx, by).length > 0
    )
  }

  #normal(edge: number): readonly [number, number] {
    const side = this.#edges[edge]
    if (side === undefined) return [0, 0]
    const [dx, dy] = [side.bx - side.ax, side.by - side.ay]
    const length = Math.hypot(dx, dy)
    return length === 0 ? [0, 0] : [dy / length, -dx / length]
  }

  /** How far a point of the rim moves when every edge moves outward by one; 0, 0 for a point inside. */
  outward(x: number, y: number): readonly [number, number] {
    const [first] = this.#near(x, y)
    if (first === undefined) return [0, 0]
    const side = this.#edges[first.edge]
    if (side === undefined) return [0, 0]
    const one = this.#normal(first.edge)
    const atStart = Math.hypot(x - side.ax, y - side.ay) <= this.#within
    const atEnd = Math.hypot(x - side.bx, y - side.by) <= this.#within
    if (!atStart && !atEnd) return one
    const other = this.#normal(atStart ? side.before : side.after)
    const cosine = one[0] * other[0] + one[1] * other[1]
    const [mx, my] = [(one[0] + other[0]) / (1 + cosine), (one[1] + other[1]) / (1 + cosine)]
    const long = Math.hypot(mx, my)
    if (!Number.isFinite(long)) return one
    return long > LONGEST_MITRE ? [(mx * LONGEST_MITRE) / long, (my * LONGEST_MITRE) / long] : [mx, my]
  }
}
