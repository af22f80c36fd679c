import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  saturationPressure,
  saturationTemperature,
  steamDensity,
  vaporisationHeat,
  waterDensity,
} from './water.ts'

const liquidRange = fc.double({ min: 273.16, max: 640, noNaN: true })

test('vapour pressure and boiling point undo each other', () => {
  fc.assert(
    fc.property(liquidRange, (T) => {
      const back = saturationTemperature(saturationPressure(T) as number) as number
      expect(Math.abs(back - T)).toBeLessThan(1e-6)
    }),
  )
})

test('vapour pressure only rises with temperature', () => {
  fc.assert(
    fc.property(liquidRange, liquidRange, (a, b) => {
      fc.pre(Math.abs(a - b) > 1e-3)
      const [low, high] = [saturationPressure(Math.min(a, b)), saturationPressure(Math.max(a, b))]
      expect(high as number).toBeGreaterThan(low as number)
    }),
  )
})

test('ice, steam past the critical point and nonsense have no boiling state', () => {
  for (const T of [273.14, 647.1, Number.NaN]) {
    expect(saturationPressure(T)).toBeNull()
    expect(waterDensity(T)).toBeNull()
    expect(steamDensity(T)).toBeNull()
    expect(vaporisationHeat(T)).toBeNull()
  }
  for (const p of [-100, 0, 611, 22.1e6, Number.NaN]) expect(saturationTemperature(p)).toBeNull()
})

test('from 20 C up, hotter water is lighter, its steam heavier and its heat of vaporisation less', () => {
  for (let T = 293.15; T < 600; T += 10) {
    expect(waterDensity(T + 10) as number).toBeLessThan(waterDensity(T) as number)
    expect(steamDensity(T + 10) as number).toBeGreaterThan(steamDensity(T) as number)
    expect(vaporisationHeat(T + 10) as number).toBeLessThan(vaporisationHeat(T) as number)
  }
})
