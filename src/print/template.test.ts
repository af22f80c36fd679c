import PDFDocument from 'pdfkit'
import { beforeAll, describe, expect, test } from 'vitest'
import {
  layTemplate,
  type SheetMark,
  type TemplateInput,
  type TemplateLayout,
  widthOf,
} from '../engine/pattern/template/index.ts'
import { clasp } from '../engine/pattern/template/sample.ts'
import { readSheetFonts, type SheetFonts } from './fonts.ts'
import { printTemplate } from './template.ts'
import { lettered, TypeSetter } from './type.ts'

let fonts: SheetFonts
let type: TypeSetter
beforeAll(async () => {
  fonts = await readSheetFonts()
  const doc = new PDFDocument({ margin: 0 })
  for (const [name, bytes] of Object.entries(fonts)) doc.registerFont(name, Buffer.from(bytes))
  type = new TypeSetter(doc)
})

const input = (over: Partial<TemplateInput> = {}): TemplateInput => {
  const { regions, notes } = clasp()
  return {
    name: 'Cloak clasp',
    regions,
    regionHeights: notes,
    blank: { thickness_mm: 5, length_mm: 66, width_mm: 52 },
    compensation: { shrink: 0.0156, shrinkLow: 0.012, shrinkHigh: 0.0195, finish_mm: 0.1 },
    paper: 'a4',
    sawClear_mm: 1,
    ...over,
  }
}

const larger = (times: number): Pick<TemplateInput, 'regions'> => ({
  regions: clasp().regions.map(({ outer, holes, at_mm, ...rest }) => ({
    ...rest,
    outer: outer.map((v) => v * times),
    holes: holes.map((hole) => hole.map((v) => v * times)),
    at_mm: [at_mm[0] * times, at_mm[1] * times] as const,
  })),
})

const LAYOUTS: [string, Partial<TemplateInput>][] = [
  ['A4', {}],
  ['Letter', { paper: 'letter' }],
  ['inches', { unit: 'in', paper: 'letter' }],
  ['a corrected printer', { printer: { bar_mm: 99.2 } }],
  ['a printer that draws large', { printer: { bar_mm: 102 } }],
  ['a printer that feeds slowly', { printer: { bar_mm: 99.8, upright_mm: 98.6 } }],
  ['six sheets', { ...larger(6), blank: { thickness_mm: 5 } }],
  ['a long name', { name: 'Cloak clasp with a carnelian seat and a border of twelve leaves, second try' }],
]

const wordsOf = (layout: TemplateLayout): Extract<SheetMark, { shape: 'words' }>[] =>
  layout.sheets.flatMap(({ marks, window }) =>
    [...marks, ...(window?.marks ?? [])].flatMap((mark) => (mark.shape === 'words' ? [mark] : [])),
  )

describe('words on a template', () => {
  test.each(LAYOUTS)('take no more room than was laid out for them, on %s', (_, over) => {
    for (const { text, face, size_mm } of wordsOf(layTemplate(input(over)))) {
      const real = type.width({ text, face }, size_mm)
      // a serif title has nothing at its right but the margin
      const allowed = face === 'regular' ? 1.02 : 1.2
      expect(real, text).toBeLessThan(widthOf(text, size_mm) * allowed + 0.3)
    }
  })

  test.each(LAYOUTS)('stay inside margins of 10 mm, on %s', (_, over) => {
    const { sheets, correction } = layTemplate(input(over))
    expect(sheets.length).toBeGreaterThan(0)
    for (const { paper, marks } of sheets)
      for (const mark of marks) {
        if (mark.shape !== 'words') continue
        const wide = type.width(mark, mark.size_mm)
        const before = { start: 0, middle: wide / 2, end: wide }[mark.anchor]
        const left = mark.at[0] - (mark.turned ? mark.size_mm : before)
        expect(left * correction.across, mark.text).toBeGreaterThan(10)
        if (!mark.turned)
          expect((paper.width_mm - left - wide) * correction.across, mark.text).toBeGreaterThan(10)
        expect(mark.at[1] * correction.down).toBeGreaterThan(10)
        expect((paper.height_mm - mark.at[1]) * correction.down, mark.text).toBeGreaterThan(10)
      }
  })

  test.each(LAYOUTS)('are all letters that the faces hold, on %s', (_, over) => {
    for (const { text } of wordsOf(layTemplate(input(over)))) expect(lettered(text)).toBe(text)
  })
})

describe('the file', () => {
  test('is the same bytes for the same layout and moment', async () => {
    const layout = layTemplate(input())
    const [a, b] = [
      await printTemplate(layout, { printedAt: 1e12, fonts }),
      await printTemplate(layout, { printedAt: 1e12, fonts }),
    ]
    expect(Buffer.from(a).equals(Buffer.from(b))).toBe(true)
  })

  test('of a drawing without regions has no sheet, and says nothing untrue', () => {
    const layout = layTemplate(input({ regions: [], regionHeights: [] }))
    expect(layout.sheets).toEqual([])
  })
})
