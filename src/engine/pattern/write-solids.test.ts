import { describe, expect, test } from 'vitest'
import { MeshBuilder, measureModel } from '../piece/mesh/index.ts'
import { write3mf } from './write-3mf.ts'
import { writeStl } from './write-stl.ts'

/** A wedge of 30 by 20 by 10 mm: half a box, 3000 mm3. */
const wedge = () => {
  const mesh = new MeshBuilder()
  for (const y of [0, 20]) {
    mesh.addPoint(0, y, 0)
    mesh.addPoint(30, y, 0)
    mesh.addPoint(0, y, 10)
  }
  for (const [a, b, c] of [
    [0, 1, 2],
    [3, 5, 4],
    [0, 3, 4],
    [0, 4, 1],
    [1, 4, 5],
    [1, 5, 2],
    [2, 5, 3],
    [2, 3, 0],
  ] as const)
    mesh.addTriangle(a, b, c)
  return mesh.finish()
}

describe('a solid to mill or print', () => {
  test.each([
    ['wedge.stl', writeStl],
    ['wedge.3mf', write3mf],
  ] as const)('as %s is closed, and its volume times the scale cubed', (name, write) => {
    const plain = measureModel(write(wedge()), name)
    expect(plain.closed).toBe(true)
    expect(plain.volume_mm3).toBeCloseTo(3000, 3)
    const scale = 1 / (1 - 0.0156)
    const over = measureModel(write(wedge(), scale), name)
    expect(Math.abs((over.volume_mm3 ?? 0) / (3000 * scale ** 3) - 1)).toBeLessThan(1e-6)
  })

  test('as 3MF names its unit, and gives the same bytes each time', () => {
    const bytes = write3mf(wedge(), 1.016)
    expect(measureModel(bytes, 'wedge.3mf').unitsAssumed).toBe(false)
    expect(write3mf(wedge(), 1.016)).toEqual(bytes)
  })

  test('as STL has normals that look outward', () => {
    const bytes = writeStl(wedge())
    const view = new DataView(bytes.buffer)
    // the first triangle is the wedge's near end, facing toward smaller y
    expect([0, 1, 2].map((i) => view.getFloat32(84 + 4 * i, true))).toEqual([0, -1, 0])
  })
})
