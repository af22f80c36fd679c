import { describe, expect, it } from 'vitest'
import { planPour } from '../plan.ts'
import { METRIC, type Quantity, writeWords } from '../quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../sample-pour.ts'

const given = { now: SAMPLE_NOW }
const shop = sampleShop()

/** The sample's single wax of 1.2 g on a base of 68.42 g, with so much wax of sprues by the scale. */
const withSprueWax = (sprues_g: number) =>
  planPour(
    shop,
    samplePour({
      tree: {
        weighed: {
          base_g: 68.42,
          baseWithTree_g: Number((68.42 + 1.2 + sprues_g).toFixed(2)),
          baseWeighed: 'today',
        },
      },
    }),
    given,
  )

// what the planned sprues would weigh: their room without a scale, at 0.945 g/cm3
const planned_g = (planPour(shop, samplePour(), given).sprues as Quantity).value * 945 * 1000
const freezing = (plan: ReturnType<typeof withSprueWax>) =>
  plan.verdicts.filter((one) => one.part === 'freeze' && one.id !== 'freeze.built')

describe('a tree on the scale', () => {
  it('is asked about when it cannot hold the sprues planned, and no freezing order then passes clean', () => {
    const plan = withSprueWax(planned_g * 0.4)
    const [check] = plan.go.checks.filter((one) => one.id === 'freeze.built')
    expect(check).toBeDefined()
    const words = writeWords(check?.reason ?? [], METRIC)
    expect(words).toContain('thinner or shorter than planned')
    expect(words).toContain(`carries ${(planned_g * 0.4).toFixed(2)}`)
    expect(freezing(plan).length).toBeGreaterThan(0)
    for (const one of freezing(plan)) {
      expect(one.verdict, one.id).not.toBe('pass')
      expect(writeWords(one.reason, METRIC), one.id).toContain('judged on the sprues planned here')
    }
  })

  it('gives the charge its sprues by the scale, whatever was planned', () => {
    const plan = withSprueWax(1)
    // 1 g of sprue wax at 0.945 g/cm3, in sterling at 10.36
    expect((plan.spruesMetal as Quantity).value * 1000).toBeCloseTo(10.36 / 0.945, 6)
  })

  it('passes as before when it may be the tree that was planned', () => {
    const plan = withSprueWax(planned_g)
    expect(plan.verdicts.find((one) => one.id === 'freeze.built')).toBeUndefined()
    const unweighed = planPour(shop, samplePour(), given)
    expect(freezing(plan).map((one) => [one.id, one.verdict])).toEqual(
      unweighed.verdicts.filter((one) => one.part === 'freeze').map((one) => [one.id, one.verdict]),
    )
  })

  it('doubts the run of the arm too when its sprues are thicker than planned', () => {
    const plan = withSprueWax(planned_g * 2.5)
    expect(plan.builtSprues?.differ).toBe('more')
    expect(plan.verdicts.find((one) => one.id === 'spin.run')?.verdict).not.toBe('pass')
    expect(withSprueWax(planned_g).verdicts.find((one) => one.id === 'spin.run')?.verdict).toBe('pass')
  })

  it('agrees again once the sprues that were built are entered', () => {
    const built = (over: object) => {
      const pour = samplePour({
        tree: {
          stem: { diameter_mm: 3, length_mm: 20 },
          weighed: { base_g: 68.42, baseWithTree_g: 69.82, baseWeighed: 'today' },
        },
      })
      return planPour(shop, { ...pour, pieces: pour.pieces.map((one) => ({ ...one, ...over })) }, given)
    }
    // π/4 × (9 × 20 + 4 × 20) = 204.2 mm3, 0.193 g; the scale leaves 0.20 g
    expect(built({ gate: { diameter_mm: 2, length_mm: 20 } }).builtSprues?.differ).toBeUndefined()
    expect(built({ gate: { diameter_mm: 6, length_mm: 20 } }).builtSprues?.differ).toBe('less')
  })
})
