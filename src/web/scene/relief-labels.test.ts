import { expect, test } from 'vitest'
import { placeLabels } from './relief-labels.ts'

const label = (x: number, y: number, text: string) => ({ spot: [x, y] as const, text })

test('every number gets room, even where all spots lie together', () => {
  const crowd = Array.from({ length: 7 }, (_, k) => label(210 + k, 150 + k / 2, String(k + 1)))
  const placed = placeLabels(crowd, [200, 150], [180, 130], 40)
  expect(placed.map(({ text }) => text).sort()).toEqual(['1', '2', '3', '4', '5', '6', '7'])
  for (const one of placed)
    for (const other of placed)
      if (one !== other)
        expect(Math.hypot(one.at[0] - other.at[0], one.at[1] - other.at[1])).toBeGreaterThan(30)
})

test('a number alone stands on the way its spot lies', () => {
  const [placed] = placeLabels([label(300, 150, '1')], [200, 150], [180, 130], 40)
  expect(placed?.at[0]).toBeCloseTo(380, 6)
  expect(placed?.at[1]).toBeCloseTo(150, 6)
})

test('more numbers than the ring has room for share it evenly', () => {
  const many = Array.from({ length: 40 }, (_, k) => label(200 + Math.cos(k), 150 + Math.sin(k), String(k)))
  const placed = placeLabels(many, [200, 150], [180, 130], 60)
  expect(placed).toHaveLength(40)
  expect(placed.every(({ at }) => Number.isFinite(at[0]) && Number.isFinite(at[1]))).toBe(true)
})
