import { describe, expect, test } from 'vitest'
import { box, type Shape } from '../../../fixtures/meshes/shapes.ts'
import type { Point, Transform, TriangleMesh } from '../piece/mesh/index.ts'
import type { Placed, Tree } from './clears.ts'
import { isAsked, measureTree } from './dimensions.ts'
import { ease, isLet } from './ease.ts'
import { type ArrangeRequest, arrange, type PieceToArrange } from './index.ts'
import { prepareKind } from './kind.ts'
import { posesOf } from './poses.ts'
import { roomIn } from './room.ts'
import { sprueOf } from './sprue-of.ts'
import { placeLocked } from './try-flask.ts'
import { undoing } from './vectors.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})

/** A block upright beside the main sprue, turned about the axis, its middle so far out and so high. */
const standing = (degrees: number, out: number, up: number): Transform => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]
  return [c, s, 0, -s, c, 0, 0, 0, 1, out * c, out * s, up]
}

const flask = { id: 'flask', diameter_mm: 76.2, height_mm: 88.9 }
const requestOf = (
  places: readonly Transform[],
  more: Partial<PieceToArrange> = {},
  shape = box(6, 12, 14, [-3, -6, -7]),
): ArrangeRequest => ({
  pieces: [
    {
      id: 'block',
      name: 'Block',
      copies: places.length,
      mesh: meshOf(shape),
      standIn: false,
      sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the test' },
      keepClear: [],
      locked: new Map(places.map((motion, k) => [k + 1, motion])),
      ...more,
    },
  ],
  flasks: [flask],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 6,
  button_mm: 8,
})

/** Waxes that the search might have put there: all free but those that stay locked. */
const treeOf = (request: ArrangeRequest, locked: readonly number[] = []): Tree => {
  const readies = request.pieces.map((piece) => {
    const kind = prepareKind(piece)
    return { kind, poses: posesOf(kind, 1) }
  })
  const tree = placeLocked(request, roomIn(request, flask), readies)
  return { ...tree, placed: tree.placed.map((one) => ({ ...one, locked: locked.includes(one.copy) })) }
}

const spruesOf = (request: ArrangeRequest, { placed, stemEnd }: Tree) =>
  placed.flatMap((one) => one.feeds.map((feed) => sprueOf(request, one.kind, one, feed, 1, stemEnd)))

const spareIn = (request: ArrangeRequest, tree: Tree): number =>
  Math.min(
    ...measureTree(request, roomIn(request, flask), tree.placed, spruesOf(request, tree), tree.stemEnd)
      .filter(isAsked)
      .map(({ distance_mm, needed_mm }) => distance_mm - needed_mm),
  )

const shortestOf = (request: ArrangeRequest, tree: Tree): number =>
  Math.min(...spruesOf(request, tree).map(({ length_mm }) => length_mm))

const slopesOf = ({ placed }: Tree): number[] =>
  placed.flatMap(({ feeds }) =>
    feeds.map(({ from, axisZ }) => Math.atan2(from[2] - axisZ, Math.hypot(from[0], from[1]))),
  )

const eased = (request: ArrangeRequest, tree: Tree): Tree => ease(request, roomIn(request, flask), tree)

// the wall asks 6.35 mm: a corner of the block at 38.1 - 6.35 from the axis touches that
const atWall = Math.sqrt((38.1 - 6.35) ** 2 - 6 ** 2) - 3 - 0.01

describe('waxes that were put tight', () => {
  test('one at the wall comes in, each sprue as steep as before and no clearance broken', () => {
    const request = requestOf([standing(20, atWall, 52)])
    const before = treeOf(request)
    expect(spareIn(request, before)).toBeLessThan(0.1)
    const after = eased(request, before)
    expect(spareIn(request, after)).toBeGreaterThan(1)
    slopesOf(after).forEach((slope, k) => {
      expect(slope).toBeCloseTo(slopesOf(before)[k] ?? Number.NaN, 9)
    })
  })

  test('two side by side turn apart', () => {
    // 3.25 mm between their nearest edges, where 3.2 is asked
    const half = Math.atan2(6, 17) + Math.asin(3.25 / 2 / Math.hypot(17, 6))
    const apart = (2 * half * 180) / Math.PI
    const request = requestOf([standing(0, 20, 52), standing(apart, 20, 52)])
    const before = treeOf(request)
    const tight = spareIn(request, before)
    expect(tight).toBeLessThan(0.5)
    expect(tight).toBeGreaterThanOrEqual(0)
    expect(spareIn(request, eased(request, before))).toBeGreaterThan(1)
  })

  test('what is locked stays, and the other moves', () => {
    const request = requestOf([standing(20, atWall, 52), standing(200, atWall, 52)])
    const before = treeOf(request, [1])
    const after = eased(request, before)
    const motionOf = (tree: Tree, copy: number) => tree.placed.find((one) => one.copy === copy)?.motion
    expect(motionOf(after, 1)).toEqual(motionOf(before, 1))
    expect(motionOf(after, 2)).not.toEqual(motionOf(before, 2))
  })

  test('one with a sprue of the caster’s own stays', () => {
    const at_mm: Point = [-3, 0, -7]
    const request = requestOf([standing(20, atWall, 52)], { placed: new Map([[1, [{ at_mm }]]]) })
    const before = treeOf(request)
    expect(eased(request, before).placed[0]?.motion).toEqual(before.placed[0]?.motion)
  })

  test('drawn by lot, no clearance is broken, no sprue is shorter than 6 mm, and none is flatter', () => {
    let state = 7
    const lot = (): number => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
      return state / 2 ** 32
    }
    let seen = 0
    for (let draw = 0; draw < 400 && seen < 12; draw += 1) {
      const places = [0, 90, 180, 270].map((turn) =>
        standing(turn + 20 * lot(), atWall - (lot() < 0.5 ? 0 : 16 * lot()), 32 + 26 * lot()),
      )
      const request = requestOf(places)
      const before = treeOf(request, [1])
      if (spareIn(request, before) < 0 || shortestOf(request, before) < 6) continue
      if (Math.min(...slopesOf(before)) < Math.PI / 6 - 1e-9) continue
      seen += 1
      const after = eased(request, before)
      expect(spareIn(request, after)).toBeGreaterThanOrEqual(Math.max(0, spareIn(request, before) - 1e-9))
      expect(shortestOf(request, after)).toBeGreaterThan(6 - 1e-6)
      for (const slope of slopesOf(after)) expect(slope).toBeGreaterThan(Math.PI / 6 - 1e-6)
    }
    expect(seen).toBe(12)
  }, 60_000)
})

describe('a wax may stand where it was moved', () => {
  const near = standing(0, 13, 45)
  const far = standing(180, 26, 56)
  const request = requestOf([near, far])
  const tree = treeOf(request)
  const [first, second] = tree.placed
  const [feed] = second?.feeds ?? []
  if (first === undefined || second === undefined || feed === undefined)
    throw new Error('two blocks stand, each with a sprue')
  const axisOf = (one: Placed): number => one.feeds[0]?.axisZ ?? Number.NaN
  /** The second with its sprue ending at this height, beside the first as given. */
  const may = (axisZ: number, beside = first): boolean =>
    isLet(request, roomIn(request, flask), tree, second, { ...second, feeds: [{ ...feed, axisZ }] }, [beside])

  test('with its sprue where it was', () => {
    expect(may(axisOf(second))).toBe(true)
  })

  test('not with a sprue that meets the main sprue less than 6 mm above the cone', () => {
    expect(may(19.1)).toBe(true)
    expect(may(18.9)).toBe(false)
  })

  test('not where it carries the main sprue past the end of another’s sprue, which is then too short', () => {
    const own = axisOf(first)
    const lengthTo = (stemEnd: number): number => shortestOf(request, { ...tree, stemEnd, placed: [first] })
    // as long as the caster asks by a hair while the main sprue ends there: its end is half a ball
    const length_mm = lengthTo(own) - 0.01
    expect(lengthTo(own + 9)).toBeLessThan(length_mm - 0.5)
    const { kind } = first
    const asked = { ...kind, piece: { ...kind.piece, sprue: { ...kind.piece.sprue, length_mm } } }
    expect(may(own - 0.5, { ...first, kind: asked })).toBe(true)
    expect(may(own + 0.5, { ...first, kind: asked })).toBe(false)
    expect(may(own + 0.5)).toBe(true)
  })

  test('not where the main sprue, carried up for it, runs into another wax', () => {
    // over the axis, where the main sprue does not reach yet
    const over = {
      ...first,
      motion: standing(0, 0, 46),
      back: undoing(standing(0, 0, 46)),
      centre: [0, 0, 46] as Point,
    }
    expect(may(30, over)).toBe(true)
    expect(may(34, over)).toBe(false)
    expect(may(34)).toBe(true)
  })
})

test('an arrangement keeps its waxes by the fewest sprues only where the search had to', () => {
  const request = { ...requestOf([]), flasks: [{ id: 'flask', diameter_mm: 63.5, height_mm: 76.2 }] }
  const [piece] = request.pieces
  if (piece === undefined) throw new Error('there is a block')
  // each is asked for two sprues; room for the hand is not bought by taking one off
  const pieces = [{ ...piece, copies: 4, locked: new Map(), sprue: { ...piece.sprue, count: 2 } }]
  const answer = arrange({ ...request, pieces, flasks: [flask] })
  expect(answer.fits).toBe(true)
  expect(answer.sprues).toHaveLength(8)
})
