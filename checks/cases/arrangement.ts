import { box, globe, torus } from '../../fixtures/meshes/shapes.ts'
import { barBetween } from '../../src/engine/arrange/body.ts'
import { type Arrangement, type ArrangeRequest, arrange, metalBody } from '../../src/engine/arrange/index.ts'
import { buildBallTree, distanceApart, distanceToLine } from '../../src/engine/piece/mesh/apart.ts'
import { buildBoxTree } from '../../src/engine/piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../src/engine/piece/mesh/index.ts'
import { probeInward } from '../../src/engine/piece/mesh/rays.ts'
import { findThickPlaces } from '../../src/engine/piece/mesh/thick-places.ts'
import { inscribedBalls } from '../../src/engine/piece/mesh/thickness.ts'
import { loadSolids } from '../../src/solids/manifold.ts'
import { type Check, checkEach } from '../check.ts'

const section = '5'
const solids = await loadSolids()

const meshOf = ({
  positions,
  corners,
}: {
  readonly positions: readonly number[]
  readonly corners: readonly number[]
}): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})

const shifted = (x: number, y: number, z: number): number[] => [1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z]
/** About the y axis, then moved. */
const tilted = (degrees: number, x: number, y: number, z: number): number[] => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]
  return [c, 0, -s, 0, 1, 0, s, 0, c, x, y, z]
}

const requestOf = (mesh: TriangleMesh, places: readonly (readonly number[])[]): ArrangeRequest => ({
  pieces: [
    {
      id: 'piece',
      name: 'Piece',
      copies: places.length,
      mesh,
      standIn: false,
      sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the check' },
      keepClear: [],
      locked: new Map(places.map((place, index) => [index + 1, place])),
    },
  ],
  flasks: [{ id: 'flask', diameter_mm: 80, height_mm: 100 }],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 8,
  button_mm: 8,
})
const told = ({ clearances }: Arrangement, first: string, second: string): number =>
  clearances.find(({ between: [a, b] }) => a === first && b === second)?.distance_mm ?? Number.NaN

const ball = meshOf(globe(6, 200, 400))
const balls = arrange(requestOf(ball, [shifted(20, 5, 40), shifted(-8, 3, 62)]))
const ring = meshOf(torus(10, 2, 800, 100))
const rings = arrange(requestOf(ring, [tilted(35, 12, 0, 50)]))
const block = arrange(requestOf(meshOf(box(10, 6, 4)), [shifted(5, 8, 50)]))

const boxTree = buildBallTree(meshOf(box(4, 4, 4)))
const ringTree = buildBallTree(ring)

/** A plate with a rod of 4 mm standing on it and 2 mm sunk into it. */
const plateAndRod = (): number => {
  const joined = solids.union([meshOf(box(30, 20, 5)), barBetween([15, 10, 3], [15, 10, 17], 4)])
  return 'failed' in joined ? Number.NaN : joined.volume_mm3
}

const thickestIn = (mesh: TriangleMesh): number => {
  const tree = buildBoxTree(mesh)
  return findThickPlaces(inscribedBalls(mesh, tree, probeInward(mesh, tree, 300, 1e-6)))[0]?.thickness_mm ?? 0
}

const joinedBody = metalBody(
  requestOf(ball, [shifted(20, 5, 40)]),
  arrange(requestOf(ball, [shifted(20, 5, 40)])),
  solids,
)

const tiltedRing = Math.sin((35 * Math.PI) / 180)
const geometry = 'geometry: closed form of the pair'

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'ARR1',
      says: 'A ball in the flask is as far from wall, top and other ball as their middles and radii say',
      section,
      source: geometry,
      within: { absolute: 2e-3 },
    },
    {
      wall: [() => told(balls, 'wall', 'piece/1'), 40 - Math.hypot(20, 5) - 6],
      top: [() => told(balls, 'top', 'piece/2'), 100 - 62 - 6],
      ball: [() => told(balls, 'piece/1', 'piece/2'), Math.hypot(28, 2, 22) - 12],
    },
  ),
  {
    id: 'ARR2',
    says: 'A tilted ring stands as high as its middle, its great circle’s tilt and its wire say',
    section,
    source: 'geometry: the highest point of a torus about a tilted axis is R sin(tilt) + r above its middle',
    got: () => told(rings, 'top', 'piece/1'),
    want: 100 - 50 - (10 * tiltedRing + 2),
    within: { absolute: 2e-3 },
  },
  {
    id: 'ARR3',
    says: 'A block is as far from the wall as its outermost corner',
    section,
    source: 'geometry: the farthest point of a convex body from an axis is a corner',
    got: () => told(block, 'wall', 'piece/1'),
    want: 40 - Math.hypot(15, 14),
    within: { absolute: 1e-9 },
  },
  ...checkEach(
    {
      id: 'ARR4',
      says: 'Two surfaces are as far apart as the closed form says',
      section,
      source: geometry,
      within: { absolute: 2e-3 },
    },
    {
      'block to block, by their corners': [() => distanceApart(boxTree, boxTree, shifted(7, 6, 10)), 7],
      'ring through ring': [
        // a ring turned a quarter, its wire through the middle of the other: the hole's radius less both wires
        () => distanceApart(ringTree, ringTree, [1, 0, 0, 0, 0, 1, 0, -1, 0, 10, 0, 0]),
        10 - 2 - 2,
      ],
      'ring to a line up its axis': [() => distanceToLine(ringTree, [0, 0, -30], [0, 0, 30]), 8],
    },
  ),
  {
    id: 'ARR5',
    says: 'A rod joined to a plate adds only what stands out of it',
    section,
    source: 'geometry: plate plus π/4 d² times the free length',
    got: plateAndRod,
    want: 30 * 20 * 5 + Math.PI * 4 * 12,
    within: { relative: 1e-5 },
  },
  ...checkEach(
    {
      id: 'ARR6',
      says: 'The thickest place of a plain solid is what a caliper says',
      section,
      source: 'geometry: the largest ball inside a slab, a ring of round wire and a ball',
      within: { relative: 0.03 },
    },
    {
      slab: [() => thickestIn(meshOf(box(40, 30, 3))), 3],
      ring: [() => thickestIn(meshOf(torus(10, 1.5, 120, 48))), 3],
      ball: [() => thickestIn(meshOf(globe(4, 40, 80))), 8],
    },
  ),
  {
    id: 'ARR7',
    says: 'The joined metal of a placed wax is one closed body',
    section,
    source: 'definition: closed, and all of one piece',
    got: () => ('problem' in joinedBody ? Number.NaN : joinedBody.closed ? joinedBody.bodies : 0),
    want: 1,
    within: { absolute: 0 },
  },
]
