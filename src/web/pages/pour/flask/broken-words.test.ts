import { expect, test } from 'vitest'
import { brokenWords } from './broken-words.ts'

const ring = { id: 'ring', name: 'Ring', quantity: 1 } as Parameters<typeof brokenWords>[1][number]
const words = (distance_mm: number, between: [string, string] = ['ring/1', 'wall']): string =>
  brokenWords(
    { between, distance_mm, needed_mm: 6.35, points: [] as never } as Parameters<typeof brokenWords>[0],
    [ring],
    (length) => length.toFixed(2),
    'mm',
  )

test('a distance is told from the wax’s side, with what is needed', () => {
  expect(words(4.1)).toBe('Ring is 4.10 mm from the wall; 6.35 mm needed')
  expect(words(4.1, ['wall', 'ring/1'])).toBe(words(4.1))
  expect(words(-0.5)).toBe('Ring goes 0.50 mm past the wall; 6.35 mm needed')
  expect(words(0)).toBe('Ring meets the wall; 6.35 mm needed')
})

test('what is short by less than the last digit is not told as two equal lengths', () => {
  expect(words(6.348)).toBe(
    'Ring is nearer to the wall than the 6.35 mm needed, by less than can be told apart here',
  )
  expect(words(6.352)).toBe('Ring is 6.35 mm from the wall; 6.35 mm needed')
})
