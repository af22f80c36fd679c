import { expect, test } from 'vitest'
import { shopSchema } from '../../engine/documents/shop.ts'
import { usualShop } from '../../engine/materials/index.ts'
import { LABELLED, type LotFacts, readLot, worthByPrices } from './new-lot.ts'

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

test('a lot without a price is worth its metal at the shop’s prices', () => {
  const priced = { ...shop, prices: { ...shop.prices, metal_g: { Ag: 1.5, Cu: 0.01 } } }
  expect(worthByPrices(priced, { Ag: 0.9, Cu: 0.1 })).toBeCloseTo(1.351, 12)
  const facts = { ...nothing, name: 'Coin', mass_g: 40, composition: { Ag: 0.9, Cu: 0.1 } }
  expect(readLot(priced, facts)).toMatchObject({ price_g: 1.351 })
  expect(readLot(priced, { ...facts, price_g: 0 })).toMatchObject({ price_g: 0 })
})
