import { beforeAll, describe, expect, test } from 'vitest'
import { regionOf } from '../../../../fixtures/drawings/regions.ts'
import { loadReliefSolids } from '../../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../../documents/index.ts'
import { buildRelief, type Relief } from '../relief/index.ts'
import { rectangle } from '../relief/loops.ts'
import type { ReliefSolids } from '../solids.ts'
import { clashChecks, fitChecks } from './index.ts'

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

type Written = NonNullable<HeightsInput['hardware']>[number]

const strap = { strap_width_mm: 20, strap_thickness_mm: 2.4 }
const at = { at_mm: [30, 15] as [number, number] }
const plate = [regionOf('plate', rectangle(0, 0, 60, 30))]
const build = (hardware: readonly Written[], more: Partial<HeightsInput> = {}): Relief =>
  buildRelief(
    plate,
    heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 2, hardware: [...hardware], ...more }),
    solids,
  )
const kinds = (hardware: readonly Written[]): string[] =>
  fitChecks(
    heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 2, hardware: [...hardware] }).hardware,
  ).map(({ kind }) => kind)

const BLOCK = 60 * 30 * 2
const round = (d: number): number => (Math.PI / 4) * d ** 2

describe('two pieces of hardware', () => {
  const post = (x: number): Written => ({
    kind: 'post',
    at_mm: [x, 15],
    diameter_mm: 3,
    length_mm: 5,
    head_mm: 5,
    strap_thickness_mm: 3,
  })
  const clashes = (hardware: readonly Written[]): string[] =>
    clashChecks(
      heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 2, hardware: [...hardware] }).hardware,
    ).map(({ where, kind }) => `${kind} ${where}`)

  test('are told when they stand in one another, and not when their heads are clear', () => {
    // heads of 5 mm: 5.1 mm apart they are clear, 4.5 mm apart they are not
    expect(clashes([post(20), post(25.1)])).toEqual([])
    expect(clashes([post(20), post(24.5)])).toEqual(['hardware-clash hardware/1'])
    expect(clashes([post(20), post(40), { kind: 'loop', ...strap, at_mm: [40, 15], bar_mm: 3 }])).toEqual([
      'hardware-clash hardware/2',
    ])
  })
})

describe('hardware on a flat back', () => {
  test('is a loop: a mitred wire of two legs and a bar behind the back', () => {
    const loop = build([{ kind: 'loop', ...at, ...strap, bar_mm: 2, inside_mm: 21, clear_mm: 3 }])
    expect(loop.problems).toEqual([])
    expect(loop.closed).toBe(true)
    // centre line: two legs down to the bar's middle at 4, and the bar between their middles, 23
    expect(loop.volume_mm3 - BLOCK).toBeCloseTo(round(2) * (4 + 4 + 23), 1)
    expect(loop.bounds_mm?.min[2]).toBeCloseTo(-5, 1)
  })

  test('is a post with its head', () => {
    const post = build([
      { kind: 'post', ...at, diameter_mm: 3, length_mm: 4, head_mm: 6, strap_thickness_mm: 3 },
    ])
    expect(post.closed).toBe(true)
    expect(post.volume_mm3 - BLOCK).toBeCloseTo(round(3) * 4 + round(6) * 1.5, 1)
  })

  test('is a hook that reaches along its turn', () => {
    const hook = build([
      { kind: 'hook', at_mm: [30, 20], turned_deg: 90, ...strap, wire_mm: 2.5, reach_mm: 14, clear_mm: 3 },
    ])
    expect(hook.closed).toBe(true)
    expect(hook.volume_mm3 - BLOCK).toBeCloseTo(round(2.5) * (3 + 1.25 + 14), 1)
    // past the edge of the plate, 20 + 14
    expect(hook.bounds_mm?.max[1]).toBeCloseTo(34, 4)
  })

  test('is a keeper slot, cut through with rounded corners', () => {
    const slot = build([{ kind: 'keeper-slot', ...at, ...strap, slot_mm: 21, opening_mm: 6 }])
    expect(slot.closed).toBe(true)
    const area = 21 * 6 - (4 - Math.PI) * 0.5 ** 2
    expect(Math.abs((BLOCK - slot.volume_mm3) / (area * 2) - 1)).toBeLessThan(1e-3)
  })

  test('is a pocket for the strap’s tip, open where the strap goes in', () => {
    const pocket = build([{ kind: 'tip-pocket', at_mm: [10, 15], ...strap, depth_mm: 15, wall_mm: 1 }])
    expect(pocket.closed).toBe(true)
    const [across, clear] = [20.5, 2.8]
    const outside = (15 + 1) * (across + 2) * (clear + 1)
    expect(pocket.volume_mm3 - BLOCK).toBeCloseTo(outside - 15 * across * clear, 1)
  })

  test('is told where it stands on nothing', () => {
    const off = build([
      { kind: 'post', at_mm: [90, 15], diameter_mm: 3, length_mm: 4, strap_thickness_mm: 3 },
    ])
    expect(off.problems.map(({ kind }) => kind)).toContain('hardware-off-piece')
  })
})

describe('hardware on a bent or hollowed back', () => {
  const all: Written[] = [
    { kind: 'loop', at_mm: [44, 15], turned_deg: 90, ...strap, bar_mm: 2 },
    { kind: 'post', at_mm: [12, 8], diameter_mm: 3, length_mm: 4, head_mm: 6, strap_thickness_mm: 3 },
    { kind: 'hook', at_mm: [20, 22], turned_deg: 30, ...strap, wire_mm: 2, reach_mm: 10 },
  ]

  test('joins a back bent to 45 mm into one body that does not reach the front', () => {
    const bent = build(all, { back: { shape: 'curved', radius_mm: 45 } })
    expect(bent.problems.filter(({ level }) => level !== 'note')).toEqual([])
    expect(bent.closed).toBe(true)
    // nothing reaches above the bent front, whose top is the plate's own
    expect(bent.bounds_mm?.max[2]).toBeLessThan(2.001)
  })

  test.each(all.map((one) => [one.kind, one] as const))(
    'gives a %s a foot through the hollow',
    (_kind, one) => {
      const hollow = build([one], { blank_mm: 4, back: { shape: 'hollow', wall_mm: 1 } })
      expect(hollow.problems.filter(({ level }) => level !== 'note')).toEqual([])
      expect(hollow.closed).toBe(true)
    },
  )

  test('bends a pocket with the back and leaves it as wide as asked at its narrowest', () => {
    const bent = build([{ kind: 'tip-pocket', at_mm: [22, 15], ...strap, depth_mm: 15, wall_mm: 1 }], {
      back: { shape: 'curved', radius_mm: 60 },
    })
    expect(bent.problems.filter(({ level }) => level !== 'note')).toEqual([])
    expect(bent.closed).toBe(true)
  })
})

describe('a strap', () => {
  test('goes with hardware made for it', () => {
    expect(
      kinds([
        { kind: 'loop', ...at, ...strap, bar_mm: 2 },
        { kind: 'hook', ...at, ...strap, wire_mm: 2, reach_mm: 12 },
        { kind: 'keeper-slot', ...at, ...strap },
        { kind: 'tip-pocket', ...at, ...strap, depth_mm: 15, wall_mm: 1 },
      ]),
    ).toEqual([])
  })

  test.each([
    ['loop-narrow', { kind: 'loop', ...at, ...strap, bar_mm: 2, inside_mm: 20.5 }],
    ['loop-low', { kind: 'loop', ...at, ...strap, bar_mm: 2, clear_mm: 2.5 }],
    ['strap-loose', { kind: 'loop', ...at, ...strap, bar_mm: 2, inside_mm: 26 }],
    ['hook-tight', { kind: 'hook', ...at, ...strap, wire_mm: 2, reach_mm: 12, clear_mm: 2.5 }],
    ['hook-wide', { kind: 'hook', ...at, ...strap, wire_mm: 2, reach_mm: 12, clear_mm: 7 }],
    ['hook-short', { kind: 'hook', ...at, ...strap, wire_mm: 4, reach_mm: 6 }],
    ['post-short', { kind: 'post', ...at, diameter_mm: 3, length_mm: 3, strap_thickness_mm: 3 }],
    [
      'head-small',
      { kind: 'post', ...at, diameter_mm: 3, length_mm: 5, head_mm: 3.5, strap_thickness_mm: 3 },
    ],
    ['post-hole', { kind: 'post', ...at, diameter_mm: 3, length_mm: 5, head_mm: 6, strap_thickness_mm: 3 }],
    ['slot-once', { kind: 'keeper-slot', ...at, ...strap, opening_mm: 4 }],
    ['slot-thin', { kind: 'keeper-slot', ...at, ...strap, opening_mm: 2 }],
    ['slot-narrow', { kind: 'keeper-slot', ...at, ...strap, slot_mm: 20 }],
    ['pocket-shallow', { kind: 'tip-pocket', ...at, ...strap, depth_mm: 5, wall_mm: 1 }],
  ] as const)('does not go well: %s', (kind, hardware) => {
    expect(kinds([hardware as unknown as Written])).toEqual([kind])
  })
})
