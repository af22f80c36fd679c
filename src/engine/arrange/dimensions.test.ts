import { expect, test } from 'vitest'
import { box, type Shape } from '../../../fixtures/meshes/shapes.ts'
import { buildBallTree, distanceApart } from '../piece/mesh/apart.ts'
import type { Transform, TriangleMesh } from '../piece/mesh/index.ts'
import { movedMesh, sprueBody } from './body.ts'
import { discReach } from './bores.ts'
import { type ArrangeRequest, arrange, type PlacedSprue } from './index.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})

/** A block of 6 × 10 × 10, its inner face's middle `out` from the axis and `up`, turned about it. */
const blockAt = (degrees: number, out: number, up: number): Transform => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]
  return [c, s, 0, -s, c, 0, 0, 0, 1, out * c, out * s, up]
}
const requestOf = (
  places: readonly (readonly [Transform, ...PlacedSprue[]])[],
  rules: Partial<ArrangeRequest['rules']> = {},
): ArrangeRequest => ({
  pieces: [
    {
      id: 'block',
      name: 'Block',
      copies: places.length,
      mesh: meshOf(box(6, 10, 10, [0, -5, -5])),
      standIn: false,
      sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the test' },
      keepClear: [],
      locked: new Map(places.map(([motion], index) => [index + 1, motion])),
      placed: new Map(places.map(([, ...sprues], index) => [index + 1, sprues])),
    },
  ],
  flasks: [{ id: 'flask', diameter_mm: 88.9, height_mm: 101.6 }],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7, ...rules },
  stem_mm: 6,
  button_mm: 8,
})

test('what is told of a sprue near its joint is no more than its solid leaves, fillet and all', () => {
  // each joint near the edge that the other block is next to
  for (const [edge, apart] of [
    [3, 35],
    [3, 38],
    [4, 42],
  ] as const) {
    const request = requestOf([
      [blockAt(0, 22, 50), { at_mm: [0, edge, 0], axis_mm: 28 }],
      [blockAt(apart, 22, 50), { at_mm: [0, 0, 4], axis_mm: 42 }],
    ])
    const { sprues, placements, clearances } = arrange(request)
    const [sprue] = sprues
    const other = placements.find(({ copy }) => copy === 2)
    const told = clearances.find(({ between }) => between.join() === 'sprue/1,block/2')
    if (sprue === undefined || other === undefined || told === undefined) throw new Error('it is measured')
    expect(sprue.fillet_mm).toBeGreaterThan(0.1)
    const wax = movedMesh(request.pieces[0]?.mesh ?? meshOf(box(1, 1, 1)), other.motion)
    const real = distanceApart(
      buildBallTree(sprueBody(sprue)),
      buildBallTree(wax),
      [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0],
    )
    // a round bar of 64 sides is drawn up to 0.2 % fuller than its circle
    expect(told.distance_mm, `joint ${edge} mm off`).toBeLessThanOrEqual(real + 0.01)
    expect(told.distance_mm).toBeGreaterThan(real - 0.5)
  }
})

test('a fillet takes none of what a hand needs', () => {
  const request = requestOf([
    [blockAt(0, 22, 50), { at_mm: [0, 3, 0], axis_mm: 28 }],
    [blockAt(34, 22, 50), { at_mm: [0, 0, 4], axis_mm: 42 }],
  ])
  const { sprues, clearances } = arrange(request)
  const told = clearances.find(({ between }) => between.join() === 'sprue/1,block/2')
  expect(sprues[0]?.fillet_mm).toBeLessThan(0.1)
  expect(told?.distance_mm).toBeGreaterThan(3.2 + 0.5)
  expect(told?.distance_mm).toBeLessThan(3.2 + 0.6)
})

test('a disc on a line that meets the axis reaches as far as the farthest point of its rim', () => {
  for (const out of [0, 3, 20])
    for (const rise of [-1, -0.7, 0, 0.5, 0.99, 1])
      for (const radius of [0.5, 4]) {
        const level = Math.sqrt(1 - rise ** 2)
        const rim = Array.from({ length: 20_000 }, (_, k) => {
          const turn = (2 * Math.PI * k) / 20_000
          // outward along its slope, and level round the axis
          return Math.hypot(out + radius * Math.cos(turn) * Math.abs(rise), radius * Math.sin(turn))
        })
        const told = discReach(out, rise, radius)
        expect(told, `${out}, ${rise}, ${radius}`).toBeCloseTo(Math.max(...rim), 5)
        expect(told).toBeLessThanOrEqual(out + radius + 1e-9)
        if (level === 0) expect(told).toBeCloseTo(out + radius, 9)
      }
})

test('no point of a sprue lies beyond what is told of it, though its joint hangs over an edge', () => {
  for (const [at_mm, axis_mm] of [
    [[0, 5, 5], 20],
    [[0, -5, 5], 45],
    [[0, 5, 0], 20],
    [[0, 0, 5], 34],
  ] as const) {
    const request = requestOf([[blockAt(0, 22, 50), { at_mm, axis_mm }]])
    const { sprues, clearances, flask } = arrange(request)
    const [sprue] = sprues
    if (sprue === undefined || flask === null) throw new Error('it is measured')
    const { positions } = sprueBody(sprue)
    const points = Array.from({ length: positions.length / 3 }, (_, k) => positions.slice(3 * k, 3 * k + 3))
    const told = (place: string) =>
      clearances.find(({ between }) => between.join() === `${place},sprue/1`)?.distance_mm ?? Number.NaN
    const out = Math.max(...points.map(([x = 0, y = 0]) => Math.hypot(x, y)))
    const real = flask.diameter_mm / 2 - out
    expect(real, at_mm.join()).toBeGreaterThan(told('wall') - 0.01)
    // nor is it told much too near, so that nothing is stopped for room that there is
    expect(real, at_mm.join()).toBeLessThan(told('wall') + 0.35)
    // its end in the wax may reach as high as the wax, and that has a row of its own
    const outside = points.filter(
      ([x = 0, y = 0, z = 0]) => x < 22 || Math.abs(y) > 5 || Math.abs(z - 50) > 5,
    )
    const high = Math.max(...outside.map(([, , z = 0]) => z))
    expect(flask.height_mm - high, at_mm.join()).toBeGreaterThan(told('top') - 0.01)
  }
})

test('a wax under the crook of a sprue and the main sprue is told how near the sprue’s own solid comes to it', () => {
  const request = requestOf([
    [blockAt(0, 24, 52), { at_mm: [0, 0, 0], axis_mm: 28, diameter_mm: 5 }],
    [blockAt(0, 4, 19), { at_mm: [0, 0, -4], axis_mm: 14 }],
  ])
  const { sprues, placements, clearances } = arrange(request)
  const [sprue] = sprues
  const other = placements.find(({ copy }) => copy === 2)
  const told = clearances.find(({ between }) => between.join() === 'sprue/1,block/2')
  if (sprue === undefined || other === undefined || told === undefined) throw new Error('it is measured')
  const wax = movedMesh(request.pieces[0]?.mesh ?? meshOf(box(1, 1, 1)), other.motion)
  const real = distanceApart(
    buildBallTree(sprueBody(sprue)),
    buildBallTree(wax),
    [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0],
  )
  expect(told.distance_mm).toBeLessThanOrEqual(real + 0.01)
  expect(told.distance_mm).toBeGreaterThan(real - 0.3)
})

test('a sprue that joins a thin plate at a slant does not come out on its other side', () => {
  const request = requestOf([[blockAt(0, 22, 50), { at_mm: [0, 0, 0], axis_mm: 50 - 22 * Math.sqrt(3) }]])
  const [block] = request.pieces
  if (block === undefined) throw new Error('there is one')
  const plate = { ...block, mesh: meshOf(box(1, 10, 10, [0, -5, -5])) }
  const [sprue] = arrange({ ...request, pieces: [plate] }).sprues
  if (sprue === undefined) throw new Error('it is there')
  const { positions } = sprueBody(sprue)
  const deepest = Math.max(...positions.filter((_, k) => k % 3 === 0))
  expect(deepest).toBeGreaterThan(22)
  expect(deepest).toBeLessThan(22.52)
})

/** Two alike, so many degrees apart, and a third across from them that carries the main sprue up past their sprues. */
const pairOf = (degrees: number): readonly (readonly [Transform, PlacedSprue])[] => [
  ...[0, degrees].map((turn) => [blockAt(turn, 22, 50), { at_mm: [0, 0, 0], axis_mm: 28 }] as const),
  [blockAt(200, 22, 66), { at_mm: [0, 0, 0], axis_mm: 44 }],
]

test('two sprues nearer than a gap close outside the main sprue are listed, and stop nothing', () => {
  const degrees = 45
  const rows = pairOf(degrees)
  const { fits, clearances, stemClearances, problems } = arrange(requestOf(rows))
  // one gap outside the main sprue both are 3 + 3.2 mm from the axis at one height: a chord apart
  const chordAt = (out: number): number => 2 * out * Math.sin((degrees * Math.PI) / 360) - 3
  const byStem = stemClearances.find(({ between }) => between.join() === 'sprue/1,sprue/2')
  expect(byStem).toMatchObject({ needed_mm: 3.2, byStem: true })
  expect(byStem?.distance_mm).toBeCloseTo(chordAt(6.2), 6)
  const asked = clearances.find(({ between }) => between.join() === 'sprue/1,sprue/2')
  expect(asked?.distance_mm).toBeCloseTo(chordAt(12.6), 6)
  expect(fits).toBe(true)
  expect(problems.find(({ kind }) => kind === 'sprues-run-together')).toMatchObject({ level: 'note' })
})

test('two sprues that keep a gap all the way to one gap from the main sprue are told by their least distance', () => {
  const degrees = 65
  const rows = pairOf(degrees)
  const { clearances, stemClearances } = arrange(requestOf(rows))
  const told = clearances.find(({ between }) => between.join() === 'sprue/1,sprue/2')
  expect(told?.distance_mm).toBeCloseTo(2 * 6.2 * Math.sin((degrees * Math.PI) / 360) - 3, 6)
  // nearer would stop nothing there, so that it is no distance that a hand must hold
  expect(told?.keptByStem).toBe(true)
  expect(stemClearances.some(({ byStem }) => byStem === true)).toBe(false)
})

test('two sprues that come nearest at their waxes must keep that, and are told so', () => {
  const rows = [
    [blockAt(0, 22, 50), { at_mm: [0, 0, 0], axis_mm: 24 }],
    [blockAt(0, 22, 64), { at_mm: [0, 0, 0], axis_mm: 46 }],
  ] as const
  const told = arrange(requestOf(rows)).clearances.find(({ between }) => between.join() === 'sprue/1,sprue/2')
  expect(told?.distance_mm).toBeGreaterThan(3.2)
  expect(told?.keptByStem).toBeUndefined()
})

test('eight sprues that meet the main sprue at one height are something to look at, and spread over it are not', () => {
  const lumpOf = (step: number) => {
    const rows = Array.from(
      { length: 8 },
      (_, k) =>
        [blockAt(45 * k, 30, 60), { at_mm: [0, 0, 0], axis_mm: 24 + step * k, diameter_mm: 5 }] as const,
    )
    return arrange(requestOf(rows)).problems.find(({ kind }) => kind === 'sprues-meet-in-a-lump')
  }
  expect(lumpOf(0)).toMatchObject({ level: 'check' })
  expect(lumpOf(0)?.what).toMatch(/^Sprues 1 to 8 meet the main sprue at about one height/)
  expect(lumpOf(7)).toBeUndefined()
})

test('two sprues of one wax are measured all the way: near is a note, meeting a check, and neither stops it', () => {
  const of = (low: PlacedSprue, high: PlacedSprue) => {
    const { fits, clearances, stemClearances, problems } = arrange(
      requestOf([[blockAt(0, 22, 50), low, high]]),
    )
    const isPair = ({ between }: { readonly between: readonly string[] }) =>
      between.join() === 'sprue/1,sprue/2'
    return { fits, problems, row: stemClearances.find(isPair), listed: clearances.some(isPair) }
  }
  // their middles 6 mm apart at the wax, farther toward the main sprue; one's fillet is 0.75 mm about its joint
  const near = of({ at_mm: [0, 0, -3], axis_mm: 24 }, { at_mm: [0, 0, 3], axis_mm: 35 })
  expect(near.row).toMatchObject({ needed_mm: 3.2, oneWax: true })
  expect(near.row?.distance_mm).toBeCloseTo((6 * 22) / Math.hypot(22, 18) - 3.75, 6)
  expect([near.fits, near.listed]).toEqual([true, false])
  expect(near.problems.find(({ kind }) => kind === 'sprues-of-one-wax-near')).toMatchObject({ level: 'note' })
  const meeting = of({ at_mm: [0, -3, 0], axis_mm: 28 }, { at_mm: [0, 3, 0], axis_mm: 28 })
  expect(meeting.row).toMatchObject({ distance_mm: 0, oneWax: true })
  expect(meeting.fits).toBe(true)
  expect(meeting.problems.find(({ kind }) => kind === 'sprues-of-one-wax-meet')).toMatchObject({
    level: 'check',
  })
  const thin = { diameter_mm: 2 }
  const apart = of({ at_mm: [0, 0, -4], axis_mm: 16, ...thin }, { at_mm: [0, 0, 4], axis_mm: 36, ...thin })
  expect(apart.row).toBeUndefined()
  expect(apart.listed).toBe(true)
})

test('the main sprue’s round end is held from the flask’s top, and stops it where a sprue is set too high', () => {
  const topOf = (axis_mm: number) => {
    const { fits, stemClearances, problems } = arrange(
      requestOf([[blockAt(0, 22, 60), { at_mm: [0, 0, 0], axis_mm }]]),
    )
    return { fits, problems, row: stemClearances.find(({ between }) => between.join() === 'top,stem') }
  }
  // 101.6 less 3 mm of round end; a quarter of 88.9 mm is needed
  const low = topOf(38)
  expect(low.row).toMatchObject({ needed_mm: 22.225 })
  expect(low.row?.distance_mm).toBeCloseTo(101.6 - 38 - 3, 9)
  expect(low.fits).toBe(true)
  const high = topOf(78)
  expect(high.row?.distance_mm).toBeCloseTo(101.6 - 78 - 3, 9)
  expect(high.fits).toBe(false)
  expect(high.problems.some(({ kind, where }) => kind === 'too-near' && where === 'top, stem')).toBe(true)
})
