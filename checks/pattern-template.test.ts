import { describe, expect, test } from 'vitest'
import { layTemplate, type TemplateInput } from '../src/engine/pattern/template/index.ts'
import { clasp, rectangle, region } from '../src/engine/pattern/template/sample.ts'
import { printTemplate } from '../src/print/index.ts'
import { inkAlong, type Raster, rasterise } from './raster.ts'

// Printed sheets are rendered at 600 dots an inch by a PDF library from elsewhere and measured on the picture.
// A dot is 0.042 mm wide; what is wanted comes from the definition of the millimetre, the inch and the shrink.

const square = (side: number): TemplateInput => ({
  name: 'Square tag',
  regions: [region('tag', rectangle(0, 0, side, side), [], [side / 4, side / 4])],
  regionHeights: [{ id: 'tag', role: 'raised', height_mm: 2 }],
  blank: { thickness_mm: 3 },
  compensation: { shrink: 0.02, finish_mm: 0.1 },
  paper: 'a4',
})

const print = async (input: TemplateInput, wanted?: readonly number[]): Promise<Raster[]> =>
  rasterise(await printTemplate(layTemplate(input), { printedAt: 0 }), wanted)

const must = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('nothing was inked where it was looked for')
  return value
}
const span = (middles: readonly number[]): number => must(middles.at(-1)) - must(middles[0])

/** Just below the bars' short ticks, where only the long ones reach. */
const BARS_AT = 46 + 3

describe('a template on paper', () => {
  test.each(['a4', 'letter'] as const)('has bars of 100 mm and 2 in to 0.1 mm on %s', async (paper) => {
    const [sheet] = await print({ ...square(60), paper })
    const middle = paper === 'a4' ? 130 : 135
    const millimetres = inkAlong(must(sheet), 'across', BARS_AT, 0, middle)
    expect(millimetres).toHaveLength(11)
    expect(Math.abs(span(millimetres) - 100)).toBeLessThan(0.1)
    const inches = inkAlong(must(sheet), 'across', BARS_AT, middle)
    expect(inches).toHaveLength(3)
    expect(Math.abs(span(inches) - 2 * 25.4)).toBeLessThan(0.1)
    expect(Math.abs(must(inches[1]) - must(inches[0]) - 25.4)).toBeLessThan(0.1)
  })

  test('has a 60 mm square at (60 + 0.2) / 0.98 = 61.43 mm both ways, to 0.1 mm', async () => {
    const [sheet] = await print(square(60))
    const outline = sheetPlaceOf(square(60))
    const across = inkAlong(must(sheet), 'across', outline.y + 12, outline.x - 2, outline.x + 63.5)
    expect(Math.abs(span(across) - 61.4286)).toBeLessThan(0.1)
    const down = inkAlong(must(sheet), 'down', outline.x + 12, outline.y - 2, outline.y + 63.5)
    expect(Math.abs(span(down) - 61.4286)).toBeLessThan(0.1)
  })

  test('has it at 60 mm when nothing is added', async () => {
    const plain = { ...square(60), compensation: { shrink: 0, finish_mm: 0 } }
    const [sheet] = await print(plain)
    const outline = sheetPlaceOf(plain)
    const across = inkAlong(must(sheet), 'across', outline.y + 12, outline.x - 2, outline.x + 62)
    expect(Math.abs(span(across) - 60)).toBeLessThan(0.1)
    expect(must(sheet).text).toContain('nothing added for shrink or filing')
  })

  test('is larger by 100/99.2 for a printer whose 100 mm bar came out 99.2, so that it comes out true', async () => {
    const input = { ...square(60), printer: { bar_mm: 99.2 } }
    const [sheet] = await print(input)
    const millimetres = inkAlong(must(sheet), 'across', (BARS_AT * 100) / 99.2, 0, 130)
    expect(millimetres).toHaveLength(11)
    expect(Math.abs(span(millimetres) * 0.992 - 100)).toBeLessThan(0.1)
    expect(must(sheet).text).toContain('100 mm came out 99.2')
    expect(Math.abs(must(sheet).width / must(sheet).perMm.across - 210)).toBeLessThan(0.1)
  })

  test('is corrected each way by its own bar: 99.5 across and 98 down', async () => {
    const input = { ...square(60), printer: { bar_mm: 99.5, upright_mm: 98 } }
    const [sheet] = await print(input)
    const across = inkAlong(must(sheet), 'across', (BARS_AT * 100) / 98, 0, 130)
    expect(Math.abs(span(across) * 0.995 - 100)).toBeLessThan(0.1)
    // left of the short ticks, where three long ones stand at 0, 50 and 100
    const down = inkAlong(must(sheet), 'down', (10.7 * 100) / 99.5, (60 * 100) / 98, (164 * 100) / 98)
    expect(down).toHaveLength(3)
    expect(Math.abs(span(down) * 0.98 - 100)).toBeLessThan(0.1)
    expect(must(sheet).text).toContain('99.5 across and 98 down')
  })

  test('has an upright bar of 100 mm too, to 0.1 mm', async () => {
    const [sheet] = await print(square(60))
    const down = inkAlong(must(sheet), 'down', 10.7, 60, 164)
    expect(down).toHaveLength(3)
    expect(Math.abs(span(down) - 100)).toBeLessThan(0.1)
  })

  test('joins over a seam: a 400 mm bar is 400 / 0.98 = 408.16 mm, to 0.1 mm', async () => {
    const input: TemplateInput = {
      ...square(60),
      regions: [region('bar', rectangle(0, 0, 400, 30), [], [50, 7])],
      regionHeights: [{ id: 'bar', role: 'raised', height_mm: 2 }],
      compensation: { shrink: 0.02, finish_mm: 0 },
    }
    const layout = layTemplate(input)
    const tiles = layout.sheets.filter(({ window }) => window !== undefined)
    expect(tiles).toHaveLength(2)
    const [first, second] = await print(input, [1, 2])
    const { left, cross, right } = barOn(layout)
    // on each sheet from the bar's own end to the cross that both share, all three as inked
    const inkNear = (sheet: Raster, sheetIndex: number, x: number, y: number): number => {
      const [dx, dy] = must(tiles[sheetIndex]?.window).moved
      return must(inkAlong(sheet, 'across', y + dy, x + dx - 1, x + dx + 1)[0])
    }
    const middle = -30 / 0.98 / 4
    const long =
      inkNear(must(first), 0, cross.x, cross.y - 2) -
      inkNear(must(first), 0, left, middle) +
      (inkNear(must(second), 1, right, middle) - inkNear(must(second), 1, cross.x, cross.y - 2))
    expect(Math.abs(long - 408.1633)).toBeLessThan(0.1)
  })

  test('can be read back: what to measure, the shrink, sizes in wax and cast, heights and depths', async () => {
    const { regions, notes } = clasp()
    const [sheet] = await print({
      name: 'Cloak clasp',
      regions,
      regionHeights: notes,
      blank: { thickness_mm: 5 },
      compensation: { shrink: 0.0156, finish_mm: 0 },
      paper: 'letter',
    })
    const text = must(sheet).text.replaceAll(/\s+/g, ' ')
    expect(text).toContain('Measure these before you cut.')
    // 1 / (1 - 0.0156) = 1.01585; 58 x 1.01585 = 58.92
    expect(text).toContain('All lines 1.6% over the finished size; nothing for filing.')
    expect(text).toContain('58.9 wax (58.0 cast)')
    expect(text).toContain('wax = cast × 1.016')
    // 2.9 x 1.01585 = 2.946; 5 - 2.946 = 2.054
    expect(text).toMatch(/Raised 2\.9 2\.1 rounded/)
    expect(text).toContain('Raised, 12 alike')
    expect(text).toContain('oval stone 18.0 × 13.0')
    expect(text).toContain('1 of 1, Letter')
    expect(text).toContain('Caution.')
  })
})

/** Upper left corner of the heavy outline on the sheet. */
const sheetPlaceOf = (input: TemplateInput): { x: number; y: number } => {
  const heavy = must(layTemplate(input).sheets[0]).marks.filter(
    (mark) => mark.shape === 'stroke' && mark.line === 'outline' && mark.runs.some(({ closed }) => closed),
  )
  const [mark] = heavy
  const points = mark?.shape === 'stroke' ? [...must(mark.runs[0]).points] : []
  return {
    x: Math.min(...points.filter((_, i) => i % 2 === 0)),
    y: Math.min(...points.filter((_, i) => i % 2 === 1)),
  }
}

/** Where the bar's ends and the first shared cross lie in the drawing, to know where to look on the paper. */
const barOn = (
  layout: ReturnType<typeof layTemplate>,
): { left: number; right: number; cross: { x: number; y: number } } => {
  const rim = [...must(layout.wax.outline[0])].filter((_, i) => i % 2 === 0)
  const marks = must(layout.sheets[0]?.window).marks
  const upright = marks.find(
    (mark) =>
      mark.shape === 'stroke' &&
      mark.line === 'register' &&
      must(mark.runs[0]).points[0] === must(mark.runs[0]).points[2],
  )
  const [x = 0, y0 = 0, , y1 = 0] = upright?.shape === 'stroke' ? must(upright.runs[0]).points : []
  return { left: Math.min(...rim), right: Math.max(...rim), cross: { x, y: (y0 + y1) / 2 } }
}
