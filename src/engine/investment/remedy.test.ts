import { describe, expect, test } from 'vitest'
import { planPour } from '../plan.ts'
import { METRIC, toCelsius, writeWords } from '../quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../sample-pour.ts'

const planWith = (leaves_hPa: number, water_C: number) => {
  const pour = samplePour()
  const shop = { ...sampleShop(), vacuumLeaves_hPa: leaves_hPa }
  return planPour(shop, { ...pour, investment: { ...pour.investment, water_C } }, { now: SAMPLE_NOW })
}

describe('the cure for a pump that does not make the slurry boil', () => {
  test('never leads into a stop of the clock when it is followed', () => {
    let offered = 0
    let withheld = 0
    for (let leaves = 24; leaves <= 90; leaves += 3) {
      const plan = planWith(leaves, 21)
      const verdict = plan.verdicts.find(({ id }) => id === 'mix.vacuum')
      if (verdict?.verdict !== 'check') continue
      const words = writeWords(verdict.remedy, METRIC)
      if (!words.startsWith('Warm')) {
        withheld += 1
        expect(words).toContain('vibrate')
        continue
      }
      offered += 1
      expect(words).toContain('swells')
      const warm = planWith(leaves, toCelsius(plan.mix.vacuum.warmTo ?? Number.NaN))
      expect(warm.verdicts.find(({ id }) => id === 'mix.time')?.verdict, `${leaves}`).toBe('pass')
      expect(warm.mix.vacuum.boils).toBe('yes')
    }
    expect(withheld).toBeGreaterThan(0)
    expect(offered + withheld).toBeGreaterThan(5)
  })
})
