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

const shaped = (more: Partial<HeightsInput> = {}) => {
  const heights = heightsSchema.parse({
    kind: 'heights',
    version: 1,
    blank_mm: 3,
    regions: {
      plate: { role: 'ground', height_mm: 2 },
      hole: { role: 'through' },
      boss: { role: 'raised', height_mm: 3 },
    },
    ...more,
  })
  const reading = readPattern({ bytes: new TextEncoder().encode(SVG), name: 'plate.svg', heights })
  return { reading, heights, ...shapePattern(reading, heights, solids) }
}

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

  it('takes a worked edge outward with it, so that the slope is as drawn', () => {
    const edged = (filing_mm: number) =>
      shaped({
        filing_mm,
        regions: {
          plate: { role: 'ground', height_mm: 2, edge: { shape: 'bevelled', width_mm: 1, height_mm: 1 } },
          hole: { role: 'through' },
          boss: { role: 'raised', height_mm: 3 },
        },
      }).facts
    const [plain, filed] = [edged(0), edged(0.3)]
    const added = (filed.volume_mm3 ?? 0) - (plain.volume_mm3 ?? 0)
    // the bevel's corners are longer by what the mitres add: a hundredth of what the file takes
    expect(Math.abs(added - (filed.drawn?.filed_mm3 ?? 0)) / added).toBeLessThan(0.02)
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

  it('is told where it closes a notch', () => {
    const { facts } = shaped({ filing_mm: 2, regions: { hole: { role: 'through' } } })
    expect(facts.volume_mm3).toBeCloseTo(3 * (44 * 34 - 36), 2)
    const slot = SVG.replace('width="10" height="10"', 'width="3" height="10"')
    const heights = heightsSchema.parse({
      kind: 'heights',
      version: 1,
      blank_mm: 3,
      filing_mm: 2,
      regions: { hole: { role: 'through' } },
    })
    const reading = readPattern({ bytes: new TextEncoder().encode(slot), name: 'plate.svg', heights })
    const { relief } = shapePattern(reading, heights, solids)
    expect(relief.problems.map(({ kind }) => kind)).toContain('filing-closes-a-notch')
  })
})
