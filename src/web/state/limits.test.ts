import { expect, test } from 'vitest'
import { usualShop } from '../../engine/materials/index.ts'
import { samplePour } from '../../engine/sample-pour.ts'
import { changed } from './change.ts'
import { loadSchemas, refusalOf } from './limits.ts'

test('a sound shop is not refused', async () => {
  await loadSchemas()
  expect(await refusalOf('shop', usualShop())).toBeUndefined()
})

test('a value past its bound names the bound, for plain and for stated numbers', async () => {
  const plain = changed(usualShop(), '/rules/wallClearance_mm', 80)
  expect(await refusalOf('shop', plain)).toMatchObject({ most: 50, where: '/rules/wallClearance_mm' })
  const stated = changed(usualShop(), '/finishing/perFace_mm', -1)
  expect(await refusalOf('shop', stated)).toMatchObject({ least: 0, where: '/finishing/perFace_mm/value' })
})

test('what is refused without a bound is told in a caster’s words, never in the schema’s', async () => {
  await loadSchemas()
  const half = changed(samplePour(), '/pieces/0/quantity', 2.5)
  expect(await refusalOf('pour', half)).toEqual({
    what: 'A whole number of pieces is wanted',
    where: '/pieces/0/quantity',
  })
  const shop = usualShop()
  const others = [
    refusalOf('pour', { ...samplePour(), alloy: 7 }),
    refusalOf('pour', { ...samplePour(), pieces: [{}] }),
    refusalOf('shop', { ...shop, currency: 'dollars' }),
    refusalOf('shop', changed(shop, '/kilns/0/steps', 7.5)),
    refusalOf('shop', changed(shop, '/finishing/perFace_mm', { value: 1, low: 2, high: 3 })),
  ]
  for (const refusal of await Promise.all(others))
    expect(refusal?.what).not.toMatch(/expected|received|invalid|int\b|undefined|regex/i)
})
