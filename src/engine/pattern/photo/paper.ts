import type { FlatSheet } from './flatten.ts'

/** Side of the cells in which the paper's brightness is taken. */
const CELL_MM = 1.5
/** Ink narrower than twice this is bridged before shade is judged; wider only if it is dark. */
const NARROW_MM = 3
const WIDE_MM = 25
/** Below this share of the paper round it a patch is ink, however wide; a softer one is shade. */
const DARK = 0.55

/**
 * Brightness as a share of the bare paper's brightness at the same place, so that shade and uneven light fall
 * out: 1 on paper, less on ink. Lightly smoothed (1-2-1) against grain.
 * Shade deeper than 0.55 and narrower than 50 mm is taken for ink.
 */
export function shareOfPaper(sheet: FlatSheet): Float32Array {
  const paper = paperBrightness(sheet)
  const { width, height, data } = sheet
  const share = new Float32Array(width * height)
  const row = new Float32Array(width)
  for (let y = 0; y < height; y += 1) {
    paper.fillRow(y, row)
    for (let x = 0, at = y * width; x < width; x += 1, at += 1)
      share[at] = (data[at] as number) / (row[x] as number)
  }
  smooth(share, width, height)
  return share
}

function paperBrightness({ width, height, data, mm }: FlatSheet) {
  const side = Math.max(6, Math.round(CELL_MM / mm))
  const across = Math.max(1, Math.ceil(width / side))
  const down = Math.max(1, Math.ceil(height / side))
  const bright = new Float32Array(across * down)
  const counts = new Int32Array(256)
  for (let cy = 0; cy < down; cy += 1)
    for (let cx = 0; cx < across; cx += 1) {
      counts.fill(0)
      let all = 0
      for (let y = cy * side; y < Math.min(height, (cy + 1) * side); y += 1)
        for (let x = cx * side; x < Math.min(width, (cx + 1) * side); x += 1) {
          const value = (data[y * width + x] as number) | 0
          counts[value] = (counts[value] as number) + 1
          all += 1
        }
      bright[cy * across + cx] = upperMean(counts, all)
    }
  const cells = (reach_mm: number) => Math.max(1, Math.round(reach_mm / (side * mm)))
  const narrow = closed(bright, across, down, cells(NARROW_MM))
  const wide = closed(bright, across, down, cells(WIDE_MM))
  const weight = Float32Array.from(narrow, (value, k) => (value < DARK * (wide[k] as number) ? 0 : 1))
  const filled = fillUnknown(narrow, weight, across, down)
  boxBlur(filled, across, down)
  const fillRow = (y: number, into: Float32Array): void => {
    const cy = Math.min(down - 1, Math.max(0, (y + 0.5) / side - 0.5))
    const top = Math.min(down - 1, Math.floor(cy))
    const below = Math.min(down - 1, top + 1)
    const fy = cy - top
    for (let x = 0; x < into.length; x += 1) {
      const cx = Math.min(across - 1, Math.max(0, (x + 0.5) / side - 0.5))
      const left = cx | 0
      const right = left + 1 < across ? left + 1 : left
      const fx = cx - left
      const upper =
        (filled[top * across + left] as number) * (1 - fx) + (filled[top * across + right] as number) * fx
      const lower =
        (filled[below * across + left] as number) * (1 - fx) + (filled[below * across + right] as number) * fx
      into[x] = Math.max(4, upper + (lower - upper) * fy)
    }
  }
  return { fillRow }
}

/** Mean between the 60th and 95th hundredth: paper as long as ink covers less than half of the cell. */
function upperMean(counts: Int32Array, all: number): number {
  let seen = 0
  let sum = 0
  let taken = 0
  for (let value = 0; value < 256; value += 1) {
    const count = counts[value] as number
    const from = Math.max(seen, all * 0.6)
    const to = Math.min(seen + count, all * 0.95)
    if (to > from) {
      sum += (to - from) * (value + 0.5)
      taken += to - from
    }
    seen += count
  }
  return taken === 0 ? 0 : sum / taken
}

/** Morphological closing by a square: dark places narrower than twice the reach take the brightness round them. */
function closed(field: Float32Array, across: number, down: number, reach: number): Float32Array {
  const brighter = extreme(field, across, down, reach, Math.max)
  return extreme(brighter, across, down, reach, Math.min)
}

function extreme(
  field: Float32Array,
  across: number,
  down: number,
  reach: number,
  pick: (a: number, b: number) => number,
): Float32Array {
  const rows = new Float32Array(field.length)
  const out = new Float32Array(field.length)
  for (let y = 0; y < down; y += 1)
    for (let x = 0; x < across; x += 1) {
      let best = field[y * across + x] as number
      for (let k = Math.max(0, x - reach); k <= Math.min(across - 1, x + reach); k += 1)
        best = pick(best, field[y * across + k] as number)
      rows[y * across + x] = best
    }
  for (let y = 0; y < down; y += 1)
    for (let x = 0; x < across; x += 1) {
      let best = rows[y * across + x] as number
      for (let k = Math.max(0, y - reach); k <= Math.min(down - 1, y + reach); k += 1)
        best = pick(best, rows[k * across + x] as number)
      out[y * across + x] = best
    }
  return out
}

/** Cells without weight take the mean of the known ones round them, from near to far. */
function fillUnknown(field: Float32Array, weight: Float32Array, across: number, down: number): Float32Array {
  const out = field.slice()
  const known = weight.slice()
  for (let pass = 0; pass < across + down && known.includes(0); pass += 1) {
    const now = known.slice()
    for (let y = 0; y < down; y += 1)
      for (let x = 0; x < across; x += 1) {
        if (now[y * across + x] !== 0) continue
        let sum = 0
        let count = 0
        for (let dy = -1; dy <= 1; dy += 1)
          for (let dx = -1; dx <= 1; dx += 1) {
            const [nx, ny] = [x + dx, y + dy]
            if (nx < 0 || ny < 0 || nx >= across || ny >= down || now[ny * across + nx] === 0) continue
            sum += out[ny * across + nx] as number
            count += 1
          }
        if (count === 0) continue
        out[y * across + x] = sum / count
        known[y * across + x] = 1
      }
  }
  return out
}

function boxBlur(field: Float32Array, across: number, down: number): void {
  const from = field.slice()
  for (let y = 0; y < down; y += 1)
    for (let x = 0; x < across; x += 1) {
      let sum = 0
      let count = 0
      for (let ny = Math.max(0, y - 1); ny <= Math.min(down - 1, y + 1); ny += 1)
        for (let nx = Math.max(0, x - 1); nx <= Math.min(across - 1, x + 1); nx += 1) {
          sum += from[ny * across + nx] as number
          count += 1
        }
      field[y * across + x] = sum / count
    }
}

function smooth(field: Float32Array, width: number, height: number): void {
  for (let y = 0; y < height; y += 1) {
    let before = field[y * width] as number
    for (let x = 0, at = y * width; x < width; x += 1, at += 1) {
      const here = field[at] as number
      const after = x + 1 < width ? (field[at + 1] as number) : here
      field[at] = (before + 2 * here + after) / 4
      before = here
    }
  }
  const above = field.slice(0, width)
  for (let y = 0; y < height; y += 1)
    for (let x = 0, at = y * width; x < width; x += 1, at += 1) {
      const here = field[at] as number
      const below = y + 1 < height ? (field[at + width] as number) : here
      field[at] = ((above[x] as number) + 2 * here + below) / 4
      above[x] = here
    }
}
