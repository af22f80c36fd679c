import { describe, expect, test } from 'vitest'
import { gaugeDiameter, WAX_WIRES, waxWireOf } from './wax-wire.ts'

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

  test('a size that is a wire carries its name', () => {
    expect(waxWireOf(gaugeDiameter(8))?.name).toBe('8 ga')
    expect(waxWireOf(0.012)?.name).toBe('12 mm')
  })

  test('a size between two wires has no name: the nearest may be thinner, and would freeze sooner', () => {
    // 7 ga is 0.1443 in across, 3.665 mm; 8 ga 3.264 mm
    expect(waxWireOf(0.0037)).toBeUndefined()
    expect(waxWireOf(0.0035)).toBeUndefined()
    expect(waxWireOf(0.05)).toBeUndefined()
  })

  test('they stand thinnest first', () => {
    const across = WAX_WIRES.map((wire) => wire.diameter)
    expect(across).toEqual([...across].sort((a, b) => a - b))
  })
})
