import { expect, test } from 'vitest'
import { type Check, rowOf, weigh } from './check.ts'

const check = (over: Partial<Check> = {}): Check => ({
  id: 'X1',
  says: 'an example',
  section: '0',
  source: 'made for this test',
  got: () => 10,
  want: 10,
  within: { relative: 0.01 },
  ...over,
})

test('a check holds at its tolerance and fails just outside it', () => {
  expect(weigh(check({ got: () => 10.0999 })).holds).toBe(true)
  expect(weigh(check({ got: () => 10.1001 })).holds).toBe(false)
  expect(weigh(check({ got: () => 9.8, within: { absolute: 0.1 } })).holds).toBe(false)
})

test('a check fails for NaN and for infinity, whatever its tolerance', () => {
  expect(weigh(check({ got: () => Number.NaN })).holds).toBe(false)
  expect(weigh(check({ got: () => Number.POSITIVE_INFINITY, within: { absolute: 1e300 } })).holds).toBe(false)
})

test('a relative tolerance about zero is refused', () => {
  expect(() => weigh(check({ want: 0 }))).toThrow(/absolute/)
})

test('a case with a label still counts as its row', () => {
  expect(rowOf(check({ id: 'AC5.liquidus-7.5' }))).toBe('AC5')
})
