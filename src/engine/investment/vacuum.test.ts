import { describe, expect, test } from 'vitest'
import { openRoots, type Pour, type Shop } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { celsius, inchesOfMercury, METRIC, root, toCelsius, writeWords } from '../quantity/index.ts'
import { judgeReading, judgeVacuum, readVacuum, stationPressure } from './index.ts'

type Pressure = Shop['place']['pressure']

const shopAt = (pressure: Pressure, leaves: Shop['vacuumLeaves_hPa'] = 50.8): Shop => ({
  ...usualShop(),
  place: { pressure },
  vacuumLeaves_hPa: leaves,
})

// the vacuum part reads no key of a pour
const noPour = {} as Pour

const inches = (pascal: number): number => pascal / 3386.389

const vacuumAt = (shop: Shop, water_C: number, inTime = true) => {
  const roots = openRoots(shop, noPour)
  const slurryTemperature = root({
    id: 'slurry',
    title: 'Temperature of the slurry',
    unit: 'K',
    value: celsius(water_C),
    kind: 'asked',
    source: 'asked in this test',
  })
  const vacuum = readVacuum({ roots, pressure: stationPressure({ roots, shop }), slurryTemperature })
  const warmer = { glossOff: () => 290, inTime: () => inTime, work: 480, swelling: () => 0.006 }
  return { vacuum, verdict: judgeVacuum(vacuum, slurryTemperature, warmer) }
}

describe('air pressure at the shop', () => {
  const pressureOf = (pressure: Pressure) => {
    const shop = shopAt(pressure)
    return stationPressure({ roots: openRoots(shop, noPour), shop })
  }
  test('the three ways of saying it agree at 1600 m in standard air', () => {
    const byAltitude = pressureOf({ from: 'altitude', altitude_m: 1600 })
    const byWeather = pressureOf({ from: 'sea-level-weather', pressure_hPa: 1013.25, altitude_m: 1600 })
    const byBarometer = pressureOf({ from: 'station', pressure_hPa: byAltitude.value / 100 })
    expect(inches(byAltitude.value)).toBeCloseTo(24.66, 1)
    expect(byWeather.value).toBeCloseTo(byAltitude.value, 3)
    expect(byBarometer.value).toBeCloseTo(byAltitude.value, 6)
  })
  test('a height alone is less sure than a barometer', () => {
    const byAltitude = pressureOf({ from: 'altitude', altitude_m: 1600 })
    expect(byAltitude.high - byAltitude.low).toBeGreaterThan(2000)
    const byBarometer = pressureOf({ from: 'station', pressure_hPa: 835 })
    expect(byBarometer.high).toBe(byBarometer.low)
  })
})

describe('whether the pump makes the slurry boil', () => {
  const mile = { from: 'altitude', altitude_m: 1600 } as const

  test('at 1600 m a pump that leaves 1.5 inHg reads 23.2 and boils water only at 33 °C', () => {
    const { vacuum, verdict } = vacuumAt(shopAt(mile, inchesOfMercury(1.5) / 100), 21)
    expect(inches(vacuum.pumpGauge.value)).toBeCloseTo(23.2, 1)
    expect(inches(vacuum.boilGauge.value)).toBeCloseTo(23.9, 1)
    expect(toCelsius(vacuum.boilsAt.value)).toBeCloseTo(33.3, 0)
    expect(vacuum.boils).toBe('no')
    expect(verdict.verdict).toBe('check')
    expect(writeWords(verdict.remedy, METRIC)).toMatch(/^Warm water and powder to 35.°C/)
  })

  test('the warmth that the remedy names does make it boil', () => {
    const shop = shopAt(mile, { value: 45, low: 40, high: 55 })
    const { vacuum } = vacuumAt(shop, 21)
    expect(vacuum.warmTo).toBeDefined()
    expect(vacuumAt(shop, toCelsius(vacuum.warmTo ?? 0)).vacuum.boils).toBe('yes')
  })

  test('a pump that leaves 0.7 inHg boils water at 21 °C at any height', () => {
    for (const altitude_m of [0, 1600, 3000]) {
      const shop = shopAt({ from: 'altitude', altitude_m }, inchesOfMercury(0.7) / 100)
      expect(vacuumAt(shop, 21).vacuum.boils).toBe('yes')
      expect(vacuumAt(shop, 21).verdict.verdict).toBe('pass')
    }
  })

  test('a pump whose range straddles the boiling pressure is too close to call', () => {
    const { vacuum } = vacuumAt(shopAt(mile, { value: 25, low: 20, high: 30 }), 21)
    expect(vacuum.boils).toBe('too close to call')
  })

  test('warmth is offered with the shorter clock and the swelling that come with it', () => {
    const words = writeWords(vacuumAt(shopAt(mile, 50.8), 21).verdict.remedy, METRIC)
    expect(words).toContain('the gloss goes at about 4 min 50 s')
    expect(words).toContain('the wax swells 0.60 %')
  })

  test('warmth that the clock does not hold is told of as no cure, and others are named', () => {
    const { verdict } = vacuumAt(shopAt(mile, 50.8), 21, false)
    expect(writeWords(verdict.reason, METRIC)).toContain('is no cure')
    const words = writeWords(verdict.remedy, METRIC)
    expect(words).not.toMatch(/warm/i)
    expect(words).toContain('vibrate')
    expect(verdict.where).toBe('/shop/vacuumLeaves_hPa')
  })

  test('a very weak pump is not mended by a mix too hot to pour', () => {
    const { vacuum, verdict } = vacuumAt(shopAt(mile, 200), 21)
    expect(vacuum.warmTo).toBeUndefined()
    expect(verdict.where).toBe('/shop/vacuumLeaves_hPa')
  })

  test('a perfect pump boils water at any temperature above freezing', () => {
    expect(vacuumAt(shopAt(mile, 0), 5).vacuum.boils).toBe('yes')
    expect(toCelsius(vacuumAt(shopAt(mile, 0), 5).vacuum.boilsAt.value)).toBeCloseTo(0, 1)
  })
})

describe('what a reading means here', () => {
  test('23.2 in at 1600 m leaves less air than 26 in at sea level', () => {
    const high = judgeReading(inchesOfMercury(23.2), inchesOfMercury(24.66))
    const low = judgeReading(inchesOfMercury(26), 101_325)
    expect(high.left).toBeLessThan(low.left)
  })
  test('the sheet’s reading for water at 22 °C, some 29.1 in, is out of reach at 1600 m and at hand by the sea', () => {
    const high = vacuumAt(shopAt({ from: 'altitude', altitude_m: 1600 }), 22).vacuum.sheetReading
    expect(inches(high.reading)).toBeCloseTo(29.14, 1)
    expect(high.possible).toBe(false)
    expect(vacuumAt(shopAt({ from: 'altitude', altitude_m: 0 }), 22).vacuum.sheetReading.possible).toBe(true)
  })
  test('29 in at 1600 m is impossible and says why', () => {
    const judged = judgeReading(inchesOfMercury(29), inchesOfMercury(24.66))
    expect(judged.possible).toBe(false)
    expect(writeWords(judged.words, METRIC)).toContain('for sea level')
  })
})
