import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Loop } from '../drawing.ts'
import { signedArea } from '../loops.ts'
import { compensate } from './compensate.ts'
import { clasp, rectangle, region, ring } from './sample.ts'

const none = new Set<string>()
const plate = () => region('plate', rectangle(0, 0, 60, 40), [rectangle(20, 10, 15, 4)], [5, 5])
const slot = () => region('slot', rectangle(20, 10, 15, 4), [], [27, 12])

const sizeOf = (loop: Loop | undefined): [number, number] => {
  const [x, y] = [0, 1].map((odd) => [...(loop ?? [])].filter((_, i) => i % 2 === odd))
  const span = (values: number[] = []): number => Math.max(...values) - Math.min(...values)
  return [span(x), span(y)]
}

describe('what the wax is over by', () => {
  test('a plate grows by the shrink and by what is filed off both sides, its slot closes by as much', () => {
    const wax = compensate([plate(), slot()], new Set(['slot']), { shrink: 0.02, finish_mm: 0.1 })
    // (60 + 0.2) / 0.98 and (15 - 0.2) / 0.98
    const [rim, opening] = [...wax.outline].sort((a, b) => signedArea(b) - signedArea(a))
    expect(sizeOf(rim)[0]).toBeCloseTo(61.428_571, 4)
    expect(sizeOf(rim)[1]).toBeCloseTo(41.020_408, 4)
    expect(sizeOf(opening)[0]).toBeCloseTo(15.102_041, 4)
    expect(sizeOf(opening)[1]).toBeCloseTo(3.877_551, 4)
    expect(sizeOf(wax.regions[1]?.outer)[0]).toBeCloseTo(15.102_041, 4)
    expect(wax.problems).toEqual([])
  })

  test('without compensation every line stays where it was drawn', () => {
    const wax = compensate([plate(), slot()], new Set(['slot']), { shrink: 0, finish_mm: 0 })
    expect(wax.scale).toBe(1)
    expect([...(wax.regions[0]?.outer ?? [])]).toEqual([...plate().outer])
  })

  test('a line between regions moves with the shrink only, and meets the rim where that has moved to', () => {
    const halves = [
      region('left', rectangle(0, 0, 20, 30), [], [10, 15]),
      region('right', rectangle(20, 0, 20, 30), [], [30, 15]),
    ]
    const wax = compensate(halves, none, { shrink: 0, finish_mm: 0.5 })
    expect(wax.outline).toHaveLength(1)
    expect(sizeOf(wax.outline[0])).toEqual([41, 31])
    expect(wax.inner).toHaveLength(1)
    const xs = [...(wax.inner[0]?.points ?? [])].filter((_, i) => i % 2 === 0)
    expect(xs).toEqual([20, 20])
    expect(sizeOf(wax.inner[0]?.points)[1]).toBeCloseTo(31, 9)
  })

  test('the clasp’s rim is one loop, and each line between its regions is drawn once', () => {
    const { regions } = clasp()
    const wax = compensate(regions, none, { shrink: 0.0156, finish_mm: 0.1 })
    expect(wax.outline).toHaveLength(1)
    // ground's rim, twelve leaves, the seat's wall outside and inside
    expect(wax.inner).toHaveLength(15)
    expect(wax.inner.every(({ closed }) => closed)).toBe(true)
  })

  test('a round rim stays round: its radius grows by what is filed off', () => {
    const disc = region(
      'disc',
      ring(360, (t) => [20 * Math.cos(t), 20 * Math.sin(t)]),
      [],
      [0, 0],
    )
    const [rim] = compensate([disc], none, { shrink: 0, finish_mm: 1 }).outline
    const radii = Array.from({ length: (rim?.length ?? 0) / 2 }, (_, i) =>
      Math.hypot(rim?.[2 * i] ?? 0, rim?.[2 * i + 1] ?? 0),
    )
    expect(radii.length).toBe(360)
    for (const radius of radii) expect(Math.abs(radius - 21)).toBeLessThan(1e-3)
  })

  test('a notch narrower than twice what is filed off is said to close', () => {
    const notched = region(
      'comb',
      Float64Array.of(0, 0, 20, 0, 20, 10, 10.3, 10, 10.3, 4, 10, 4, 10, 10, 0, 10),
      [],
      [5, 2],
    )
    expect(compensate([notched], none, { shrink: 0, finish_mm: 0.1 }).problems).toEqual([])
    const [problem] = compensate([notched], none, { shrink: 0, finish_mm: 0.2 }).problems
    expect(problem?.kind).toBe('filing-closes-a-notch')
  })

  test('an opening smaller than what is filed off is said to close', () => {
    const hole = rectangle(20, 10, 15, 0.3)
    const drilled = region('plate', rectangle(0, 0, 60, 40), [hole], [5, 5])
    const [problem] = compensate([drilled], none, { shrink: 0, finish_mm: 0.2 }).problems
    expect(problem?.kind).toBe('filing-closes-a-notch')
  })

  test('any plate comes back to its drawn size when the wax shrinks and is filed (seeded)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (long, shrink, finish_mm) => {
          const one = region('plate', rectangle(-7, 3, long, 20), [], [0, 5])
          const [rim] = compensate([one], none, { shrink, finish_mm }).outline
          expect(Math.abs(sizeOf(rim)[0] * (1 - shrink) - 2 * finish_mm - long)).toBeLessThan(3e-4)
        },
      ),
      { seed: 31, numRuns: 60 },
    )
  })
})
