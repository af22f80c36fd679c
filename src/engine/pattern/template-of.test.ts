import { beforeAll, describe, expect, test } from 'vitest'
import { loadReliefSolids } from '../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../documents/index.ts'
import { groupRegions } from './group-regions.ts'
import { readPattern, shapePattern } from './read-pattern.ts'
import type { ReliefSolids } from './solids.ts'
import type { SheetMark, TemplateLayout } from './template/index.ts'
import { templateOf } from './template-of.ts'

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <g fill="#fff" stroke="#000">
  <rect id="border" width="60" height="40"/><rect id="ground" x="3" y="3" width="54" height="34"/>
  <circle id="leaf-1" cx="10" cy="20" r="4"/><circle id="leaf-2" cx="50" cy="20" r="4"/>
  <ellipse id="seat" cx="30" cy="20" rx="9.2" ry="6.7"/></g></svg>`

const lay = (more: Partial<HeightsInput> = {}, unit: 'mm' | 'in' = 'mm') => {
  const heights = heightsSchema.parse({
    kind: 'heights',
    version: 1,
    blank_mm: 3,
    regions: {
      ground: { role: 'ground', height_mm: 1.5 },
      seat: {
        role: 'seat',
        height_mm: 1.6,
        stone: { shape: 'oval', length_mm: 18, width_mm: 13, gap_mm: 0.2, bearer_mm: 1, well_mm: 0.5 },
      },
    },
    ...more,
  })
  const reading = readPattern({ bytes: new TextEncoder().encode(SVG), name: 'clasp.svg', heights })
  const { relief } = shapePattern(reading, heights, solids)
  const compensation = { shrink: 0.0125 }
  const layout = templateOf(reading, relief, heights, { name: 'Clasp', paper: 'a4', unit, compensation })
  return { layout, groups: groupRegions(reading.regions.regions, heights) }
}
const marksOf = ({ sheets }: TemplateLayout): SheetMark[] => sheets.flatMap(({ marks }) => [...marks])
const textOf = (layout: TemplateLayout): string =>
  marksOf(layout)
    .flatMap((mark) => (mark.shape === 'words' ? [mark.text] : []))
    .join(' ')

describe('the template of a drawing', () => {
  test('numbers and names regions as the page does', () => {
    const { layout, groups } = lay()
    const text = textOf(layout)
    expect(groups.map(({ name }) => name)).toEqual(['Ground', 'Border', 'Seat', 'Leaf'])
    const at = groups.map(({ number, name, regions }) =>
      text.indexOf(`${number} ${name}${regions.length > 1 ? `, ${regions.length}` : ''}: `),
    )
    expect(Math.min(...at)).toBeGreaterThan(0)
    expect(at).toEqual(at.toSorted((a, b) => a - b))
  })

  test('shows what stands on the back dashed, with its sizes and its place', () => {
    const strap = { strap_width_mm: 25, strap_thickness_mm: 3 }
    const { layout } = lay({
      hardware: [{ kind: 'loop', at_mm: [18, 20], turned_deg: 90, ...strap, bar_mm: 2.5, clear_mm: 6 }],
    })
    const hidden = marksOf(layout).filter((mark) => mark.shape === 'stroke' && mark.line === 'hidden')
    expect(hidden.length).toBeGreaterThan(0)
    const text = textOf(layout)
    // 6 / 0.9875 = 6.08, 12 / 0.9875 = 12.15; the strap keeps its own size
    expect(text).toContain('Loop for a strap 25.0 × 3.0: bar 2.5,')
    expect(text).toContain('stands 6.1 off the back')
    expect(text).toContain('12.2 left of the middle')
    expect(layout.problems.map(({ kind }) => kind)).toContain('hardware-behind-blank')
    expect(text).toContain('Carved of one piece')
  })

  test('has a section through the seat when none is placed, drawn twice as tall, and its line only outside', () => {
    const { layout } = lay()
    expect(textOf(layout)).toContain('Section A–A, heights twice')
    const ends = marksOf(layout).flatMap((mark) =>
      mark.shape === 'stroke' && mark.line === 'plane-end' ? mark.runs.map(({ points }) => points) : [],
    )
    const rim = marksOf(layout).flatMap((mark) =>
      mark.shape === 'stroke' && mark.line === 'outline' && mark.runs.some(({ closed }) => closed)
        ? mark.runs.flatMap(({ points }) => [...points].filter((_, i) => i % 2 === 0))
        : [],
    )
    const [left, right] = [Math.min(...rim), Math.max(...rim)]
    expect(ends).toHaveLength(2)
    for (const [ax = 0, , bx = 0] of ends)
      expect(Math.max(ax, bx) < left || Math.min(ax, bx) > right).toBe(true)
  })

  test('says the seat’s size in wax, and names one blank for the whole sheet', () => {
    const text = textOf(lay().layout)
    // (18 + 0.4) / 0.9875 = 18.63 and 13.4 / 0.9875 = 13.57
    expect(text).toContain('is 18.6 × 13.6 in wax')
    // 60 / 0.9875 + 3 = 63.76 and 40 / 0.9875 + 3 = 43.5; 3 / 0.9875 = 3.04
    expect(text).toContain('64.0 × 44.0 × 3.1')
    // heights are cut down from the blank that it names: 3.1 - 1.5 / 0.9875
    expect(text).toMatch(/Ground: ground, cut back 1\.5 1\.6/)
  })

  test('in inches has no millimetre in its sentences', () => {
    // 3 / 0.9875 - 2 = 1.04 mm
    const raised = { border: { role: 'raised', height_mm: 3 } } as const
    const text = textOf(lay({ blank_mm: 2, regions: raised }, 'in').layout)
    expect(text).toContain('higher than the 0.079 in of wax')
    expect(text.replaceAll(/100 mm|0\.3 mm/g, '')).not.toMatch(/\d mm/)
  })

  test('says what is cut down from, where the wax is thicker than that', () => {
    const said = (more: Partial<HeightsInput>) =>
      lay(more)
        .layout.sheets.flatMap(({ marks, window }) => [...marks, ...(window?.marks ?? [])])
        .flatMap((mark) => (mark.shape === 'words' ? [mark.text] : []))
        .join(' ')
    expect(said({})).toMatch(/Cut from [\d.]+ by/)
    expect(said({})).not.toContain('go by the heights alone')
    expect(said({ back: { shape: 'curved', radius_mm: 60 } })).toMatch(
      /is from flat wax [\d.]+ thick, bent after carving\. Carved of one piece from [\d.]+, go by the heights alone/,
    )
  })
})
