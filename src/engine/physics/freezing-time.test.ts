import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { frontDepth, frontTime, onePhaseFront, timeToCentre, twoPhaseFront } from './freezing-front.ts'
import {
  chvorinovConstant,
  freezingTime,
  freezingTimeOf,
  heatToRemove,
  type MouldAndMetal,
  plateThicknessFreezingIn,
  radiusToOutlast,
} from './freezing-time.ts'
import { blockModulus, cylinderModulus, frustumModulus, frustumVolume, plateModulus } from './modulus.ts'

const given = (over: Partial<MouldAndMetal> = {}): MouldAndMetal => ({
  heatPerVolume: 9200 * 125e3,
  drop: 355,
  mouldConductivity: 0.5,
  mouldHeatCapacity: 1.24e6,
  ...over,
})
const metres = fc.double({ min: 0.0005, max: 0.03, noNaN: true })

describe('freezing in a mould', () => {
  test('a ball freezes before a rod and a rod before a plate of equal modulus', () => {
    fc.assert(
      fc.property(metres, (modulus) => {
        const plate = freezingTime({ shape: 'plate', modulus }, given())
        const rod = freezingTime({ shape: 'rod', radius: 2 * modulus }, given())
        const ball = freezingTime({ shape: 'ball', radius: 3 * modulus }, given())
        expect(ball).toBeLessThan(rod)
        expect(rod).toBeLessThan(plate)
      }),
    )
  })

  test('a face that is nearly flat freezes by the flat rule, without loss of digits', () => {
    expect(freezingTimeOf(0.002, 1e-12, given())).toBeCloseTo(chvorinovConstant(given()) * 0.002 ** 2, 9)
  })

  test('the section that outlasts a time freezes in just that time', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 600, noNaN: true }), (time) => {
        for (const shape of ['rod', 'ball'] as const) {
          const radius = radiusToOutlast(shape, time, given())
          expect(freezingTime({ shape, radius }, given()) / time).toBeCloseTo(1, 9)
        }
        const modulus = plateModulus(plateThicknessFreezingIn(time, given()))
        expect(freezingTime({ shape: 'plate', modulus }, given()) / time).toBeCloseTo(1, 9)
      }),
    )
  })

  test('a hotter mould, more superheat and a poorer conductor all freeze later', () => {
    const rod = (over: Partial<MouldAndMetal>) => freezingTime({ shape: 'rod', radius: 0.003 }, given(over))
    expect(rod({ drop: 300 })).toBeGreaterThan(rod({}))
    expect(rod({ heatPerVolume: 9200 * heatToRemove(97e3, 317, 150) })).toBeGreaterThan(
      rod({ heatPerVolume: 9200 * heatToRemove(97e3, 317, 50) }),
    )
    expect(rod({ mouldConductivity: 0.35 })).toBeGreaterThan(rod({}))
  })

  test('in a mould as hot as the freezing point nothing freezes, and nonsense stays NaN', () => {
    for (const drop of [0, -50]) {
      expect(freezingTime({ shape: 'rod', radius: 0.003 }, given({ drop }))).toBe(Number.POSITIVE_INFINITY)
      expect(chvorinovConstant(given({ drop }))).toBe(Number.POSITIVE_INFINITY)
    }
    expect(freezingTime({ shape: 'rod', radius: 0.003 }, given({ drop: Number.NaN }))).toBeNaN()
  })
})

describe('modulus', () => {
  test('scales as length', () => {
    fc.assert(
      fc.property(metres, metres, metres, (a, b, c) => {
        expect(blockModulus(3 * a, 3 * b, 3 * c) / blockModulus(a, b, c)).toBeCloseTo(3, 9)
      }),
    )
  })

  test('a frustum of equal ends is a cylinder, and a covered end holds heat', () => {
    expect(frustumModulus(5, 5, 8, 'both')).toBeCloseTo(cylinderModulus(10, 8), 12)
    expect(frustumModulus(5, 4, 8, 'wide')).toBeGreaterThan(frustumModulus(5, 4, 8, 'both'))
    expect(frustumModulus(5, 4, 8, 'none')).toBeGreaterThan(frustumModulus(5, 4, 8, 'wide'))
    expect(frustumVolume(0, 3, 9)).toBeCloseTo((Math.PI * 9 * 9) / 3, 9)
  })
})

describe('fronts', () => {
  test('warmer liquid ahead slows the front, and none ahead is the one-phase answer', () => {
    const ice = { conductivity: 2.219, diffusivity: 1.058e-6 }
    const water = { conductivity: 0.556, diffusivity: 1.328e-7 }
    const latent = 1000 * 334e3
    const stefan = (ice.conductivity / ice.diffusivity / latent) * 10
    expect(twoPhaseFront(ice, water, latent, 10, 0)).toBeCloseTo(onePhaseFront(stefan), 9)
    expect(twoPhaseFront(ice, water, latent, 10, 20)).toBeLessThan(twoPhaseFront(ice, water, latent, 10, 5))
  })

  test('depth and time undo each other', () => {
    expect(frontTime(0.3, 1e-6, frontDepth(0.3, 1e-6, 77))).toBeCloseTo(77, 9)
  })

  test('the quasi-steady time is what the exact front tends to when sensible heat vanishes', () => {
    const [k, drop, latent, depth] = [2, 10, 3e8, 0.01]
    const [capacity, diffusivity] = [1, 2]
    const exact = frontTime(onePhaseFront((capacity * drop) / latent), diffusivity, depth)
    expect(timeToCentre('slab', latent, depth, k, drop) / exact).toBeCloseTo(1, 6)
  })
})
