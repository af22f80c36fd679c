import type { ChargeRequest, Lot } from '../../src/engine/charge/make-up/index.ts'
import { inWords, makeUpCharge, makeUpFromFine } from '../../src/engine/charge/make-up/index.ts'
import { exactly, lot, request, sterling } from '../../src/engine/charge/make-up/sample.ts'
import { createHighsSolver } from '../../src/solver/highs.ts'
import type { Check } from '../check.ts'
import { checkEach } from '../check.ts'

// Every blend is found by the whole make-up: limits, solver and rounding to the scale. The answers are
// weighable, so a published mass is met to a step of the scale, here a milligram.
const solver = createHighsSolver()
const milligram = 1e-6
const alligation = 'alligation (mass balance of the fine metal); analytic, from memory'
const section = '2'

const solve = async (asked: ChargeRequest) => {
  const answer = await makeUpCharge(asked, solver)
  if (answer.kind === 'cannot') throw new Error(answer.problems.map(inWords).join('; '))
  const grams = (id: string): number =>
    1000 * (answer.lines.find((line) => line.lot === id)?.mass_kg ?? Number.NaN)
  return {
    fineness: answer.finenessExpected_ppt,
    grams,
    ratio: (a: string, b: string) => grams(a) / grams(b),
  }
}

// Fine metal is dear and the other cheap, so the least cost lies exactly at the fineness aimed for.
const metal = (id: string, fineness: number, price = fineness): Lot =>
  lot(id, 'casting grain', fineness, { price_per_kg: price, mass_kg: 10 })

const blendTo = (fineness: number, rich: Lot, poor: Lot, target_kg = 1) =>
  solve(
    request({
      target_kg,
      scaleStep_kg: milligram,
      alloy: sterling({ finenessTarget_ppt: fineness }),
      lots: [rich, poor],
    }),
  )

const meltTogether = (parts: Record<string, [mass_g: number, fineness: number]>) => {
  const lots = Object.entries(parts).map(([id, [mass_g, fineness]]) =>
    lot(id, 'casting grain', fineness, { mass_kg: mass_g / 1000, mustUse_kg: mass_g / 1000 }),
  )
  const grams = Object.values(parts).reduce((sum, [mass_g]) => sum + mass_g, 0)
  const target_kg = Number((grams / 1000).toFixed(6))
  return solve(request({ target_kg, scaleStep_kg: milligram, alloy: sterling(), lots }))
}

const raised = await blendTo(925, metal('fine', 999), metal('coin', 900, 1))
const raisedPure = await blendTo(925, metal('pure', 1000), metal('coin', 900, 1))
const lowered = await blendTo(925, metal('britannia', 958), metal('copper', 0))
const blended = await blendTo(925, metal('fine', 999), metal('low', 800, 1), 0.2)
const threeLots = await meltTogether({ sterling: [60, 925], low: [40, 800], fine: [5, 999] })
const soldered = await meltTogether({ body: [40, 925], solder: [1.2, 650] })
const solderedLow = await meltTogether({ body: [40, 922], solder: [1.2, 650] })
const mostSolder = await blendTo(915, metal('body', 925), metal('solder', 650, 1))

const clasp = request({
  target_kg: 0.14,
  scaleStep_kg: milligram,
  returnedMost: 0.5,
  alloy: sterling({ finenessTarget_ppt: 927 }),
  lots: [
    lot('returns', 'returns', 925, { mass_kg: 0.06, price_per_kg: 500 }),
    lot('fine', 'fine', 999, { composition: { Ag: exactly(0.999) } }),
    lot('copper', 'alloying', 0, { price_per_kg: 10 }),
  ],
})
const claspSolved = await solve(clasp)
const claspByRule = makeUpFromFine(clasp)
const ruleGrams = (id: string): number =>
  claspByRule.kind === 'made-up'
    ? 1000 * (claspByRule.lines.find((line) => line.lot === id)?.mass_kg ?? Number.NaN)
    : Number.NaN

const gold = (id: string, kind: Lot['kind'], fineness: number, over: Partial<Lot> = {}): Lot =>
  lot(id, kind, fineness, { composition: { Au: exactly(fineness / 1000) }, ...over })
const band = { owner: 'client', price_per_kg: 0 }
const clientRing = await solve({
  target_kg: 0.01758,
  scaleStep_kg: milligram,
  clientMetal: ['client'],
  returnedMost: 0.8,
  alloy: {
    id: '14k',
    name: 'gold 585',
    principal: 'Au',
    limits: { Au: { low: 0, high: 1 } },
    finenessTarget_ppt: 585,
  },
  lots: [
    gold('band 14 k', 'scrap', 583, { ...band, mass_kg: 0.0093, mustUse_kg: 0.0093 }),
    gold('band 10 k', 'scrap', 417, { ...band, mass_kg: 0.0041, mustUse_kg: 0.0041 }),
    gold('fine gold', 'fine', 999.9),
    gold('grain', 'casting grain', 585),
  ],
})

const worked = 'worked scenario of our own, re-derived by alligation; analytic'
// A ratio of two masses near 1 kg, each to a milligram, carried to the published mass.
const near = { absolute: 2e-4 }
const oneStep = { absolute: 1.001e-3 }

export const checks: Check[] = [
  {
    id: 'F6',
    says: 'raising 80 g of 900 to 925 takes 27.027 g of 999 silver',
    section,
    source: alligation,
    got: () => 80 * raised.ratio('fine', 'coin'),
    want: 27.027027,
    within: near,
  },
  {
    id: 'F7',
    says: 'raising 80 g of 900 to 925 takes 26.667 g of pure silver',
    section,
    source: alligation,
    got: () => 80 * raisedPure.ratio('pure', 'coin'),
    want: 26.666667,
    within: near,
  },
  {
    id: 'F8',
    says: 'lowering 50 g of 958 to 925 takes 1.784 g of copper',
    section,
    source: alligation,
    got: () => 50 * lowered.ratio('copper', 'britannia'),
    want: 1.783784,
    within: near,
  },
  ...checkEach(
    { id: 'F9', says: '200 g of 925 from 800 and 999', section, source: alligation, within: oneStep },
    { '800': [() => blended.grams('low'), 74.371859], '999': [() => blended.grams('fine'), 125.628141] },
  ),
  {
    id: 'F10',
    says: '60 g of 925, 40 g of 800 and 5 g of 999 melt to 880.9',
    section,
    source: 'mass balance; analytic, from memory',
    got: () => threeLots.fineness,
    want: 880.904762,
    within: { relative: 1e-6 },
  },
  {
    id: 'F13',
    says: '40 g of 925 with 1.2 g of 650 solder assays 916.99 whole',
    section,
    source: 'mass balance; analytic, from memory',
    got: () => soldered.fineness,
    want: 916.990291,
    within: { relative: 1e-6 },
  },
  {
    id: 'F14',
    says: 'the same with a 922 body assays 914.08 and falls below 915',
    section,
    source: 'mass balance; analytic, from memory',
    got: () => solderedLow.fineness,
    want: 914.07767,
    within: { relative: 1e-6 },
  },
  {
    id: 'F15',
    says: '40 g of 925 carries at most 1.509 g of 650 solder and stays at 915',
    section,
    source: `${alligation}; line of 915 from 15 USC 296`,
    got: () => 40 * mostSolder.ratio('solder', 'body'),
    want: 1.509434,
    within: near,
  },
  ...checkEach(
    {
      id: 'A11',
      says: '140 g at 927 from 60 g of returns at 925, 999 silver and copper',
      section,
      source: `${worked}: (140 x 927 - 60 x 925) / 999`,
      within: oneStep,
    },
    {
      'fine, solved': [() => claspSolved.grams('fine'), 74.354354],
      'copper, solved': [() => claspSolved.grams('copper'), 5.645646],
      'fine, by rule': [() => ruleGrams('fine'), 74.354354],
      'copper, by rule': [() => ruleGrams('copper'), 5.645646],
    },
  ),
  ...checkEach(
    {
      id: 'E2',
      says: "17.58 g at 585 from a client's two bands, fine gold and 585 grain",
      section,
      source: `${worked}: (9.30 x (585 - 583) + 4.10 x (585 - 417)) / (999.9 - 585)`,
      within: oneStep,
    },
    {
      'fine gold': [() => clientRing.grams('fine gold'), 1.704989],
      grain: [() => clientRing.grams('grain'), 2.475011],
    },
  ),
]
