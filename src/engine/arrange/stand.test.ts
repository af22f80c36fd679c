import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Point } from '../piece/mesh/index.ts'
import { leant, motionTo, standOf } from './stand.ts'
import { move, strain } from './vectors.ts'

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const stands = fc.record({
  angle: within(0, 359),
  up: within(-50, 120),
  out: within(0.1, 60),
  tilt: within(-180, 180),
  roll: fc.oneof(within(-90, 90), fc.constantFrom(-90, 90)),
  twist: within(-180, 180),
})
const middle: Point = [3, -7, 11]

test('the numbers read from a place make the same place again', () => {
  fc.assert(
    fc.property(stands, (stand) => {
      const motion = motionTo(stand, middle)
      expect(strain(motion)).toBeLessThan(1e-9)
      const again = motionTo(standOf(motion, middle), middle)
      for (const [k, value] of motion.entries()) expect(again[k]).toBeCloseTo(value, 5)
    }),
  )
})

test('angle, height and reach are those of the middle', () => {
  const at = move(motionTo({ angle: 90, up: 40, out: 20, tilt: 30, roll: 10, twist: -60 }, middle), middle)
  for (const [k, value] of [0, 20, 40].entries()) expect(at[k]).toBeCloseTo(value, 9)
})

test('a wax that tilts leans its top outward and keeps its middle', () => {
  const upright = motionTo({ angle: 90, up: 40, out: 20, tilt: 0, roll: 0, twist: 0 }, [0, 0, 0])
  const [x, y, z] = move(leant(upright, [0, 0, 0], 'tilt', 30), [0, 0, 10])
  expect(x).toBeCloseTo(0, 9)
  expect(y).toBeCloseTo(20 + 10 * Math.sin(Math.PI / 6), 9)
  expect(z).toBeCloseTo(40 + 10 * Math.cos(Math.PI / 6), 9)
  expect(standOf(leant(upright, [0, 0, 0], 'tilt', 30), [0, 0, 0]).tilt).toBeCloseTo(30, 9)
})
