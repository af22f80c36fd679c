import { beforeAll, describe, expect, test } from 'vitest'
import { regionOf } from '../../../../fixtures/drawings/regions.ts'
import { loadReliefSolids } from '../../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../../documents/index.ts'
import { volumeOf } from '../../piece/mesh/index.ts'
import type { Region } from '../drawing.ts'
import { signedArea, turned } from '../loops.ts'
import { sectionOf } from '../section/index.ts'
import type { ReliefSolids } from '../solids.ts'
import { buildRelief, type Relief } from './index.ts'
import { ellipse as ellipseOf, rectangle } from './loops.ts'

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

  test('works a dome that is lower than wide by no more than rounding', () => {
    const tag = [regionOf('tag', rectangle(0, 0, 20, 10))]
    for (const width_mm of [0.1, 0.3, 0.7, 1.1, 2.3]) {
      const domed = (height_mm: number) =>
        build(tag, {
          regions: { tag: { role: 'raised', height_mm: 3, edge: { shape: 'domed', width_mm, height_mm } } },
        })
      const even = domed(width_mm)
      for (const less of [1, 2, 3]) {
        const near = domed(width_mm * (1 - less * Number.EPSILON))
        expect(near.problems).toEqual([])
        expect(near.volume_mm3).toBeCloseTo(even.volume_mm3, 1)
      }
    }
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

describe('a seat', () => {
  const stone = { shape: 'oval', length_mm: 12, width_mm: 8, gap_mm: 0.1, bearer_mm: 1, well_mm: 1 } as const
  const wall = { thickness_mm: 0.8, height_mm: 1.5 }
  const oval = (a: number, b: number): number => Math.PI * (a / 2) * (b / 2)
  const seatOf = (height_mm: number, more: object = {}): Partial<HeightsInput> => ({
    regions: { seat: { role: 'seat', height_mm, stone: { ...stone, ...more } } },
  })
  const tag = [regionOf('seat', rectangle(0, 0, 24, 16))]

  test('is told when nothing round it holds the stone', () => {
    const well = ellipse([20, 15], 9.2, 6.7)
    const regions = [regionOf('plate', rectangle(0, 0, 40, 30), [turned(well)]), regionOf('well', well)]
    const stone = {
      shape: 'oval',
      length_mm: 18,
      width_mm: 13,
      gap_mm: 0.1,
      bearer_mm: 1,
      well_mm: 0,
      turned_deg: 0,
    } as const
    const kinds = (height_mm: number, more: object = {}) =>
      build(regions, {
        regions: { well: { role: 'seat', height_mm, stone: { ...stone, ...more } } },
      }).problems.map(({ kind }) => kind)
    expect(kinds(3)).toContain('seat-level')
    expect(kinds(2)).not.toContain('seat-level')
    expect(
      kinds(3, { length_mm: 15, width_mm: 10, wall: { thickness_mm: 0.8, height_mm: 1 } }),
    ).not.toContain('seat-level')
  })

  test('has a well inside its bearer', () => {
    const seat = build(tag, seatOf(2))
    expect(seat.problems).toEqual([])
    expect(seat.closed).toBe(true)
    // the well's line runs 1 mm inside the pocket: not an ellipse, but within 0.1 % of one here by Steiner's area
    const pocket = oval(12.2, 8.2)
    const round = Math.PI * (3 * (6.1 + 4.1) - Math.sqrt((3 * 6.1 + 4.1) * (6.1 + 3 * 4.1)))
    const well = pocket - round * 1 + Math.PI
    expect(Math.abs((24 * 16 * 2 - seat.volume_mm3) / well - 1)).toBeLessThan(2e-3)
    expect(seat.planArea_mm2).toBeCloseTo(24 * 16, 6)
  })

  test('is open behind when its well is as deep as its floor is thick', () => {
    const open = build(tag, seatOf(2, { well_mm: 2 }))
    const blind = build(tag, seatOf(2, { well_mm: 1.9 }))
    expect(open.problems).toEqual([])
    expect(open.closed).toBe(true)
    const well = (24 * 16 * 2 - blind.volume_mm3) / 1.9
    expect(open.volume_mm3).toBeCloseTo(24 * 16 * 2 - 2 * well, 2)
    expect(open.planArea_mm2).toBeCloseTo(24 * 16 - well, 2)
  })

  test('weighs the same laid in its face as cut and joined by the modeller', () => {
    const laid = build(tag, seatOf(2, { wall }))
    expect(laid.problems).toEqual([])
    // a tag no larger than the wall touches it, so there the modeller cuts and joins
    const [a, b] = [12.2 + 1.6, 8.2 + 1.6]
    const close = build([regionOf('seat', rectangle(0, 0, a, b))], seatOf(2, { wall }))
    expect(close.problems).toEqual([])
    expect(laid.closed && close.closed).toBe(true)
    expect(laid.volume_mm3 - 24 * 16 * 2).toBeCloseTo(close.volume_mm3 - a * b * 2, 2)
    expect(close.bounds_mm?.max[2]).toBeCloseTo(3.5, 6)
  })

  test('says when the stone is larger than what is drawn, and when only its wall is', () => {
    const drawn = [regionOf('seat', ellipse([0, 0], 12.2, 8.2))]
    expect(build(drawn, seatOf(2)).problems).toEqual([])
    expect(build(drawn, seatOf(2, { wall })).problems.map(({ kind }) => kind)).toEqual(['wall-too-wide'])
    const large = build(drawn, seatOf(2, { length_mm: 13 }))
    expect(large.problems.map(({ kind }) => kind)).toEqual(['stone-too-large'])
    expect(large.closed).toBe(true)
    expect(build(tag, seatOf(2, { bearer_mm: 4.2 })).problems.map(({ kind }) => kind)).toEqual([
      'no-room-for-well',
    ])
  })
})

describe('heights that cannot be', () => {
  test('let an edge taller than its region run out at the back, and say so', () => {
    const edge = { shape: 'domed', width_mm: 10, height_mm: 5 } as const
    const cap = build([round], { regions: { disc: { role: 'raised', height_mm: 3, edge } } })
    expect(cap.problems.map(({ kind }) => kind)).toEqual(['edge-too-tall'])
    expect(cap.closed).toBe(true)
    expect(cap.bounds_mm?.max[2]).toBeCloseTo(3, 2)
  })

  test('say that a wall leaves nothing to hollow', () => {
    const thin = build([round], { blank_mm: 1, back: { shape: 'hollow', wall_mm: 1.2 } })
    expect(thin.problems.map(({ kind }) => kind)).toEqual(['nothing-hollow'])
    expect(thin.closed).toBe(true)
  })

  test('say that two regions apart are two bodies', () => {
    const two = build([regionOf('one', rectangle(0, 0, 5, 5)), regionOf('other', rectangle(8, 0, 5, 5))])
    expect(two.problems.map(({ kind }) => kind)).toEqual(['loose-parts'])
    expect(two.closed).toBe(true)
  })

  test('stand two regions that touch at one point, as bodies that only touch', () => {
    const corner = build([regionOf('one', rectangle(0, 0, 5, 5)), regionOf('other', rectangle(5, 5, 5, 5))])
    expect(corner.closed).toBe(true)
    expect(corner.volume_mm3).toBeCloseTo(150, 3)
  })

  test('leave one region square whose outline crosses itself, and work the others', () => {
    const bow = regionOf('bow', Float64Array.from([20, 0, 30, 10, 30, 0, 20, 10.5]))
    const edge = { shape: 'bevelled', width_mm: 1, height_mm: 1 } as const
    const raised = { role: 'raised', height_mm: 3, edge } as const
    const both = build([regionOf('tag', rectangle(0, 0, 15, 10)), bow], {
      regions: { tag: raised, bow: raised },
    })
    const left = both.problems.filter(({ kind }) => kind === 'edge-not-worked' || kind === 'edges-left-out')
    expect(left.length).toBeGreaterThan(0)
    expect(both.closed).toBe(true)
  })
})

describe('an edge on a plate of 50 x 50 x 3 mm whose hole has sides along the sheet', () => {
  const plate = (width: number, height: number): Region => {
    const [x, y] = [25 - width / 2, 25 - height / 2]
    return regionOf('plate', rectangle(0, 0, 50, 50), [turned(rectangle(x, y, width, height))])
  }
  const bevels = [0.5, 1, 2].map((size) => ({ shape: 'bevelled', width_mm: size, height_mm: size }) as const)
  const edges = [...bevels, { shape: 'domed', width_mm: 4, height_mm: 1 } as const]
  const holes = [
    [6, 6],
    [7, 7],
    [10, 10],
    [20, 20],
    [8, 5],
  ] as const
  test.each(holes.flatMap((hole) => edges.map((edge) => [...hole, edge] as const)))(
    'is worked round a hole of %s x %s mm (%o)',
    (width, height, edge) => {
      const relief = build([plate(width, height)], {
        regions: { plate: { role: 'raised', height_mm: 3, edge } },
      })
      expect(relief.problems).toEqual([])
      expect(relief.closed).toBe(true)
      expect(relief.volume_mm3).toBeLessThan((2500 - width * height) * 3 - 1)
    },
  )

  // By hand, a bevel of 1 x 1 round a hole 6 mm square: at a depth t below the rim the outline lies t inside a
  // square of 50 mm, which takes 200 t - 4 t2 of its area, and t outside the hole, which takes 24 t + pi t2
  // (Steiner); both summed over t from 0 to 1.
  test('takes what the bevel takes', () => {
    const edge = bevels[1] ?? expect.fail('a bevel of 1 mm')
    const relief = build([plate(6, 6)], { regions: { plate: { role: 'raised', height_mm: 3, edge } } })
    const outside = (200 * 1 * 1) / 2 - 4 / 3
    const round = (24 * 1 * 1) / 2 + Math.PI / 3
    expect(relief.volume_mm3).toBeCloseTo(7500 - 36 * 3 - outside - round, 1)
  })
})

describe('what does not fit', () => {
  const stone = {
    shape: 'rectangle',
    length_mm: 14,
    width_mm: 8,
    gap_mm: 0.1,
    bearer_mm: 0.5,
    well_mm: 1,
  } as const

  test('a stone larger than its seat takes nothing from the region beside it', () => {
    const regions = [regionOf('seat', rectangle(0, 0, 10, 10)), regionOf('plate', rectangle(10, 0, 20, 10))]
    const piece = build(regions, {
      regions: { seat: { role: 'seat', height_mm: 2, stone }, plate: { role: 'raised', height_mm: 4 } },
    })
    expect(piece.problems.map(({ kind }) => kind)).toEqual(['stone-too-large'])
    // the well, inside the bearer, is 13.2 x 7.2 mm: of its length the seat holds 10
    expect(piece.volume_mm3).toBeCloseTo(100 * 2 + 200 * 4 - 10 * 7.2 * 1, 3)
  })

  test('a stone over a traced outline by less than the trace may be off is cut, and told with both figures', () => {
    // 10.2 with its room, in a seat of 10: 0.1 over at either end
    const tight = { ...stone, length_mm: 10, well_mm: 0 }
    const heights = heightsSchema.parse({
      kind: 'heights',
      version: 1,
      blank_mm: 3,
      regions: { seat: { role: 'seat', height_mm: 2, stone: tight } },
    })
    const told = (unsure_mm: number) =>
      buildRelief([regionOf('seat', rectangle(0, 0, 10, 10))], heights, solids, unsure_mm).problems
    expect(told(0.04)).toMatchObject([{ level: 'check', kind: 'stone-near-outline' }])
    expect(told(0.04)[0]?.what).toContain('goes 0.1 mm over the traced outline')
    expect(told(0.04)[0]?.what).toContain('may lie 0.12 mm off')
    expect(told(0.03)).toMatchObject([{ kind: 'stone-too-large' }])
    expect(told(0)[0]?.what).toContain('goes 0.1 mm over its outline')
  })

  const bent = (radius_mm: number) =>
    build([regionOf('bar', rectangle(0, 0, 80, 10))], { back: { shape: 'curved', radius_mm } })

  test('a back that goes more than once round is a stop, more than half round a check', () => {
    expect(bent(30).problems).toEqual([])
    expect(bent(20).problems).toMatchObject([{ level: 'check', kind: 'bent-too-far' }])
    expect(bent(12).problems).toMatchObject([{ level: 'stop', kind: 'bent-through-itself' }])
  })

  test('a section of a curved back is cut from the wax before it is bent, where the line was drawn', () => {
    const { unbent, mesh } = bent(30)
    const cut = sectionOf(unbent ?? mesh, [75, -1], [75, 11])
    expect(cut.loops.reduce((sum, loop) => sum + signedArea(loop), 0)).toBeCloseTo(10 * 3, 4)
  })

  test.each([
    [3, []],
    [1, ['hardware-partly-off-piece']],
    [-3, ['hardware-off-piece']],
  ] as const)('a post of 4 mm at %s mm from the end of its piece: %j', (x, kinds) => {
    const { problems } = build([regionOf('bar', rectangle(0, 0, 40, 10))], {
      hardware: [{ kind: 'post', at_mm: [x, 5], diameter_mm: 4, length_mm: 5, strap_thickness_mm: 2 }],
    })
    expect(problems.map(({ kind }) => kind).filter((kind) => kind.startsWith('hardware-'))).toEqual(kinds)
  })
})
