import { expect, test } from 'vitest'
import { box, globe, type Shape, torus } from '../../../fixtures/meshes/shapes.ts'
import { buildBoxTree } from '../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../piece/mesh/index.ts'
import { revolved } from './body.ts'
import { type ArrangeRequest, arrange, type PieceToArrange } from './index.ts'
import { meetsKeptFace, prepareKind } from './kind.ts'
import { onWax } from './on-wax.ts'
import { judgeJoints, sectionsOf } from './sections.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const pieceOf = (mesh: TriangleMesh, diameter_mm = 3): PieceToArrange => ({
  id: 'piece',
  name: 'Piece',
  copies: 1,
  mesh,
  standIn: false,
  sprue: { diameter_mm, count: 1, countAsked: true, because: 'of the test' },
  keepClear: [],
  locked: new Map(),
})
const requestOf = (piece: PieceToArrange): ArrangeRequest => ({
  pieces: [piece],
  flasks: [{ id: 'flask', diameter_mm: 76.2, height_mm: 88.9 }],
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 6,
  button_mm: 8,
  freezing: { heatPerVolume: 2e9, drop: 300, mouldConductivity: 0.6, mouldHeatCapacity: 1.6e6 },
})

const shapeOf = (mesh: TriangleMesh) => ({ mesh, tree: buildBoxTree(mesh), rough: 1e-6 })

test.each([
  ['in the middle of a face', [10, 10, 5], 1],
  ['with its middle on an edge', [0, 10, 5], 0.5],
  ['with its middle on a corner', [0, 0, 5], 0.25],
  // a circle cut by a line half a radius from its middle lacks (π/3 − √3/4)/π of its area
  ['half a radius in from an edge', [0.75, 10, 5], 1 - (Math.PI / 3 - Math.sqrt(3) / 4) / Math.PI],
] as const)('a sprue %s meets wax with the share that plane geometry gives', (_where, at, share) => {
  const found = onWax(shapeOf(meshOf(box(20, 20, 5))), [...at], [0, 0, 1], 1.5)
  expect(Math.abs(found.share - share)).toBeLessThan(0.06)
})

test('a sprue wider than a rim meets wax with the strip of its circle that the rim is', () => {
  // a strip of half width h through the middle of a circle: 2 (asin h + h √(1 − h²)) / π
  const h = 0.5 / 1.5
  const strip = (2 * (Math.asin(h) + h * Math.sqrt(1 - h * h))) / Math.PI
  const found = onWax(shapeOf(meshOf(box(20, 20, 1))), [0, 10, 0.5], [-1, 0, 0], 1.5)
  expect(Math.abs(found.share - strip)).toBeLessThan(0.06)
})

test('joints are drawn in from edges, so that nearly all of a sprue meets wax wherever a face is wide enough', () => {
  for (const shape of [box(10, 10, 10), box(20, 20, 5), torus(9, 2.5, 40, 24), globe(6, 16, 24)]) {
    const { attaches } = prepareKind(pieceOf(meshOf(shape)))
    expect(attaches.length).toBeGreaterThan(3)
    for (const { share } of attaches) expect(share).toBeGreaterThan(0.9)
  }
})

test('a rim too thin for the sprue is told with how much of the sprue meets it', () => {
  const { problems, sprues } = arrange(requestOf(pieceOf(meshOf(box(20, 16, 1)), 4)))
  const told = problems.find(({ kind }) => kind === 'joint-over-edge')
  const isOnRim = sprues[0]?.reason.includes('on the rim')
  expect(told?.level ?? 'note').toBe('note')
  expect(told !== undefined).toBe(isOnRim)
  if (isOnRim) expect(sprues[0]?.reason).toMatch(/ % of its section meets wax, the rest hangs over an edge/)
})

test('sprues that hang over an edge are named by their numbers, and those that do not are not', () => {
  const whole = { ...pieceOf(meshOf(box(9, 9, 9))), id: 'cube', name: 'Cube' }
  const strip = { ...pieceOf(meshOf(box(20, 16, 1)), 4), id: 'strip', name: 'Strip', copies: 3 }
  for (const [pieces, numbers] of [
    [
      [whole, strip],
      [2, 3, 4],
    ],
    [
      [strip, whole],
      [1, 2, 3],
    ],
  ] as const) {
    const { problems, sprues } = arrange({ ...requestOf(whole), pieces })
    const told = problems.find(({ kind }) => kind === 'joint-over-edge')
    const over = sprues.flatMap(({ reason }, at) => {
      const share = Number(/about (\d+) % of its section/.exec(reason)?.[1] ?? 100)
      return share < 50 ? [at + 1] : []
    })
    expect(over).toEqual(numbers)
    expect(told?.what).toMatch(new RegExp(`^Sprues ${numbers[0]} to ${numbers[2]}, on Strip, meet wax`))
  }
})

test('of the sprues of one wax only those are named that a finding is of', () => {
  const kind = prepareKind(pieceOf(meshOf(box(20, 16, 4))))
  const [first] = kind.attaches
  if (first === undefined) throw new Error('a block can be joined')
  const feeds = (changes: readonly Partial<typeof first>[]) => [
    {
      kind,
      copy: 1,
      feeds: changes.map((change) => ({
        attach: { ...first, place: 0, share: 1, rim: true, worked: false, ...change },
        from: first.at,
        axisZ: 20,
      })),
    },
  ]
  const sections = sectionsOf(requestOf(kind.piece), [kind])
  const saidOf = (changes: readonly Partial<typeof first>[], about: string): string =>
    judgeJoints(feeds(changes), sections).find(({ kind: own }) => own === about)?.what ?? ''
  const name = kind.piece.name
  expect(saidOf([{}, { share: 0.3 }, {}, { share: 0.4 }], 'joint-over-edge')).toMatch(
    new RegExp(`^Sprues 2 and 4, on ${name}, meet wax with as little as about 30 % of their sections`),
  )
  expect(saidOf([{}, { worked: true, rim: false }], 'sprue-on-worked-face')).toMatch(
    new RegExp(`^Sprue 2, on ${name}, joins the face`),
  )
  expect(saidOf([{ thickness_mm: 1 }, {}, { thickness_mm: 1.2 }], 'feeds-through-thinner')).toMatch(
    new RegExp(`^Sprues 1 and 3, on ${name}, join where the wax is 1.0 mm thick`),
  )
  for (const about of ['joint-over-edge', 'sprue-on-worked-face', 'feeds-through-thinner'])
    expect(saidOf([{}, {}], about)).toBe('')
})

/** A ball of 4 mm radius on a rod of 1 mm radius and 20 mm length, by its outline. */
const ballOnRod = (): TriangleMesh => {
  const profile: [number, number][] = []
  for (let k = 0; k <= 64; k += 1) {
    const z = 4 * Math.cos((Math.PI * (64 - k)) / 64)
    profile.push([Math.max(k === 0 ? 0 : z > 0 ? 1 : 0, Math.sqrt(Math.max(0, 16 - z * z))), z])
  }
  return revolved([...profile, [1, 23], [0, 23]])
}

test.each<[string, TriangleMesh, number]>([
  // without a neck between, the rod is no place of its own: only the ball's metal is the ball's
  ['a ball on a rod', ballOnRod(), 4 / 3],
  ['a slab', meshOf(box(40, 30, 2)), 2400 / (2 * 1200 + 2 * 2 * 70)],
  ['a cube', meshOf(box(9, 9, 9)), 9 / 6],
  ['a ring of round wire', meshOf(torus(9, 1.5, 80, 40)), 0.75],
])('the modulus of %s is its own metal’s volume over cooling area', (_what, mesh, modulus) => {
  const [place] = prepareKind(pieceOf(mesh)).thickPlaces
  expect(Math.abs((place?.parts[0]?.modulus_mm ?? 0) / modulus - 1)).toBeLessThan(0.06)
})

/** A round plate of 30 mm with a bead, its middle in the upper face. */
const plateWithBead = (thick: number, bead: number): TriangleMesh => {
  const steps = Array.from({ length: 13 }, (_, k): [number, number] => {
    const turn = (Math.PI / 2) * (k / 12)
    return [k === 12 ? 0 : (bead / 2) * Math.cos(turn), thick + (bead / 2) * Math.sin(turn)]
  })
  return revolved([[15, 0], [15, thick], ...steps])
}

test.each([2.4, 2.8, 3, 3.4, 4.4])(
  'a bead of %f mm on a plate of 2 does not hide that the plate freezes last',
  (bead) => {
    const alone = arrange(
      requestOf(
        pieceOf(
          revolved([
            [15, 0],
            [15, 2],
          ]),
        ),
      ),
    ).sections
    const beaded = arrange(requestOf(pieceOf(plateWithBead(2, bead)))).sections
    const slowest = (sections: typeof alone): number =>
      Math.max(...sections.map(({ freezes_s }) => freezes_s?.value ?? Number.NaN))
    // moduli hold to about a tenth, and times go by their squares
    expect(slowest(beaded)).toBeGreaterThan(0.78 * slowest(alone))
  },
)

test('a sprue too thin for what the solid shows is told, and its reason names the same section', () => {
  const needed = arrange(requestOf(pieceOf(meshOf(box(9, 9, 9)), 2))).sections[0]?.sprue_mm
  const little = 0.97 * (needed?.value ?? Number.NaN)
  const { problems, sections, sprues } = arrange(requestOf(pieceOf(meshOf(box(9, 9, 9)), little)))
  const [section] = sections
  const told = problems.find(({ kind }) => kind === 'sprue-too-thin')
  expect(section?.sprue_mm?.value).toBeGreaterThan(2)
  expect(told).toMatchObject({ level: 'check', where: 'piece' })
  expect(told?.what).toContain(`${section?.sprue_mm?.value.toFixed(1)} mm`)
  const reason = sprues[0]?.reason ?? ''
  expect(Number(/stays liquid ([\d.]+) times as long as the 9\.0 mm/.exec(reason)?.[1])).toBeLessThan(1)
  expect(reason).toContain(`against ${section?.modulus_mm.value.toFixed(2)} mm there`)
  const far = arrange(requestOf(pieceOf(meshOf(box(9, 9, 9)), 0.7 * (needed?.low ?? Number.NaN)))).problems
  expect(far.find(({ kind }) => kind === 'sprue-too-thin')).toMatchObject({ level: 'stop' })
  const wide = (section?.sprue_mm?.value ?? 0) + 0.01
  const enough = arrange(requestOf(pieceOf(meshOf(box(9, 9, 9)), wide)))
  expect(enough.problems.some(({ kind }) => kind === 'sprue-too-thin')).toBe(false)
  expect(enough.sprues[0]?.reason).toMatch(/stays liquid 1\.0\d times/)
})

test('the width that a sprue is to be made is no tenth less than what outlasts the section', () => {
  for (const side of [8.6, 9, 9.4]) {
    const { problems, sections } = arrange(requestOf(pieceOf(meshOf(box(side, side, side)), 3)))
    const needed = sections[0]?.sprue_mm?.value ?? Number.NaN
    const remedy = problems.find(({ kind }) => kind === 'sprue-too-thin')?.remedy ?? ''
    const asked = Number(/make it ([\d.]+) mm or more/.exec(remedy)?.[1])
    expect(asked, `a cube of ${side}`).toBeGreaterThanOrEqual(needed - 1e-6)
    expect(asked, `a cube of ${side}`).toBeLessThan(needed + 0.1)
  }
})

test('a place kept clear that is smaller than the joint is not covered by it', () => {
  const kind = prepareKind({ ...pieceOf(meshOf(box(20, 20, 5)), 6) })
  for (const [x, radius_mm, meets] of [
    [2.2, 0.2, true],
    [3.9, 0.2, true],
    [4.5, 0.2, false],
  ] as const) {
    const piece = { ...kind.piece, keepClear: [{ at_mm: [10 + x, 10.3, 5] as const, radius_mm }] }
    const at = { at: [10, 10.3, 5] as const, outward: [0, 0, 1] as const }
    expect(meetsKeptFace({ ...kind, piece }, at), `${x} mm off`).toBe(meets)
  }
})

test('what is not known of the mould widens freezing times, and not how much longer a sprue stays liquid', () => {
  const request = requestOf(pieceOf(meshOf(box(9, 9, 9)), 6))
  const { freezing } = request
  if (freezing === undefined) throw new Error('the request has it')
  const [sure, loose] = [1, 1.7].map((known) => arrange({ ...request, freezing: { ...freezing, known } }))
  const [one, other] = [sure?.sections[0]?.freezes_s, loose?.sections[0]?.freezes_s]
  expect((other?.high ?? 0) / (one?.high ?? 1)).toBeCloseTo(1.7, 9)
  expect((one?.low ?? 0) / (other?.low ?? 1)).toBeCloseTo(1.7, 9)
  expect(loose?.sprues[0]?.reason).toBe(sure?.sprues[0]?.reason)
})

test('a face kept clear is kept clear of the whole joint, not of its middle alone', () => {
  const mesh = meshOf(box(9, 9, 9))
  // the joint's edge lies up to 1.5 mm and a fillet of 0.75 mm beyond its middle
  const keepClear = [{ at_mm: [4.5, 4.5, 9] as const, radius_mm: 3 }]
  const { attaches } = prepareKind({ ...pieceOf(mesh), keepClear })
  expect(attaches.length).toBeGreaterThan(3)
  const onFace = attaches.filter(({ at }) => at[2] > 8.99)
  for (const { at } of onFace) expect(Math.hypot(at[0] - 4.5, at[1] - 4.5)).toBeGreaterThan(3 + 0.9 * 2.25)
  // a sprue square to the side face beside it ends where that face does
  expect(attaches.some(({ at }) => at[2] > 6 && at[2] < 8.5)).toBe(true)
})
