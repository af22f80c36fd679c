import { describe, expect, test } from 'vitest'
import { fewestStages, spanOf, stagesOf } from './stages.ts'

/** What a step of y' = rate y makes of 1; with the rate times the step given. */
const grown = (count: number, rateStep: number): number => {
  const { before, secondBefore, rateBefore, rateStart } = stagesOf(count)
  let [last, secondLast] = [(rateBefore[1] ?? Number.NaN) * rateStep, 0]
  for (let j = 2; j <= count; j++) {
    const next =
      (before[j] ?? Number.NaN) * last +
      (secondBefore[j] ?? Number.NaN) * secondLast +
      (rateBefore[j] ?? Number.NaN) * rateStep * (1 + last) +
      (rateStart[j] ?? Number.NaN) * rateStep
    ;[secondLast, last] = [last, next]
  }
  return 1 + last
}

describe.each([3, 5, 9, 21, 101])('a step of %i stages', (count) => {
  test('agrees with the exponential to second order', () => {
    for (const step of [0.02, 0.01]) {
      const miss = Math.abs(grown(count, -step) - Math.exp(-step))
      expect(miss).toBeLessThan(step ** 3)
    }
    const ratio =
      Math.abs(grown(count, -0.02) - Math.exp(-0.02)) / Math.abs(grown(count, -0.01) - Math.exp(-0.01))
    expect(ratio).toBeGreaterThan(7)
  })

  test('damps every mode up to the length it promises, and some mode beyond grows', () => {
    // the fastest mode's rate is 2 over the explicit step
    const longest = 2 * spanOf(count)
    for (let share = 0.001; share <= 1; share += 0.001)
      expect(Math.abs(grown(count, -share * longest))).toBeLessThanOrEqual(1 + 1e-9)
    expect(Math.abs(grown(count, -1.2 * longest))).toBeGreaterThan(1)
  })

  test('ends its clock at 1', () => {
    expect(stagesOf(count).time[count]).toBeCloseTo(1, 12)
  })
})

test('the fewest stages for a length span it, and two fewer do not', () => {
  for (const span of [0.5, 2.6, 10, 333, 5000]) {
    const count = fewestStages(span)
    expect(count % 2).toBe(1)
    expect(spanOf(count)).toBeGreaterThanOrEqual(span)
    if (count > 3) expect(spanOf(count - 2)).toBeLessThan(span)
  }
})
