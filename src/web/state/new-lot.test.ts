import { expect, test } from 'vitest'
import { makeUpRequest } from '../../engine/charge/request.ts'
import { shopSchema } from '../../engine/documents/shop.ts'
import { usualShop } from '../../engine/materials/index.ts'
import { samplePour } from '../../engine/sample-pour.ts'
import { LABELLED, type LotFacts, likelyParts, readLot } from './new-lot.ts'

const shop = usualShop()
const nothing: LotFacts = { name: ' ', kind: 'scrap', mass_g: undefined, composition: {}, price_g: undefined }

test('nothing entered is no lot, and every thing still wanted is named at once', () => {
  expect(readLot(shop, nothing)).toHaveLength(3)
})

test('what a label says is no lot until it is weighed', () => {
  for (const [, labelled] of LABELLED) {
    expect(readLot(shop, { ...nothing, ...labelled })).toEqual(['What does it weigh?'])
    const lot = readLot(shop, { ...nothing, ...labelled, mass_g: 31 })
    expect(shopSchema.safeParse({ ...shop, lots: [lot] }).error?.issues ?? []).toEqual([])
  }
})

test('parts beyond the whole are refused', () => {
  const facts = { ...nothing, name: 'Old spoon', mass_g: 40, composition: { Ag: 0.8, Cu: 0.3 } }
  expect(readLot(shop, facts)).toEqual(['Its parts add up to 1100 in 1000, and a thousand is the whole.'])
})

test('a worth nobody typed follows the fineness and the prices, and a typed one stays', () => {
  const priced = { ...shop, prices: { ...shop.prices, metal_g: { Ag: 1.5, Cu: 0.01 } } }
  const facts = { ...nothing, name: 'Coin', mass_g: 40, composition: { Ag: 0.09 } }
  const countedAt = (lot: ReturnType<typeof readLot>, silver: number): number | undefined => {
    if (!('id' in lot)) throw new Error(lot.join(' '))
    const lots = [{ ...lot, composition: { Ag: silver, Cu: 0.1 } }]
    const alloy = shop.alloys[0]
    if (alloy === undefined) throw new Error('the usual shop has an alloy')
    return makeUpRequest({ ...priced, lots }, samplePour(), alloy, 0.1).lots[0]?.price_per_kg
  }
  // 0.9 x 1.5 + 0.1 x 0.01 a gram
  expect(countedAt(readLot(priced, facts), 0.9)).toBeCloseTo(1351, 9)
  expect(countedAt(readLot(priced, facts), 0.8)).toBeCloseTo(1201, 9)
  expect(countedAt(readLot(priced, { ...facts, price_g: 0 }), 0.9)).toBe(0)
})

test('silver typed in 100 is offered back in 1000, and copper of 75 in 1000 is left alone', () => {
  expect(likelyParts({ Ag: 92.5 })).toEqual({ Ag: 925 })
  expect(likelyParts({ Ag: 92.5, Cu: 7.5 })).toEqual({ Ag: 925, Cu: 75 })
  expect(likelyParts({ Ag: 92.5, Cu: 75 })).toEqual({ Ag: 925, Cu: 75 })
  expect(likelyParts({ Ag: 925, Cu: 75 })).toBeUndefined()
  expect(likelyParts({ Au: 750, Ag: 75 })).toBeUndefined()
  expect(likelyParts({ Cu: 75 })).toBeUndefined()
})
