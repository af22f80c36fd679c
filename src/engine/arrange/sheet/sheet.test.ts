import { beforeAll, describe, expect, test } from 'vitest'
import { box, type Shape, torus } from '../../../../fixtures/meshes/shapes.ts'
import { WAX_WIRES } from '../../materials/index.ts'
import type { Point, TriangleMesh } from '../../piece/mesh/index.ts'
import { arrange } from '../arrange.ts'
import { sprueBody } from '../body.ts'
import type { Arrangement, ArrangeProblem, ArrangeRequest, PieceToArrange } from '../request.ts'
import { matrixFromModel } from '../vectors.ts'
import { type BenchTree, benchTree } from './bench-tree.ts'
import { keyOf } from './key.ts'
import { boxOf, type Mark } from './marks.ts'
import { PAGE, type Page, sheetPages } from './pages.ts'
import { setOrder } from './set-order.ts'
import { silhouetteOf } from './silhouette.ts'
import { spreadApart, spreadRound, uncrossed } from './spread-labels.ts'
import {
  joinTable,
  orderTable,
  spareTable,
  sprueTable,
  standTable,
  type Table,
  tightestWords,
  writing,
} from './tables.ts'
import { waxCard } from './wax-cards.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const piece = (id: string, name: string, copies: number, shape: Shape, sprue = 3): PieceToArrange => ({
  id,
  name,
  copies,
  mesh: meshOf(shape),
  standIn: false,
  sprue: { diameter_mm: sprue, count: 1, countAsked: true, because: 'of the test' },
  keepClear: [],
  locked: new Map(),
})
const requestOf = (pieces: PieceToArrange[]): ArrangeRequest => ({
  pieces,
  flasks: (
    [
      [63.5, 63.5],
      [76.2, 76.2],
      [88.9, 101.6],
      [101.6, 127],
    ] as const
  ).map(([diameter_mm, height_mm]) => ({ id: `flask-${diameter_mm}`, diameter_mm, height_mm })),
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 6,
  button_mm: 8,
  effort: 0,
})

const requests: Readonly<Record<string, ArrangeRequest>> = {
  'three pieces': requestOf([
    {
      ...piece('plate', 'Plate & <bar>', 1, box(38, 30, 2.5), 5),
      sprue: { diameter_mm: 5, count: 2, countAsked: true, because: 'of the test' },
    },
    piece('bar', 'Bar', 1, box(28, 8, 5, [3, -2, 7]), 5),
    piece('tag', 'Tag', 1, box(22, 12, 2), 4),
  ]),
  'a long plate in a tall flask': requestOf([
    piece('plate', 'A plate with a name that is longer than its column', 1, box(78, 60, 3), 6),
  ]),
  '12 rings': requestOf([piece('ring', 'Band ring', 12, torus(10, 1.5, 94, 8))]),
  '40 small': requestOf([
    piece('loop', 'Loop', 20, torus(3, 1, 32, 12), 2),
    piece('stud', 'Stud', 20, box(6, 4, 2), 2),
  ]),
}

interface Made {
  readonly request: ArrangeRequest
  readonly arrangement: Arrangement
  readonly tree: BenchTree
}
const made = new Map<string, Made>()
beforeAll(() => {
  for (const [name, request] of Object.entries(requests)) {
    const arrangement = arrange(request)
    made.set(name, { request, arrangement, tree: benchTree(request, arrangement) })
  }
}, 120_000)
const get = (name: string): Made => {
  const one = made.get(name)
  if (one === undefined) throw new Error(`${name} was arranged`)
  return one
}

/** Rods are sold by the millimetre to everyone. */
const WIRES = new Set(WAX_WIRES.map(({ name }) => name))
const names = Object.keys(requests)
const DEGREE = Math.PI / 180
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const along = (parts: readonly (readonly [number, Point])[]): Point =>
  [0, 1, 2].map((k) =>
    parts.reduce((sum, [times, way]) => sum + times * (way[k] ?? 0), 0),
  ) as unknown as Point
const wayOf = (round: number, above: number): Point => [
  Math.cos(above * DEGREE) * Math.cos(round * DEGREE),
  Math.cos(above * DEGREE) * Math.sin(round * DEGREE),
  Math.sin(above * DEGREE),
]
/** Corners of a wax where it stands, by the row-major matrix that the answer's JSON gives. */
const cornersOf = ({ request, arrangement }: Made, at: number): Point[] => {
  const placement = arrangement.placements[at]
  const found = request.pieces.find(({ id }) => id === placement?.piece)
  if (placement === undefined || found === undefined) throw new Error('it was placed')
  const m = matrixFromModel(placement.motion, 1)
  const { positions } = found.mesh
  return Array.from({ length: positions.length / 3 }, (_, k): Point => {
    const [x = 0, y = 0, z = 0] = positions.subarray(3 * k, 3 * k + 3)
    return [0, 1, 2].map(
      (row) =>
        (m[4 * row] ?? 0) * x + (m[4 * row + 1] ?? 0) * y + (m[4 * row + 2] ?? 0) * z + (m[4 * row + 3] ?? 0),
    ) as unknown as Point
  })
}
/** How near a wax comes to the axis, by halving each side of each triangle down, and through which of them it passes. */
const nearestOf = ({ request, arrangement }: Made, at: number, corners: readonly Point[]): number => {
  const found = request.pieces.find(({ id }) => id === arrangement.placements[at]?.piece)
  const triangles = found?.mesh.corners ?? new Uint32Array()
  let nearest = Infinity
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => corners[triangles[t + k] ?? 0]) as [Point, Point, Point]
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      const out = (share: number): number =>
        Math.hypot(from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]))
      let [low, high] = [0, 1]
      for (let step = 0; step < 60; step += 1) {
        const third = (high - low) / 3
        if (out(low + third) < out(high - third)) high -= third
        else low += third
      }
      nearest = Math.min(nearest, out(low))
    }
    const area = (p: Point, q: Point, r: readonly number[]): number =>
      (q[0] - p[0]) * ((r[1] ?? 0) - p[1]) - (q[1] - p[1]) * ((r[0] ?? 0) - p[0])
    const whole = area(a, b, c)
    const parts = [area(a, b, [0, 0]), area(b, c, [0, 0]), area(c, a, [0, 0])]
    if (Math.abs(whole) > 1e-9 && parts.every((part) => part / whole > 0)) nearest = 0
  }
  return nearest
}
const least = (points: readonly Point[], way: Point): number =>
  Math.min(...points.map((point) => dot(point, way)))
const numbers = (table: Table, row: number): number[] =>
  (table.rows[row] ?? []).map((cell) => Number.parseFloat(cell))

describe.each(names)('the sheet of %s', (name) => {
  test('has every sprue’s joint found again from its dimensions on the wax and how the wax stands, as they are written', () => {
    const one = get(name)
    const { tree, arrangement } = one
    const [sprues, joins, stands] = [sprueTable, joinTable, standTable].map((table) =>
      table(tree, writing('mm')),
    ) as [Table, Table, Table]
    arrangement.sprues.forEach((sprue, at) => {
      const wax = arrangement.placements.findIndex(
        ({ piece: id, copy }) => id === sprue.piece && copy === sprue.copy,
      )
      const corners = cornersOf(one, wax)
      const [, , frontRound = 0, frontUp = 0, topRound = 0, topUp = 0] = numbers(stands, wax)
      const [front, top] = [wayOf(frontRound, frontUp), wayOf(topRound, topUp)]
      const right = cross(top, front)
      // set by the written degrees its edges are where the wax's own corners reach to
      const cells = numbers(sprues, at)
      const [left = 0, foot = 0, back = 0] = numbers(joins, at).slice(3)
      const found = along([
        [least(corners, right) + left, right],
        [least(corners, top) + foot, top],
        [least(corners, front) + back, front],
      ])
      const off = Math.hypot(...found.map((value, k) => value - (sprue.from_mm[k] ?? 0)))
      const reach = Math.max(...corners.map((corner) => Math.hypot(...corner)))
      // half a degree of each of two ways over the wax's reach, and half a tenth of each of three lengths
      expect(off).toBeLessThan(reach * 3 * 0.5 * DEGREE + 0.1)
      // and from the tree: angle, height, tilt and length lead from the main sprue to the same joint
      const [, , round = 0, meets = 0, up = 0, tilt = 0] = cells
      const axis: Point = [0, 0, one.request.base.depth_mm + up]
      const gone = Math.hypot(...sprue.from_mm.map((value, k) => value - (sprue.axis_mm[k] ?? 0)))
      const reached = along([
        [1, axis],
        [gone, wayOf(round, tilt)],
      ])
      const apart = Math.hypot(...reached.map((value, k) => value - (sprue.from_mm[k] ?? 0)))
      expect(apart).toBeLessThan(gone * 2 * 0.5 * DEGREE + 0.06)
      // a ruler held to the main sprue finds its end that high up the side, or on the round end
      expect(Math.abs(meets - (sprue.to_mm[2] - one.request.base.depth_mm))).toBeLessThan(0.051)
      const long = Math.hypot(...sprue.from_mm.map((value, k) => value - (sprue.to_mm[k] ?? 0)))
      expect(cells[6]).toBeCloseTo(long, 1)
      // its own solid, along its middle line from the main sprue's surface to where that ends in the wax
      const way = along([
        [1 / long, sprue.from_mm],
        [-1 / long, sprue.to_mm],
      ])
      const { positions } = sprueBody(sprue)
      let end = 0
      for (let k = 0; k < positions.length; k += 3) {
        const [x, y, z] = along([
          [1, [positions[k] ?? 0, positions[k + 1] ?? 0, positions[k + 2] ?? 0]],
          [-1, sprue.to_mm],
        ])
        const far = dot([x, y, z], way)
        if (Math.hypot(x - far * way[0], y - far * way[1], z - far * way[2]) < 1e-6) end = Math.max(end, far)
      }
      expect(Math.abs((cells[7] ?? 0) - end)).toBeLessThan(0.051)
      expect(cells[7]).toBeGreaterThan(cells[6] ?? Infinity)
      expect([8, 10, 11].map((k) => cells[k])).toEqual(
        [sprue.diameter_mm, sprue.stemEnd_mm, sprue.fillet_mm].map((value) => Number(value.toFixed(1))),
      )
    })
  })

  test('has joints that are exact before they are rounded, in a frame that is square', () => {
    const one = get(name)
    for (const card of one.tree.cards)
      for (const joint of card.joints)
        for (const { number, turn, rise } of joint.sprues) {
          const sprue = one.arrangement.sprues[number - 1]
          const at = one.tree.waxes.findIndex(({ sprues }) => sprues.includes(number))
          const wax = one.tree.waxes[at]
          if (sprue === undefined || wax === undefined) throw new Error('each joint is a sprue’s')
          const [front, top] = [wayOf(wax.front.round, wax.front.above), wayOf(wax.top.round, wax.top.above)]
          const right = cross(top, front)
          expect(dot(front, top)).toBeCloseTo(0, 9)
          const corners = cornersOf(one, at)
          const found = along([
            [least(corners, right) + joint.left, right],
            [least(corners, top) + joint.foot, top],
            [least(corners, front) + joint.back, front],
          ])
          found.forEach((value, k) => {
            expect(value).toBeCloseTo(sprue.from_mm[k] ?? 0, 0.5)
            expect(Math.abs(value - (sprue.from_mm[k] ?? 0))).toBeLessThan(0.06)
          })
          // its way out of the wax is its way to the main sprue
          const way = along([
            [Math.cos(rise * DEGREE) * Math.cos(turn * DEGREE), right],
            [Math.cos(rise * DEGREE) * Math.sin(turn * DEGREE), top],
            [Math.sin(rise * DEGREE), front],
          ])
          const bar = along([
            [1, sprue.to_mm],
            [-1, sprue.from_mm],
          ])
          expect(dot(way, bar) / Math.hypot(...bar)).toBeCloseTo(1, 9)
        }
  })

  test('says how high and how far out a ruler finds each joint: by the wax’s own corners and the dimensions on it', () => {
    const one = get(name)
    const sprues = sprueTable(one.tree, writing('mm'))
    const [high, out] = ['high', 'out'].map((word) =>
      sprues.columns.findIndex(({ head }) => head[0] === 'joint' && head[1] === word),
    ) as [number, number]
    for (const card of one.tree.cards)
      for (const joint of card.joints)
        for (const { number } of joint.sprues) {
          const at = one.tree.waxes.findIndex(({ sprues: own }) => own.includes(number))
          const wax = one.tree.waxes[at]
          if (wax === undefined) throw new Error('each joint is a wax’s')
          const [front, top] = [wayOf(wax.front.round, wax.front.above), wayOf(wax.top.round, wax.top.above)]
          const right = cross(top, front)
          const corners = cornersOf(one, at)
          const [x, y, z] = along([
            [least(corners, right) + joint.left, right],
            [least(corners, top) + joint.foot, top],
            [least(corners, front) + joint.back, front],
          ])
          const cells = numbers(sprues, number - 1)
          // z is 0 on the plane of the base's rim; half a tenth, and what joints taken for alike may differ by
          expect(Math.abs((cells[high] ?? 0) - z)).toBeLessThan(0.05 + 0.06)
          expect(Math.abs((cells[out] ?? 0) - Math.hypot(x, y))).toBeLessThan(0.05 + 0.06)
        }
  })

  test('says how high and how far out each wax stands by its corners', () => {
    const one = get(name)
    const stands = standTable(one.tree, writing('mm'))
    one.arrangement.placements.forEach((_, at) => {
      const corners = cornersOf(one, at)
      const [lowest, highest, nearest, farthest] = numbers(stands, at).slice(7)
      const heights = corners.map(([, , z]) => z)
      const outs = corners.map(([x, y]) => Math.hypot(x, y))
      expect(lowest).toBeCloseTo(Math.min(...heights), 1)
      expect(highest).toBeCloseTo(Math.max(...heights), 1)
      expect(nearest).toBeCloseTo(nearestOf(one, at, corners), 1)
      expect(farthest).toBeCloseTo(Math.max(...outs), 1)
    })
  })

  test('never tells a wax more room than its tightest distance spares, and marks what is under half a millimetre', () => {
    const { tree, arrangement } = get(name)
    const spares = spareTable(tree, writing('mm'))
    const all = [...arrangement.clearances, ...arrangement.stemClearances].filter(
      (one) => one.byStem !== true && one.oneWax !== true && one.keptByStem !== true,
    )
    tree.waxes.forEach((wax, at) => {
      const own = [`${wax.piece}/${wax.copy}`, ...wax.sprues.map((number) => `sprue/${number}`)]
      const toward = (isIt: (place: string) => boolean): number =>
        Math.min(
          ...all.flatMap(({ between: [a, b], distance_mm, needed_mm }) =>
            (own.includes(a) && !own.includes(b) && isIt(b)) ||
            (own.includes(b) && !own.includes(a) && isIt(a))
              ? [distance_mm - needed_mm]
              : [],
          ),
        )
      const places = ['wall', 'top', 'base', 'stem']
      const wants = [
        ...places.map((place) => toward((one) => one === place)),
        toward((one) => !places.includes(one)),
      ]
      wants.forEach((want, k) => {
        const cell = spares.rows[at]?.[k + 1] ?? ''
        if (!Number.isFinite(want)) {
          expect(cell).toBe('')
          return
        }
        expect(Number.parseFloat(cell)).toBeLessThanOrEqual(want + 1e-9)
        expect(Number.parseFloat(cell)).toBeGreaterThan(want - 0.1 - 1e-6)
        expect(cell.includes('*')).toBe(want < 0.5)
      })
    })
  })

  test('tells how far a wax may be turned: by that its own corners, turned, use up no more than their half', () => {
    const one = get(name)
    const spares = spareTable(one.tree, writing('mm'))
    const column = spares.columns.findIndex(({ head }) => head[0] === 'turned')
    one.tree.waxes.forEach((wax, at) => {
      const said = spares.rows[at]?.[column] ?? ''
      const shared = wax.spares.other
      if (shared === null) {
        expect(said).toBe('any')
        return
      }
      // how far the corner that moves most goes along its arc
      const moves = (degrees: number): number =>
        Math.max(...cornersOf(one, at).map(([x, y]) => Math.hypot(x, y) * degrees * DEGREE))
      const degrees = said === 'under 0.5' ? 0 : Number(said)
      expect(degrees % 0.5).toBe(0)
      expect(moves(degrees)).toBeLessThanOrEqual(Math.max(0, shared.spare / 2) + 1e-6)
      expect(moves(degrees + 0.5)).toBeGreaterThan(shared.spare / 2 - 1e-6)
    })
  })

  test('says of one distance one thing: what is shared by halves in the tightest and under the table alike', () => {
    const { tree } = get(name)
    for (const unit of ['mm', 'in'] as const) {
      const writes = writing(unit)
      const [said = ''] = tightestWords(tree, writes)
      const { tightest } = tree
      if (tightest === null) throw new Error('every tree has a tightest distance')
      const isShared = !['wall', 'top', 'base', 'stem'].includes(tightest.towards)
      const most = Number(/may stand ([\d.]+)/.exec(said)?.[1])
      expect(most).toBeLessThanOrEqual(
        tightest.spare / (isShared ? 2 : 1) / (unit === 'mm' ? 1 : 25.4) + 1e-9,
      )
      expect(said.includes('towards the other')).toBe(isShared)
      expect(spareTable(tree, writes).notes[0]).toContain('each of the two may use half')
    }
  })

  test.each(['mm', 'in'] as const)(
    'stands on pages that A4 and Letter hold alike, no words over others, in %s',
    (unit) => {
      const { tree } = get(name)
      const pages = sheetPages(tree, 'A pour', unit)
      expect(PAGE.width).toBeLessThanOrEqual(210)
      expect(PAGE.height).toBeLessThanOrEqual(279.4)
      for (const page of pages) {
        const texts = page.marks.filter((mark) => mark.kind === 'text')
        expect(clashesOf(texts, ringsOf(page))).toEqual([])
        for (const [left, top, right, low] of page.marks.map(reachOf)) {
          expect(left).toBeGreaterThanOrEqual(9.5)
          expect(right).toBeLessThanOrEqual(PAGE.width - 9.5)
          expect(top).toBeGreaterThanOrEqual(9.5)
          expect(low).toBeLessThanOrEqual(PAGE.height - 9.5)
        }
      }
    },
  )

  test('shows where up and high begin: on the level of the cone’s top and of the base’s rim, with the step between them', () => {
    const { tree } = get(name)
    const pages = sheetPages(tree, 'A pour', 'mm').map(({ marks }) =>
      marks.filter((mark) => mark.kind === 'text'),
    )
    const texts = pages.find((list) => list.some(({ text }) => text.includes('from the side'))) ?? []
    const find = (pattern: RegExp) => texts.find(({ text }) => pattern.test(text))
    const [up, high] = [find(/^up (0|from here)$/), find(/^high (0|from here)$/)]
    if (up === undefined || high === undefined) throw new Error('both are written in the view from the side')
    const scale = Number(/1 : (\d+)$/.exec(find(/from the side/)?.text ?? '')?.[1] ?? 1)
    // each hangs under or stands on its line by less than its own height
    const step = high.at[1] - up.at[1]
    expect(Math.abs(step - tree.base.depth_mm / scale)).toBeLessThan(up.size + 2)
    expect(texts.map(({ text }) => text)).toContain(tree.base.depth_mm.toFixed(1))
    const key = pages.flat().map(({ text }) => text)
    expect(key.join(' ')).toContain('Up is measured from the top of the base’s cone')
  })

  test('has every length of its notes in its own unit', () => {
    const { tree } = get(name)
    const noted = { ...tree, notes: ['Sprue 1 and sprue 2 are 2.54 mm apart where 3.2 mm is needed'] }
    const textsOf = (pages: readonly Page[]): string =>
      pages
        .flatMap(({ marks }) => marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])))
        .join(' ')
    const inches = textsOf(sheetPages(noted, 'A pour', 'in'))
    expect(inches).toContain('are 0.100 in apart where 0.126 in is needed')
    expect(inches.replaceAll(/\d+ mm\b/g, (said) => (WIRES.has(said) ? '' : said))).not.toMatch(/\d mm\b/)
    expect(textsOf(sheetPages(noted, 'A pour', 'mm'))).toContain('are 2.54 mm apart')
    expect(textsOf(sheetPages({ ...noted, flask: null }, 'A pour', 'in'))).toContain('are 0.100 in apart')
  })

  test('numbers every sprue in both views of one level, and lists each once', () => {
    const { tree } = get(name)
    const pages = sheetPages(tree, 'A pour', 'mm')
    const rings = pages.flatMap((page) => balloonsOf(page))
    for (const { number } of tree.sprues)
      expect(rings.filter((text) => text === String(number)).length).toBeGreaterThanOrEqual(2)
    expect(sprueTable(tree, writing('mm')).rows.map(([number]) => Number(number))).toEqual(
      tree.sprues.map(({ number }) => number),
    )
    const onCards = tree.cards.flatMap(({ joints }) =>
      joints.flatMap(({ sprues }) => sprues.map(({ number }) => number)),
    )
    expect(onCards.sort((a, b) => a - b)).toEqual(tree.sprues.map(({ number }) => number))
  })

  test('has no two leaders that cross', () => {
    const pages = sheetPages(get(name).tree, 'A pour', 'mm')
    const leaders = pages.map((page) => leadersOf(page))
    expect(leaders.flat().length).toBeGreaterThanOrEqual(2 * get(name).tree.sprues.length)
    expect(leaders.map(crossingsOf)).toEqual(pages.map(() => 0))
  })

  test('has on each page a bar as long as it says, and the flask by its inside', () => {
    const { tree, arrangement } = get(name)
    for (const unit of ['mm', 'in'] as const)
      for (const page of sheetPages(tree, 'A pour', unit)) {
        const words = page.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
        const bar = page.marks.filter((mark) => mark.kind === 'path' && mark.line === 'wide').at(-1)
        const [[from, to] = []] = bar?.kind === 'path' ? bar.rounds : []
        expect((to?.[0] ?? 0) - (from?.[0] ?? 0)).toBeCloseTo(unit === 'mm' ? 100 : 101.6, 9)
        expect(words.join('\n')).toContain(
          unit === 'mm' ? 'This bar is 100 mm long' : 'This bar is 4 in long',
        )
        expect(words.join('\n')).not.toContain('flask-')
        const inside = arrangement.flask?.diameter_mm ?? 0
        expect(words.join('\n')).toContain(
          unit === 'mm' ? `flask ${inside.toFixed(1)} ×` : `flask ${(inside / 25.4).toFixed(2)} ×`,
        )
      }
  })
})

type Segment = readonly [readonly [number, number], readonly [number, number]]

/** From a number in its ring to the dot of its joint. */
const leadersOf = ({ marks }: Page): Segment[] =>
  marks.flatMap((mark, k): Segment[] => {
    const dot = marks[k + 1]
    const [[from, to] = []] = mark.kind === 'path' && mark.line === 'narrow' ? mark.rounds : []
    const isLeader = dot?.kind === 'circle' && dot.fill === 'ink' && dot.at === to
    return isLeader && from !== undefined && to !== undefined ? [[from, to]] : []
  })

/** How many pairs cross within both, by the side on which each end of one lies of the other. */
const crossingsOf = (segments: readonly Segment[]): number => {
  const side = ([[ax, ay], [bx, by]]: Segment, [x, y]: readonly [number, number]): number =>
    (bx - ax) * (y - ay) - (by - ay) * (x - ax)
  return segments.reduce(
    (sum, one, k) =>
      sum +
      segments
        .slice(k + 1)
        .filter(
          (other) =>
            side(one, other[0]) * side(one, other[1]) < -1e-9 &&
            side(other, one[0]) * side(other, one[1]) < -1e-9,
        ).length,
    0,
  )
}

const balloonsOf = ({ marks }: Page): string[] =>
  marks.flatMap((mark, k) => {
    const ring = marks[k - 1]
    return mark.kind === 'text' && ring?.kind === 'circle' && ring.fill === 'paper' ? [mark.text] : []
  })

/** Rings round numbers, each as the box of the number in it. */
const ringsOf = ({ marks }: Page): { text: string; box: readonly [number, number, number, number] }[] =>
  marks.flatMap((mark) =>
    mark.kind === 'circle' && mark.fill === 'paper'
      ? [{ text: 'ring', box: [mark.at[0] - 2, mark.at[1] - 2, mark.at[0] + 2, mark.at[1] + 2] as const }]
      : [],
  )

const clashesOf = (
  texts: readonly Extract<Mark, { kind: 'text' }>[],
  rings: ReturnType<typeof ringsOf>,
): string[] => {
  const inRing = (mark: Extract<Mark, { kind: 'text' }>): boolean =>
    rings.some(
      ({ box: [l, t, r, b] }) => Math.hypot((l + r) / 2 - mark.at[0], (t + b) / 2 - mark.at[1]) < 1.2,
    )
  const boxes = [
    ...texts.filter((mark) => !inRing(mark)).map((mark) => ({ text: mark.text, box: boxOf(mark) })),
    ...rings,
  ]
  return boxes.flatMap(({ text, box: [l, t, r, b] }, k) =>
    boxes
      .slice(k + 1)
      .filter(
        ({ box: [left, top, right, low] }) =>
          left < r - 0.05 && right > l + 0.05 && top < b - 0.05 && low > t + 0.05,
      )
      .map((other) => `${text} | ${other.text}`),
  )
}

const reachOf = (mark: Mark): readonly [number, number, number, number] => {
  if (mark.kind === 'text') return boxOf(mark)
  if (mark.kind === 'circle') {
    const { at, radius } = mark
    return [at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius]
  }
  const all = mark.rounds.flat()
  const [xs, ys] = [all.map(([x]) => x), all.map(([, y]) => y)]
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}

const areaOf = (rounds: readonly (readonly (readonly [number, number])[])[]): number =>
  rounds.reduce(
    (sum, round) =>
      sum +
      round.reduce((part, [x, y], k) => {
        const [u, v] = round[(k + 1) % round.length] ?? [0, 0]
        return part + (x * v - u * y) / 2
      }, 0),
    0,
  )

test('a silhouette covers what its solid hides: the face of a box, and a ring less its hole', () => {
  const looking = { right: [1, 0, 0], up: [0, 1, 0], eye: [0, 0, 1] } as const
  expect(areaOf(silhouetteOf(meshOf(box(6, 4, 2)), looking).outline)).toBeCloseTo(24, 6)
  // 94 and 8 sides: the area of a ring of chords
  const ring = areaOf(silhouetteOf(meshOf(torus(10, 1.5, 94, 8)), looking).outline)
  const chords = (94 / 2) * Math.sin((2 * Math.PI) / 94)
  expect(ring).toBeGreaterThan(0.98 * chords * (11.5 ** 2 - 8.5 ** 2))
  expect(ring).toBeLessThan(1.01 * chords * (11.5 ** 2 - 8.5 ** 2))
})

test('the lowest wax is set first, and one that stands over another’s joint after that one, however low it begins', () => {
  const { tree } = get('three pieces')
  const [wax] = tree.waxes
  const [sprue] = tree.sprues
  if (wax === undefined || sprue === undefined) throw new Error('three pieces stand')
  const standing = (number: number, low: number, high: number, highest: number) => ({
    ...wax,
    tag: String(number),
    sprues: [number],
    above: {
      outline: [
        [
          [low, -2],
          [high, -2],
          [high, 2],
          [low, 2],
        ] as const,
      ],
      inner: [],
    },
    highest,
  })
  const set = (number: number, height: number, x: number) => ({
    ...sprue,
    number,
    height,
    to_mm: [x, 0, 13 + height] as const,
  })
  const sprues = [set(1, 30, 3), set(2, 10, -3), set(3, 20, 3)]
  const orderOf = (waxes: BenchTree['waxes']): string[] =>
    setOrder({ ...tree, waxes, sprues }).map(({ tag }) => tag)
  expect(orderOf([standing(1, 10, 20, 60), standing(2, -20, -10, 40), standing(3, 10, 20, 50)])).toEqual([
    '2',
    '3',
    '1',
  ])
  // the second reaches across the main sprue, over the third's joint there at 33 mm and not over the first's at 43
  expect(orderOf([standing(1, 10, 20, 60), standing(2, -20, 5, 40), standing(3, 10, 20, 50)])).toEqual([
    '3',
    '2',
    '1',
  ])
})

test.each(names)('every wax of %s is set once', (name) => {
  const { tree } = get(name)
  const cells = orderTable(tree).rows.flat()
  for (const [at, wax] of setOrder(tree).entries()) {
    const number = cells.findIndex((cell, k) => k % 3 === 0 && cell === String(at + 1))
    expect(cells[number + 1]).toContain(wax.tag)
    expect(cells[number + 2]).toContain(wax.sprues.join(', '))
  }
  expect(new Set(setOrder(tree)).size).toBe(tree.waxes.length)
})

test('names the wax wire of a sprue that is just as thick, and none for one that is not', () => {
  const { tree } = get('three pieces')
  const wireOf = (diameter: number): string | undefined => {
    const [first] = tree.sprues
    if (first === undefined) throw new Error('three pieces have sprues')
    const { columns, rows } = sprueTable({ ...tree, sprues: [{ ...first, diameter }] }, writing('in'))
    return rows[0]?.[columns.findIndex(({ head }) => head.join(' ') === 'wax wire')]
  }
  // B&S gauges by their table (ASTM B258): 4 is 0.2043 in, 6 is 0.1620 in
  expect(wireOf(0.2043 * 25.4)).toBe('4 ga')
  expect(wireOf(0.162 * 25.4)).toBe('6 ga')
  expect(wireOf(12)).toBe('12 mm')
  expect(wireOf(5)).toBe('')
})

test('leaders that cross change their ends, and those that do not keep them', () => {
  const ends = [
    [0, 0],
    [0, 10],
    [20, 4],
  ] as const
  const crossed = [
    [30, 10],
    [30, 0],
    [30, 4],
  ] as const
  const segments = (places: readonly (readonly [number, number])[]): Segment[] =>
    places.map((place, k) => [place, ends[k] ?? [0, 0]])
  expect(crossingsOf(segments(crossed))).toBeGreaterThan(0)
  const places = uncrossed(crossed, ends)
  expect(crossingsOf(segments(places))).toBe(0)
  expect([...places].sort()).toEqual([...crossed].sort())
  expect(uncrossed(places, ends)).toEqual(places)
})

test('labels stand where they want to, or as near as they fit', () => {
  expect(spreadApart([10, 30, 20], 5, 0, 100)).toEqual([10, 30, 20])
  expect(spreadApart([10, 10, 10], 4, 0, 100)).toEqual([6, 10, 14])
  expect(spreadApart([1, 2], 6, 0, 100)).toEqual([0, 6])
  expect(spreadApart([99, 98], 6, 0, 100)).toEqual([100, 94])
  const ring = spreadRound([359, 0, 1, 180], 10)
  expect(ring.map(Math.round)).toEqual([350, 0, 10, 180])
})

describe('what the sheet tells beside its figures', () => {
  const thin = piece('strip', 'Strip', 1, box(24, 16, 1), 4)
  const asked: ArrangeRequest = {
    ...requestOf([thin]),
    told: [
      {
        kind: 'freeze.button',
        level: 'stop',
        where: '/pour/tree/button/depth_mm',
        what: 'the button starves the main sprue',
        remedy: 'use a base with a deeper cone',
      },
    ],
  }
  const arrangement = arrange(asked)
  const { notes, cards } = benchTree(asked, arrangement)

  test('says what to do of each finding, the plan’s first, unless there is nothing to do', () => {
    expect(notes[0]).toBe(
      'STOP, do not pour it so: the button starves the main sprue. To do: use a base with a deeper cone',
    )
    const over = arrangement.problems.find(({ kind }) => kind === 'joint-over-edge')
    expect(over).toBeDefined()
    expect(notes).toContain(`${over?.what}. To do: ${over?.remedy}`)
    const check = { ...asked.told?.[0], level: 'check' } as ArrangeProblem
    const sorted = benchTree(asked, { ...arrangement, problems: [...arrangement.problems, check] })
    expect(sorted.notes.map((note) => /^(STOP|Check)/.exec(note)?.[0])).toEqual([
      'STOP',
      'Check',
      ...arrangement.problems.map(() => undefined),
    ])
    const idle = {
      kind: 'idle',
      level: 'note',
      where: 'Strip',
      what: 'All is well',
      remedy: 'nothing needs doing',
    }
    const more = benchTree(asked, { ...arrangement, problems: [idle as ArrangeProblem] })
    expect(more.notes).toContain('All is well')
  })

  test('says of a joint on the back, and of no other, from which edge it is once the wax is turned over', () => {
    const write = (mm: number): string => mm.toFixed(1)
    const saidOf = (part: 'back' | 'front' | 'rim'): string => {
      const [card] = cards
      if (card === undefined) throw new Error('the strip is drawn by itself')
      const joints = card.joints.map((joint) => ({ ...joint, part }))
      const marks = waxCard({ ...card, joints }, write, [190, 240]).draw([0, 0])
      return marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])).join(' ')
    }
    expect(saidOf('back')).toContain('from the right once it is turned over like a page')
    expect(saidOf('front')).not.toContain('turned over')
    expect(saidOf('rim')).not.toContain('turned over')
  })

  test('names the wax wire of the main sprue where one is just as thick, and none where none is', () => {
    const keyed = (stem_mm: number): string => {
      const tree = benchTree({ ...asked, stem_mm }, arrange({ ...asked, stem_mm }))
      return keyOf(tree, 60, (mm) => mm.toFixed(2), 'mm')
        .draw([0, 0])
        .flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
        .join(' ')
    }
    // B&S 3 gauge: 0.2294 in, ASTM B258
    expect(keyed(0.2294 * 25.4)).toContain('(wax wire 3 ga)')
    expect(keyed(6)).not.toContain('wax wire')
  })
})
