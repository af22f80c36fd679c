import { expect, test } from 'vitest'
import { sayLengths } from './say-lengths.ts'

test('a sentence is in one unit, whatever lengths it holds', () => {
  const said = 'a stone of 18 mm x 12.7 mm wants 0.254 mm; leave 1 to 1.5 mm, 3 x 25.4 mm or 20 mm2 at 45°'
  expect(sayLengths(said, 'mm')).toBe(said)
  expect(sayLengths(said, 'in')).toBe(
    'a stone of 0.709 in x 0.500 in wants 0.010 in; leave 0.039 to 0.059 in, 0.118 x 1.000 in or 20 mm2 at 45°',
  )
})
