import { expect, test } from 'vitest'
import { motionTo, type Stand } from '../../engine/arrange/index.ts'
import type { ModelForm } from './model-form.ts'
import { placedFrame } from './model-frames.ts'
import { directionsOf, type Place } from './view.ts'

const dot = (one: Place, other: Place): number => one[0] * other[0] + one[1] * other[1] + one[2] * other[2]

test('a placed model is seen as its own points are where it stands', () => {
  const stand: Stand = { angle: 70, up: 40, out: 15, tilt: 25, roll: -40, twist: 110 }
  const motion = motionTo(stand, [0, 0, 0])
  const view = directionsOf({ turn: 0.6, tip: 0.3 })
  const frame = placedFrame({ size: [3, 2, 1] } as unknown as ModelForm, motion, view)
  const [x = 0, y = 0, z = 0] = motion.slice(9)
  const point: Place = [2, -3, 5]
  const stands: Place = [0, 1, 2].map((k) =>
    point.reduce((sum, value, axis) => sum + value * (motion[axis * 3 + k] ?? 0), [x, y, z][k] ?? 0),
  ) as unknown as Place
  for (const way of ['right', 'down', 'toward'] as const)
    expect(dot(frame[way], point)).toBeCloseTo(dot(view[way], stands) - dot(view[way], [x, y, z]), 9)
  expect(frame.sky && dot(frame.sky, point)).toBeCloseTo(stands[2] - z, 9)
})
