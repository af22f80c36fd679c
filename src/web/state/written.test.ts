import { expect, test } from 'vitest'
import { METRIC } from '../../engine/quantity/units.ts'
import { written } from './written.ts'

test('a chance too small to count is a word of the trade, and others are counted', () => {
  const chance = (value: number): string =>
    written({ value, low: value, high: value, unit: '1' }, METRIC, 'chance').value
  expect(chance(0.0001)).toBe('hardly ever')
  expect(chance(0.05)).toBe('1 in 20')
  expect(chance(Number.NaN)).toBe('not known')
})
