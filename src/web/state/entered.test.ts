import { expect, test } from 'vitest'
import { usualShop } from '../../engine/materials/index.ts'
import { changed } from './change.ts'
import { enteredOf } from './entered.ts'

const countOf = (shop: ReturnType<typeof usualShop>): number => enteredOf(shop).filter(Boolean).length

test('a usual value that the caster calls theirs counts as entered, and once only', () => {
  const shop = usualShop()
  expect(countOf(shop)).toBe(0)
  expect(countOf({ ...shop, mine: ['flasks', 'kilns'] })).toBe(2)
  expect(countOf(changed({ ...shop, mine: ['flasks'] }, '/flasks/0/owned', false))).toBe(1)
})

test('a value that differs from the usual one counts without a word', () => {
  expect(enteredOf(changed(usualShop(), '/kilns/0/fastestRise_C_h', 250))).toEqual([
    false,
    false,
    false,
    false,
    true,
  ])
})
