import { describe, expect, test } from 'vitest'
import { gaugeDiameter, nextWaxWire, WAX_WIRES, waxWireOf } from './wax-wire.ts'

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

  test('the next wire is never thinner than the size', () => {
    for (let across = 1e-3; across < 39e-3; across += 0.37e-3)
      expect(nextWaxWire(across)?.diameter).toBeGreaterThanOrEqual(across * (1 - 1e-6))
    // 4 ga is 0.2043 in across and 5 ga 0.1819 in
    expect(nextWaxWire(0.0047)?.name).toBe('4 ga')
  })

  test('they stand thinnest first', () => {
    const across = WAX_WIRES.map((wire) => wire.diameter)
    expect(across).toEqual([...across].sort((a, b) => a - b))
  })
})
