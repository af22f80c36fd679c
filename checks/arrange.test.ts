import { expect, test } from 'vitest'
import { runSet } from './arrange-sets.ts'
import {
  lineToSurface,
  type Surface,
  surfaceToSurface,
  triangleToTriangle,
  type V,
} from './brute-distance.ts'

const surfaceOf = (...triangles: [V, V, V][]): Surface =>
  triangles.map((corners) => ({ corners, middle: corners[0], round: 100 }))

// Source: plane geometry.
test('the brute-force distance is right for triangles whose distance is plain', () => {
  const flat: [V, V, V] = [[0, 0, 0], [4, 0, 0], [0, 4, 0]] // biome-ignore format: one triangle
  const above: [V, V, V] = [[1, 1, 2], [1.5, 1, 3], [1, 1.5, 3]] // biome-ignore format: one triangle
  const beside: [V, V, V] = [[-3, 1, 4], [-3, 3, 4], [-5, 2, 4]] // biome-ignore format: one triangle
  const through: [V, V, V] = [[1, 1, -1], [1, 1, 1], [2, 1, 1]] // biome-ignore format: one triangle
  expect(triangleToTriangle(flat, above)).toBeCloseTo(2, 12)
  expect(triangleToTriangle(flat, beside)).toBeCloseTo(5, 12)
  expect(triangleToTriangle(flat, through)).toBe(0)
  expect(surfaceToSurface(surfaceOf(flat), surfaceOf(above, beside))).toBeCloseTo(2, 12)
  expect(lineToSurface([-1, 6, 3], [6, -1, 3], surfaceOf(flat))).toBeCloseTo(Math.hypot(3, Math.SQRT1_2), 12)
  expect(lineToSurface([1, 1, -2], [1, 1, 2], surfaceOf(flat))).toBe(0)
})

/** All 500 by `ARRANGE_SETS=500`; a part of them otherwise. */
const SETS = Number(process.env.ARRANGE_SETS ?? 40)

// Source: every distance tried by brute force, from the placed meshes alone.
test('sets drawn by lot keep every clearance, those made round an arrangement are placed, and the impossible are refused', () => {
  const results = Array.from({ length: SETS }, (_, index) => runSet(index + 1))
  expect(results.filter(({ violations }) => violations.length > 0)).toEqual([])
  expect(results.filter(({ verdict }) => verdict === 'wrong')).toEqual([])
  const just = results.filter(({ sort }) => sort === 'only just')
  expect(just.length).toBeGreaterThan(0.25 * SETS)
  // a search may miss what is known to be possible; it must not do so often
  expect(just.filter(({ verdict }) => verdict === 'missed').length).toBeLessThanOrEqual(0.1 * just.length)
  const impossible = results.filter(({ sort }) => sort === 'impossible')
  expect(impossible.length).toBe(Math.floor((SETS + 1) / 10))
  expect(impossible.every(({ verdict }) => verdict === 'refused')).toBe(true)
}, 900_000)
