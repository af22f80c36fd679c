import { beforeAll, describe, expect, test } from 'vitest'
import { loadReliefSolids } from '../../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../../documents/index.ts'
import { volumeOf } from '../../piece/mesh/index.ts'
import type { Region } from '../drawing.ts'
import type { ReliefSolids } from '../solids.ts'
import { buildRelief, type Relief } from './index.ts'
import { ellipse as ellipseOf, rectangle } from './loops.ts'
import { regionOf, turned } from './shapes.ts'

const ellipse = (c: readonly [number, number], a: number, b: number) => ellipseOf(c, a, b, 720)

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

const build = (regions: readonly Region[], heights: Partial<HeightsInput> = {}): Relief =>
  buildRelief(regions, heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3, ...heights }), solids)

/** Of one round region: a bevel, a dome, a quarter round. */
const round = regionOf('disc', ellipse([0, 0], 20, 20))

describe('a relief', () => {
  test('of one square region is a block', () => {
    const block = build([regionOf('tag', rectangle(0, 0, 20, 10))])
    expect(block.problems).toEqual([])
    expect(block.closed).toBe(true)
    expect(block.volume_mm3).toBeCloseTo(600, 6)
    expect(block.area_mm2).toBeCloseTo(2 * 200 + 60 * 3, 6)
    expect(block.planArea_mm2).toBeCloseTo(200, 9)
    expect(block.rimArea_mm2).toBeCloseTo(60 * 3, 9)
    expect(block.bounds_mm).toEqual({ min: [0, 0, 0], max: [20, 10, 3] })
    expect(volumeOf(block.mesh)).toBeCloseTo(600, 4)
  })

  test('of neighbours that meet in a T is one closed body', () => {
    const regions = [
      regionOf('lower', rectangle(0, 0, 20, 10)),
      regionOf('left', rectangle(0, 10, 7, 10)),
      regionOf('right', rectangle(7, 10, 13, 10)),
    ]
    const stairs = build(regions, {
      regions: {
        left: { role: 'ground', height_mm: 1 },
        right: { role: 'raised', height_mm: 2 },
      },
    })
    expect(stairs.problems).toEqual([])
    expect(stairs.closed).toBe(true)
    expect(stairs.volume_mm3).toBeCloseTo(200 * 3 + 70 + 260, 4)
    // the rim all round by its own height, and the steps 3-1 over 7, 3-2 over 13, 2-1 over 10
    expect(stairs.rimArea_mm2).toBeCloseTo(40 * 3 + 17 + 23 * 2 + 7 * 2 + 13 + 10, 6)
  })

  test('stands on every region but those cut through', () => {
    const hole = ellipse([10, 10], 6, 6)
    const regions = [regionOf('plate', rectangle(0, 0, 20, 20), [turned(hole)]), regionOf('eye', hole)]
    const ring = build(regions, { regions: { eye: { role: 'through' } } })
    expect(ring.closed).toBe(true)
    expect(ring.volume_mm3).toBeCloseTo((400 - Math.PI * 9) * 3, 3)
    expect(ring.regions).toEqual([
      { id: 'plate', role: 'raised', height_mm: 3 },
      { id: 'eye', role: 'through', height_mm: 0 },
    ])
    const nothing = build([round], { regions: { disc: { role: 'through' } } })
    expect(nothing.problems.map(({ kind }) => kind)).toEqual(['nothing-stands'])
    expect(nothing.closed).toBe(false)
  })

  test('has a bevel all round, sharp at its corners', () => {
    const bevel = build([regionOf('tag', rectangle(0, 0, 20, 10))], {
      regions: {
        tag: { role: 'raised', height_mm: 3, edge: { shape: 'bevelled', width_mm: 2, height_mm: 1 } },
      },
    })
    expect(bevel.problems).toEqual([])
    expect(bevel.closed).toBe(true)
    // prismatoid: h / 6 (base + 4 middle + top)
    expect(bevel.volume_mm3).toBeCloseTo(200 * 2 + (200 + 4 * 18 * 8 + 16 * 6) / 6, 3)
  })
})
