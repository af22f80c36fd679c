import { expect, test } from 'vitest'
import { box, globe, type Shape } from '../../../fixtures/meshes/shapes.ts'
import type { TriangleMesh } from '../piece/mesh/index.ts'
import { asArrangement, dimensionsOf, type Held, holdSurfaces, moveWax, type Standing } from './by-hand.ts'
import { type ArrangeRequest, arrange } from './index.ts'
import { motionTo, standOf } from './stand.ts'
import { move, undoing } from './vectors.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const request: ArrangeRequest = {
  pieces: [
    ['ball', meshOf(globe(6, 24, 16))],
    ['slab', meshOf(box(4, 16, 20))],
  ].map(([id, mesh]) => ({
    id: id as string,
    name: id as string,
    copies: 1,
    mesh: mesh as TriangleMesh,
    standIn: false,
    sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the test' },
    keepClear: [],
    locked: new Map(),
  })),
  flasks: [{ id: 'flask', diameter_mm: 76.2, height_mm: 88.9 }],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 6,
  button_mm: 8,
}
const found = arrange(request)
const flask = found.flask ?? { id: '', diameter_mm: 0, height_mm: 0 }
const held: Held = holdSurfaces(request, flask)
const standing: Standing = { placements: found.placements, sprues: found.sprues }
const ball = found.placements.find(({ piece }) => piece === 'ball')
if (ball === undefined) throw new Error('the ball was not placed')

const ballAt = (out: number, up: number) => ({
  ...ball,
  motion: motionTo({ angle: 30, out, up, tilt: 0, roll: 0, twist: 0 }, [0, 0, 0]),
})

test('waxes left where they were found are measured as the arrangement measures them', () => {
  const mine = dimensionsOf(held, standing)
  for (const theirs of [...found.clearances, ...found.stemClearances]) {
    const [a, b] = theirs.between
    const one = mine.find(({ between }) => between[0] === a && between[1] === b)
    expect(one?.distance_mm, theirs.between.join()).toBeCloseTo(theirs.distance_mm, 6)
    expect(one?.needed_mm).toBe(theirs.needed_mm)
  }
})

test('every distance is that of its two points', () => {
  for (const { points, distance_mm, between } of dimensionsOf(held, standing)) {
    const [p, q] = points
    expect(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]), between.join()).toBeCloseTo(distance_mm, 6)
  }
})

test('a ball moved to a known place is as far from wall and top as arithmetic says', () => {
  // its sprue asks for a main sprue that goes up past it
  const moved = moveWax(held, standing, ballAt(22, 50), [{ at_mm: [0, 0, 6], axis_mm: 56 }])
  const mine = dimensionsOf(held, moved, ball)
  const of = (name: string) => mine.find(({ between }) => between[0] === name && between[1] === 'ball/1')
  // a ball of many flats reaches between its radius and a hair less
  expect(of('wall')?.distance_mm).toBeCloseTo(38.1 - 28, 0)
  expect(of('top')?.distance_mm).toBeCloseTo(88.9 - 56, 3)
  expect(of('stem')?.distance_mm).toBeCloseTo(22 - 6 - 3, 0)
  for (const { between } of mine) expect(between.join()).toMatch(/ball|sprue/)
})

test('a wax put through the wall is said to be too near, and nothing else moves', () => {
  const moved = moveWax(held, standing, ballAt(36, 50), [])
  const { arrangement: made } = asArrangement(held, moved, ({ piece }) => piece === 'ball')
  expect(made.fits).toBe(false)
  expect(made.problems.some(({ kind, what }) => kind === 'too-near' && what.includes('wall'))).toBe(true)
  const slabOf = (list: readonly { piece: string; motion: readonly number[] }[]) =>
    list.find(({ piece }) => piece === 'slab')?.motion
  expect(slabOf(made.placements)).toEqual(slabOf(found.placements))
  expect(made.placements.map(({ locked, piece }) => locked === (piece === 'ball'))).toEqual([true, true])
})

test('a sprue placed by hand joins the surface nearest to where it was put, as thick as asked', () => {
  const wax = ballAt(22, 50)
  const moved = moveWax(held, standing, wax, [{ at_mm: [0, 0, -9], axis_mm: 25, diameter_mm: 4 }])
  const [sprue, ...more] = moved.sprues.filter(({ piece }) => piece === 'ball')
  expect(more).toEqual([])
  expect(sprue?.diameter_mm).toBe(4)
  expect(sprue?.axis_mm).toEqual([0, 0, 25])
  const joint = sprue && move(undoing(wax.motion), sprue.from_mm)
  expect(joint?.[2]).toBeCloseTo(-6, 6)
})

test('the numbers of a placed wax are those it was put by', () => {
  const { angle, out, up } = standOf(ballAt(22, 50).motion, [0, 0, 0])
  for (const [value, asked] of [
    [angle, 30],
    [out, 22],
    [up, 50],
  ] as const)
    expect(value).toBeCloseTo(asked, 9)
})

test('surfaces held for one request serve another, with the name, copies and sprues asked for now', () => {
  const [first, ...others] = request.pieces
  if (first === undefined) throw new Error('the request has pieces')
  const placed = new Map([[1, [{ at_mm: [0, 0, -9] as const, axis_mm: 25 }]]])
  const renamed = { ...first, name: 'Seat', copies: 2, placed }
  const later = holdSurfaces({ ...request, pieces: [renamed, ...others] }, flask, [held])
  const kind = later.kinds.get('ball')
  expect(kind?.outside).toBe(held.kinds.get('ball')?.outside)
  expect([kind?.piece.name, kind?.piece.copies, kind?.piece.placed]).toEqual(['Seat', 2, placed])
  const moved = moveWax(later, standing, ballAt(22, 50), placed.get(1) ?? [])
  const { problems } = asArrangement(later, moved, () => true).arrangement
  // put 3 mm off the surface of the ball
  expect(problems.find(({ kind: of }) => of === 'sprue-moved')?.what).toMatch(
    /^Sprue 1, placed on Seat 1, was 3\.0 mm/,
  )
  const thicker = { ...first, sprue: { ...first.sprue, diameter_mm: 4 } }
  const anew = holdSurfaces({ ...request, pieces: [thicker, ...others] }, flask, [held])
  expect(anew.kinds.get('ball')?.outside).not.toBe(held.kinds.get('ball')?.outside)
})
