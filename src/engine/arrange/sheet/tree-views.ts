import type { BenchTree, SprueOnTree, StandingWax } from './bench-tree.ts'
import {
  across,
  BALLOON,
  balloon,
  bar,
  boxOf,
  circle,
  line,
  type Mark,
  shape,
  solid,
  TEXT,
  upright,
  words,
} from './marks.ts'
import type { Flat } from './silhouette.ts'
import { spreadApart, spreadRound, uncrossed } from './spread-labels.ts'
import { letterSpot, shownOf } from './squares.ts'
import { widthOf } from './text-width.ts'

/** Something to be put on a page: its size in mm, and how it is drawn with its upper left corner at a point. */
export interface Block {
  readonly width: number
  readonly height: number
  draw(corner: Flat): Mark[]
}

export type Write = (value_mm: number) => string

export const scaleWords = (scale: number): string => (scale >= 1 ? `${scale} : 1` : `1 : ${1 / scale}`)

/** One level of the tree, or all of it. */
export interface Level {
  readonly title: string
  readonly waxes: readonly StandingWax[]
  /** numbers on its sprues, and letters on its waxes */
  readonly numbered: boolean
  /** sizes of flask and main sprue */
  readonly sized: boolean
}

/** Balloons stand this far outside the flask. */
const OUT = 5
/** Room for balloons outside the flask, and for the sizes beyond them. */
const ROUND = OUT + BALLOON + 0.5
const SIZES = 11
const CAPTION = 6
const BELOW = 11
const BETWEEN = 2 * BALLOON + 0.5
const DOT = 0.55
const MOST_LETTERED = 6
const DEGREE = Math.PI / 180

const roomBeside = ({ sized }: Level): number => ROUND + (sized ? SIZES : 0)
const wideOf = (tree: BenchTree, level: Level, scale: number): number =>
  (tree.flask?.diameter ?? 0) * scale + 2 * roomBeside(level)

type Place = (right: number, up: number) => Flat

/** Waxes and sprues, what is nearer the eye over what is farther; middle lines of the sprues over all. */
const solidsOf = (
  tree: BenchTree,
  waxes: readonly StandingWax[],
  view: 'side' | 'above',
  place: Place,
  scale: number,
): Mark[] => {
  const up = view === 'side' ? 2 : 1
  const nearer = ([, y, z]: readonly number[]): number => (view === 'side' ? -(y ?? 0) : (z ?? 0))
  const sprues = spruesOf(tree, waxes)
  const parts: { near: number; marks: Mark[] }[] = waxes.map((wax) => ({
    near: wax.near[view],
    marks: solid(wax[view], place(0, 0), scale),
  }))
  for (const { from_mm, to_mm, diameter, stemEnd, fillet } of sprues)
    parts.push({
      near: (nearer(from_mm) + nearer(to_mm)) / 2,
      marks: [
        bar(
          place(from_mm[0], from_mm[up]),
          place(to_mm[0], to_mm[up]),
          diameter * scale,
          stemEnd * scale,
          fillet * scale,
        ),
      ],
    })
  const { stem, base } = tree
  if (stem !== null) {
    const radius = stem.diameter / 2
    const foot = base.depth_mm
    const dome = Array.from({ length: 13 }, (_, k): Flat => {
      const turn = Math.PI * (k / 12)
      return place(radius * Math.cos(turn), stem.end - radius + radius * Math.sin(turn))
    })
    parts.push({
      near: view === 'side' ? 0 : stem.end,
      marks: [
        view === 'side'
          ? shape([[place(radius, foot), ...dome, place(-radius, foot)]], 'wax', 'sprue')
          : circle(place(0, 0), radius * scale, 'wax', 'sprue'),
      ],
    })
  }
  const middles = sprues.map(({ from_mm, axis_mm }) =>
    line(place(from_mm[0], from_mm[up]), place(axis_mm[0], axis_mm[up]), 'centre'),
  )
  return [...parts.sort((a, b) => a.near - b.near).flatMap(({ marks }) => marks), ...middles]
}

const spruesOf = ({ sprues }: BenchTree, waxes: readonly StandingWax[]): SprueOnTree[] => {
  const numbers = new Set(waxes.flatMap((wax) => wax.sprues))
  return sprues.filter(({ number }) => numbers.has(number))
}

const leader = (from: Flat, to: Flat): Mark[] => {
  const [u, v] = [to[0] - from[0], to[1] - from[1]]
  const size = Math.max(Math.hypot(u, v), 1e-9)
  return [
    line([from[0] + (BALLOON * u) / size, from[1] + (BALLOON * v) / size], to, 'narrow'),
    circle(to, DOT, 'none', 'ink'),
  ]
}

type Words = Extract<Mark, { kind: 'text' }>

/** Letters where most of their wax shows, on a white ground, where they hide no other words and no joint. */
const lettersOf = (
  waxes: readonly StandingWax[],
  view: 'side' | 'above',
  place: Place,
  scale: number,
  taken: readonly Mark[],
): Mark[] => {
  const up = view === 'side' ? 2 : 1
  const isHeld = ({ tag, box }: StandingWax): boolean => {
    const [wide, tall] = [box.high[0] - box.low[0], box.high[up] - box.low[up]]
    return (
      Math.min(wide, tall) * scale >= TEXT && Math.hypot(wide, tall) * scale >= 1.8 * widthOf(tag, TEXT, true)
    )
  }
  // small waxes would be hidden by their letters, and some without among others with would puzzle
  if (!waxes.every(isHeld)) return []
  const boxes = taken.flatMap((mark) =>
    mark.kind === 'text' ? [boxOf(mark)] : mark.kind === 'circle' ? [ringOf(mark)] : [],
  )
  const shown = shownOf(waxes.map((wax) => ({ seen: wax[view], near: wax.near[view] })))
  return waxes.flatMap(({ tag }, k) => {
    const letterAt = (middle: Flat): Words => {
      const [x, y] = place(...middle)
      return words([x, y + 1.1], tag, { align: 'middle', bold: true }) as Words
    }
    const spot = letterSpot(
      shown[k] ?? new Set(),
      (widthOf(tag, TEXT, true) + 1) / scale,
      (TEXT + 0.5) / scale,
      (middle) => boxes.every((box) => areApart(box, boxOf(letterAt(middle)))),
    )
    if (spot === undefined) return []
    const letter = letterAt(spot)
    const [left, high, right, low] = boxOf(letter)
    boxes.push([left, high, right, low])
    const ground: Flat[] = [
      [left - 0.5, high - 0.3],
      [right + 0.5, high - 0.3],
      [right + 0.5, low + 0.2],
      [left - 0.5, low + 0.2],
    ]
    return [shape([ground], 'none', 'paper'), letter]
  })
}

type Box = readonly [number, number, number, number]

const ringOf = ({ at, radius }: Extract<Mark, { kind: 'circle' }>): Box => [
  at[0] - radius,
  at[1] - radius,
  at[0] + radius,
  at[1] + radius,
]

const areApart = ([left, top, right, low]: Box, [l, t, r, b]: Box): boolean =>
  left > r + 0.5 || right < l - 0.5 || top > b + 0.5 || low < t - 0.5

/** Seen from above, the base's mark at the right; numbers stand round the flask. */
export const fromAbove = (tree: BenchTree, level: Level, scale: number): Block => {
  const wide = wideOf(tree, level, scale)
  const radius = ((tree.flask?.diameter ?? 0) / 2) * scale
  const height = CAPTION + 2 * (radius + ROUND)
  return {
    width: wide,
    height,
    draw: ([left, top]) => {
      const [x0, y0] = [left + wide / 2, top + CAPTION + ROUND + radius]
      const place: Place = (right, up) => [x0 + right * scale, y0 - up * scale]
      const on = (angle: number, out: number): Flat => [
        x0 + out * Math.cos(angle * DEGREE),
        y0 - out * Math.sin(angle * DEGREE),
      ]
      const limit = tree.wall * scale
      const marks: Mark[] = [
        words([left, top + TEXT], `${level.title}, from above, ${scaleWords(scale)}`, { bold: true }),
        circle([x0, y0], radius, 'wide'),
        circle([x0, y0], radius - limit, 'limit'),
        circle([x0, y0], (tree.base.mouth_mm / 2) * scale, 'narrow', 'base'),
        line([x0 - radius, y0], [x0 + radius, y0], 'centre'),
        line([x0, y0 - radius], [x0, y0 + radius], 'centre'),
        ...solidsOf(tree, level.waxes, 'above', place, scale),
      ]
      for (let angle = 0; angle < 360; angle += 10)
        marks.push(line(on(angle, radius), on(angle, radius - (angle % 30 === 0 ? 2 : 1)), 'narrow'))
      const names: Mark[] = []
      for (let angle = 0; angle < 360; angle += 90) {
        const name = `${angle}°`
        const [x, y] = on(angle, radius - 2.5 - (angle % 180 === 0 ? widthOf(name, TEXT) / 2 : 1))
        names.push(words([x, y + 1.1], name, { align: 'middle' }))
      }
      marks.push(...names)
      if (!level.numbered) return marks
      const sprues = spruesOf(tree, level.waxes)
      const ring = radius + OUT
      const apart = (2 * Math.asin(BETWEEN / 2 / ring)) / DEGREE
      const joints = sprues.map(({ from_mm }) => place(from_mm[0], from_mm[1]))
      const angles = spreadRound(
        joints.map(([x, y]) => Math.atan2(y0 - y, x - x0) / DEGREE),
        apart,
      )
      const places = uncrossed(
        angles.map((angle) => on(angle, ring)),
        joints,
      )
      const numbers = sprues.flatMap(({ number }, k) => {
        const [at, joint] = [places[k], joints[k]]
        return at === undefined || joint === undefined ? [] : [...leader(at, joint), ...balloon(at, number)]
      })
      const letters = lettersOf(level.waxes, 'above', place, scale, [...names, ...numbers])
      return [...marks, ...letters, ...numbers]
    },
  }
}

/** Flask, base and what stands in it from the side, with nothing written to it. */
export const sidePicture = (
  tree: BenchTree,
  waxes: readonly StandingWax[],
  place: Place,
  scale: number,
): Mark[] => {
  const { base } = tree
  const [radius, tall] = [(tree.flask?.diameter ?? 0) / 2, tree.flask?.height ?? 0]
  return [
    shape([[place(-radius, tall), place(radius, tall), place(radius, 0), place(-radius, 0)]], 'wide', 'none'),
    shape(
      [
        [
          place(-base.mouth_mm / 2, 0),
          place(-base.neck_mm / 2, base.depth_mm),
          place(base.neck_mm / 2, base.depth_mm),
          place(base.mouth_mm / 2, 0),
        ],
      ],
      'narrow',
      'base',
    ),
    ...solidsOf(tree, waxes, 'side', place, scale),
  ]
}

/** Seen from the side, the base's mark at the right; numbers stand in a row on either side. */
export const fromSide = (tree: BenchTree, level: Level, scale: number, write: Write): Block => {
  const wide = wideOf(tree, level, scale)
  const radius = ((tree.flask?.diameter ?? 0) / 2) * scale
  const tall = (tree.flask?.height ?? 0) * scale
  return {
    width: wide,
    height: CAPTION + tall + (level.sized ? BELOW : 2),
    draw: ([left, top]) => {
      const [x0, foot] = [left + wide / 2, top + CAPTION + tall]
      const place: Place = (right, up) => [x0 + right * scale, foot - up * scale]
      const { base, stem } = tree
      const limit = tree.wall * scale
      const below = foot - tall + tree.top * scale
      const marks: Mark[] = [
        words([left, top + TEXT], `${level.title}, from the side, ${scaleWords(scale)}`, { bold: true }),
        {
          kind: 'path',
          rounds: [
            [
              [x0 - radius + limit, foot],
              [x0 - radius + limit, below],
              [x0 + radius - limit, below],
              [x0 + radius - limit, foot],
            ],
          ],
          closed: false,
          line: 'limit',
          fill: 'none',
        },
        ...sidePicture(tree, level.waxes, place, scale),
        line([x0, foot - tall], [x0, foot], 'centre'),
      ]
      if (level.numbered) marks.push(...sideNumbers(tree, level, place, scale, { x0, radius, foot, tall }))
      if (!level.sized) return marks
      const far = radius + ROUND + 3
      marks.push(
        ...across(
          [x0 - radius, foot],
          [x0 + radius, foot],
          foot + 6,
          `Ø ${write(tree.flask?.diameter ?? 0)}`,
        ),
        ...upright(
          [x0 - radius, foot],
          [x0 - radius, foot - tall],
          x0 - far - 5,
          write(tree.flask?.height ?? 0),
        ),
        ...upright([x0 - radius, foot - tall], [x0 - radius, below], x0 - far, write(tree.top)),
      )
      if (stem !== null)
        marks.push(
          ...upright(
            place(stem.diameter / 2, stem.end),
            place(base.neck_mm / 2, base.depth_mm),
            x0 + far + 2,
            `Ø ${write(stem.diameter)}, ${write(stem.end - base.depth_mm)}`,
          ),
        )
      marks.push(
        ...upright(
          place(base.neck_mm / 2, base.depth_mm),
          place(base.mouth_mm / 2, 0),
          x0 + far + 2,
          write(base.depth_mm),
          'below',
        ),
        // no wax comes lower than the cone's top: beside the cone there is room
        ...datumWords(x0 + (base.mouth_mm / 2) * scale + 0.7, x0 + radius - limit - 0.7, [
          [place(0, base.depth_mm)[1] + TEXT + 0.6, 'up'],
          [foot - 1, 'high'],
        ]),
      )
      return marks
    },
  }
}

/** What the heights of the tables are measured from, on the levels where they begin, as far as there is room. */
const datumWords = (left: number, right: number, levels: readonly (readonly [number, string])[]): Mark[] => {
  const widest = levels.map(([y, name]) => [y, `${name} from here`] as const)
  const held = [widest, levels.map(([y, name]) => [y, `${name} 0`] as const)].find((list) =>
    list.every(([, text]) => left + widthOf(text, TEXT) <= right),
  )
  return (held ?? []).map(([y, text]) => words([left, y], text))
}

const sideNumbers = (
  tree: BenchTree,
  level: Level,
  place: Place,
  scale: number,
  { x0, radius, foot, tall }: { x0: number; radius: number; foot: number; tall: number },
): Mark[] => {
  const sprues = spruesOf(tree, level.waxes).map(({ number, from_mm }) => ({
    number,
    joint: place(from_mm[0], from_mm[2]),
  }))
  const byRight = [...sprues].sort((a, b) => a.joint[0] - b.joint[0] || a.number - b.number)
  // as many on each side as there are, not more than the flask is high
  const most = Math.max(Math.ceil(sprues.length / 2), Math.floor(tall / BETWEEN))
  const lefts = byRight.filter(({ joint }) => joint[0] < x0).length
  const cut = Math.min(most, Math.max(sprues.length - most, lefts))
  const numbers: Mark[] = []
  for (const [list, x] of [
    [byRight.slice(0, cut), x0 - radius - OUT],
    [byRight.slice(cut), x0 + radius + OUT],
  ] as const) {
    const apart = Math.min(BETWEEN, tall / Math.max(1, list.length))
    const heights = spreadApart(
      list.map(({ joint }) => joint[1]),
      apart,
      foot - tall + BALLOON,
      foot - BALLOON,
    )
    const places = uncrossed(
      heights.map((height): Flat => [x, height]),
      list.map(({ joint }) => joint),
    )
    list.forEach(({ number, joint }, k) => {
      const at = places[k]
      if (at !== undefined) numbers.push(...leader(at, joint), ...balloon(at, number))
    })
  }
  // where many stand behind one another a letter does not say whose it is
  return level.waxes.length > MOST_LETTERED
    ? numbers
    : [...lettersOf(level.waxes, 'side', place, scale, numbers), ...numbers]
}

/** From above over from the side, as they stand in line. */
export const treeViews = (tree: BenchTree, level: Level, scale: number, write: Write): Block => {
  const [above, side] = [fromAbove(tree, level, scale), fromSide(tree, level, scale, write)]
  return {
    width: above.width,
    height: above.height + side.height,
    draw: ([x, y]) => [...above.draw([x, y]), ...side.draw([x, y + above.height])],
  }
}
