import { describe, expect, it } from 'vitest'
import { openRoots } from '../documents/index.ts'
import { grams, METRIC, root, writeWords } from '../quantity/index.ts'
import { samplePour, sampleShop } from '../sample-pour.ts'
import { planNeeded } from './index.ts'

const mass = (id: string, value_g: number, u_g = 0) =>
  root({ id, title: id, unit: 'kg', value: grams(value_g), u: grams(u_g), kind: 'asked', source: 'test' })

/** Pieces 80 g, sprues 15 g, a button of 20 g; the crucible keeps exactly 1 g. */
const planned = (
  resolution_g: number,
  spread_g: number,
  toWeigh_g?: number,
  cone_g = 60,
  byBoxes = false,
) => {
  const usual = sampleShop()
  const shop = {
    ...usual,
    scales: { ...usual.scales, metal: { resolution_g, most_g: 500 } },
    crucibles: usual.crucibles.map((crucible) => ({ ...crucible, retention_g: 1 })),
  }
  const pour = samplePour(toWeigh_g === undefined ? {} : { charge: { fromStock: true, toWeigh_g } })
  return planNeeded({
    shop,
    roots: openRoots(shop, pour),
    crucibleIndex: 0,
    pieces: mass('pieces', 80, spread_g),
    sprues: mass('sprues', 15),
    leastButton: mass('button', 20),
    fullButton: mass('cone', cone_g),
    byBoxes,
    metalPerWax: 10.36 / 0.95,
  })
}

describe('the charge', () => {
  it('falls short by a normal spread of the need: one spread above it, 1 in 6', () => {
    // need 96 g, spread 2 g with a 0.01 g scale: 98 g is one spread up, and 1 - Φ(1) = 0.1587
    expect(planned(0.01, 2, 98).probabilityShort?.value).toBeCloseTo(0.1587, 3)
  })

  it('counts the scale’s own step: 10 g steps spread as 10 / √12 g', () => {
    // need 96 g known exactly, charge 100: 4 / 2.8868 = 1.3856 spreads, 1 - Φ = 0.0829
    expect(planned(10, 0, 100).probabilityShort?.value).toBeCloseTo(0.0829, 3)
  })

  it('is the next step of the scale that keeps both chances', () => {
    // cavity: 96 + 2.0537 × 2 = 100.1; button: 116 + 1.6449 × 2 = 119.29, up to 119.3
    expect(planned(0.1, 2).toWeigh?.value).toBeCloseTo(0.1193, 9)
  })

  it('says what an old tare is worth: a tenth of a gram of wax is 1.09 g of sterling', () => {
    const words = planned(0.1, 2).blunders.map((blunder) => writeWords(blunder.words, METRIC))
    expect(words.join(' ')).toContain('1.09')
  })

  it('says what ounces taken for troy ounces leave in the crucible', () => {
    // 119.3 g × 28.3495 / 31.1035 = 108.7 g
    const words = planned(0.1, 2).blunders.map((blunder) => writeWords(blunder.words, METRIC))
    expect(words.join(' ')).toContain('108.7')
  })

  it('is stopped where what it leaves does not fit the cone, and asked about where it most likely does not', () => {
    // of 130 g 1 stays in the crucible and 95 fill the cavity: 34 g are left, 2 g either way to one spread
    const cone = (cone_g: number, byBoxes = false) =>
      planned(0.1, 2, 130, cone_g, byBoxes).answer.verdicts.find(({ id }) => id === 'charge.cone')
    expect(cone(34.5)).toBeUndefined()
    expect(cone(33)?.verdict).toBe('check')
    expect(cone(25)?.verdict).toBe('stop')
    const remedy = (byBoxes: boolean): string => writeWords(cone(25, byBoxes)?.remedy ?? [], METRIC)
    expect(remedy(true)).toMatch(/^see where each wax goes/)
    expect(remedy(false)).toMatch(/^use a base with a larger cone/)
  })
})
