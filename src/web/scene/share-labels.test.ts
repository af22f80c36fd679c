import fc from 'fast-check'
import { expect, test } from 'vitest'
import { placeLabels, roundedParts } from './share-labels.ts'

test('rounded parts add up to the rounded whole, and none is off by a step', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.01, max: 300, noNaN: true }), { minLength: 1, maxLength: 12 }),
      (parts) => {
        const rounded = roundedParts(parts, 1)
        const sum = (of: readonly number[]): number => of.reduce((total, one) => total + one, 0)
        expect(sum(rounded)).toBeCloseTo(Math.round(sum(parts) * 10) / 10, 6)
        rounded.forEach((one, index) => {
          expect(Math.abs(one - (parts[index] ?? 0))).toBeLessThan(0.1001)
        })
      },
    ),
    { numRuns: 60 },
  )
})

test('every slice has its words, the thin ones in rows of their own and inside the drawing', () => {
  const slices = [
    { from: 0, wide: 300, words: 90 },
    { from: 300, wide: 12, words: 110 },
    { from: 312, wide: 20, words: 80 },
    { from: 332, wide: 550, words: 90 },
    { from: 882, wide: 10, words: 150 },
  ]
  const places = placeLabels(slices, 892)
  expect(places.map((place) => place.kind)).toEqual(['under', 'leader', 'leader', 'under', 'leader'])
  const leaders = places.flatMap((place, index) =>
    place.kind === 'leader' ? [{ ...place, words: slices[index]?.words ?? 0 }] : [],
  )
  expect(new Set(leaders.map((one) => one.row)).size).toBe(leaders.length)
  for (const { x, words, anchor } of leaders) {
    expect(anchor === 'start' ? x + words : x).toBeLessThanOrEqual(892)
    expect(anchor === 'start' ? x : x - words).toBeGreaterThanOrEqual(0)
  }
})
