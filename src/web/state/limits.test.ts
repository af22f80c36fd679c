import { expect, test } from 'vitest'
import { usualShop } from '../../engine/materials/index.ts'
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
