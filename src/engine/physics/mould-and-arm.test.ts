import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airToBurn, oxygenToBurn } from './combustion.ts'
import { chartIndividuals, movingAverage, movingAverageLimit } from './control-chart.ts'
import {
  densityByImmersion,
  metalForPattern,
  mixedDensity,
  patternLength,
  silverSolidDensity,
} from './density.ts'
import { timeWeightedAverage } from './exposure.ts'
import { bottomFillTime, chokeArea, fallSpeed, sprueFillTime } from './flow.ts'
import { MASS_LOSS, setMould } from './gypsum.ts'
import { counterweight, moment, speedForPressure, spinPressure } from './rotation.ts'
import { flaskVolume, mixForVolume, slurryDensity } from './slurry.ts'
import { combineUncertainty, coverageFactor } from './uncertainty.ts'
import { pumpDownTime } from './vacuum.ts'

const positive = fc.double({ min: 0.01, max: 10, noNaN: true })

describe('slurry and gypsum', () => {
  const densities = { particle: 2550, water: 998.2 }

  test('the mix fills its volume: mass over density', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 0.5, noNaN: true }), (ratio) => {
        const { powder, water } = mixForVolume(0.0005, ratio, densities)
        expect((powder + water) / slurryDensity(ratio, densities)).toBeCloseTo(0.0005, 12)
      }),
    )
  })

  test('setting keeps the mass, and burning off all water leaves the burnt mass', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 0.4, noNaN: true }), (hemihydrate) => {
        const mould = setMould(hemihydrate, 0.4)
        expect(mould.boundWater + mould.freeWater).toBeCloseTo(0.4, 12)
        const dry = 1.4 - mould.freeWater - mould.gypsum * MASS_LOSS.gypsumToAnhydrite
        expect(dry).toBeCloseTo(mould.burntMass, 12)
      }),
    )
  })

  test('a flask twice as wide holds four times as much', () => {
    expect(flaskVolume(0.2, 0.1) / flaskVolume(0.1, 0.1)).toBeCloseTo(4, 12)
  })

  test('methane takes four times its mass of oxygen, and air more', () => {
    // CH4 + 2 O2: 63.996 over 16.043
    expect(oxygenToBurn(1, 4)).toBeCloseTo(63.996 / 16.043, 9)
    expect(airToBurn(1, 4)).toBeGreaterThan(oxygenToBurn(1, 4))
  })
})

describe('densities', () => {
  test('a mixture lies between its metals', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        const density = mixedDensity([
          { share, density: 10_490 },
          { share: 1 - share, density: 8960 },
        ])
        expect(density).toBeGreaterThanOrEqual(8960 - 1e-6)
        expect(density).toBeLessThanOrEqual(10_490 + 1e-6)
      }),
    )
  })

  test('weighing in water finds the density that was weighed, in air or none', () => {
    const [density, volume, water, air] = [10_360, 5e-6, 998.2, 1.2]
    expect(densityByImmersion(volume * (density - air), volume * (density - water), water, air)).toBeCloseTo(
      density,
      6,
    )
    expect(densityByImmersion(volume * density, volume * (density - water), water)).toBeCloseTo(density, 6)
  })

  test('silver at 20 C has its handbook density', () => {
    expect(silverSolidDensity(20)).toBeCloseTo(10_490, 9)
  })

  test('a pattern as dense as the metal needs its own mass, and changes of length cancel', () => {
    expect(metalForPattern(7, 950, 950)).toBe(7)
    expect(patternLength(100, [0.25, -0.2])).toBeCloseTo(100, 12)
  })
})

describe('flow and the arm', () => {
  test('speed for a pressure gives that pressure', () => {
    fc.assert(
      fc.property(positive, (pressure) => {
        const speed = speedForPressure(1e5 * pressure, 9160, 0.15, 0.2)
        expect(spinPressure(9160, speed, 0.15, 0.2) / (1e5 * pressure)).toBeCloseTo(1, 12)
      }),
    )
  })

  test('the counterweight brings the moments level', () => {
    const bodies = [
      { mass: 0.9, radius: 0.2 },
      { mass: 0.35, radius: 0.13 },
    ]
    expect(moment([{ mass: counterweight(bodies, 0.17), radius: 0.17 }])).toBeCloseTo(moment(bodies), 12)
  })

  test('a choke passes its mass in its time', () => {
    const area = chokeArea({ mass: 0.2, density: 9160, time: 0.4, head: 0.06, discharge: 1 })
    expect(sprueFillTime(0.2 / 9160, area, 0.06)).toBeCloseTo(0.4, 12)
  })

  test('filling a shallow mould from below takes as long as a steady head would, and above the head never', () => {
    const [area, gate, head, height] = [4e-4, 1e-5, 1, 1e-4]
    expect(bottomFillTime(area, gate, head, height)).toBeCloseTo(
      (area * height) / (gate * fallSpeed(head)),
      5,
    )
    expect(bottomFillTime(area, gate, 0.05, 0.06)).toBe(Number.POSITIVE_INFINITY)
  })

  test('pumping in two steps takes as long as in one', () => {
    expect(pumpDownTime(0.008, 7e-4, 1e5, 1e4) + pumpDownTime(0.008, 7e-4, 1e4, 2e3)).toBeCloseTo(
      pumpDownTime(0.008, 7e-4, 1e5, 2e3),
      9,
    )
  })
})

describe('records', () => {
  const values = fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 2, maxLength: 30 })

  test('charts move with their values and never put the limits the wrong way round', () => {
    fc.assert(
      fc.property(values, positive, (record, shift) => {
        const chart = chartIndividuals(record)
        const moved = chartIndividuals(record.map((value) => value + shift))
        expect(moved.centre - chart.centre).toBeCloseTo(shift, 6)
        expect(moved.sigma).toBeCloseTo(chart.sigma, 6)
        expect(chart.upper).toBeGreaterThanOrEqual(chart.lower)
      }),
    )
  })

  test('a record too short for a range has no limits', () => {
    expect(chartIndividuals([5]).upper).toBeNaN()
    expect(chartIndividuals([]).centre).toBeNaN()
  })

  test('the moving average stays among its values and its limits only widen', () => {
    fc.assert(
      fc.property(values, (record) => {
        const start = record[0] as number
        for (const average of movingAverage(record, 0.3, start)) {
          expect(average).toBeGreaterThanOrEqual(Math.min(...record) - 1e-9)
          expect(average).toBeLessThanOrEqual(Math.max(...record) + 1e-9)
        }
      }),
    )
    expect(movingAverageLimit(1, 0.3, 3, 2)).toBeGreaterThan(movingAverageLimit(1, 0.3, 3, 1))
  })

  test('adding a part never narrows the whole, and known parts have endless freedom', () => {
    fc.assert(
      fc.property(positive, positive, (a, b) => {
        const one = combineUncertainty([{ standard: a }])
        const two = combineUncertainty([{ standard: a }, { slope: -1, standard: b }])
        expect(two.standard).toBeGreaterThan(one.standard)
        expect(two.freedom).toBe(Number.POSITIVE_INFINITY)
      }),
    )
    expect(combineUncertainty([{ standard: 3, freedom: 7 }]).freedom).toBeCloseTo(7, 9)
    expect(coverageFactor(0.9, Number.POSITIVE_INFINITY)).toBeCloseTo(1.6448536, 6)
  })

  test('a ten-hour shift dilutes what an eight-hour one does not', () => {
    const spells = [{ concentration: 80, hours: 1 }]
    expect(timeWeightedAverage(spells)).toBe(10)
    expect(timeWeightedAverage(spells, 10)).toBe(8)
  })
})
