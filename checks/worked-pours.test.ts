import { describe, expect, it } from 'vitest'
import { planPour } from '../src/engine/plan.ts'
import type { Quantity } from '../src/engine/quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../src/engine/sample-pour.ts'

/**
 * Whole pours worked by hand from stated constants (wax 0.95, sterling 10.36 g/cm3, sprue wax 0.95): the
 * arithmetic is elementary and shown beside each figure. Inputs are invented.
 */
const shop = sampleShop()
const waxes = shop.waxes.map((wax) => ({ ...wax, density_g_cm3: 0.95 }))
const alloys = shop.alloys.map((alloy) =>
  alloy.id === 'sterling' ? { ...alloy, density_g_cm3: 10.36 } : alloy,
)
const worked = { ...shop, waxes, alloys }

const wax = (name: string, mass_g: number, quantity = 1) => ({
  id: name,
  name,
  quantity,
  source: { from: 'weighed-wax' as const, mass_g, wax: 'hard-carving' },
})

const inGrams = (quantity: Quantity | undefined): number => (quantity?.value ?? Number.NaN) * 1000

describe('three pieces on one weighed tree', () => {
  // pieces 4.10 + 1.05 + 1.62 = 6.77 g, tree 9.12 g: 9.12 / 0.95 = 9.600 cm3, × 10.36 = 99.5 g
  const plan = planPour(
    worked,
    samplePour({
      pieces: [wax('plate', 4.1), wax('loop', 1.05), wax('end', 1.62)],
      tree: { weighed: { base_g: 68.42, baseWithTree_g: 77.54, baseWeighed: 'today' } },
    }),
    { now: SAMPLE_NOW },
  )

  it('weigh 44.7, 11.5 and 17.7 g in sterling', () => {
    const masses = plan.pieces.pieces.map((piece) => inGrams(piece.castMass))
    expect(masses[0]).toBeCloseTo(44.71, 2)
    expect(masses[1]).toBeCloseTo(11.45, 2)
    expect(masses[2]).toBeCloseTo(17.67, 2)
  })

  it('have 25.6 g of metal in their sprues and 99.5 g in the cavity', () => {
    expect(inGrams(plan.spruesMetal)).toBeCloseTo(25.63, 2)
    expect(inGrams(plan.needed.cavity)).toBeCloseTo(99.45, 1)
  })

  it('ask for a button by geometry, far more than a tenth over the cavity', () => {
    expect(inGrams(plan.needed.toWeigh)).toBeGreaterThan(1.2 * inGrams(plan.needed.cavity))
  })
})

describe('twelve rings in one flask', () => {
  // 13.70 g of wax / 0.95 × 10.36 = 149.4 g
  const masses = [1.02, 1.05, 1.08, 1.1, 1.12, 1.12, 1.14, 1.15, 1.18, 1.2, 1.24, 1.3]
  const plan = planPour(
    worked,
    samplePour({ pieces: masses.map((mass, index) => wax(`ring-${index}`, mass)) }),
    {
      now: SAMPLE_NOW,
    },
  )

  it('weigh 149.4 g in sterling', () => {
    expect(inGrams(plan.pieces.castMass)).toBeCloseTo(149.4, 1)
  })
})

describe('a cone pair by entered volume', () => {
  // cone 8 to 4 mm, 45 mm long: π 45 / 12 (64 + 32 + 16) = 1319.5 mm3, × 10.36 = 13.67 g each
  const volume_cm3 = ((Math.PI * 45) / 12) * 112 * 1e-3
  const plan = planPour(
    worked,
    samplePour({
      pieces: [{ id: 'cone', name: 'Cone', quantity: 2, source: { from: 'volume', volume_cm3 } }],
    }),
    { now: SAMPLE_NOW },
  )

  it('weigh 13.67 g each', () => {
    expect(inGrams(plan.pieces.pieces[0]?.castMass)).toBeCloseTo(13.67, 2)
    expect(inGrams(plan.pieces.castMass)).toBeCloseTo(27.34, 2)
  })
})
