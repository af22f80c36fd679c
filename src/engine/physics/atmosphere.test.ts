import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  absoluteFromGauge,
  gaugeFromAbsolute,
  geopotentialHeight,
  pressureHeight,
  STANDARD_PRESSURE,
  standardPressure,
  stationPressure,
} from './atmosphere.ts'

const height = fc.double({ min: -400, max: 5000, noNaN: true })

test('pressure falls with height', () => {
  fc.assert(
    fc.property(height, height, (a, b) => {
      fc.pre(Math.abs(a - b) > 0.01)
      const [low, high] = [Math.min(a, b), Math.max(a, b)]
      expect(standardPressure(high) as number).toBeLessThan(standardPressure(low) as number)
    }),
  )
})

test('height and standard pressure undo each other', () => {
  fc.assert(
    fc.property(height, (h) => {
      expect(pressureHeight(standardPressure(h) as number) as number).toBeCloseTo(h, 6)
    }),
  )
})

test('a sea-level report of the standard pressure gives the standard pressure at the shop', () => {
  fc.assert(
    fc.property(height, (h) => {
      expect(stationPressure(STANDARD_PRESSURE, h) as number).toBeCloseTo(standardPressure(h) as number, 6)
    }),
  )
})

test('at sea level the report is the station pressure, and a low there is a smaller low higher up', () => {
  expect(stationPressure(98000, 0) as number).toBeCloseTo(98000, 6)
  const fall = (standardPressure(1600) as number) - (stationPressure(98000, 1600) as number)
  expect(fall).toBeGreaterThan(0)
  expect(fall).toBeLessThan(STANDARD_PRESSURE - 98000)
})

test('gauge and absolute undo each other', () => {
  expect(absoluteFromGauge(84556, gaugeFromAbsolute(84556, 2339))).toBeCloseTo(2339, 9)
})

test('a place is a little lower in geopotential than on the map', () => {
  expect(geopotentialHeight(3000)).toBeLessThan(3000)
  expect(geopotentialHeight(3000)).toBeGreaterThan(2998)
})

test('heights outside the layer, and nonsense, have no pressure', () => {
  for (const h of [-2001, 11_001, Number.NaN]) expect(standardPressure(h)).toBeNull()
  for (const p of [0, 200_000, Number.NaN]) expect(pressureHeight(p)).toBeNull()
  expect(stationPressure(101325, 20_000)).toBeNull()
})
