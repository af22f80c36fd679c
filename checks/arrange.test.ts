import { expect, test } from 'vitest'
import {
  lineToSurface,
  type Surface,
  surfaceToSurface,
  triangleToTriangle,
  type V,
} from './brute-distance.ts'

const surfaceOf = (...triangles: [V, V, V][]): Surface =>
  triangles.map((corners) => ({ corners, middle: corners[0], round: 100 }))

const triangle = (...corners: [V, V, V]): [V, V, V] => corners

// Source: plane geometry.
test('the brute-force distance is right for triangles whose distance is plain', () => {
  const flat = triangle([0, 0, 0], [4, 0, 0], [0, 4, 0])
  const above = triangle([1, 1, 2], [1.5, 1, 3], [1, 1.5, 3])
  const beside = triangle([-3, 1, 4], [-3, 3, 4], [-5, 2, 4])
  const through = triangle([1, 1, -1], [1, 1, 1], [2, 1, 1])
  expect(triangleToTriangle(flat, above)).toBeCloseTo(2, 12)
  expect(triangleToTriangle(flat, beside)).toBeCloseTo(5, 12)
  expect(triangleToTriangle(flat, through)).toBe(0)
  expect(surfaceToSurface(surfaceOf(flat), surfaceOf(above, beside))).toBeCloseTo(2, 12)
  expect(lineToSurface([-1, 6, 3], [6, -1, 3], surfaceOf(flat))).toBeCloseTo(Math.hypot(3, Math.SQRT1_2), 12)
  expect(lineToSurface([1, 1, -2], [1, 1, 2], surfaceOf(flat))).toBe(0)
})
