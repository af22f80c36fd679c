import { expect, test } from 'vitest'
import { openRoots, type Pour, pourSchema, type Shop } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { type Quantity, root, type Unit } from '../quantity/index.ts'
import { type MeltInput, planMelt } from './index.ts'

const given = (id: string, unit: Unit, value: number): Quantity =>
  root({ id, title: id, unit, value, kind: 'weighed', source: 'given for this test' })

const pourWith = (over: Partial<Pour> = {}): Pour => ({
  ...pourSchema.parse({
    kind: 'pour',
    version: 1,
    name: 'Cloak clasp set',
    alloy: 'sterling',
    pieces: [],
    tree: {},
    investment: { id: 'gypsum-bonded', water_C: 21 },
    kiln: 'kiln',
    machine: 'spring-arm',
    crucible: 'crucible',
    torch: 'torch',
    castAt: { weekday: 'saturday', time: '15:30' },
    charge: {},
    spin: {},
    price: { labour_h: {} },
  }),
  ...over,
})

type Torch = Shop['torches'][number]
type Alloy = Shop['alloys'][number]

const shopWith = (torch: Partial<Torch> = {}, alloy: Partial<Alloy> = {}): Shop => {
  const shop = usualShop()
  return {
    ...shop,
    alloys: shop.alloys.map((one, index) => (index === 0 ? { ...one, ...alloy } : one)),
    torches: shop.torches.map((one) => ({ ...one, power_kW: 3, intoMetal: 0.1, ...torch })),
  }
}

const melt = (over: Partial<MeltInput> = {}, shop = shopWith(), pour = pourWith()) =>
  planMelt({
    roots: openRoots(shop, pour),
    shop,
    pour,
    alloyIndex: 0,
    torchIndex: 0,
    crucibleIndex: 0,
    charge: given('charge', 'kg', 0.14),
    ...over,
  })

const verdictOf = (answer: ReturnType<typeof melt>, id: string) =>
  answer.answer.verdicts.find((verdict) => verdict.id === id)?.verdict

const alloyIndexOf = (id: string): number => usualShop().alloys.findIndex((alloy) => alloy.id === id)

test('140 g at 361 kJ/kg takes 50.5 kJ, and 168 s from 3 kW of which a tenth reaches the metal', () => {
  // 0.140 x 361 = 50.54 kJ; over 300 W = 168.5 s
  const { energy, time } = melt({}, shopWith({}, { heatToPour_kJ_kg: 361 }))
  expect(energy?.value).toBeCloseTo(50540, 6)
  expect(time?.value).toBeCloseTo(168.47, 2)
})

test('276 g of bronze at 677 kJ/kg is too much for the small flame and a long melt for the large one', () => {
  // 0.276 x 677 = 186.9 kJ: 6 kW at 12 % 259.5 s; 3 kW at 10 % 622.8 s
  const bronze = { charge: given('charge', 'kg', 0.276), alloyIndex: alloyIndexOf('silicon-bronze') }
  const large = melt(bronze, shopWith({ power_kW: 6, intoMetal: 0.12 }))
  expect(large.energy?.value).toBeCloseTo(186852, 6)
  expect(large.time?.value).toBeCloseTo(259.5, 1)
  expect(melt(bronze).time?.value).toBeCloseTo(622.8, 1)
  expect(verdictOf(melt(bronze), 'melt.torch')).toBe('stop')
})

test('a share of the flame that is only guessed reads too close to call, not as a pass', () => {
  const wide = shopWith({ intoMetal: { value: 0.1, low: 0.03, high: 0.2 }, minutesWilling: 4 })
  expect(verdictOf(melt({}, wide), 'melt.torch')).toBe('check')
  expect(verdictOf(melt({}, shopWith({ minutesWilling: 6 })), 'melt.torch')).toBe('pass')
})

test('an air-fed flame loses what the air has lost, and a bottled one does not', () => {
  const high = given('pressure', 'Pa', 83000)
  const fed = melt({ pressure: high }, shopWith({ airFed: true }))
  const bottled = melt({ pressure: high })
  expect((bottled.intoMetal?.value ?? 0) / (fed.intoMetal?.value ?? 1)).toBeCloseTo(101325 / 83000, 9)
})

test('without the pressure an air-fed flame is left open and said so', () => {
  const open = melt({}, shopWith({ airFed: true }))
  expect(open.time).toBeUndefined()
  expect(open.energy).toBeDefined()
  expect(open.answer.problems.map((problem) => problem.kind)).toEqual(['pressure-missing'])
})

test('the alloy sheet and the silver-copper diagram agree on the heat of sterling, fine and coin silver', () => {
  for (const id of ['sterling', 'fine-silver', 'coin-silver']) {
    const answer = melt({ alloyIndex: alloyIndexOf(id) })
    expect(verdictOf(answer, 'melt.heat'), id).toBe('pass')
  }
  expect(verdictOf(melt({}, shopWith({}, { heatToPour_kJ_kg: 330 })), 'melt.heat')).toBe('check')
})

test('an alloy with other metals than silver and copper is not read from their diagram', () => {
  expect(melt({ alloyIndex: alloyIndexOf('gold-14k-yellow') }).diagram).toBeUndefined()
})

test('a crucible fuller than the rule is a check and one that overflows is a stop', () => {
  // the usual crucible holds 300 g, filled to 0.7: 210 g
  expect(verdictOf(melt({ charge: given('charge', 'kg', 0.205) }), 'melt.crucible')).toBe('pass')
  expect(verdictOf(melt({ charge: given('charge', 'kg', 0.215) }), 'melt.crucible')).toBe('check')
  expect(verdictOf(melt({ charge: given('charge', 'kg', 0.31) }), 'melt.crucible')).toBe('stop')
})

test('sterling pours at its liquidus with 60 to 110 °C over it, inside what gypsum stands; bronze does not', () => {
  const sterling = melt()
  expect(sterling.pourTemperature.value).toBe(sterling.liquidus.value + sterling.superheat.value)
  expect(verdictOf(sterling, 'melt.gypsum')).toBe('pass')
  expect(verdictOf(melt({ alloyIndex: alloyIndexOf('silicon-bronze') }), 'melt.gypsum')).toBe('check')
})

test('fine silver with copper asks for stirring, and brass warns of zinc', () => {
  const said = (answer: ReturnType<typeof melt>) => answer.steps.flat().join(' ')
  expect(said(melt({ fineWithCopper: true }))).toContain('stirring')
  expect(said(melt({ fineWithCopper: false }))).not.toContain('wants stirring')
  const brass = melt({ alloyIndex: alloyIndexOf('yellow-brass') }).answer.cautions
  expect(brass.find((caution) => caution.id === 'melt.zinc')?.level).toBe('danger')
  expect(melt().answer.cautions.some((caution) => caution.id === 'melt.zinc')).toBe(false)
})

test('twice the charge takes twice the heat and twice the time', () => {
  const one = melt()
  const two = melt({ charge: given('charge', 'kg', 0.28) })
  expect((two.time?.value ?? 0) / (one.time?.value ?? 1)).toBeCloseTo(2, 9)
})
