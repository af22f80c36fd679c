/** Thickness over the plan, on an even grid: rows from the lower edge up. */
export interface WallMap {
  readonly across: number
  readonly up: number
  readonly values: Float32Array
  /** middle of the lower left cell, less half a cell, mm */
  readonly from: readonly [number, number]
  readonly span: readonly [number, number]
  readonly thin_mm: number
  readonly thick_mm: number
}

export interface MeasuredWalls {
  /** x, y, z and thickness of each place measured, one after another, mm */
  readonly measured_mm: Float32Array
  readonly thin_mm: number
  readonly thick_mm: number
}

const CELL_MM = 0.5
const MOST_CELLS = 400
/** Each place counts about so far round it, in cells. */
const REACH = 1.2
const LOOK = 3

/**
 * From places measured here and there on the surface to a map over the plan, each cell the mean of the places
 * about it, the nearer the more. Cells without any take from their neighbours, so that the map has no holes.
 */
export const mapWalls = ({ measured_mm, thin_mm, thick_mm }: MeasuredWalls): WallMap | undefined => {
  const count = Math.floor(measured_mm.length / 4)
  if (count === 0) return undefined
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i < count; i += 1) {
    const [x = 0, y = 0] = [measured_mm[4 * i], measured_mm[4 * i + 1]]
    left = Math.min(left, x)
    right = Math.max(right, x)
    low = Math.min(low, y)
    high = Math.max(high, y)
  }
  const cell = Math.max(CELL_MM, (right - left) / MOST_CELLS, (high - low) / MOST_CELLS)
  const across = Math.max(2, Math.ceil((right - left) / cell) + 1)
  const up = Math.max(2, Math.ceil((high - low) / cell) + 1)
  const sums = new Float64Array(across * up)
  const weights = new Float64Array(across * up)
  for (let i = 0; i < count; i += 1) {
    const [x = 0, y = 0, , thickness = 0] = measured_mm.subarray(4 * i, 4 * i + 4)
    const [u, v] = [(x - left) / cell, (y - low) / cell]
    for (let row = Math.max(0, Math.ceil(v - LOOK)); row <= Math.min(up - 1, v + LOOK); row += 1)
      for (
        let column = Math.max(0, Math.ceil(u - LOOK));
        column <= Math.min(across - 1, u + LOOK);
        column += 1
      ) {
        const weight = Math.exp(-((column - u) ** 2 + (row - v) ** 2) / (2 * REACH ** 2))
        const at = row * across + column
        sums[at] = (sums[at] ?? 0) + weight * thickness
        weights[at] = (weights[at] ?? 0) + weight
      }
  }
  const values = Float32Array.from(sums, (sum, at) =>
    weights[at] === 0 ? Number.NaN : sum / (weights[at] ?? 1),
  )
  fillHoles(values, across, up)
  return {
    across,
    up,
    values,
    from: [left - cell / 2, low - cell / 2],
    span: [across * cell, up * cell],
    thin_mm,
    thick_mm,
  }
}

/** Cells that nothing was measured near, from the nearest row on outward. */
const fillHoles = (values: Float32Array, across: number, up: number): void => {
  for (;;) {
    const before = values.slice()
    let open = 0
    let filled = 0
    for (let row = 0; row < up; row += 1)
      for (let column = 0; column < across; column += 1) {
        const at = row * across + column
        if (!Number.isNaN(before[at])) continue
        open += 1
        let [sum, near] = [0, 0]
        for (const [dx, dy] of [
          [-1, 0],
          [1, 0],
          [0, -1],
          [0, 1],
        ] as const) {
          const [c, r] = [column + dx, row + dy]
          const value =
            c < 0 || r < 0 || c >= across || r >= up ? Number.NaN : (before[r * across + c] ?? Number.NaN)
          if (Number.isNaN(value)) continue
          sum += value
          near += 1
        }
        if (near === 0) continue
        values[at] = sum / near
        filled += 1
      }
    if (open === 0 || filled === 0) return
  }
}
