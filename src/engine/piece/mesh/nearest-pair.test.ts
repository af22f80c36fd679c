import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { buildBallTree } from './apart.ts'
import type { TriangleMesh } from './model-reading.ts'
import { nearestPair, nearestToLine } from './nearest-pair.ts'
import { moved, type Transform } from './transform.ts'

const ball = (radius: number, steps = 24): TriangleMesh => {
  const positions: number[] = []
  const corners: number[] = []
  for (let i = 0; i <= steps; i += 1)
    for (let j = 0; j < 2 * steps; j += 1) {
      const [p, t] = [(Math.PI * i) / steps, (Math.PI * j) / steps]
      positions.push(
        radius * Math.sin(p) * Math.cos(t),
        radius * Math.sin(p) * Math.sin(t),
        radius * Math.cos(p),
      )
    }
  const at = (i: number, j: number): number => i * 2 * steps + (j % (2 * steps))
  for (let i = 0; i < steps; i += 1)
    for (let j = 0; j < 2 * steps; j += 1)
      corners.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1))
  return { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
}
const shift = (x: number, y: number, z: number): Transform => [1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z]

test('two balls are nearest on the line between their middles', () => {
  const tree = buildBallTree(ball(5))
  const found = nearestPair(tree, tree, shift(0, 0, 14))
  expect(found.distance).toBeCloseTo(4, 9)
  for (const [k, value] of [0, 0, 5].entries()) expect(found.on[k]).toBeCloseTo(value, 9)
  for (const [k, value] of [0, 0, 9].entries()) expect(found.other[k]).toBeCloseTo(value, 9)
})

test('the two points are as far apart as the surfaces, wherever one is put', () => {
  const small = buildBallTree(ball(3, 8))
  const large = buildBallTree(ball(5, 9))
  fc.assert(
    fc.property(
      fc.tuple(...[0, 1, 2].map(() => fc.double({ min: -14, max: 14, noNaN: true }))),
      fc.double({ min: 0, max: 6, noNaN: true }),
      ([x = 0, y = 0, z = 0], turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)]
        const motion = [c, s, 0, -s, c, 0, 0, 0, 1, x, y, z]
        const { distance, on, other } = nearestPair(large, small, motion)
        expect(Math.hypot(on[0] - other[0], on[1] - other[1], on[2] - other[2])).toBeCloseTo(distance, 7)
        // no corner of the one is nearer to the other's point than that
        for (let k = 0; k < small.mesh.positions.length; k += 3) {
          const p = moved(
            motion,
            small.mesh.positions[k] ?? 0,
            small.mesh.positions[k + 1] ?? 0,
            small.mesh.positions[k + 2] ?? 0,
          )
          expect(Math.hypot(p[0] - on[0], p[1] - on[1], p[2] - on[2])).toBeGreaterThanOrEqual(distance - 1e-7)
        }
      },
    ),
    // both balls' poles, where triangles have no area, on one line
    { numRuns: 40, examples: [[[0, 0, 0], 5.992176055908197]] },
  )
})

test('a bar beside a ball is nearest at the level of its middle', () => {
  const { distance, on, other } = nearestToLine(buildBallTree(ball(5)), [8, 0, -20], [8, 0, 20])
  expect(distance).toBeCloseTo(3, 9)
  expect([...on, ...other].map((value) => Math.round(value * 1e6) / 1e6 + 0)).toEqual([5, 0, 0, 8, 0, 0])
})
