import { type Box, boxOf, line, type SheetMark, words } from './marks.ts'

/** How far neighbouring sheets share the drawing, mm. */
export const OVERLAP = 10

export interface Tile {
  readonly column: number
  readonly row: number
  /** upper left of what the sheet shows, in the drawing */
  readonly x: number
  readonly y: number
}

export interface Tiling {
  readonly columns: number
  readonly rows: number
  readonly tiles: readonly Tile[]
  /** crosses that two sheets share, in the drawing */
  readonly crosses: readonly SheetMark[]
}

const countFor = (size: number, window: number): number =>
  size <= window ? 1 : Math.ceil((size - OVERLAP) / (window - OVERLAP))

/** A cross that stands on both of two sheets, with its name so that no two are mistaken for one another. */
const cross = (x: number, y: number, name: string): SheetMark[] => [
  line('register', [x - 4, y], [x + 4, y]),
  line('register', [x, y - 4], [x, y + 4]),
  words(name, [x + 1, y - 1], 2.5),
]

/** Lays a drawing over as few windows as hold it, overlapping, the drawing in their middle. */
export const tileOver = (drawing: Box, wide: number, high: number): Tiling => {
  const [width, height] = [drawing.right - drawing.left, drawing.bottom - drawing.top]
  const columns = countFor(width, wide)
  const rows = countFor(height, high)
  const [stepX, stepY] = [wide - OVERLAP, high - OVERLAP]
  const x0 = drawing.left - (columns * stepX + OVERLAP - width) / 2
  const y0 = drawing.top - (rows * stepY + OVERLAP - height) / 2
  const tiles = Array.from({ length: rows * columns }, (_, i): Tile => {
    const [column, row] = [i % columns, Math.floor(i / columns)]
    return { column, row, x: x0 + column * stepX, y: y0 + row * stepY }
  })
  const crosses: SheetMark[] = []
  let named = 0
  const name = (): string => `${++named}`
  for (const { column, row, x, y } of tiles) {
    if (column < columns - 1)
      for (const share of [0.2, 0.8]) crosses.push(...cross(x + wide - OVERLAP / 2, y + share * high, name()))
    if (row < rows - 1)
      for (const share of [0.2, 0.8]) crosses.push(...cross(x + share * wide, y + high - OVERLAP / 2, name()))
  }
  return { columns, rows, tiles, crosses }
}

/**
 * Slides a text along its own direction until one sheet shows all of it; marks shorter than the overlap always
 * stand whole on one of them.
 */
export const keepWhole = (
  marks: readonly SheetMark[],
  { tiles }: Tiling,
  wide: number,
  high: number,
): SheetMark[] =>
  marks.map((mark) => {
    if (mark.shape !== 'words') return mark
    const { left, right, top, bottom } = boxOf([mark])
    const shifts = tiles.map(({ x, y }) => ({
      dx: Math.max(0, x + 1 - left) + Math.min(0, x + wide - 1 - right),
      dy: Math.max(0, y + 1 - top) + Math.min(0, y + high - 1 - bottom),
    }))
    const along = shifts
      .filter(({ dx, dy }) => (mark.turned ? dx : dy) === 0)
      .sort((a, b) => Math.hypot(a.dx, a.dy) - Math.hypot(b.dx, b.dy))[0]
    return along === undefined ? mark : { ...mark, at: [mark.at[0] + along.dx, mark.at[1] + along.dy] }
  })
