import { describe, expect, test } from 'vitest'
import { sayMoment } from '../engine/physics/schedule.ts'
import { planPour } from '../engine/plan.ts'
import { METRIC, writeDuration } from '../engine/quantity/index.ts'
import { samplePour, sampleShop, sampleWax } from '../engine/sample-pour.ts'
import { planInWords } from './plan-words.ts'

const shop = sampleShop()
const pour = samplePour()
const plan = planPour(
  shop,
  {
    ...pour,
    flask: 'flask-3x3.5',
    castAt: '2026-11-14T15:30:00-07:00',
    pieces: pour.pieces.map((piece) => ({ ...piece, name: 'a clasp with a rather long name to it' })),
  },
  { now: Date.UTC(2026, 10, 12, 18) },
)
const words = planInWords(plan, METRIC, false)
const lines = words.split('\n')

describe('a plan in words', () => {
  test('each step of the burnout has its heats, its length and its start on the clock', () => {
    expect(plan.burnout.program.length).toBeGreaterThan(5)
    for (const step of plan.burnout.program) {
      const degrees = `${Math.round(step.setpoint - 273.15)}\u00a0°C`
      const from = sayMoment(step.start ?? 0, shop.timeZone)
      const found = lines.filter((line) => line.includes(degrees) && line.includes(from))
      expect(found, step.id).toHaveLength(1)
      expect(found[0]).toContain(writeDuration(step.duration.value))
    }
  })

  test('a name as long as its column still stands apart from its figure', () => {
    const long = lines.filter((line) => line.includes('a rather long name to it'))
    expect(long.length).toBeGreaterThan(1)
    for (const line of long) expect(line).not.toMatch(/thickest section\S|[a-z]\d+ s/)
  })

  test('the flask is named as it is called, not by its id', () => {
    expect(words).toContain('76.2 × 88.9')
    expect(words).not.toContain('flask-3x3.5')
  })

  test('one moment is named for the mix, with the evening before it where that is night', () => {
    expect(words).toContain(
      `start the mix by, at the latest   ${sayMoment(plan.burnout.mixBy ?? 0, shop.timeZone)}`,
    )
    expect(words).toContain('mix the evening before')
  })

  test('several alike are written together, so that the pieces add up to their total', () => {
    const several = planInWords(
      planPour(
        shop,
        { ...pour, pieces: [sampleWax('slide', 1.2), sampleWax('tag', 0.5, { quantity: 2 })] },
        { now: Date.UTC(2026, 10, 12, 18) },
      ),
      METRIC,
      false,
    )
    const grams = (named: RegExp): number =>
      Number(/([\d.]+) g/.exec(several.split('\n').find((line) => named.test(line)) ?? '')?.[1])
    expect(several).toContain('tag × 2, together')
    const parts = grams(/^ {2}A slide/) + grams(/^ {2}B tag/)
    expect(Math.abs(grams(/^ {2}pieces as cast/) - parts)).toBeLessThan(0.11)
  })
})
