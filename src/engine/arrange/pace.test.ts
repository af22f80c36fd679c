import { describe, expect, test } from 'vitest'
import { box } from '../../../fixtures/meshes/shapes.ts'
import { volumeOf } from '../piece/mesh/index.ts'
import { type ArrangeRequest, arrange } from './index.ts'

const sheet = box(20, 15, 1)
const mesh = { positions: Float64Array.from(sheet.positions), corners: Uint32Array.from(sheet.corners) }

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
        /together have ([\d.]+) times .* fill in about ([\d.]+) s, .* thickest in ([\d.]+) s/.exec(
          problem?.what ?? '',
        ) ?? []
      expect(Number(times)).toBe(copies)
      expect(Math.abs(Number(filled) - seconds)).toBeLessThan(0.06 + 0.01 * seconds)
      expect(Math.abs(Number(first) - solid)).toBeLessThan(0.051)
    },
  )

  test('is silent where it is wide, where one sprue is all there is, and where nothing freezes', () => {
    expect(told(16, 8).problem).toBeUndefined()
    expect(told(1, 2).problem).toBeUndefined()
    expect(told(16, 2, 0).problem).toBeUndefined()
  })

  test('tells all three: nothing, a note and a check', () => {
    const levels = [2, 3, 4, 5, 6, 8, 10, 12, 16].map((copies) => told(copies, 2).problem?.level)
    expect(new Set(levels)).toEqual(new Set([undefined, 'note', 'check']))
  })
})
