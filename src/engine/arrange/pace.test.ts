import { describe, expect, test } from 'vitest'
import { box, type Shape } from '../../../fixtures/meshes/shapes.ts'
import { freezingTime } from '../physics/freezing-time.ts'
import { volumeOf } from '../piece/mesh/index.ts'
import { revolved } from './body.ts'
import { type ArrangeRequest, arrange } from './index.ts'

const meshOf = ({ positions, corners }: Shape) => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const mesh = meshOf(box(20, 15, 1))

/** Thin sheets on a main sprue that is thinner than their sprues together. */
const request = (copies: number, stem_mm: number, drop: number): ArrangeRequest => ({
  pieces: [
    {
      id: 'sheet',
      name: 'Sheet',
      copies,
      mesh,
      standIn: false,
      sprue: { diameter_mm: 2, count: 1, countAsked: true, because: 'of the test' },
      keepClear: [],
      locked: new Map(),
    },
  ],
  flasks: [{ id: 'large', diameter_mm: 101.6, height_mm: 127 }],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm,
  button_mm: 8,
  freezing: { heatPerVolume: 1.4e9, drop, mouldConductivity: 0.45, mouldHeatCapacity: 1.5e6 },
})

/** Two balls of 4 mm radius, 16 mm apart, on a rod of 1 mm radius. */
const dumbbell = () => {
  const profile = Array.from({ length: 41 }, (_, k): [number, number] => {
    const x = -12 + (24 * k) / 40
    const end = Math.abs(Math.abs(x) - 8)
    return [Math.max(Math.sqrt(Math.max(0, 16 - end * end)), Math.abs(x) < 8 ? 1 : 0), x]
  })
  return revolved(profile)
}

const paceOf = (asked: ArrangeRequest) =>
  arrange(asked).problems.find(({ kind }) => kind === 'main-sprue-sets-the-pace')

/** The request with something else of its piece, or of what is known of mould and metal. */
const changed = (
  asked: ArrangeRequest,
  piece: Partial<ArrangeRequest['pieces'][number]>,
  known = 1,
): ArrangeRequest => ({
  ...asked,
  pieces: asked.pieces.map((one) => ({ ...one, ...piece })),
  freezing: asked.freezing && { ...asked.freezing, known },
})

const told = (copies: number, stem_mm: number, drop = 400) => {
  const asked = request(copies, stem_mm, drop)
  const { problems, sprues, sections } = arrange(asked)
  const volume =
    copies * volumeOf(mesh) +
    sprues.reduce((sum, { length_mm, diameter_mm }) => sum + (Math.PI / 4) * diameter_mm ** 2 * length_mm, 0)
  return {
    problem: problems.find(({ kind }) => kind === 'main-sprue-sets-the-pace'),
    seconds: volume / ((Math.PI / 4) * stem_mm ** 2 * 500),
    solid: sections[0]?.freezes_s?.low ?? Number.NaN,
  }
}

describe('the main sprue that all metal comes through', () => {
  test.each([2, 3, 4, 5, 6, 8, 10, 12, 16])(
    'is told of %d sheets by how long they take to fill',
    (copies) => {
      const { problem, seconds, solid } = told(copies, 2)
      const level = copies > 1 && seconds >= solid ? 'check' : seconds >= solid / 2 ? 'note' : undefined
      expect(problem?.level).toBe(level)
      if (level === undefined) return
      const [, times, filled, first] =
        /together have ([\d.]+) times .* fill in about ([\d.]+) s, .* be solid in ([\d.]+) s/.exec(
          problem?.what ?? '',
        ) ?? []
      expect(Number(times)).toBe(copies)
      expect(Math.abs(Number(filled) - seconds)).toBeLessThan(0.06 + 0.01 * seconds)
      expect(Math.abs(Number(first) - solid)).toBeLessThan(0.051)
    },
  )

  test('is silent where it is wide, where one sprue is all there is, and where nothing freezes', () => {
    expect(told(16, 8).problem).toBeUndefined()
    // one sheet as large as ten is as slow to fill, and yet no other sprue waits for it
    const large = changed(request(1, 2, 400), { mesh: meshOf(box(60, 50, 1)) })
    expect(paceOf(large)).toBeUndefined()
    expect(paceOf({ ...large, stem_mm: 1.9 })).toBeDefined()
    expect(told(16, 2, 0).problem).toBeUndefined()
  })

  test('tells all three: nothing, a note and a check', () => {
    const levels = [2, 3, 4, 5, 6, 8, 10, 12, 16].map((copies) => told(copies, 2).problem?.level)
    expect(new Set(levels)).toEqual(new Set([undefined, 'note', 'check']))
  })

  test('is held against what calipers say where there is no solid, and against the least that the time may be', () => {
    const secondsOf = (asked: ArrangeRequest): number =>
      Number(/be solid in ([\d.]+) s/.exec(paceOf(asked)?.what ?? '')?.[1])
    const asked = request(12, 2, 400)
    const first = secondsOf(asked)
    expect(secondsOf(changed(asked, {}, 1.5)) * 1.5).toBeCloseTo(first, 0)
    const standIn = { standIn: true, envelope: mesh }
    const sprue = asked.pieces[0]?.sprue ?? { diameter_mm: 2, count: 1, countAsked: true, because: '' }
    // a rod of 2 mm freezes by the plan's own law, worked out here from it
    const by = (needed_mm: number): number =>
      secondsOf(changed(asked, { ...standIn, sprue: { ...sprue, needed_mm } }))
    const rod = freezingTime(
      { shape: 'rod', radius: 1e-3 },
      {
        heatPerVolume: 1.4e9,
        drop: 400,
        mouldConductivity: 0.45,
        mouldHeatCapacity: 1.5e6,
      },
    )
    expect(Math.abs(by(2) - rod)).toBeLessThan(0.06 + 0.02 * rod)
    const loosely = changed(asked, { ...standIn, sprue: { ...sprue, needed_mm: 2 } }, 1.5)
    expect(Math.abs(secondsOf(loosely) * 1.5 - rod)).toBeLessThan(0.1 + 0.02 * rod)
    expect(paceOf(changed(asked, standIn))).toBeUndefined()
  })

  test('is held against a neck that freezes before the thick places on either side', () => {
    const asked = changed(request(8, 2, 400), { mesh: dumbbell() })
    const { sections } = arrange(asked)
    const necks = sections.flatMap(({ neckFreezes_s }) => neckFreezes_s?.low ?? [])
    expect(necks.length).toBeGreaterThan(0)
    const said = Number(/be solid in ([\d.]+) s/.exec(paceOf(asked)?.what ?? '')?.[1])
    expect(Math.abs(said - Math.min(...necks))).toBeLessThan(0.051)
    expect(Math.min(...necks)).toBeLessThan(Math.min(...sections.map(({ freezes_s }) => freezes_s?.low ?? 0)))
  })
})
