import { expect, test } from 'vitest'
import { formOf, MOST_TRIANGLES, type ModelForm } from './model-form.ts'
import { flatFrame, spanOf, standingFrame } from './model-frames.ts'
import { shapeOfModel } from './model-shape.ts'
import { directionsOf, OPENING_VIEW, type Place } from './view.ts'

interface Mesh {
  positions: number[]
  corners: number[]
}

/** A box from corner to corner, its faces looking outward; `lid` false leaves its top open. */
const box = ([x0, y0, z0]: Place, [x1, y1, z1]: Place, lid = true): Mesh => {
  const positions = [x0, x1].flatMap((x) => [y0, y1].flatMap((y) => [z0, z1].flatMap((z) => [x, y, z])))
  const quads = [
    [0, 1, 3, 2],
    [4, 6, 7, 5],
    [0, 4, 5, 1],
    [2, 3, 7, 6],
    [0, 2, 6, 4],
    ...(lid ? [[1, 5, 7, 3]] : []),
  ]
  return { positions, corners: quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d] as number[]) }
}

const together = (...meshes: Mesh[]): Mesh => ({
  positions: meshes.flatMap(({ positions }) => positions),
  corners: meshes.flatMap(({ corners }, index) => {
    const before = meshes.slice(0, index).reduce((sum, mesh) => sum + mesh.positions.length / 3, 0)
    return corners.map((corner) => corner + before)
  }),
})

const ready = (mesh: Mesh): ModelForm => {
  const form = formOf(mesh)
  if (form === undefined) throw new Error('nothing to draw')
  return form
}

const runsOf = (path: string): number[][] =>
  path
    .split('M')
    .slice(1)
    .map((run) => run.replace('Z', '').split(/[L ]/).map(Number))

const lengthOf = (path: string): number =>
  runsOf(path).reduce((total, run) => {
    let length = 0
    for (let i = 2; i < run.length; i += 2)
      length += Math.hypot((run[i] ?? 0) - (run[i - 2] ?? 0), (run[i + 1] ?? 0) - (run[i - 1] ?? 0))
    return total + length
  }, 0)

const areaOf = (path: string): number =>
  Math.abs(
    runsOf(path).reduce((total, run) => {
      let twice = 0
      for (let i = 0; i < run.length; i += 2) {
        const next = (i + 2) % run.length
        twice += (run[i] ?? 0) * (run[next + 1] ?? 0) - (run[next] ?? 0) * (run[i + 1] ?? 0)
      }
      return total + twice / 2
    }, 0),
  )

const front = directionsOf({ turn: 0, tip: 0 })
const opening = directionsOf(OPENING_VIEW)

test('a box from the front is one light face with its four sides and no crease', () => {
  const shape = shapeOfModel(ready(box([0, 0, 0], [30, 20, 10])), front, 5)
  expect(shape.coats.map(({ tone }) => tone)).toEqual(['face'])
  expect(areaOf(shape.coats[0]?.path ?? '')).toBeCloseTo(300, 1)
  expect(lengthOf(shape.outline)).toBeCloseTo(80, 1)
  expect(shape.creases).toBe('')
  expect(shape.half).toEqual([15, 5])
})

test('the silhouette of a turned box has the area of its three faces foreshortened', () => {
  const form = ready(box([0, 0, 0], [30, 20, 10]))
  const shape = shapeOfModel(form, { ...opening, sky: [0, 0, 1] }, 5)
  const [x, y, z] = opening.toward.map(Math.abs) as [number, number, number]
  const area = 200 * x + 300 * y + 600 * z
  expect(areaOf(shape.coats[0]?.path ?? '') / area).toBeCloseTo(1, 2)
  expect(shape.coats.map(({ tone }) => tone)).toEqual(['face', 'side'])
})

test('a turned box shows the nine edges that are seen: six round it and three that meet', () => {
  const shape = shapeOfModel(ready(box([0, 0, 0], [30, 20, 10])), opening, 5)
  const seen = [30, 20, 10].map(
    (length, axis) => length * Math.hypot(opening.right[axis] ?? 0, opening.down[axis] ?? 0),
  )
  const each = seen.reduce((sum, length) => sum + length, 0)
  expect(lengthOf(shape.outline) / (2 * each)).toBeCloseTo(1, 2)
  expect(lengthOf(shape.creases) / each).toBeCloseTo(1, 2)
})

test('what stands behind is neither drawn over what stands before it nor shown through it', () => {
  const before = box([0, 0, 0], [30, 5, 30])
  const alone = shapeOfModel(ready(before), front, 5)
  const both = shapeOfModel(ready(together(before, box([10, 10, 10], [20, 15, 20]))), front, 5)
  expect(lengthOf(both.outline)).toBeCloseTo(lengthOf(alone.outline), 1)
  expect(both.coats).toHaveLength(1)
})

test('what half hides is cut where the nearer begins', () => {
  const near = box([0, 0, 0], [10, 5, 10])
  const far = box([5, 10, 2], [15, 15, 8])
  const shape = shapeOfModel(ready(together(near, far)), front, 10)
  // the near one whole, 40, and of the far one its right half: 5 + 6 + 5
  expect(lengthOf(shape.outline)).toBeGreaterThan(55)
  expect(lengthOf(shape.outline)).toBeLessThan(57)
})

test('a light face before a dark one is laid down after it', () => {
  // walls look half aside and are dark; the short post's top looks up, before the tall wall
  const tip = 0.6
  const view = directionsOf({ turn: Math.PI / 4, tip })
  const wall = box([-20, -20, 0], [-15, 40, 40])
  const post = box([0, 10, 0], [5, 15, 30])
  const shape = shapeOfModel(ready(together(wall, post)), { ...view, sky: [0, 0, 1] }, 5)
  expect(shape.coats.map(({ tone }) => tone)).toEqual(['face', 'side', 'face'])
  expect(areaOf(shape.coats[2]?.path ?? '') / (25 * Math.sin(tip))).toBeCloseTo(1, 1)
})

test('faces that all look inward are turned round, and an open rim is drawn', () => {
  const { positions, corners } = box([0, 0, 0], [10, 10, 10])
  const inward = corners.flatMap((_, i) =>
    i % 3 === 0 ? [corners[i], corners[i + 2], corners[i + 1]] : [],
  ) as number[]
  expect(lengthOf(shapeOfModel(ready({ positions, corners: inward }), front, 5).outline)).toBeCloseTo(40, 1)
  const open = shapeOfModel(ready(box([0, 0, 0], [10, 10, 10], false)), front, 5)
  expect(lengthOf(open.outline)).toBeCloseTo(40, 1)
})

test('a model with nothing in it, with numbers that are none, or with too many triangles has no drawing', () => {
  expect(formOf({ positions: [], corners: [] })).toBeUndefined()
  expect(formOf({ positions: [0, 0, 0, 1, 0, 0, Number.NaN, 1, 0], corners: [0, 1, 2] })).toBeUndefined()
  expect(formOf({ positions: [0, 0, 0], corners: new Uint32Array(3 * MOST_TRIANGLES + 3) })).toBeUndefined()
})

test('a flat view looks along the least size and keeps the model upright as it was drawn', () => {
  const lying = ready(box([0, 0, 0], [27, 32, 2]))
  expect(spanOf(lying, flatFrame(lying))).toEqual([27, 32])
  const upright = ready(box([0, 0, 0], [27, 2, 32]))
  expect(spanOf(upright, flatFrame(upright))).toEqual([27, 32])
  expect(flatFrame(upright).toward[1]).toBe(-1)
})

test('a model stands on the tree in its box: the side asked for upright, the least along its angle', () => {
  const form = ready(box([0, 0, 0], [27, 32, 2]))
  for (const [upright, across, tall] of [
    ['longest', 27, 32],
    ['middle', 32, 27],
  ] as const) {
    // looking along its angle, straight at its face
    const frame = standingFrame(form, { upright, angle: -Math.PI / 2 }, front)
    const [width, height] = spanOf(form, frame)
    expect(width).toBeCloseTo(across, 9)
    expect(height).toBeCloseTo(tall, 9)
    // a drawing, not its mirror image
    const up = frame.down.map((value) => -value) as unknown as Place
    expect(frame.right[1] * up[2] - frame.right[2] * up[1]).toBeCloseTo(frame.toward[0], 12)
    expect(frame.right[2] * up[0] - frame.right[0] * up[2]).toBeCloseTo(frame.toward[1], 12)
    expect(frame.right[0] * up[1] - frame.right[1] * up[0]).toBeCloseTo(frame.toward[2], 12)
  }
})
