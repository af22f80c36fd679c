import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  alloyEnthalpy,
  EUTECTIC,
  freezingHeat,
  latentHeat,
  liquidFraction,
  liquidus,
  phasesAt,
  scheilEutecticFraction,
  scheilLiquidFraction,
  scheilTemperature,
  solidus,
} from './silver-copper.ts'
import { chemicalPotentials, copperByMass, copperByMole, molarEnthalpy } from './silver-copper-gibbs.ts'
import { meltingAt, splittingAt } from './silver-copper-tie-lines.ts'

const share = fc.double({ min: 0, max: 1, noNaN: true })
const kelvin = fc.double({ min: 300, max: 1500, noNaN: true })
const gap = 1e-4

describe('the diagram', () => {
  test('the liquidus falls from silver to the eutectic and rises from there to copper', () => {
    fc.assert(
      fc.property(share, share, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)]
        fc.pre(high - low > gap)
        if (high <= EUTECTIC.liquid) expect(liquidus(high)).toBeLessThan(liquidus(low))
        if (low >= EUTECTIC.liquid) expect(liquidus(high)).toBeGreaterThan(liquidus(low))
      }),
    )
  })

  test('the solidus is never above the liquidus nor below the eutectic', () => {
    fc.assert(
      fc.property(share, (copper) => {
        expect(solidus(copper)).toBeLessThanOrEqual(liquidus(copper) + 1e-6)
        expect(solidus(copper)).toBeGreaterThanOrEqual(EUTECTIC.temperature - 1e-6)
      }),
    )
  })

  test('phases hold the whole mass and the whole copper at every temperature', () => {
    fc.assert(
      fc.property(share, kelvin, (copper, T) => {
        const phases = phasesAt(copper, T)
        expect(phases.reduce((sum, part) => sum + part.share, 0)).toBeCloseTo(1, 12)
        expect(phases.reduce((sum, part) => sum + part.share * part.copper, 0)).toBeCloseTo(copper, 10)
        for (const part of phases) expect(part.share).toBeGreaterThanOrEqual(-1e-9)
      }),
    )
  })

  test('beside the bulge of the copper solidus an alloy is all solid, then melts a little as it cools', () => {
    expect(liquidFraction(0.923, 1110)).toBe(0)
    expect(liquidFraction(0.923, 1060)).toBeGreaterThan(0)
    expect(liquidFraction(0.923, 1050)).toBe(0)
  })

  test('phases in equilibrium have equal chemical potentials, melting and splitting', () => {
    for (const [line, second] of [
      [meltingAt('silver', 1150), 'liquid'],
      [meltingAt('copper', 1200), 'liquid'],
      [splittingAt(800), 'solid'],
    ] as const) {
      if (!line) throw new Error('a tie line is missing inside its range')
      const p = chemicalPotentials('solid', copperByMole(line.first), line.temperature)
      const q = chemicalPotentials(second, copperByMole(line.second), line.temperature)
      expect(p.silver - q.silver).toBeCloseTo(0, 5)
      expect(p.copper - q.copper).toBeCloseTo(0, 5)
    }
  })

  test('slopes of the chemical potentials agree with differences', () => {
    for (const phase of ['liquid', 'solid'] as const) {
      const step = 1e-6
      const at = (x: number) => chemicalPotentials(phase, x, 1100)
      const difference = (metal: 'silver' | 'copper') =>
        (at(0.3 + step)[metal] - at(0.3 - step)[metal]) / (2 * step)
      expect(at(0.3).silverSlope / difference('silver')).toBeCloseTo(1, 6)
      expect(at(0.3).copperSlope / difference('copper')).toBeCloseTo(1, 6)
    }
  })

  test('enthalpy is the Gibbs energy less its slope with temperature', () => {
    const gibbs = (phase: 'liquid' | 'solid', x: number, T: number) => {
      const { silver, copper } = chemicalPotentials(phase, x, T)
      return (1 - x) * silver + x * copper
    }
    for (const phase of ['liquid', 'solid'] as const) {
      const [x, T, step] = [0.2, 1100, 0.01]
      const slope = (gibbs(phase, x, T + step) - gibbs(phase, x, T - step)) / (2 * step)
      expect(molarEnthalpy(phase, x, T)).toBeCloseTo(gibbs(phase, x, T) - T * slope, 1)
    }
  })

  test('moles and masses convert both ways', () => {
    fc.assert(
      fc.property(share, (w) => {
        expect(copperByMass(copperByMole(w))).toBeCloseTo(w, 12)
      }),
    )
  })

  test('a composition that is none gives NaN', () => {
    for (const none of [Number.NaN, -0.01, 1.01]) {
      expect(liquidus(none)).toBeNaN()
      expect(solidus(none)).toBeNaN()
      expect(liquidFraction(none, 1100)).toBeNaN()
      expect(alloyEnthalpy(none, 1100)).toBeNaN()
      expect(scheilLiquidFraction(none, 900)).toBeNaN()
    }
  })
})

describe('heat', () => {
  test('enthalpy only rises with temperature, through every change of phase', () => {
    fc.assert(
      fc.property(share, kelvin, kelvin, (copper, a, b) => {
        fc.pre(Math.abs(a - b) > 0.5)
        expect(alloyEnthalpy(copper, Math.max(a, b))).toBeGreaterThan(alloyEnthalpy(copper, Math.min(a, b)))
      }),
    )
  })

  test('freezing gives off more than the latent heat alone, and sterling less than its metals apart', () => {
    expect(freezingHeat(0.075)).toBeGreaterThan(latentHeat(0.075))
    expect(latentHeat(0.075)).toBeLessThan(0.925 * latentHeat(0) + 0.075 * latentHeat(1))
  })
})

describe('freezing without diffusion in the solid', () => {
  const castable = fc.double({ min: 0.005, max: 0.995, noNaN: true })

  test('never leaves less liquid than even freezing does, on the silver side', () => {
    // not so on the copper side, whose solid gives silver back in the last 54 K above the eutectic
    fc.assert(
      fc.property(castable, kelvin, (part, T) => {
        const copper = part * EUTECTIC.liquid
        fc.pre(T > EUTECTIC.temperature + 0.01)
        expect(scheilLiquidFraction(copper, T)).toBeGreaterThanOrEqual(liquidFraction(copper, T) - 1e-6)
      }),
    )
  })

  test('fraction at a temperature and temperature at a fraction undo each other', () => {
    fc.assert(
      fc.property(castable, fc.double({ min: 0.01, max: 1, noNaN: true }), (copper, fraction) => {
        fc.pre(fraction > scheilEutecticFraction(copper) + 1e-6)
        expect(scheilLiquidFraction(copper, scheilTemperature(copper, fraction))).toBeCloseTo(fraction, 6)
      }),
    )
  })

  test('a pure metal leaves no eutectic and the eutectic alloy is nothing else', () => {
    expect(scheilEutecticFraction(0)).toBe(0)
    expect(scheilEutecticFraction(1)).toBe(0)
    expect(scheilEutecticFraction(EUTECTIC.liquid)).toBeCloseTo(1, 9)
  })
})
