import { expect, test } from 'vitest'
import { box } from '../../../fixtures/meshes/shapes.ts'
import { loadSolids } from '../../solids/manifold.ts'
import { revolved } from './body.ts'
import { linesApart, outsideStem } from './bores.ts'
import { trapsBubbles } from './bubbles.ts'
import {
  type Arrangement,
  type ArrangeRequest,
  arrange,
  asArrangement,
  holdSurfaces,
  metalBody,
  moveWax,
  type PlacedSprue,
  type Standing,
} from './index.ts'

const still = [1, 0, 0, 0, 1, 0, 0, 0, 1]
const requestOf = (
  placed: readonly PlacedSprue[],
  more: Partial<ArrangeRequest['pieces'][number]> = {},
): ArrangeRequest => {
  const { positions, corners } = box(6, 10, 10, [0, -5, -5])
  return {
    pieces: [
      {
        id: 'block',
        name: 'Block',
        copies: 1,
        mesh: { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) },
        standIn: false,
        sprue: { diameter_mm: 3, count: 1, countAsked: true, needed_mm: 2.4, because: 'of the test' },
        keepClear: [],
        locked: new Map([[1, [...still, 14, 0, 48]]]),
        placed: new Map([[1, placed]]),
        ...more,
      },
    ],
    flasks: [{ id: 'flask', diameter_mm: 76.2, height_mm: 88.9 }],
    base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
    rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
    stem_mm: 6,
    button_mm: 8,
  }
}
const kinds = (request: ArrangeRequest): string[] => arrange(request).problems.map(({ kind }) => kind)

test('a sprue placed by hand is set on the surface, and is the only one its copy gets', () => {
  const answer = arrange(requestOf([{ at_mm: [-0.2, 0, -2], axis_mm: 32, diameter_mm: 4, stemEnd_mm: 5 }]))
  expect(answer.sprues.length).toBe(1)
  const [sprue] = answer.sprues
  expect(sprue?.from_mm).toEqual([14, 0, 46])
  expect(sprue?.axis_mm).toEqual([0, 0, 32])
  expect([sprue?.diameter_mm, sprue?.stemEnd_mm]).toEqual([4, 5])
  expect(sprue?.reason).toMatch(/^placed by the caster/)
  expect(answer.problems.filter(({ kind }) => kind.startsWith('sprue'))).toEqual([])
})

test('its slope is 45° where no height is given', () => {
  const [sprue] = arrange(requestOf([{ at_mm: [0, 0, 0] }])).sprues
  expect(sprue?.axis_mm[2]).toBeCloseTo(48 - 14, 9)
})

test('each thing wrong with a placed sprue is told, and the sprue is kept', () => {
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 46 }]))).toContain('sprue-too-flat')
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 52 }]))).toContain('sprue-runs-back')
  expect(kinds(requestOf([{ at_mm: [6, 0, 0], axis_mm: 34 }]))).toContain('sprue-through-piece')
  expect(kinds(requestOf([{ at_mm: [-3, 0, 0], axis_mm: 34 }]))).toContain('sprue-moved')
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 34, diameter_mm: 2 }]))).toContain('sprue-too-thin')
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 34, stemEnd_mm: 2.5 }]))).toContain('sprue-narrows')
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 8 }]))).toContain('sprue-below-stem')
  const keepClear = [{ at_mm: [0, 0, 0] as const, radius_mm: 2 }]
  expect(kinds(requestOf([{ at_mm: [0, 0, 0], axis_mm: 34 }], { keepClear }))).toContain('sprue-on-kept-face')
  expect(arrange(requestOf([{ at_mm: [6, 0, 0], axis_mm: 34 }])).sprues.length).toBe(1)
})

test('a free copy is turned so that the sprue placed on it serves', () => {
  const answer = arrange(requestOf([{ at_mm: [0, 0, 0] }], { locked: new Map() }))
  expect(answer.fits).toBe(true)
  const [sprue] = answer.sprues
  expect(sprue?.reason).toMatch(/^placed by the caster/)
  const m = answer.placements[0]?.motion ?? []
  const at = [0, 1, 2].map((k) => m[9 + k] ?? 0)
  sprue?.from_mm.forEach((value, k) => {
    expect(value).toBeCloseTo(at[k] ?? 0, 9)
  })
})

test('a long sprue is advised to be built up at the main sprue, and joints have a fillet, as far as there is room', () => {
  const request = requestOf([], { locked: new Map([[1, [...still, 24, 0, 50]]]), placed: new Map() })
  const [sprue] = arrange(request).sprues
  expect(sprue?.length_mm).toBeGreaterThan(15)
  expect(sprue?.stemEnd_mm).toBe(3)
  expect(sprue?.fillet_mm).toBeGreaterThan(0)
  expect(sprue?.reason).toMatch(/^round, .*; longer than 5 times its width: better built up to 3\.8 mm/)
})

test('sprues that cross outside the main sprue’s neighbourhood are told', () => {
  const request = requestOf([{ at_mm: [0, 0, 0], axis_mm: 30 }], {
    copies: 2,
    locked: new Map([
      [1, [...still, 22, 0, 48]],
      [2, [...still, 22, 0, 58]],
    ]),
    placed: new Map([
      [1, [{ at_mm: [0, 0, 0], axis_mm: 30 }]],
      [2, [{ at_mm: [0, 0, -5], axis_mm: 16.8 }]],
    ]),
  })
  const { clearances } = arrange(request)
  const between = clearances.find(({ between: [a, b] }) => a === 'sprue/1' && b === 'sprue/2')
  expect(between?.distance_mm).toBe(0)
})

test('a taper that swells into its own wax is told, though its middle line and its thin end are clear', () => {
  const { positions, corners } = box(20, 20, 60, [0, -10, -30])
  const mesh = { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
  const locked = new Map([[1, [...still, 30, 0, 70]]])
  const tall = (stemEnd_mm: number): ArrangeRequest => ({
    ...requestOf([{ at_mm: [0, 0, 0], axis_mm: 34, diameter_mm: 4, stemEnd_mm }], {
      mesh,
      locked,
    }),
    flasks: [{ id: 'large', diameter_mm: 150, height_mm: 150 }],
  })
  expect(kinds(tall(6))).not.toContain('sprue-through-piece')
  expect(kinds(tall(40))).toContain('sprue-through-piece')
})

test('the metal of a tapered sprue is more than of a straight one by the cone’s own volume', async () => {
  const solids = await loadSolids()
  const volume = (stemEnd_mm: number): number => {
    const request = requestOf([{ at_mm: [0, 0, 0], axis_mm: 34, diameter_mm: 3, stemEnd_mm }])
    const body = metalBody(request, arrange(request), solids)
    return 'problem' in body || !body.closed ? Number.NaN : body.volume_mm3
  }
  const length = Math.hypot(14, 14) - 3 * Math.SQRT2
  // frustum less cylinder, π/12 L (D² + Dd + d²) − π/4 L d²; what lies by the main sprue's wall is small beside it
  const cone = (Math.PI / 12) * length * (16 + 12 + 9) - (Math.PI / 4) * length * 9
  expect(volume(4) - volume(3)).toBeGreaterThan(0.8 * cone)
  expect(volume(4) - volume(3)).toBeLessThan(1.2 * cone)
})

test('two lines are as far apart as geometry says, whether they cross, run side by side or end early', () => {
  expect(linesApart([-1, 0, 0], [1, 0, 0], [0, -1, 2], [0, 1, 2])).toBeCloseTo(2, 12)
  expect(linesApart([0, 0, 0], [4, 0, 0], [1, 3, 0], [9, 3, 0])).toBeCloseTo(3, 12)
  expect(linesApart([0, 0, 0], [1, 0, 0], [4, 4, 0], [4, 9, 0])).toBeCloseTo(5, 12)
  const line = outsideStem([10, 0, 10], 0, { foot: -20, end: 0, within: 5 })
  // toward the end of the main sprue along 45°: 5 mm from it at 5/√2 out
  expect(line?.[1][0]).toBeCloseTo(5 / Math.SQRT2, 6)
})

test('a level face that looks down holds bubbles, and none does on a cube stood on its corner', () => {
  const { positions, corners } = box(10, 10, 10)
  const cube = { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
  expect(trapsBubbles(cube, [...still, 0, 0, 0]).share).toBeCloseTo(1 / 6, 12)
  const [a, b, c] = [1 / Math.sqrt(2), 1 / Math.sqrt(3), 1 / Math.sqrt(6)]
  const onCorner = [a, c, b, -a, c, b, 0, -2 * c, b, 0, 0, 0]
  expect(trapsBubbles(cube, onCorner).area_mm2).toBe(0)
})

/** The same waxes and sprues, put there one by one as a hand does. */
const byHand = (request: ArrangeRequest): Arrangement => {
  const [flask] = request.flasks
  if (flask === undefined) throw new Error('the request has a flask')
  const held = holdSurfaces(request, flask)
  const waxes = request.pieces.flatMap(({ id, locked }) =>
    [...locked].map(([copy, motion]) => ({ piece: id, copy, motion })),
  )
  const standing = waxes.reduce<Standing>(
    (before, wax) => {
      const rows = request.pieces.find(({ id }) => id === wax.piece)?.placed?.get(wax.copy) ?? []
      return moveWax(held, before, wax, rows)
    },
    { placements: waxes, sprues: [] },
  )
  return asArrangement(held, standing, () => true).arrangement
}
const kindsOf = ({ problems }: Arrangement): string[] => problems.map(({ kind }) => kind).sort()

/** Two balls of 4 mm radius, 16 mm apart, on a rod of 1 mm radius, lying along x. */
const dumbBell = (): ArrangeRequest['pieces'][number]['mesh'] => {
  const profile = Array.from({ length: 97 }, (_, k): [number, number] => {
    const z = -12 + k / 4
    const end = Math.abs(Math.abs(z) - 8)
    return [Math.max(Math.sqrt(Math.max(0, 16 - end * end)), Math.abs(z) < 8 ? 1 : 0), z]
  })
  const { positions, corners } = revolved(profile)
  return { positions: positions.map((_, k) => positions[k - (k % 3) + ((k + 2) % 3)] ?? 0), corners }
}

test.each<[string, readonly PlacedSprue[], Partial<ArrangeRequest['pieces'][number]>?]>([
  ['sprue-through-piece', [{ at_mm: [6, 0, 0], axis_mm: 34 }]],
  ['sprue-grazes', [{ at_mm: [0.3, 0, -5], axis_mm: 35.5 }]],
  ['sprue-too-flat', [{ at_mm: [0, 0, 0], axis_mm: 46 }]],
  ['sprue-runs-back', [{ at_mm: [0, 0, 0], axis_mm: 52 }]],
  ['sprue-below-stem', [{ at_mm: [0, 0, 0], axis_mm: 8 }]],
  ['sprue-too-thin', [{ at_mm: [0, 0, 0], axis_mm: 34, diameter_mm: 2 }]],
  ['sprue-narrows', [{ at_mm: [0, 0, 0], axis_mm: 34, stemEnd_mm: 2.5 }]],
  ['sprue-wider-than-stem', [{ at_mm: [0, 0, 0], axis_mm: 34, diameter_mm: 8 }]],
  [
    'feeds-through-thinner',
    [{ at_mm: [0, 0, -1], axis_mm: 26 }],
    { mesh: dumbBell(), locked: new Map([[1, [...still, 22, 0, 52]]]) },
  ],
  ['sprue-moved', [{ at_mm: [-3, 0, 0], axis_mm: 34 }]],
  [
    'sprue-on-kept-face',
    [{ at_mm: [0, 0, 0], axis_mm: 34 }],
    { keepClear: [{ at_mm: [0, 0, 0], radius_mm: 2 }] },
  ],
  ['locked-out-of-reach', [], { locked: new Map([[1, [...still, 14, 0, 22]]]) }],
  ['too-near', [{ at_mm: [0, 0, 0], axis_mm: 34 }], { locked: new Map([[1, [...still, 28, 0, 48]]]) }],
  [
    'neck-freezes-first',
    [{ at_mm: [-12, 0, 0], axis_mm: 40 }],
    { mesh: dumbBell(), locked: new Map([[1, [...still, 18, 0, 52]]]) },
  ],
])('%s is told alike of a wax moved by hand and of one arranged', (kind, placed, more) => {
  const request = requestOf(placed, more)
  const arranged = kindsOf(arrange(request))
  expect(arranged).toContain(kind)
  expect(kindsOf(byHand(request))).toEqual(arranged)
})
