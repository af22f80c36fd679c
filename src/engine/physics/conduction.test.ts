import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  cylinderSoakTime,
  meanShareLeft,
  type SoakingShape,
  seriesTerm,
  seriesTerms,
  shareLeft,
  soakCylinder,
} from './conduction.ts'
import { radiantFlux, radiationCoefficient, radiationTime } from './radiation.ts'
import { reachedFromFluid, reachedFromHeldFace } from './semi-infinite.ts'

const SHAPES: readonly SoakingShape[] = ['slab', 'rod', 'ball']
const biot = fc.double({ min: 0.01, max: 200, noNaN: true })
const few = { numRuns: 30 }

test('each root of the series lies in its own half turn', () => {
  fc.assert(
    fc.property(biot, fc.integer({ min: 1, max: 20 }), (b, n) => {
      for (const shape of SHAPES) {
        const { zeta } = seriesTerm(shape, b, n)
        expect(zeta).toBeGreaterThan((n - 1) * Math.PI)
        expect(zeta).toBeLessThan(n * Math.PI)
      }
    }),
    few,
  )
})

test('what the face passes is what the body loses: slope of the mean is -n Bi times the face', () => {
  fc.assert(
    fc.property(biot, fc.double({ min: 0.05, max: 1, noNaN: true }), (b, fourier) => {
      SHAPES.forEach((shape, index) => {
        const terms = seriesTerms(shape, b, 40)
        const step = 1e-5
        const slope =
          (meanShareLeft(shape, terms, fourier + step) - meanShareLeft(shape, terms, fourier - step)) /
          (2 * step)
        expect(slope).toBeCloseTo(-(index + 1) * b * shareLeft(shape, terms, fourier, 1), 5)
      })
    }),
    few,
  )
})

test('a ball soaks through before a rod and a rod before a slab of the same half thickness', () => {
  fc.assert(
    fc.property(biot, fc.double({ min: 0.05, max: 2, noNaN: true }), (b, fourier) => {
      const [slab, rod, ball] = SHAPES.map((shape) => shareLeft(shape, seriesTerms(shape, b, 30), fourier, 0))
      expect(ball as number).toBeLessThan(rod as number)
      expect(rod as number).toBeLessThan(slab as number)
    }),
    few,
  )
})

test('twice the flask takes four times as long with its face held', () => {
  const body = { radius: 0.03, height: 0.08, conductivity: 0.5, diffusivity: 4e-7 }
  const held = { ...body, heatTransfer: Number.POSITIVE_INFINITY }
  const twice = { ...held, radius: 0.06, height: 0.16 }
  expect(cylinderSoakTime(twice, 0.05) / cylinderSoakTime(held, 0.05)).toBeCloseTo(4, 6)
})

test('a cylinder is symmetric about its middle and hottest to change at its rim', () => {
  const at = soakCylinder({
    radius: 0.03,
    height: 0.08,
    conductivity: 0.5,
    diffusivity: 4e-7,
    heatTransfer: 40,
  })
  expect(at(600, 0.01, 0.02)).toBe(at(600, 0.01, -0.02))
  expect(at(600, 0.03, 0.04)).toBeLessThan(at(600))
})

test('a thick body heated by a very strong fluid behaves as with its face held, without overflow', () => {
  expect(reachedFromFluid(0.005, 4e-7, 600, 1e7, 0.5)).toBeCloseTo(reachedFromHeldFace(0.005, 4e-7, 600), 4)
  expect(reachedFromFluid(0.005, 4e-7, 1e7, 1e7, 0.5)).toBeLessThanOrEqual(1)
})

test('radiating from hot to warm to cool takes as long as from hot to cool at once', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 700, max: 1200, noNaN: true }),
      fc.double({ min: 500, max: 690, noNaN: true }),
      (hot, warm) => {
        const leg = (from: number, to: number) => radiationTime(900, 0.02, from, to, 293.15)
        expect(leg(hot, warm) + leg(warm, 350)).toBeCloseTo(leg(hot, 350), 6)
      },
    ),
    few,
  )
})

test('a body never radiates past its surroundings', () => {
  expect(radiationTime(900, 0.02, 900, 280, 293.15)).toBeNaN()
})

test('the radiation coefficient times the difference is the radiated flux', () => {
  expect(radiationCoefficient(0.8, 900, 300) * 600).toBeCloseTo(radiantFlux(0.8, 900, 300), 6)
})
