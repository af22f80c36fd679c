import { describe, expect, test } from 'vitest'
import { layTemplate, type TemplateInput, type TemplateLayout } from './lay-template.ts'
import { boxOf, PENS, type SheetMark } from './marks.ts'
import { clasp, rectangle, region } from './sample.ts'
import { keepWhole, OVERLAP, tileOver } from './tiles.ts'

const input = (over: Partial<TemplateInput> = {}): TemplateInput => {
  const { regions, notes } = clasp()
  return {
    name: 'Cloak clasp',
    regions,
    regionHeights: notes,
    blank: { thickness_mm: 5 },
    compensation: { shrink: 0.0156, finish_mm: 0 },
    paper: 'a4',
    ...over,
  }
}

const bar = (long: number, high: number): Partial<TemplateInput> => ({
  regions: [region('bar', rectangle(0, 0, long, high), [], [long / 4, high / 4])],
  regionHeights: [{ id: 'bar', role: 'raised', height_mm: 2 }],
})

const marksOf = ({ sheets }: TemplateLayout): SheetMark[] =>
  sheets.flatMap(({ marks, window }) => [...marks, ...(window?.marks ?? [])])
const textsOf = (layout: TemplateLayout): string[] =>
  marksOf(layout).flatMap((mark) => (mark.shape === 'words' ? [mark.text] : []))
const linesOf = (layout: TemplateLayout, kind: string) =>
  marksOf(layout).flatMap((mark) => (mark.shape === 'stroke' && mark.line === kind ? [mark] : []))

describe('a layout', () => {
  test('has lines of two widths, two to one', () => {
    expect(PENS.outline.wide_mm).toBe(2 * PENS.region.wide_mm)
    expect(PENS.centre.wide_mm).toBe(PENS.region.wide_mm)
  })

  test('shares as much between sheets of a long drawing as it says', () => {
    const { sheets } = layTemplate(input(bar(100, 500)))
    const windows = sheets.flatMap(({ window }) => (window === undefined ? [] : [window]))
    expect(windows.length).toBeGreaterThan(2)
    // the place of the drawing that stands at a window's upper edge
    const tops = windows.map(({ y, moved }) => y - moved[1])
    for (const [at, top] of tops.entries()) {
      if (at === 0) continue
      expect((tops[at - 1] ?? Number.NaN) + (windows[at - 1]?.height_mm ?? Number.NaN) - top).toBeCloseTo(
        OVERLAP,
        9,
      )
    }
  })

  test('gives regions worked alike one number and one row', () => {
    const texts = textsOf(layTemplate(input()))
    expect(texts).toContain('Raised, 12 alike')
    // in the drawing twelve times, in the table once
    expect(texts.filter((text) => text === '3')).toHaveLength(13)
  })

  test('goes by the caster’s names where regions have them', () => {
    const { notes } = clasp()
    const named = notes.map((note) => ({ ...note, name: /^leaf/.test(note.id) ? 'Leaves' : note.id }))
    const texts = textsOf(layTemplate(input({ regionHeights: named })))
    expect(texts).toContain('Leaves, 12: raised')
    expect(texts).toContain('seat-wall: raised')
  })

  test('leads a number out of a region too narrow for it', () => {
    const slit = region('slit', rectangle(20, 15, 20, 1.2), [], [30, 15.6])
    const plate = region('plate', rectangle(0, 0, 60, 40), [rectangle(20, 15, 20, 1.2)], [10, 10])
    const layout = layTemplate(
      input({
        regions: [plate, slit],
        regionHeights: [
          { id: 'plate', role: 'raised', height_mm: 3 },
          { id: 'slit', role: 'through', height_mm: 0 },
        ],
      }),
    )
    const rounds = marksOf(layout).flatMap((mark) =>
      mark.shape === 'round' && mark.radius_mm === 2.4 ? [mark.at] : [],
    )
    // the outline's own place on the sheet tells what lies beside it
    const outline = boxOf(linesOf(layout, 'outline').filter(({ runs }) => runs[0]?.closed))
    expect(rounds.some(([x]) => x > outline.right)).toBe(true)
    expect(textsOf(layout)).toContain('straight through')
  })

  test('says how deep to cut from the face of the blank, and that the blank is too thin', () => {
    const layout = layTemplate(input({ blank: { thickness_mm: 4 } }))
    // the seat's wall: 4.6 / (1 - 0.0156) = 4.67, more than 4
    expect(layout.problems.map(({ kind }) => kind)).toEqual(['blank-too-thin'])
    expect(textsOf(layout)).toContain('too thin')
    expect(layTemplate(input()).problems).toEqual([])
  })

  test('refuses a bar no printer draws, and corrects nothing by it', () => {
    const layout = layTemplate(input({ printer: { bar_mm: 90 } }))
    expect(layout.correction).toEqual({ across: 1, down: 1 })
    expect(layout.problems.map(({ level }) => level)).toEqual(['stop'])
    expect(layTemplate(input({ printer: { bar_mm: Number.NaN } })).problems).toHaveLength(1)
    expect(layTemplate(input({ printer: { bar_mm: 99.2 } })).correction.across).toBeCloseTo(100 / 99.2, 12)
  })

  test('says that the blank is too small for the outline with what is added', () => {
    const blank = { thickness_mm: 5, length_mm: 58.5, width_mm: 50 }
    // 58 / 0.9844 = 58.9
    expect(layTemplate(input({ blank })).problems.map(({ kind }) => kind)).toEqual(['blank-too-small'])
  })

  test('of a drawing as large as a house stops before it lays its sheets', () => {
    const layout = layTemplate(input(bar(4800, 4000)))
    expect(layout.sheets).toEqual([])
    expect(layout.problems.some(({ kind }) => kind === 'too-many-sheets')).toBe(true)
  })

  test('breaks a long table over sheets, every number on one of them', () => {
    const many = Array.from({ length: 70 }, (_, i) => ({
      id: `cell-${i}`,
      role: 'raised' as const,
      height_mm: 1 + i / 20,
    }))
    const regions = many.map(({ id }, i) =>
      region(
        id,
        rectangle((i % 10) * 8, Math.floor(i / 10) * 8, 8, 8),
        [],
        [(i % 10) * 8 + 4, Math.floor(i / 10) * 8 + 4],
      ),
    )
    const layout = layTemplate(input({ regions, regionHeights: many }))
    expect(layout.sheets.length).toBeGreaterThan(1)
    const texts = textsOf(layout)
    for (let n = 1; n <= 70; n += 1) expect(texts.filter((text) => text === `${n}`).length).toBeGreaterThan(1)
    for (const { paper, marks } of layout.sheets)
      expect(boxOf(marks).bottom).toBeLessThan(paper.height_mm - 10)
  })

  test('turns the paper for a piece that fits it only lying', () => {
    const [sheet] = layTemplate(input(bar(200, 40))).sheets
    expect(sheet?.window).toBeUndefined()
    expect(sheet?.paper.width_mm).toBe(297)
    expect(layTemplate(input(bar(60, 40))).sheets[0]?.paper.width_mm).toBe(210)
  })

  test('writes inches to a thousandth when asked for inches', () => {
    const texts = textsOf(
      layTemplate(input({ ...bar(50.8, 25.4), unit: 'in', compensation: { shrink: 0, finish_mm: 0 } })),
    )
    expect(texts).toContain('2.000')
    expect(texts).toContain('1.000')
  })

  test('draws what is on the back dashed, and says how the back is worked', () => {
    const layout = layTemplate(
      input({
        addedLines: [{ id: 'loop', loop: rectangle(-5, -15, 10, 3), hidden: true }],
        back: { shape: 'hollow', wall_mm: 1.2 },
        remarks: ['Solder the loop after casting.'],
      }),
    )
    const [dashed] = linesOf(layout, 'hidden')
    const { left, right } = boxOf(dashed ? [dashed] : [])
    // 10 / 0.9844
    expect(right - left).toBeCloseTo(10.1585, 3)
    const text = textsOf(layout).join(' ')
    expect(text).toContain('Dashed lines are on the back.')
    expect(text).toContain('to an even 1.2.')
    expect(text).toContain('Solder the loop after casting.')
  })

  test('draws a section at the size of the wax, heights twice as large only when asked', () => {
    const cut = { loops: [Float64Array.of(0, 0, 40, 0, 40, 3, 30, 3, 30, 1.5, 10, 1.5, 10, 3, 0, 3)] }
    const at = { name: 'A', from_mm: [-20, 0], to_mm: [20, 0], cut } as const
    const sizeOf = (layout: TemplateLayout): [number, number] => {
      const cuts = linesOf(layout, 'section').filter(({ runs }) => runs[0]?.points.length === 16)
      const { left, right, top, bottom } = boxOf(cuts)
      return [right - left, bottom - top]
    }
    const once = layTemplate(input({ sections: [at] }))
    // 40 / 0.9844 and 3 / 0.9844
    expect(sizeOf(once)[0]).toBeCloseTo(40.634, 3)
    expect(sizeOf(once)[1]).toBeCloseTo(3.0475, 3)
    const twice = layTemplate(input({ sections: [{ ...at, heightsTimes: 2 }] }))
    expect(sizeOf(twice)[1]).toBeCloseTo(6.0951, 3)
    expect(textsOf(twice)).toContain('Section A–A, heights twice')
    // the overall height stands once, at the side; the flat between at its place
    expect(textsOf(twice).filter((text) => text === '1.5')).toHaveLength(1)
  })
})

describe('tiles', () => {
  const drawing = { left: -10, top: -5, right: 390, bottom: 215 }
  const tiling = tileOver(drawing, 180, 200)

  test('cover the drawing and share 10 mm with their neighbours', () => {
    expect([tiling.columns, tiling.rows]).toEqual([3, 2])
    const xs = tiling.tiles.slice(0, 3).map(({ x }) => x)
    expect((xs[1] ?? 0) - (xs[0] ?? 0)).toBe(180 - OVERLAP)
    expect(xs[0] ?? 0).toBeLessThanOrEqual(drawing.left)
    expect((xs[2] ?? 0) + 180).toBeGreaterThanOrEqual(drawing.right)
  })

  test('have two crosses on each seam, each whole on both its sheets', () => {
    const crosses = tiling.crosses.filter((mark) => mark.shape === 'words')
    // two rows of two upright seams and three level ones, two crosses each
    expect(crosses).toHaveLength(14)
    const arms = tiling.crosses.filter((mark) => mark.shape === 'stroke')
    for (const arm of arms) {
      const { left, right, top, bottom } = boxOf([arm])
      const holding = tiling.tiles.filter(
        ({ x, y }) => left >= x && right <= x + 180 && top >= y && bottom <= y + 200,
      )
      expect(holding.length).toBeGreaterThanOrEqual(2)
    }
  })

  test('show every text whole on one of them', () => {
    const seam = (tiling.tiles[0]?.x ?? 0) + 180
    const text = {
      shape: 'words',
      at: [seam - 5, 20],
      text: '294.8 wax (290.2 cast)',
      size_mm: 3.1,
      face: 'regular',
      anchor: 'middle',
      turned: false,
      cleared: false,
    } as const
    const whole = (mark: SheetMark): boolean => {
      const { left, right, top, bottom } = boxOf([mark])
      return tiling.tiles.some(({ x, y }) => left >= x && right <= x + 180 && top >= y && bottom <= y + 200)
    }
    expect(whole(text)).toBe(false)
    expect(keepWhole([text], tiling, 180, 200).every(whole)).toBe(true)
  })
})
