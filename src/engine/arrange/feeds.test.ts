import { describe, expect, test } from 'vitest'
import { box, type Shape, torus } from '../../../fixtures/meshes/shapes.ts'
import type { Point } from '../piece/mesh/index.ts'
import { findFeeds } from './feeds.ts'
import type { ArrangeRequest, PieceToArrange } from './index.ts'
import { type Attach, type Kind, prepareKind } from './kind.ts'
import { roomIn } from './room.ts'

const kindOf = (shape: Shape, diameter_mm: number): Kind => {
  const piece: PieceToArrange = {
    id: 'wax',
    name: 'Wax',
    copies: 1,
    mesh: { positions: Float64Array.from(shape.positions), corners: Uint32Array.from(shape.corners) },
    standIn: false,
    sprue: { diameter_mm, count: 2, countAsked: true, because: 'of the test' },
    keepClear: [],
    locked: new Map(),
  }
  return prepareKind(piece)
}
const joint = (at: Point, outward: Point): Attach => ({
  at,
  outward,
  thickness_mm: 3,
  place: 0,
  rim: true,
  worked: false,
  share: 1,
})
const STILL = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]

/** The sprues found for a wax that may be joined at these places alone. */
const found = (
  kind: Kind,
  attaches: readonly Attach[],
  motion: readonly number[],
  count: number,
  gap_mm = 3.2,
) => {
  const request: ArrangeRequest = {
    pieces: [kind.piece],
    flasks: [],
    base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
    rules: { wall_mm: 6.35, gap_mm, topPerDiameter: 0.25, topLeast_mm: 12.7 },
    stem_mm: 6,
    button_mm: 8,
  }
  const room = roomIn(request, { id: 'flask', diameter_mm: 101.6, height_mm: 127 })
  const stem = { end: room.cone, ended: false }
  return findFeeds(request, { ...kind, attaches }, motion, room, count, [], stem)
}

describe('the sprues of one wax', () => {
  // a ring of 11 mm about (25, 0, 45), standing in the plane of the flask's axis
  const ring = kindOf(torus(11, 1.5, 48, 16), 2.5)
  const standing = [1, 0, 0, 0, 0, 1, 0, -1, 0, 25, 0, 45]
  const down: Point = [-Math.SQRT1_2, -Math.SQRT1_2, 0]

  test('never pass through it: from the inside of a ring there is none', () => {
    const nearSide = joint([12.5 * down[0], 12.5 * down[1], 0], down)
    const farInside = joint([9.5, 0, 0], [-1, 0, 0])
    expect(found(ring, [nearSide], standing, 1)?.length).toBe(1)
    expect(found(ring, [farInside], standing, 1)).toBeUndefined()
    // nor beside one that is sound
    expect(found(ring, [nearSide, farInside], standing, 2)).toBeUndefined()
  })

  test('keep the gap between them until they come near the main sprue', () => {
    // the wax itself lies out of the way; joined 10 mm apart on one line out, the farther reaches down at 30° alone
    const bar = kindOf(box(16, 4, 4, [17, -2, 60]), 3)
    const joints = [joint([20, 0, 40], [0, 0, -1]), joint([30, 0, 40], [0, 0, -1])]
    // side by side at 30° they are 10 × sin 30° = 5 mm apart: 3 mm of sprue leave 2 mm between them
    expect(found(bar, joints, STILL, 2, 1.9)?.length).toBe(2)
    expect(found(bar, joints, STILL, 2, 2.1)).toBeUndefined()
    expect(found(bar, joints, STILL, 1, 3.2)?.length).toBe(1)
  })
})
