import { expect, test } from 'vitest'
import { writeFlask, writeSize } from './sizes.ts'

test('rack sizes are written as casters say them', () => {
  expect(writeFlask({ insideDiameter_mm: 76.2, insideHeight_mm: 88.9 }, 'in')).toBe('3 × 3½')
  expect(writeFlask({ insideDiameter_mm: 76.2, insideHeight_mm: 88.9 }, 'mm')).toBe('76 × 89')
})

test('a size that is no quarter stays decimal', () => {
  expect(writeSize(80, 'in')).toBe('3.15')
  expect(writeSize(19.05, 'in')).toBe('¾')
})
