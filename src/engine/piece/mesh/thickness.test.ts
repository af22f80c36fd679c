import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  box,
  cube,
  flipped,
  frustum,
  globe,
  mapped,
  oval,
  ringOf,
  type Shape,
  together,
  torus,
} from '../../../../fixtures/meshes/shapes.ts'
import { buildBoxTree } from './box-tree.ts'
import { probeInward } from './rays.ts'
import { type Thickness, thicknessOf } from './thickness.ts'

// Every figure expected here is the shape's own, by plane geometry.

const thickness = ({ positions, corners }: Shape): Thickness => {
  const mesh = { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
  const tree = buildBoxTree(mesh)
  return thicknessOf(mesh, tree, probeInward(mesh, tree, 1000, 1e-6))!
}

const expectNear = (value: number, wanted: number, share: number): void =>
  expect(Math.abs(value / wanted - 1), `${value} against ${wanted}`).toBeLessThan(share)

/** A plate 40 x 30 mm, half of it thin and half thick. */
const stepped = (thin: number, thick: number): Shape => {
  const section = [
    [0, 0],
    [40, 0],
    [40, thick],
    [20, thick],
    [20, thin],
    [0, thin],
  ] as const
  const near = section.map(([x, z]) => [x, 0, z])
  const far = section.map(([x, z]) => [x, 30, z])
  const corners: number[] = []
  for (let j = 0; j < 6; j++) corners.push(j, 6 + ((j + 1) % 6), (j + 1) % 6, j, 6 + j, 6 + ((j + 1) % 6))
  for (const [a, b, c] of [
    [0, 1, 4],
    [0, 4, 5],
    [1, 2, 3],
    [1, 3, 4],
  ] as const)
    corners.push(a, b, c, 6 + a, 6 + c, 6 + b)
  return { positions: [...near, ...far].flat(), corners }
}

describe('even sections', () => {
  test('a plate 40 x 30 x 2 mm is 2 mm thick, rim and corners too', () => {
    const t = thickness(box(40, 30, 2))
    expect(t.samples).toBeGreaterThan(950)
    expectNear(t.p05, 2, 0.001)
    expectNear(t.p95, 2, 0.001)
  })

  test('a ball is its diameter', () => {
    const t = thickness(globe(10, 40, 80))
    expectNear(t.p05, 20, 0.04)
    expectNear(t.median, 20, 0.01)
    expectNear(t.p95, 20, 0.01)
  })

  test.each([
    [48, 24],
    [120, 48],
    [400, 60],
  ])('a ring of round wire is the wire, in %d x %d facets', (around, section) => {
    const t = thickness(torus(12, 2, around, section))
    expectNear(t.p05, 4, 0.06)
    expectNear(t.median, 4, 0.02)
    expectNear(t.p95, 4, 0.01)
  })

  test('a round bar is its diameter and a square one its side', () => {
    const round = thickness(frustum(oval(5, 5, 0, 64), oval(5, 5, 60, 64)))
    expectNear(round.median, 10, 0.01)
    expectNear(round.p95, 10, 0.01)
    const square = thickness(box(80, 5, 5))
    expectNear(square.p05, 5, 0.05)
    expectNear(square.p95, 5, 0.01)
  })

  test('a block of three unequal sides is its least side', () => {
    const t = thickness(box(60, 20, 10))
    expectNear(t.p05, 10, 0.03)
    expectNear(t.p95, 10, 0.01)
  })

  test('a cube of 60 mm is 60 mm thick, though most of its surface lies nearer to an edge', () => {
    const t = thickness(cube(60))
    expectNear(t.p05, 60, 0.05)
    expectNear(t.p95, 60, 0.02)
  })

  test('a hollow box is as thick as its wall', () => {
    const t = thickness(together(cube(60), flipped(cube(57, [1.5, 1.5, 1.5]))))
    expectNear(t.p05, 1.5, 0.01)
    expectNear(t.median, 1.5, 0.01)
    expectNear(t.p95, 1.5, 0.03)
  })

  test('a flat washer is its height, though a ray across its rim goes far', () => {
    const t = thickness(
      ringOf(
        [
          [8, 0],
          [20, 0],
          [20, 1.8],
          [8, 1.8],
        ],
        96,
      ),
    )
    expectNear(t.p05, 1.8, 0.01)
    expectNear(t.p95, 1.8, 0.01)
  })
})

describe('uneven sections', () => {
  test('a plate half 1 mm and half 3 mm thick has both as its ends', () => {
    const t = thickness(stepped(1, 3))
    expectNear(t.p05, 1, 0.02)
    expectNear(t.p95, 3, 0.02)
  })

  test('a wedge lies between its ends, and its tenths spread along it', () => {
    const t = thickness(
      frustum(
        [
          [0, 0, 0],
          [30, 0, 0],
          [30, 20, 0],
          [0, 20, 0],
        ],
        [
          [0, 0, 1],
          [30, 0, 4],
          [30, 20, 4],
          [0, 20, 1],
        ],
      ),
    )
    expect(t.p05).toBeGreaterThan(1)
    expect(t.p05).toBeLessThan(1.3)
    expectNear(t.median, 2.5, 0.1)
    expect(t.p95).toBeGreaterThan(3.6)
    expect(t.p95).toBeLessThan(4)
  })

  test('where the walls of a small box meet, the junction is the thickest: 2 sqrt 2 over (1 + sqrt 2) walls', () => {
    // A circle in a square corner that touches both outer walls and the inner edge: r sqrt 2 + r = w sqrt 2.
    const t = thickness(together(cube(20), flipped(cube(17, [1.5, 1.5, 1.5]))))
    expectNear(t.median, 1.5, 0.02)
    expectNear(t.p95, (1.5 * 2 * Math.SQRT2) / (1 + Math.SQRT2), 0.04)
  })
})

test('thickness grows with the part and turns with it', () => {
  const part = stepped(1.2, 2.7)
  const before = thickness(part)
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 20, noNaN: true }),
      fc.double({ min: 0, max: 6, noNaN: true }),
      (scale, turn) => {
        const [c, s] = [Math.cos(turn) * scale, Math.sin(turn) * scale]
        const after = thickness(mapped(part, (x, y, z) => [c * x - s * z, scale * y, s * x + c * z]))
        expectNear(after.p05, before.p05 * scale, 0.02)
        expectNear(after.p95, before.p95 * scale, 0.02)
      },
    ),
    { numRuns: 12 },
  )
})

test('the same mesh gives the same figures, and a dense ball rests on fewer samples', () => {
  const shape = globe(10, 150, 300)
  const once = thickness(shape)
  expect(thickness(shape)).toEqual(once)
  expect(once.samples).toBeGreaterThanOrEqual(24)
  expect(once.samples).toBeLessThan(1000)
  expectNear(once.p05, 20, 0.03)
  expectNear(once.p95, 20, 0.01)
})

test('where no ray met a far wall there is no thickness', () => {
  const mesh = { positions: new Float64Array(0), corners: new Uint32Array(0) }
  expect(thicknessOf(mesh, buildBoxTree(mesh), [])).toBeNull()
})
