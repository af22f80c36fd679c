import { describe, expect, test } from 'vitest'
import { gaugeDiameter, nearestWaxWire } from './wax-wire.ts'

describe('wax wire', () => {
  // ASTM B258, table of diameters in inches
  test.each([
    [0, 0.3249],
    [1, 0.2893],
    [4, 0.2043],
    [8, 0.1285],
    [10, 0.1019],
    [14, 0.0641],
    [18, 0.0403],
  ])('gauge %i is %f in across', (gauge, across) => {
    expect(gaugeDiameter(gauge) / 0.0254).toBeCloseTo(across, 4)
  })

  test('the nearest gauge is said in inches and the nearest millimetre wire in millimetres', () => {
    expect(nearestWaxWire(0.1285 * 0.0254, 'in')?.name).toBe('8 ga')
    expect(nearestWaxWire(0.21 * 0.0254, 'in')?.name).toBe('4 ga')
    expect(nearestWaxWire(0.0061, 'mm')?.name).toBe('6 mm')
  })

  test('of two as near the thicker is taken, and far from all none', () => {
    expect(nearestWaxWire(0.0045, 'mm')?.name).toBe('5 mm')
    expect(nearestWaxWire(0.014, 'mm')).toBeUndefined()
    expect(nearestWaxWire(0.014, 'in')).toBeUndefined()
  })
})
