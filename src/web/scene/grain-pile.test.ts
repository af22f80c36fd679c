import { expect, test } from 'vitest'
import { pileOf } from './grain-pile.ts'

test('the pile holds one grain for each chance and as many on either side of the middle', () => {
  const pile = pileOf(100, 2, 80, 0.5)
  expect(pile).toHaveLength(80)
  expect(pile.filter((grain) => grain.value < 100)).toHaveLength(40)
})

test('one grain in twenty lies past the 95th percentile, 1.6449 standard deviations out', () => {
  const past = pileOf(0, 1, 80, 0.25).filter((grain) => grain.value > 1.6449)
  expect(past).toHaveLength(4)
})

test('grains of one column are stacked without gaps', () => {
  const pile = pileOf(100, 2, 80, 0.5)
  for (const column of new Set(pile.map((grain) => grain.column))) {
    const rows = pile.filter((grain) => grain.column === column).map((grain) => grain.row)
    expect(rows).toEqual(rows.map((_, row) => row))
  }
})
