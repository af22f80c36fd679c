import { expect, test } from 'vitest'
import { axisFor, placing, tickText } from './axis.ts'

test('an axis holds its limits and steps by one, two or five', () => {
  for (const [least, most] of [
    [96.2, 107.9],
    [0, 12],
    [0.013, 0.094],
    [-3, 1460],
    [5, 5],
  ] as const) {
    const axis = axisFor(least, most)
    expect(axis.from).toBeLessThanOrEqual(least)
    expect(axis.to).toBeGreaterThanOrEqual(most)
    const lead = axis.step / 10 ** Math.floor(Math.log10(axis.step) + 1e-9)
    expect([1, 2, 5].some((first) => Math.abs(lead - first) < 1e-9)).toBe(true)
    expect(axis.long.length).toBeGreaterThan(1)
  }
})

test('the ends of the axis fall on the ends of the drawing', () => {
  const place = placing({ from: 94, to: 112 }, 30, 930)
  expect(place(94)).toBe(30)
  expect(place(112)).toBe(930)
  expect(place(103)).toBe(480)
})

test('tick numbers show no more decimals than the step needs', () => {
  expect(tickText(0.30000000000000004, 0.1)).toBe('0.3')
  expect(tickText(1400, 200)).toBe('1,400')
  expect(tickText(-1e-17, 0.5)).toBe('0')
})
