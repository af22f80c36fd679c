import fc from 'fast-check'
import { expect, test } from 'vitest'
import { tableAt } from './curves.ts'
import { conduct, type HeatMaterial, lineBody, mixture } from './index.ts'

const mould: HeatMaterial = {
  density: 1240,
  conductivity: [
    [300, 0.4],
    [900, 0.5],
  ],
  specificHeat: 1000,
  reactions: [{ from: 400, to: 450, heat: 50e3, reversible: false }],
}
const silver: HeatMaterial = {
  density: 10_300,
  conductivity: 350,
  specificHeat: [
    [300, 235],
    [1000, 280],
  ],
}

test('none of the other, or nothing but the other, is the plain stuff', () => {
  for (const kelvins of [300, 500, 950]) {
    const [none, all] = [mixture(mould, silver, 0), mixture(mould, silver, 1)]
    expect(tableAt(none.conductivity, kelvins)).toBeCloseTo(tableAt(mould.conductivity, kelvins), 9)
    expect(tableAt(all.conductivity, kelvins)).toBeCloseTo(350, 9)
    expect(tableAt(none.specificHeat, kelvins)).toBeCloseTo(1000, 9)
  }
})

test('balls that conduct perfectly, a tenth of the volume, raise it by a third', () => {
  // Maxwell's limit (1 + 2 share)/(1 - share)
  const plain: HeatMaterial = { density: 1, conductivity: 1, specificHeat: 1 }
  const { conductivity } = mixture(plain, { ...plain, conductivity: 1e9 }, 0.1)
  expect(conductivity).toBeCloseTo(1.2 / 0.9, 6)
})

test('conductivity lies between slabs in series and slabs side by side', () => {
  const value = fc.double({ min: 0.02, max: 400, noNaN: true })
  fc.assert(
    fc.property(value, value, fc.double({ min: 0, max: 1, noNaN: true }), (one, other, share) => {
      const plain: HeatMaterial = { density: 1, conductivity: one, specificHeat: 1 }
      const mixed = mixture(plain, { ...plain, conductivity: other }, share).conductivity as number
      const series = 1 / ((1 - share) / one + share / other)
      const beside = (1 - share) * one + share * other
      return mixed >= series * (1 - 1e-9) && mixed <= beside * (1 + 1e-9)
    }),
    { numRuns: 200, seed: 3 },
  )
})

test('a body of the mixture takes the heat of its parts', () => {
  const body = lineBody(
    'slab',
    [0, 0.005, 0.01],
    [{ name: 'both', material: mixture(mould, silver, 0.2) }],
    () => 0,
  )
  const { stored } = conduct({
    body,
    start: 300,
    surroundings: [{ held: 600 }],
    times: [1e5],
    tolerance: 0.1,
  })
  // silver's capacity climbs from 235 by 45 J/kgK in 700 K: its mean from 300 to 600 K stands at 450 K
  const silverHeat = 0.2 * 10_300 * (235 + (45 * 150) / 700) * 300
  const mouldHeat = 0.8 * 1240 * (1000 * 300 + 50e3)
  expect(stored / (0.01 * (silverHeat + mouldHeat))).toBeCloseTo(1, 6)
})
