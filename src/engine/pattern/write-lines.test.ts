import { describe, expect, test } from 'vitest'
import { readDrawing } from './drawing/index.ts'
import type { Loop, Region, Regions } from './drawing.ts'
import { findRegions } from './regions/index.ts'
import { layTemplate, type TemplateInput } from './template/index.ts'
import { clasp, rectangle, region } from './template/sample.ts'
import { templateDxf } from './write-dxf.ts'
import { sheetSvg, templateSvg } from './write-svg.ts'

const input = (finish_mm = 0): TemplateInput => {
  const { regions, notes } = clasp()
  return {
    name: 'Cloak clasp <A & B>',
    regions,
    regionHeights: notes,
    blank: { thickness_mm: 5 },
    compensation: { shrink: 0.0156, finish_mm },
    paper: 'a4',
  }
}

const areaOf = (outer: Loop, holes: readonly Loop[]): number =>
  [outer, ...holes].reduce((sum, loop) => {
    let twice = 0
    for (let i = 0, n = loop.length; i < n; i += 2) {
      const j = (i + 2) % n
      twice += (loop[i] ?? 0) * (loop[j + 1] ?? 0) - (loop[j] ?? 0) * (loop[i + 1] ?? 0)
    }
    return sum + twice / 2
  }, 0)

const readAgain = (text: string, name: string): { regions: Regions; stops: string[] } => {
  const drawing = readDrawing(new TextEncoder().encode(text), name)
  const regions = findRegions(drawing.marks)
  const said = [...drawing.problems, ...regions.problems].filter(({ level }) => level !== 'note')
  return { regions, stops: said.map(({ what }) => what) }
}

const bounds = (regions: readonly { outer: Loop }[]): number[] => {
  const all = regions.flatMap(({ outer }) => [...outer])
  const [x, y] = [0, 1].map((odd) => all.filter((_, i) => i % 2 === odd))
  return [x, y].flatMap((values = []) => [Math.max(...values) - Math.min(...values)])
}

/** Area by area, since lines alone can't carry every name. */
const areas = (regions: readonly Pick<Region, 'outer' | 'holes'>[]): number[] =>
  regions.map(({ outer, holes }) => areaOf(outer, holes)).sort((a, b) => a - b)

describe('lines at the size of the wax', () => {
  test.each([0, 0.1])(
    'as SVG are the same regions under the same ids when read again (%s mm filed)',
    (filed) => {
      const layout = layTemplate(input(filed))
      const { regions, stops } = readAgain(templateSvg(layout), 'lines.svg')
      expect(stops).toEqual([])
      const found = new Map(regions.regions.map((one) => [one.id, one]))
      expect([...found.keys()].sort()).toEqual(layout.wax.regions.map(({ id }) => id).sort())
      for (const { id, outer, holes } of layout.wax.regions) {
        const again = found.get(id)
        expect(again?.area_mm2).toBeCloseTo(areaOf(outer, holes), 1)
        const [wide = 0, high = 0] = bounds([{ outer }])
        const [wideAgain = 0, highAgain = 0] = bounds(again ? [again] : [])
        expect(Math.abs(wideAgain - wide)).toBeLessThan(1e-3)
        expect(Math.abs(highAgain - high)).toBeLessThan(1e-3)
      }
    },
  )

  test.each([0, 0.1])('as DXF are the same regions in millimetres when read again (%s mm filed)', (filed) => {
    const layout = layTemplate(input(filed))
    const text = templateDxf(layout)
    const { regions, stops } = readAgain(text, 'lines.dxf')
    expect(stops).toEqual([])
    expect(regions.regions).toHaveLength(layout.wax.regions.length)
    const [was, is] = [areas(layout.wax.regions), areas(regions.regions)]
    was.forEach((area, i) => {
      expect(is[i]).toBeCloseTo(area, 1)
    })
    const [wide = 0, high = 0] = bounds(layout.wax.regions)
    const [wideAgain = 0, highAgain = 0] = bounds(regions.regions)
    expect(Math.abs(wideAgain - wide)).toBeLessThan(1e-3)
    expect(Math.abs(highAgain - high)).toBeLessThan(1e-3)
  })

  test('as DXF carry each line once, on a layer by region, with the whole id beside', () => {
    const text = templateDxf(layTemplate(input()))
    expect(text.match(/\r\nPOLYLINE\r\n/g)).toHaveLength(16)
    expect(text).toContain('1000\r\nleaf-7\r\n')
    expect(text).toContain('8\r\nRIM\r\n')
    expect(text).toMatch(/\$INSUNITS\r\n70\r\n4\r\n/)
  })

  test('as DXF, ids that a layer can’t hold are told apart', () => {
    const halves = [
      region('ø 1', rectangle(10, 10, 5, 5), [], [12, 12]),
      region('ö 1', rectangle(20, 10, 5, 5), [], [22, 12]),
      region('plate', rectangle(0, 0, 40, 30), [rectangle(10, 10, 5, 5), rectangle(20, 10, 5, 5)], [3, 3]),
    ]
    const text = templateDxf(layTemplate({ ...input(), regions: halves, regionHeights: [] }))
    expect(text).toContain('8\r\n__1\r\n')
    expect(text).toContain('8\r\n__1_2\r\n')
  })

  test('hold hardware and stones apart from the drawing, which reads again without them', () => {
    const addedLines = [
      { id: 'hardware-1', loop: rectangle(10, 5, 12, 2), hidden: true },
      { id: 'hardware-1', loop: rectangle(10, 15, 12, 2), hidden: true },
      { id: 'hardware-2', loop: rectangle(-20, 0, 4, 4), hidden: false },
    ]
    const bare = layTemplate(input())
    const layout = layTemplate({ ...input(), addedLines })
    const [svg, dxf] = [templateSvg(layout), templateDxf(layout)]
    expect(svg.match(/ class="(back|front)"/g)).toHaveLength(3)
    expect(new Set(svg.match(/ id="hardware[^"]*"/g)).size).toBe(3)
    expect(dxf.match(/\r\nPOLYLINE\r\n8\r\nADDED_BACK\r\n/g)).toHaveLength(2)
    expect(dxf.match(/\r\nPOLYLINE\r\n8\r\nADDED_FRONT\r\n/g)).toHaveLength(1)
    // the loop is over by 1 / (1 - 0.0156), as all else is
    expect(dxf).toContain(`10\r\n${Number((-20 / (1 - 0.0156)).toFixed(6))}\r\n`)
    for (const [text, without, name] of [
      [svg, templateSvg(bare), 'lines.svg'],
      [dxf, templateDxf(bare), 'lines.dxf'],
    ] as const) {
      const { regions, stops } = readAgain(text, name)
      expect(stops).toEqual([])
      expect(areas(regions.regions)).toEqual(areas(readAgain(without, name).regions.regions))
      const said = readDrawing(new TextEncoder().encode(text), name).problems
      expect(said.map(({ kind }) => kind)).toContain('beside-drawing')
    }
  })

  test('hold veins as lines of their own, which read again as veins and change no region', () => {
    const veins = [Float64Array.of(6, 4, 8, 7, 12, 9), Float64Array.of(20, 5, 24, 5)]
    const plate = {
      regions: [region('plate', rectangle(0, 0, 40, 20), [], [30, 15])],
      regionHeights: [{ id: 'plate', role: 'raised', height_mm: 2 }] as const,
      veins,
    }
    const layout = layTemplate({ ...input(), ...plate })
    const wax = (mm: number): number => mm / (1 - 0.0156)
    for (const [name, text] of [
      ['lines.svg', templateSvg(layout)],
      ['lines.dxf', templateDxf(layout)],
    ] as const) {
      const { regions } = readAgain(text, name)
      expect(regions.regions).toHaveLength(1)
      expect(regions.veins).toHaveLength(2)
      const [left = 0, low = 0] = regions.bounds_mm?.min ?? []
      veins.forEach((vein, k) => {
        const read = regions.veins?.[k] ?? []
        expect(read).toHaveLength(vein.length)
        vein.forEach((mm, i) => {
          expect((read[i] ?? 0) - (i % 2 === 0 ? left : low)).toBeCloseTo(wax(mm), 3)
        })
      })
    }
    expect(templateDxf(layout)).toContain('VEINS')
    const sheet = sheetSvg(layout, 1) ?? ''
    expect(sheet).toContain('such as veins')
    expect(sheetSvg(layTemplate({ ...input(), ...plate, veins: [] }), 1)).not.toContain('such as veins')
  })

  test('as SVG have ids and names that cannot end the text they stand in', () => {
    const hostile = region('"/><script>x</script>', rectangle(0, 0, 40, 30), [], [3, 3])
    const layout = layTemplate({ ...input(), regions: [hostile], regionHeights: [] })
    const text = templateSvg(layout)
    expect(text).not.toContain('<script')
    expect(text).toContain('Cloak clasp &lt;A &amp; B&gt;')
    expect(readAgain(text, 'x.svg').regions.regions.map(({ id }) => id)).toEqual(['"/><script>x</script>'])
    expect(sheetSvg(layout, 1)).toContain('Cloak clasp &lt;A &amp; B&gt;')
    expect(sheetSvg(layout, 9)).toBeUndefined()
  })
})
