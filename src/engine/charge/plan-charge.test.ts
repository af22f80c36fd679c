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
