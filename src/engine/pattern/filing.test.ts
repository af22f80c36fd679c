import { beforeAll, describe, expect, it } from 'vitest'
import { loadReliefSolids } from '../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../documents/index.ts'
import { readPattern, shapePattern } from './read-pattern.ts'
import type { ReliefSolids } from './solids.ts'
import { templateOf } from './template-of.ts'

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

/** A plate 40 x 30 mm with a square hole of 10 mm, and a boss of 8 mm that does not touch the rim. */
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 50 40">
  <rect id="plate" x="5" y="5" width="40" height="30" fill="#ccc"/>
  <rect id="hole" x="10" y="15" width="10" height="10" fill="#fff"/>
  <rect id="boss" x="30" y="16" width="8" height="8" fill="#888"/>
</svg>`

const BLOCK = { blank_mm: 5, regions: {} } satisfies Partial<HeightsInput>
const drawing = (inside: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 50 40">${inside}</svg>`
const PLAIN = drawing('<rect id="plate" x="5" y="5" width="40" height="30" fill="#ccc"/>')
const NOTCHED = drawing('<path id="plate" d="M5 5H24V20H26V5H45V35H5Z" fill="#ccc"/>')
/** A well of 10 by 10 that shares the rim with the rest. */
const SEATED = drawing(
  '<path id="rest" d="M0 0H40V15H30V25H40V40H0Z" fill="#ccc"/><path id="well" d="M30 15H40V25H30Z" fill="#888"/>',
)

const shapeOf = (svg: string, more: Partial<HeightsInput>) => {
  const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3, ...more })
  const reading = readPattern({ bytes: new TextEncoder().encode(svg), name: 'plate.svg', heights })
  return { reading, heights, ...shapePattern(reading, heights, solids) }
}
const solidOf = (svg: string, more: Partial<HeightsInput>) => shapeOf(svg, more).facts

const shaped = (more: Partial<HeightsInput> = {}) =>
  shapeOf(SVG, {
    regions: {
      plate: { role: 'ground', height_mm: 2 },
      hole: { role: 'through' },
      boss: { role: 'raised', height_mm: 3 },
    },
    ...more,
  })

describe('what is left for the file', () => {
  it('stands square round the outline and closes the openings, and leaves what is inside alone', () => {
    const f = 0.3
    const { facts, relief } = shaped({ filing_mm: f })
    // mitred corners: (40 + 2f)(30 + 2f), the hole 10 - 2f, at 2 mm; the boss 8 x 8 another 1 mm
    const volume = 2 * ((40 + 2 * f) * (30 + 2 * f) - (10 - 2 * f) ** 2) + 64
    expect(facts.volume_mm3).toBeCloseTo(volume, 3)
    expect(facts.bounds_mm?.min.slice(0, 2)).toEqual([expect.closeTo(5 - f, 4), expect.closeTo(5 - f, 4)])
    const asDrawn = 2 * (40 * 30 - 100) + 64
    expect(facts.drawn?.filed_mm3).toBeCloseTo(volume - asDrawn, 3)
    expect(relief.problems).toEqual([])
  })

  it('adds nothing where none is asked for', () => {
    const { facts } = shaped()
    expect(facts.volume_mm3).toBeCloseTo(2 * 1100 + 64, 4)
    expect(facts.drawn).not.toHaveProperty('filed_mm3')
  })

  it('is filed back to what is drawn, whatever the edge, and cast over it all round', () => {
    for (const edge of [
      { shape: 'bevelled', width_mm: 1, height_mm: 1 },
      { shape: 'domed', width_mm: 5, height_mm: 2 },
    ] as const) {
      const edged = (filing_mm: number) =>
        shaped({
          filing_mm,
          regions: {
            plate: { role: 'ground', height_mm: 2, edge },
            hole: { role: 'through' },
            boss: { role: 'raised', height_mm: 3 },
          },
        }).facts
      const [plain, filed] = [edged(0), edged(0.3)]
      const left = (filed.volume_mm3 ?? 0) - (filed.drawn?.filed_mm3 ?? 0)
      expect(left).toBeCloseTo(plain.volume_mm3 ?? Number.NaN, 6)
      // never more than the rim at its full height, and never less than the rim where it is lowest
      expect(filed.drawn?.filed_mm3).toBeLessThan(0.3 * (140 + 40) * 2 + 2)
      expect(filed.drawn?.filed_mm3).toBeGreaterThan(0)
    }
  })

  it('is left outside a hollow whose wall is as asked once it is filed', () => {
    const hollow = { shape: 'hollow', wall_mm: 1.2 } as const
    const block = { ...BLOCK, back: hollow }
    const [plain, filed] = [solidOf(PLAIN, block), solidOf(PLAIN, { ...block, filing_mm: 0.3 })]
    // the same room within, and 0.3 mm more all round at the full 5 mm
    const skirt = 5 * (40.6 * 30.6 - 40 * 30)
    expect((filed.volume_mm3 ?? 0) - (plain.volume_mm3 ?? 0)).toBeCloseTo(skirt, 2)
    expect(filed.drawn?.filed_mm3).toBeCloseTo(skirt, 2)
  })

  it('moves no stone from where the template has it, and hides no stone that is too large', () => {
    const seat = (length_mm: number, filing_mm: number) =>
      shapeOf(SEATED, {
        ...BLOCK,
        filing_mm,
        regions: {
          rest: { role: 'raised', height_mm: 3 },
          well: {
            role: 'seat',
            height_mm: 2,
            stone: { shape: 'rectangle', length_mm, width_mm: 8, gap_mm: 0, bearer_mm: 1, well_mm: 1 },
          },
        },
      })
    // the well runs from 30 to 40 along the rim: the stone's middle is at 35, filed or not
    const wellAt = ({ relief }: ReturnType<typeof seat>): number => {
      const { positions } = relief.mesh
      const xs = [...positions].flatMap((value, i) =>
        i % 3 === 0 && Math.abs((positions[i + 2] ?? 0) - 1) < 1e-6 ? [value] : [],
      )
      return (Math.min(...xs) + Math.max(...xs)) / 2
    }
    expect(wellAt(seat(8, 1))).toBeCloseTo(wellAt(seat(8, 0)), 3)
    const kinds = (filing_mm: number) => seat(10.8, filing_mm).relief.problems.map(({ kind }) => kind)
    expect(kinds(0)).toContain('stone-too-large')
    expect(kinds(0.8)).toContain('stone-too-large')
  })

  it('says so on the template whether or not the wax is over by the shrink, and draws it', () => {
    for (const over of ['shrink', 'none'] as const) {
      const { reading, heights, relief } = shaped({ filing_mm: 0.3, over })
      const layout = templateOf(reading, relief, heights, {
        name: 'Plate',
        paper: 'a4',
        compensation: { shrink: 0.0156 },
      })
      const said = layout.sheets
        .flatMap(({ marks, window }) => [...marks, ...(window?.marks ?? [])])
        .flatMap((mark) => (mark.shape === 'words' ? [mark.text] : []))
        .join(' ')
      expect(said).toContain('0.3 mm for filing')
      const [rim] = layout.wax.outline
      const xs = [...(rim ?? [])].filter((_, i) => i % 2 === 0)
      const scale = over === 'shrink' ? 1 / (1 - 0.0156) : 1
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(40.6 * scale, 3)
    }
  })

  it('is cut through whole by a section whose line ends on the drawing', () => {
    const { reading, heights, relief } = shapeOf(PLAIN, {
      ...BLOCK,
      filing_mm: 2,
      sections: [{ name: 'A', from_mm: [5, 20], to_mm: [45, 20] }],
    })
    const layout = templateOf(reading, relief, heights, {
      name: 'Plate',
      paper: 'a4',
      compensation: { shrink: 0 },
    })
    const texts = layout.sheets
      .flatMap(({ marks, window }) => [...marks, ...(window?.marks ?? [])])
      .flatMap((mark) => (mark.shape === 'words' ? [mark.text] : []))
    // 40 mm and 2 on each side: over the plan and under the section
    expect(texts.filter((text) => text === '44.0')).toHaveLength(2)
  })

  it('stops where it closes an opening or a notch, or leaves no more than a slit of one', () => {
    // an opening of 3 mm, and a notch of 2 mm cut in from the rim
    for (const [drawing, closes, leaves] of [
      [SVG.replace('width="10" height="10"', 'width="3" height="10"'), [1.5, 2], 1.4],
      [NOTCHED, [1, 1.5], 0.9],
    ] as const) {
      const kinds = (filing_mm: number) => {
        const { facts, relief } = shapeOf(drawing, { filing_mm, regions: { hole: { role: 'through' } } })
        return { volume: facts.volume_mm3, kinds: relief.problems.map(({ kind }) => kind) }
      }
      for (const filing_mm of closes) {
        expect(kinds(filing_mm).kinds).toContain('filing-closes-a-notch')
        expect(kinds(filing_mm).volume).toBeNull()
      }
      expect(kinds(leaves).kinds).not.toContain('filing-closes-a-notch')
      expect(kinds(leaves).volume).not.toBeNull()
    }
  })

  it('lets a bend that is tighter than what is left be filled a little, and weighs it', () => {
    // a rounded inner corner of 0.3 mm
    const bend = drawing('<path id="plate" d="M5 5H45V20H25.3A.3 .3 0 0 0 25 20.3V35H5Z" fill="#ccc"/>')
    const { facts } = shapeOf(bend, { filing_mm: 0.6 })
    const drawn = shapeOf(bend, {}).facts.volume_mm3 ?? Number.NaN
    // 140 mm round; five corners out and one in, each f squared or less
    expect(facts.volume_mm3).toBeGreaterThan(drawn + 3 * (140 * 0.6 - 1))
    expect(facts.volume_mm3).toBeLessThan(drawn + 3 * (140 * 0.6 + 5 * 0.36 + 1))
  })
})
