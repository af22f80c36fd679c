import { describe, expect, it } from 'vitest'
import { createHighsSolver } from '../../solver/highs.ts'
import type { Lot } from '../documents/index.ts'
import { planPour } from '../plan.ts'
import { METRIC, writeWords } from '../quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../sample-pour.ts'
import { makeUpCharge } from './make-up/index.ts'

const returns: Lot = {
  id: 'old',
  name: 'Old returns',
  kind: 'returns',
  mass_g: 200,
  composition: { Ag: 0.9, Cu: 0.1 },
  price_g: 0.9,
  owner: 'shop',
}

const plannedWith = async (lots: Lot[]) => {
  const shop = sampleShop({ lots })
  const first = planPour(shop, samplePour(), { now: SAMPLE_NOW })
  const { request, key } = first.charge
  if (request === undefined || key === undefined) throw new Error('no request; expected one')
  const answer = await makeUpCharge(request, createHighsSolver())
  return planPour(shop, samplePour(), { now: SAMPLE_NOW, makeUps: { [key]: answer } })
}

describe('a stock that cannot make the charge', () => {
  it('is one stop, however many limits one purchase would meet', async () => {
    const { go } = await plannedWith([returns])
    const stops = go.stops.filter((one) => one.part === 'charge')
    expect(stops.map((one) => one.id)).toEqual(['charge.makeUp'])
    const told = stops.map((one) => writeWords([...one.reason, ...one.remedy], METRIC)).join(' ')
    expect(told).toContain('in 1000')
    expect(told).not.toMatch(/%|‰|per thousand/)
  })

  it('tells what to buy in the units the reader chose', async () => {
    const { go } = await plannedWith([returns])
    const [stop] = go.stops.filter((one) => one.id === 'charge.makeUp')
    expect(writeWords(stop?.remedy ?? [], METRIC)).toMatch(/[\d.]+\u00a0g of fine silver/)
    expect(writeWords(stop?.remedy ?? [], { ...METRIC, mass: 'oz t' })).toMatch(
      /[\d.]+\u00a0oz t of fine silver/,
    )
  })
})

describe('a shelf a few grams short', () => {
  const grain = (mass_g: number): Lot => ({
    id: 'grain',
    name: 'Grain',
    kind: 'casting grain',
    mass_g,
    composition: { Ag: 0.927, Cu: 0.073 },
    owner: 'shop',
  })
  const spoon: Lot = {
    id: 'spoon',
    name: 'Old spoon',
    kind: 'scrap',
    mass_g: 300,
    composition: { Ag: 0.0925 },
    owner: 'shop',
  }
  const { needed } = planPour(sampleShop(), samplePour(), { now: SAMPLE_NOW })
  const toWeigh_g = (needed.toWeigh?.value ?? 0) * 1000
  const toldOf = async (lots: Lot[]) => {
    const { go } = await plannedWith(lots)
    const stop = go.stops.find((one) => one.id === 'charge.makeUp')
    return {
      go,
      reason: writeWords(stop?.reason ?? [], METRIC),
      remedy: writeWords(stop?.remedy ?? [], METRIC),
    }
  }

  it('leaves scrap of untold make-up aside, counts without it, and says what would bring it back', async () => {
    const { go, reason, remedy } = await toldOf([grain(toWeigh_g - 2), spoon])
    expect(reason).toContain('2.00\u00a0g short')
    expect(reason).toContain('Old spoon (its rest is not known)')
    expect(remedy).toContain('state what else is in Old spoon, or have it assayed')
    expect(go.passes.map((one) => one.id)).toContain('charge.aside.spoon')
  })

  it('offers a smaller button where what there is still fills the pieces, and not where it does not', async () => {
    const leastToFill_g = (needed.leastToFill ?? 0) * 1000
    expect(leastToFill_g).toBeLessThan(toWeigh_g - 1)
    expect((await toldOf([grain(toWeigh_g - 1)])).remedy).toContain('smaller mouth')
    expect((await toldOf([grain(leastToFill_g - 0.5)])).remedy).not.toContain('smaller mouth')
  })
})

describe('the limits of falling short', () => {
  it('read as kept when they are kept', () => {
    const { go } = planPour(sampleShop(), samplePour(), { now: SAMPLE_NOW })
    const button = go.passes.find((one) => one.id === 'charge.button')
    expect(writeWords(button?.reason ?? [], METRIC)).toMatch(
      /^Falls short: .* No more than 1 in 20 is your limit/,
    )
  })
})
