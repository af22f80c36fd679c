import { expect, test } from 'vitest'
import { type Block, directionsOf, facesOf, nearness, OPENING_VIEW, project } from './view.ts'

const front = { turn: 0, tip: 0 }
const cube: Block = {
  corners: [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ],
  bottom: 0,
  top: 2,
}

test('from the front a height is drawn at its own length, upwards', () => {
  expect(project([0, 0, 5], front)[1]).toBe(-5)
  expect(project([3, 0, 0], front)[0]).toBe(3)
})

test('a length along the line of sight vanishes, and what is nearer counts as nearer', () => {
  expect(project([0, 4, 0], front)).toEqual([0, 0])
  expect(nearness([0, -4, 0], front)).toBeGreaterThan(nearness([0, 0, 0], front))
})

test('three faces of a block are seen from above and one side', () => {
  expect(
    facesOf(cube, OPENING_VIEW)
      .map((face) => face.tone)
      .toSorted(),
  ).toEqual(['dark', 'light', 'top'])
})

test('turning keeps lengths across the axis: a full turn comes back', () => {
  const [x, y] = project([2, 3, 4], { turn: 2 * Math.PI + 0.5, tip: 0.3 })
  const [x0, y0] = project([2, 3, 4], { turn: 0.5, tip: 0.3 })
  expect(x).toBeCloseTo(x0, 12)
  expect(y).toBeCloseTo(y0, 12)
})

test('nothing is drawn as its mirror image: right, up and towards the reader are right-handed', () => {
  const { right, down, toward } = directionsOf({ turn: 0.9, tip: 0.4 })
  const up = down.map((value) => -value) as [number, number, number]
  const across = [
    right[1] * up[2] - right[2] * up[1],
    right[2] * up[0] - right[0] * up[2],
    right[0] * up[1] - right[1] * up[0],
  ]
  toward.forEach((value, axis) => {
    expect(across[axis]).toBeCloseTo(value, 12)
  })
})
