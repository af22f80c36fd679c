import { expect, test } from 'vitest'
import type { Point } from '../piece/mesh/index.ts'
import { linesApart, outsideStem } from './bores.ts'

/** Numbers between 0 and 1, the same every time. */
const draws = (seed: number): (() => number) => {
  let state = seed
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

const along = (from: Point, to: Point, share: number): Point => [
  from[0] + share * (to[0] - from[0]),
  from[1] + share * (to[1] - from[1]),
  from[2] + share * (to[2] - from[2]),
]

test('a sprue ends where its line comes within the main sprue’s neighbourhood, found by halving', () => {
  const draw = draws(11)
  let [within, beside, overEnd] = [0, 0, 0]
  for (let k = 0; k < 2000; k += 1) {
    const stem = { foot: 10, end: 10 + 50 * draw(), within: 3 + 12 * draw() }
    const from: Point = [40 * (draw() - 0.5), k % 20 === 0 ? 0 : 40 * (draw() - 0.5), 10 + 90 * draw()]
    const axisZ = k % 5 === 0 ? stem.end : stem.foot + (stem.end - stem.foot) * draw()
    const apart = (share: number): number => {
      const [x, y, z] = along(from, [0, 0, axisZ], share)
      return Math.hypot(x, y, z - Math.min(stem.end, Math.max(stem.foot, z)))
    }
    const found = outsideStem(from, axisZ, stem)
    if (apart(0) <= stem.within) {
      expect(found).toBeUndefined()
      within += 1
      continue
    }
    let [low, high] = [0, 1]
    for (let halving = 0; halving < 60; halving += 1) {
      const middle = (low + high) / 2
      if (apart(middle) > stem.within) low = middle
      else high = middle
    }
    const expected = along(from, [0, 0, axisZ], low)
    if (expected[2] > stem.end) overEnd += 1
    else beside += 1
    expect(found?.[0]).toEqual(from)
    for (const axis of [0, 1, 2] as const) expect(found?.[1][axis]).toBeCloseTo(expected[axis], 9)
  }
  expect(Math.min(within, beside, overEnd)).toBeGreaterThan(100)
})

test('two lines are never nearer anywhere than the least distance between them, and somewhere as near', () => {
  const draw = draws(5)
  const point = (): Point => [draw(), draw(), draw()]
  for (let k = 0; k < 200; k += 1) {
    const [a, b, c, d] = [point(), point(), point(), point()]
    let least = Infinity
    for (let s = 0; s <= 100; s += 1)
      for (let t = 0; t <= 100; t += 1) {
        const [p, q] = [along(a, b, s / 100), along(c, d, t / 100)]
        least = Math.min(least, Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]))
      }
    const found = linesApart(a, b, c, d)
    expect(found).toBeLessThanOrEqual(least + 1e-12)
    expect(found).toBeGreaterThan(least - 0.02)
  }
})
