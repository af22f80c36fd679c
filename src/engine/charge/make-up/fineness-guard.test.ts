import { describe, expect, test } from 'vitest'
import { finenessOf, tangentRow } from './fineness-guard.ts'
import { countLots } from './lots.ts'
import { exactly, lot, request, sterling } from './sample.ts'

// Small seeded generator (a linear congruence), so that a failure can be run again.
const seeded = (seed: number) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0
  return (seed + 0.5) / 2 ** 32
}

const asked = request({
  target_kg: 0.1,
  scaleStep_kg: 0.0005,
  alloy: sterling({ finenessTarget_ppt: 925 }),
  lots: [
    lot('a returns', 'returns', 925, {
      composition: { Ag: { value: 0.925, low: 0.92, high: 0.93 }, Cu: exactly(0.075) },
    }),
    lot('b coin', 'coin', 900, {
      composition: { Ag: { value: 0.9, low: 0.897, high: 0.903 }, Cu: exactly(0.1) },
    }),
    lot('c fine', 'fine', 999),
    lot('d copper', 'alloying', 0),
  ],
})
const { lots } = countLots(asked)
const counts = [80, 60, 54, 6]

describe('the spread of a fineness', () => {
  test('agrees with a hundred thousand charges melted at random', () => {
    const random = seeded(20_251)
    const normal = () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random())
    const melted = Array.from({ length: 100_000 }, () => {
      let silver = 0
      let mass = 0
      lots.forEach(({ lot: one }, index) => {
        const { value = 0, low = 0 } = one.composition.Ag ?? {}
        const weighed = (counts[index] ?? 0) + random() - 0.5
        silver += weighed * (value + ((value - low) / 1.6448536) * normal())
        mass += weighed
      })
      return silver / mass
    }).sort((a, b) => a - b)
    const spread = finenessOf(asked, lots, counts)
    expect(1000 * Math.abs(spread.low - (melted[5_000] ?? 0))).toBeLessThan(0.04)
    expect(1000 * Math.abs(spread.expected - (melted[50_000] ?? 0))).toBeLessThan(0.04)
    expect(1000 * Math.abs(spread.high - (melted[95_000] ?? 0))).toBeLessThan(0.04)
    expect(spread.worst).toBeLessThan(spread.low)
  })

  test('a tangent touches the guard where it was drawn and never cuts off an allowed charge', () => {
    const random = seeded(7)
    const total = 200
    const draw = () => {
      const parts = lots.map(() => random())
      const all = parts.reduce((sum, part) => sum + part, 0)
      return parts.map((part) => (part / all) * total)
    }
    const slack = (row: ReturnType<typeof tangentRow>, charge: number[]) =>
      charge.reduce(
        (sum, count, index) => sum + count * (row.perStep[index] ?? 0) + (row.perUse[index] ?? 0),
        0,
      ) / total
    const least = 0.9
    for (let round = 0; round < 300; round++) {
      const drawn = draw()
      const row = tangentRow(asked, lots, drawn, least, 'assays and weighings')
      expect(slack(row, drawn)).toBeCloseTo(finenessOf(asked, lots, drawn).low - least, 12)
      const other = draw()
      const truth = finenessOf(asked, lots, other).low - least
      expect(slack(row, other)).toBeGreaterThanOrEqual(truth - 1e-12)
    }
  })
})
