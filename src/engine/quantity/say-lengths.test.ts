import { expect, test } from 'vitest'
import { METRIC, writeWords } from './index.ts'
import { sayLengths, wordsOf } from './say-lengths.ts'

test('a sentence is in one unit, whatever lengths it holds', () => {
  const said = 'a stone of 18 mm x 12.7 mm wants 0.254 mm; leave 1 to 1.5 mm, 3 x 25.4 mm or 20 mm2 at 45°'
  expect(sayLengths(said, 'mm')).toBe(said)
  expect(sayLengths(said, 'in')).toBe(
    'a stone of 0.709 in x 0.500 in wants 0.010 in; leave 0.039 to 0.059 in, 0.118 x 1.000 in or 20 mm2 at 45°',
  )
})

test('as words, a sentence is written in the unit that it is read in', () => {
  const words = wordsOf('A sprue is 3.2 mm across (2.4 to 4.5 mm), fed at 0.5 m/s')
  expect(writeWords(words, METRIC)).toBe(
    'A sprue is 3.20\u00a0mm across (2.40\u00a0mm to 4.50\u00a0mm), fed at 0.5 m/s',
  )
  expect(writeWords(words, { ...METRIC, length: 'in' })).toBe(
    'A sprue is 0.126\u00a0in across (0.094\u00a0in to 0.177\u00a0in), fed at 0.5 m/s',
  )
  expect(wordsOf('nothing long')).toEqual(['nothing long'])
  for (const none of ['20 mm³ of it', '3 mm² of face', 'over 1,234 mm wide']) {
    expect(wordsOf(none)).toEqual([none])
    expect(sayLengths(none, 'in')).toBe(none)
  }
})
