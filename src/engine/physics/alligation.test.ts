import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  afterBaseLoss,
  blend,
  type FineLot,
  fineMass,
  massToAdd,
  mostOfPoorer,
  shareOut,
} from './alligation.ts'

const lot: fc.Arbitrary<FineLot> = fc.record({
  mass: fc.double({ min: 0.1, max: 5000, noNaN: true }),
  fineness: fc.double({ min: 0, max: 1000, noNaN: true }),
})
const lots = fc.array(lot, { minLength: 1, maxLength: 8 })

test('a blend keeps the mass and the fine metal and lies between its lots', () => {
  fc.assert(
    fc.property(lots, (of) => {
      const whole = blend(of)
      expect(whole.mass).toBeCloseTo(
        of.reduce((sum, { mass }) => sum + mass, 0),
        6,
      )
      expect(fineMass(whole)).toBeCloseTo(
        of.reduce((sum, one) => sum + fineMass(one), 0),
        6,
      )
      const fineness = of.map((one) => one.fineness)
      expect(whole.fineness).toBeGreaterThanOrEqual(Math.min(...fineness) - 1e-9)
      expect(whole.fineness).toBeLessThanOrEqual(Math.max(...fineness) + 1e-9)
    }),
  )
})

test('the mass to add brings the blend exactly there, or there is none', () => {
  fc.assert(
    fc.property(
      lot,
      fc.integer({ min: 1, max: 999 }),
      fc.integer({ min: 0, max: 1000 }),
      (from, to, using) => {
        const mass = massToAdd(from, to, using)
        const reachable = (from.fineness - to) * (using - to) < 0
        if (mass === null) expect(reachable && Math.abs(from.fineness - to) > 1e-9).toBe(false)
        else expect(blend([from, { mass, fineness: using }]).fineness).toBeCloseTo(to, 6)
      },
    ),
  )
})

test('sharing out gives the whole mass at the fineness asked for', () => {
  const share = shareOut(200, 925, 800, 999)
  if (!share) throw new Error('925 lies between 800 and 999')
  expect(share.first + share.second).toBeCloseTo(200, 9)
  expect(shareOut(200, 999.5, 800, 999)).toBeNull()
  expect(shareOut(200, 900, 950, 950)).toBeNull()
})

test('the most solder keeps the line exactly, and a body already under it takes none', () => {
  const body = { mass: 40, fineness: 925 }
  const most = mostOfPoorer(body, 650, 915) as number
  expect(blend([body, { mass: most, fineness: 650 }]).fineness).toBeCloseTo(915, 9)
  expect(mostOfPoorer({ mass: 40, fineness: 914 }, 650, 915)).toBeNull()
})

test('losing base metal keeps the fine metal', () => {
  const before = { mass: 100, fineness: 925 }
  expect(fineMass(afterBaseLoss(before, 0.5))).toBeCloseTo(fineMass(before), 12)
})
