import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Layout, layouts } from './layout.ts'
import { cornersOf, type Footprint, gapBetween, reachOf } from './rectangles.ts'

const print = (over: Partial<Footprint>): Footprint => ({
  x: 0,
  y: 0,
  halfWidth: 1,
  halfDepth: 1,
  angle: 0,
  ...over,
})

/** The plain oracle: the least distance between points strewn along both outlines. */
const strewnGap = (one: Footprint, other: Footprint, count: number): number => {
  const along = (footprint: Footprint): [number, number][] => {
    const corners = cornersOf(footprint)
    return corners.flatMap((from, index) => {
      const to = corners[(index + 1) % 4] as readonly [number, number]
      return Array.from({ length: count }, (_, step): [number, number] => [
        from[0] + ((to[0] - from[0]) * step) / count,
        from[1] + ((to[1] - from[1]) * step) / count,
      ])
    })
  }
  let least = Number.POSITIVE_INFINITY
  for (const a of along(one))
    for (const b of along(other)) least = Math.min(least, Math.hypot(a[0] - b[0], a[1] - b[1]))
  return least
}

const rule = { gap: 3.2e-3, stemDiameter: 8e-3, shortest: 6e-3, gate: 12e-3 }

/** Every pair on the same height keeps the gap, checked by the oracle of the outlines. */
const leastGap = (layout: Layout): number => {
  let least = Number.POSITIVE_INFINITY
  layout.placements.forEach((one, index) => {
    for (const other of layout.placements.slice(index + 1))
      if (one.bottom < other.bottom + other.height && other.bottom < one.bottom + one.height)
        least = Math.min(least, gapBetween(one.footprint, other.footprint))
  })
  return least
}

describe('footprints', () => {
  it('two squares side by side are their centres less their halves apart', () => {
    expect(gapBetween(print({}), print({ x: 5 }))).toBeCloseTo(3, 12)
  })

  it('a square turned by 45° reaches √2 towards its neighbour', () => {
    expect(gapBetween(print({}), print({ x: 5, angle: Math.PI / 4 }))).toBeCloseTo(4 - Math.SQRT2, 12)
  })

  it('overlapping footprints have no gap', () => {
    expect(gapBetween(print({}), print({ x: 1.5, angle: 0.3 }))).toBe(0)
    expect(gapBetween(print({ halfWidth: 5, halfDepth: 0.2 }), print({ halfWidth: 0.2, halfDepth: 5 }))).toBe(
      0,
    )
  })

  it('agree with points strewn along both outlines', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
    const any = fc.record({
      x: number(-6, 6),
      y: number(-6, 6),
      halfWidth: number(0.2, 3),
      halfDepth: number(0.2, 3),
      angle: number(0, 7),
    })
    fc.assert(
      fc.property(any, any, (one, other) => {
        const gap = gapBetween(one, other)
        const strewn = strewnGap(one, other, 60)
        // the oracle can only be too far, by less than a step along the longest side
        expect(gap).toBeLessThanOrEqual(strewn + 1e-9)
        if (gap > 0) expect(strewn - gap).toBeLessThan(0.11)
      }),
      { numRuns: 150 },
    )
  })

  it('reach as far as their farthest corner', () => {
    const one = print({ x: 2, y: -1, halfWidth: 3, halfDepth: 0.5, angle: 0.7 })
    expect(reachOf(one)).toBeCloseTo(Math.max(...cornersOf(one).map(([x, y]) => Math.hypot(x, y))), 12)
  })
})

describe('layouts', () => {
  it('put a single piece in the middle', () => {
    const [only] = layouts([{ id: 'a', copies: 1, sizes: [0.058, 0.044, 0.004] }], rule)
    expect(only?.reach).toBeCloseTo(Math.hypot(0.022, 0.002), 9)
  })

  it('keep wax from wax in every tier, whatever the pieces', () => {
    const size = fc.double({ min: 1e-3, max: 0.06, noNaN: true })
    fc.assert(
      fc.property(
        fc.array(fc.record({ copies: fc.integer({ min: 1, max: 5 }), sizes: fc.tuple(size, size, size) }), {
          minLength: 1,
          maxLength: 4,
        }),
        (rows) => {
          const pieces = rows.map((row, index) => ({ id: `p${index}`, ...row }))
          const count = rows.reduce((total, row) => total + row.copies, 0)
          for (const layout of layouts(pieces, rule)) {
            expect(layout.placements).toHaveLength(count)
            expect(leastGap(layout)).toBeGreaterThanOrEqual(rule.gap - 1e-6)
            for (const placement of layout.placements) {
              expect(reachOf(placement.footprint)).toBeLessThanOrEqual(layout.reach + 1e-12)
              expect(placement.bottom + placement.height).toBeLessThanOrEqual(layout.rise + 1e-12)
            }
          }
        },
      ),
      { numRuns: 80 },
    )
  })
})
