import { expect, test } from 'vitest'
import { FINENESS_STANDARDS, lawfulLeast, standardsMet } from './fineness-standards.ts'

const ids = (ppt: number, soldered: boolean) => standardsMet('silver', ppt, { soldered }).map((row) => row.id)

test('clean sterling meets sterling everywhere, richest mark first', () => {
  const met = standardsMet('silver', 925, { soldered: false })
  expect(met.map((row) => row.id)).toContain('United Kingdom silver 925')
  expect(met.map((row) => row.least)).toEqual([...met.map((row) => row.least)].sort((a, b) => b - a))
})

test('921.0 is lawful as sterling in the United States without solder and not in the United Kingdom', () => {
  expect(ids(921, false)).toContain('United States silver sterling')
  expect(ids(921, false)).not.toContain('United Kingdom silver 925')
  expect(ids(920.9, false)).not.toContain('United States silver sterling')
})

test('solder is forgiven only for a whole article: 915.5 with it, not without', () => {
  expect(ids(915.5, true)).toContain('United States silver sterling')
  expect(ids(915.5, false)).not.toContain('United States silver sterling')
})

test('gold is never judged by silver rows, and an unknown fineness meets nothing', () => {
  expect(standardsMet('gold', 999, { soldered: false }).every((row) => row.metal === 'gold')).toBe(true)
  expect(ids(Number.NaN, true)).toEqual([])
})

test('every row has its own id, a source and tolerances that solder only widens', () => {
  expect(new Set(FINENESS_STANDARDS.map((row) => row.id)).size).toBe(FINENESS_STANDARDS.length)
  for (const row of FINENESS_STANDARDS) {
    expect(row.source.length).toBeGreaterThan(5)
    expect(lawfulLeast(row, { soldered: true })).toBeLessThanOrEqual(lawfulLeast(row, { soldered: false }))
  }
})
