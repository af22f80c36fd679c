import { describe, expect, test } from 'vitest'
import type { Loop } from '../drawing.ts'
import { leadOut, roomAt } from './led-out.ts'
import { rectangle } from './sample.ts'

/** A bar too narrow for a number of 2 mm, its long sides along x. */
const bar: Loop = rectangle(0, 0, 20, 1)
const narrow = { id: 'bar', outer: bar, holes: [], at_mm: [10, 0.5] as const }
const RADIUS = 2

const lead = (lines: readonly Loop[], taken: Parameters<typeof leadOut>[3] = []) => {
  const found = leadOut(narrow, lines, RADIUS, taken)
  if (found === undefined) throw new Error('no place was found')
  return found
}
const long = ({ at, badge }: ReturnType<typeof lead>): number =>
  Math.hypot(badge[0] - at[0], badge[1] - at[1])

describe('a number led out of a region without room', () => {
  test('covers no line, and means a place inside its region', () => {
    const { at, badge } = lead([bar])
    expect(roomAt(badge, [bar])).toBeGreaterThanOrEqual(RADIUS)
    expect(at[1]).toBeGreaterThan(0)
    expect(at[1]).toBeLessThan(1)
    expect(long({ at, badge })).toBeLessThan(5)
  })

  test('goes to the side where its leader crosses fewer lines, though that is longer', () => {
    // above, three lines to be crossed and room behind them; below, room from 6 mm on
    const above = [1.2, 1.4, 1.6].map((y) => rectangle(-30, y, 80, 0.05))
    const below = rectangle(-30, -1.9, 80, 0.05)
    const { badge } = lead([bar, ...above, below])
    expect(badge[1]).toBeLessThan(0)
  })

  test('keeps clear of numbers that stand already', () => {
    const first = lead([bar])
    const second = lead([bar], [{ at: first.badge, radius: RADIUS }])
    expect(
      Math.hypot(second.badge[0] - first.badge[0], second.badge[1] - first.badge[1]),
    ).toBeGreaterThanOrEqual(2 * RADIUS)
  })

  test('is left out where no place near is free', () => {
    expect(leadOut(narrow, [bar], RADIUS, [{ at: [10, 0], radius: 60 }])).toBeUndefined()
  })
})
