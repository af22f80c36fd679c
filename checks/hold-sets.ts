import { expect } from 'vitest'
import { runSet } from './arrange-sets.ts'

/** Of those known to be possible, how many a search may miss. */
const MISSED = 0.02

/**
 * Arranges these of the 500 sets and holds each to account. They lie in five files, so that they are run on as many
 * processors as there are.
 */
export const holdSets = (from: number, to: number): void => {
  const results = Array.from({ length: to - from + 1 }, (_, index) => runSet(from + index))
  expect(results.filter(({ violations }) => violations.length > 0)).toEqual([])
  expect(results.filter(({ verdict }) => verdict === 'wrong')).toEqual([])
  const impossible = results.filter(({ sort }) => sort === 'impossible')
  expect(impossible.length).toBe(results.length / 10)
  expect(impossible.every(({ verdict }) => verdict === 'refused')).toBe(true)
  const just = results.filter(({ sort }) => sort === 'only just')
  expect(just.length).toBeGreaterThan(0.25 * results.length)
  const possible = results.filter(({ sort }) => sort !== 'impossible')
  const missed = possible.filter(({ verdict }) => verdict === 'missed')
  expect(missed.length, `missed ${missed.map(({ seed }) => seed)}`).toBeLessThanOrEqual(
    MISSED * possible.length,
  )
}
