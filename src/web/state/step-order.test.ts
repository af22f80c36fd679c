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

test('a step that was none leaves what could be done again', () => {
  const order = new StepOrder()
  order.note('shop')
  order.back()
  order.note('pour')
  order.forget('pour')
  expect(order.forth()).toBe('shop')
  expect([order.back(), order.back()]).toEqual(['shop', undefined])
})

test('steps of an earlier visit are done again before those of this one', () => {
  const order = new StepOrder()
  order.note('pour')
  order.back()
  order.wentPast('back')
  expect([order.forth(), order.forth(), order.forth()]).toEqual(['kept', 'pour', undefined])
})
