import { expect, test } from 'vitest'
import { box, globe, mapped, type Shape, torus } from '../../../../fixtures/meshes/shapes.ts'
import { buildBallTree, distanceApart, distanceToLine } from './apart.ts'
import { buildBoxTree } from './box-tree.ts'
import { coarsen } from './coarse.ts'
import type { TriangleMesh } from './model-reading.ts'
import { nearestOn } from './nearest.ts'
import type { Transform } from './transform.ts'
import { apartSquared } from './triangle-pairs.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const shift = (x: number, y: number, z: number): Transform => [1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z]

/** Every triangle of one held against every triangle of the other. */
const bruteApart = (a: TriangleMesh, b: TriangleMesh): number => {
  const at = ({ positions, corners }: TriangleMesh, t: number): number[] =>
    [0, 1, 2].flatMap((k) => [0, 1, 2].map((axis) => positions[corners[t * 3 + k]! * 3 + axis]!))
  let best = Infinity
  for (let i = 0; i < a.corners.length / 3; i++)
    for (let j = 0; j < b.corners.length / 3; j++) best = Math.min(best, apartSquared(at(a, i), at(b, j)))
  return Math.sqrt(best)
}

test('two balls are as far apart as their middles less their radii, from outside, within their facets', () => {
  const ball = buildBallTree(meshOf(globe(5, 64, 128)))
  const facets = 2 * 5 * (1 - Math.cos(Math.PI / 64))
  const apart = distanceApart(ball, ball, shift(9, 8, 4))
  const exact = Math.hypot(9, 8, 4) - 10
  expect(apart).toBeGreaterThanOrEqual(exact)
  expect(apart).toBeLessThanOrEqual(exact + facets)
})

test('two boxes are apart by face, by edge and by corner as geometry says', () => {
  const cube = buildBallTree(meshOf(box(2, 2, 2)))
  expect(distanceApart(cube, cube, shift(5, 0.3, 0.4))).toBeCloseTo(3, 12)
  expect(distanceApart(cube, cube, shift(5, 6, 0.4))).toBeCloseTo(5, 12)
  expect(distanceApart(cube, cube, shift(4, 5, 8))).toBeCloseTo(7, 12)
})

test('surfaces that cross are at no distance, also where no corner of either is near', () => {
  const bar = meshOf(box(20, 1, 1, [-10, -0.5, -0.5]))
  const post = meshOf(box(1, 20, 1, [-0.5, -10, -0.5]))
  expect(distanceApart(buildBallTree(bar), buildBallTree(post), shift(0, 0, 0.5))).toBe(0)
})

test('turned meshes are as far apart as trying every pair of triangles says', () => {
  const ring = meshOf(torus(6, 1.5, 24, 10))
  const block = meshOf(box(4, 3, 7))
  const [a, b] = [buildBallTree(ring), buildBallTree(block)]
  for (let k = 0; k < 12; k++) {
    const [c, s] = [Math.cos(k * 0.7), Math.sin(k * 0.7)]
    const motion: Transform = [c, 0, -s, 0, 1, 0, s, 0, c, 9 - k, 1 + k * 0.8, 2 - k * 0.4]
    const moved = meshOf(
      mapped({ positions: [...block.positions], corners: [...block.corners] }, (x, y, z) => [
        c * x + s * z + 9 - k,
        y + 1 + k * 0.8,
        -s * x + c * z + 2 - k * 0.4,
      ]),
    )
    expect(distanceApart(a, b, motion)).toBeCloseTo(bruteApart(ring, moved), 9)
  }
})

test('beyond what is of interest the limit comes back, and a search may end at the first that is too near', () => {
  const cube = buildBallTree(meshOf(box(2, 2, 2)))
  expect(distanceApart(cube, cube, shift(9, 0, 0), 4)).toBe(4)
  expect(distanceApart(cube, cube, shift(3, 0, 0), 4, 4)).toBeLessThan(4)
})

test('a line along the axis of a ring is at the ring’s inner radius, and a line through its metal at none', () => {
  const ring = buildBallTree(meshOf(torus(10, 2, 96, 48)))
  const toAxis = distanceToLine(ring, [0, 0, -20], [0, 0, 20])
  expect(toAxis).toBeGreaterThanOrEqual(8 * Math.cos(Math.PI / 96) - 1e-9)
  expect(toAxis).toBeLessThanOrEqual(8 + 2 * (1 - Math.cos(Math.PI / 48)))
  expect(distanceToLine(ring, [10, 0, -20], [10.1, 0, 20])).toBe(0)
})

test('every point of a fine surface lies within the stated distance of the reduced one', () => {
  const fine = meshOf(torus(10, 2, 300, 120))
  const { mesh, off } = coarsen(fine, 4000)
  expect(mesh.corners.length / 3).toBeLessThan(8000)
  const surface = { mesh, tree: buildBoxTree(mesh), visits: 0 }
  let worst = 0
  for (let at = 0; at < fine.positions.length; at += 3)
    worst = Math.max(
      worst,
      nearestOn(surface, [...fine.positions.subarray(at, at + 3)])?.distance ?? Infinity,
    )
  expect(worst).toBeLessThanOrEqual(off)
  expect(off).toBeLessThan(Math.sqrt((4 * 4 * Math.PI ** 2 * 10 * 2) / 4000))
})

test('a thin skin keeps both its sides when it is reduced', () => {
  const skin = meshOf(globe(8, 200, 400))
  const { mesh, off } = coarsen(skin, 500)
  const [a, b] = [buildBallTree(mesh), buildBallTree(meshOf(box(1, 1, 1)))]
  const reduced = distanceApart(a, b, shift(12, 0, 0))
  expect(reduced - off).toBeLessThanOrEqual(distanceApart(buildBallTree(skin), b, shift(12, 0, 0)))
})
