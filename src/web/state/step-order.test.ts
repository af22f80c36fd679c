import { expect, test } from 'vitest'
import { StepOrder } from './step-order.ts'

test('undo goes back through both documents in the order they were changed', () => {
  const order = new StepOrder()
  order.note('pour')
  order.note('shop')
  order.note('pour')
  expect([order.back(), order.back(), order.back(), order.back()]).toEqual([
    'pour',
    'shop',
    'pour',
    undefined,
  ])
  expect([order.forth(), order.forth()]).toEqual(['pour', 'shop'])
})

test('a new step forgets what could have been done again', () => {
  const order = new StepOrder()
  order.note('pour')
  order.back()
  order.note('shop')
  expect(order.forth()).toBeUndefined()
  expect(order.back()).toBe('shop')
})
