import { waxWireOf } from '../../materials/index.ts'
import { HAND } from '../hand.ts'
import {
  type Bearing,
  type BenchTree,
  ROOM,
  type Spare,
  type StandingWax,
  type WaxCard,
} from './bench-tree.ts'
import { setOrder } from './set-order.ts'
import { cutTo } from './text-width.ts'
import type { Write } from './tree-views.ts'
import { partWords } from './wax-cards.ts'

export interface Column {
  /** two lines, the second often a unit */
  readonly head: readonly [string, string]
  readonly width: number
  readonly left?: true
}

export interface Table {
  readonly title: string
  readonly columns: readonly Column[]
  readonly rows: readonly (readonly string[])[]
  /** what its columns mean, under it */
  readonly notes: readonly string[]
}

/** How lengths are written: as near as a hand sets them, and never more than there is. */
export interface Writing {
  readonly unit: 'mm' | 'in'
  readonly write: Write
  readonly atMost: Write
}

const MM_PER_INCH = 25.4

export const writing = (unit: 'mm' | 'in'): Writing =>
  unit === 'mm'
    ? {
        unit,
        write: (mm) => (Math.round(mm * 10) / 10 + 0).toFixed(1),
        atMost: (mm) => (Math.floor(mm * 10 + 1e-6) / 10).toFixed(1),
      }
    : {
        unit,
        write: (mm) => (Math.round((mm / MM_PER_INCH) * 100) / 100 + 0).toFixed(2),
        atMost: (mm) => (Math.floor((mm / MM_PER_INCH) * 1000 + 1e-6) / 1000).toFixed(3),
      }

const NAME = 31
const TEXT = 3
const DEGREE = Math.PI / 180
const round = (degrees: number): string => String(Math.round(degrees) % 360)
const above = (degrees: number): string => String(Math.round(degrees) + 0)

const named = ({ tag, copy, name }: StandingWax): string => {
  const ending = ` ${copy}`
  // its letter has the copy already
  return cutTo(`${tag}  ${tag.endsWith(ending) ? name.slice(0, -ending.length) : name}`, TEXT, NAME)
}

const waxOf = ({ waxes }: BenchTree, { number, piece }: BenchTree['sprues'][number]): string => {
  const wax = waxes.find(({ sprues }) => sprues.includes(number))
  return wax === undefined ? piece : named(wax)
}

const cardOf = ({ cards }: BenchTree, number: number): WaxCard | undefined =>
  cards.find(({ joints }) => joints.some(({ sprues }) => sprues.some((sprue) => sprue.number === number)))

export const sprueTable = (tree: BenchTree, { unit, write }: Writing): Table => ({
  title: 'Each sprue',
  columns: [
    { head: ['no.', ''], width: 7 },
    { head: ['wax', ''], width: NAME, left: true },
    { head: ['round', '°'], width: 11 },
    { head: ['meets', unit], width: 13 },
    { head: ['up', unit], width: 12 },
    { head: ['tilt', '°'], width: 9 },
    { head: ['long', unit], width: 12 },
    { head: ['cut to', unit], width: 13 },
    { head: ['Ø', unit], width: 10 },
    { head: ['wax', 'wire'], width: 13 },
    { head: ['Ø at main', 'sprue'], width: 16 },
    { head: ['fillet', unit], width: 11 },
    { head: ['joint', 'high'], width: 15 },
    { head: ['joint', 'out'], width: 15 },
  ],
  rows: tree.sprues.map((sprue) => [
    String(sprue.number),
    waxOf(tree, sprue),
    round(sprue.angle),
    write(sprue.meets),
    write(sprue.height),
    above(sprue.tilt),
    write(sprue.length),
    write(sprue.cut),
    write(sprue.diameter),
    waxWireOf(sprue.diameter / 1000)?.name ?? '',
    write(sprue.stemEnd),
    write(sprue.fillet),
    write(sprue.jointHigh),
    write(sprue.jointOut),
  ]),
  notes: [
    'Round: round the base from the mark, against the clock seen from above; from the side the mark is at the right. Meets: up the main sprue’s side from the top of the base’s cone to where the middle of this sprue meets it, which a ruler finds; up: to where their middle lines would meet within it. Tilt: above level',
    'Long: along the middle, from the face of the wax to the surface of the main sprue. Cut to: the same and what of its end is let into the wax, as the tree’s metal is reckoned; leave about its own Ø more to trim where an end meets wax or main sprue on the slant',
    'Wax wire: the size it is sold by, where one is just that thick; ga is the B&S gauge, in which a larger number is thinner. Where none is given, the next thicker serves: enter it, so that the metal is reckoned by it',
    'Ø at main sprue: how wide it is where it meets the main sprue; where that is more than its Ø, build it out with wax toward there. Fillet: how far wax is built up round the joint in a smooth hollow, so that metal turns no sharp corner there; 0.0 where there is no room for one',
    'Joint high and out: the middle of its joint with the wax as a ruler finds it on the standing tree, high above the flat of the base’s rim, on which the flask stands, and out, level, from the middle of the main sprue',
  ],
})

/** Where each sprue joins its wax, on the wax by itself. */
export const joinTable = (tree: BenchTree, { unit, write }: Writing): Table => ({
  title: 'Where each sprue joins its wax',
  columns: [
    { head: ['no.', ''], width: 7 },
    { head: ['wax', ''], width: NAME, left: true },
    { head: ['on its', ''], width: 29, left: true },
    { head: ['from left', unit], width: 18 },
    { head: ['from foot', unit], width: 18 },
    { head: ['from back', unit], width: 18 },
  ],
  rows: tree.sprues.flatMap((sprue) => {
    const card = cardOf(tree, sprue.number)
    const joint = card?.joints.find(({ sprues }) => sprues.some(({ number }) => number === sprue.number))
    return card === undefined || joint === undefined
      ? []
      : [
          [
            String(sprue.number),
            waxOf(tree, sprue),
            partWords(card, joint.part),
            write(joint.left),
            write(joint.foot),
            write(joint.back),
          ],
        ]
  }),
  notes: [
    'From left, foot and back: on the wax laid on its back before you, as it is drawn by itself, square from its left edge, from its lower edge and from the table to the middle of the joint; a joint on its back is as far from its right edge once it is turned over like a page. A sprue leaves it toward so many degrees round from the right as drawn, against the clock, and so many toward its front or back',
  ],
})

/** Side by side, read down. */
const ORDER_COLUMNS = 3

/** In which order to set the waxes on the main sprue. */
export const orderTable = (tree: BenchTree): Table => {
  const cells = setOrder(tree).map((wax, at) => [
    String(at + 1),
    named(wax),
    `${wax.sprues.length === 1 ? 'sprue' : 'sprues'} ${wax.sprues.join(', ')}`,
  ])
  const many = Math.min(ORDER_COLUMNS, cells.length)
  const tall = Math.ceil(cells.length / Math.max(1, many))
  return {
    title: 'In which order to set them',
    columns: Array.from({ length: many }, () => [
      { head: ['', ''], width: 8 } as const,
      { head: ['wax', ''], width: NAME, left: true } as const,
      { head: ['with', ''], width: 24, left: true } as const,
    ]).flat(),
    rows: Array.from({ length: tall }, (_, row) =>
      Array.from({ length: many }, (__, column) => cells[row + column * tall] ?? ['', '', '']).flat(),
    ),
    notes: [
      'Join each wax to its sprues first, then these to the main sprue in this order: the lowest first and then upward, so that the tool comes to each joint from above and from outside, and any wax that would stand over another’s joint after that one. Let no hot wax drip on what stands below',
    ],
  }
}

const bearing = ({ round: turn, above: up }: Bearing): [string, string] => [round(turn), above(up)]

export const standTable = (tree: BenchTree, { unit, write }: Writing): Table => ({
  title: 'How each wax stands',
  columns: [
    { head: ['wax', ''], width: NAME, left: true },
    { head: ['sprues', ''], width: 15, left: true },
    { head: ['front looks', 'round °'], width: 18 },
    { head: ['', 'up °'], width: 9 },
    { head: ['top points', 'round °'], width: 18 },
    { head: ['', 'up °'], width: 9 },
    { head: ['to the main', 'sprue'], width: 19, left: true },
    { head: ['lowest', unit], width: 17 },
    { head: ['highest', unit], width: 17 },
    { head: ['nearest', unit], width: 18 },
    { head: ['farthest', unit], width: 19 },
  ],
  rows: tree.waxes.map((wax) => [
    named(wax),
    wax.sprues.join(', '),
    ...bearing(wax.front),
    ...bearing(wax.top),
    wax.toStem,
    write(wax.lowest),
    write(wax.highest),
    write(wax.nearest),
    write(wax.farthest),
  ]),
  notes: [
    `Front and top: as the wax is drawn by itself. Round and up: which way they look, as for the sprues; up below 0 is downward. Lowest and highest: above the flat of the base, on which the flask stands; the top of its cone is ${write(tree.base.depth_mm)} ${unit} above that. Nearest and farthest: from the middle of the main sprue`,
  ],
})

/** What a place of a clearance is called. */
export const placeWords = ({ waxes }: Pick<BenchTree, 'waxes'>, place: string): string => {
  if (place === 'wall') return 'the wall'
  if (place === 'top') return 'the top'
  if (place === 'base') return 'the top of the base’s cone'
  if (place === 'stem') return 'the main sprue'
  if (place.startsWith('sprue/') && !waxes.some(({ piece, copy }) => `${piece}/${copy}` === place))
    return `sprue ${place.slice('sprue/'.length)}`
  const wax = waxes.find(({ piece, copy }) => `${piece}/${copy}` === place)
  return wax === undefined ? place : wax.tag
}

export const spareWords = (spare: number, { atMost, write }: Pick<Writing, 'atMost' | 'write'>): string =>
  spare < -1e-9 ? `${write(-spare)} short` : atMost(spare)

/**
 * How far a wax may be turned about the axis before half its room to a neighbour is used, to the half degree below:
 * no point of it moves farther than its farthest does. Wall, top, base and main sprue stand the same however it is turned.
 */
export const turnWords = ({ spares: { other }, farthest }: StandingWax): string => {
  if (other === null) return 'any'
  const degrees = other.spare / 2 / farthest / DEGREE
  const halves = Math.floor(2 * degrees + 1e-9)
  return halves >= 1 ? (halves / 2).toFixed(1) : other.spare > 0 ? 'under 0.5' : '0.0'
}

export const spareTable = (tree: BenchTree, writes: Writing): Table => {
  const cell = (wax: StandingWax, one: Spare | null): string => {
    if (one === null) return ''
    const own = one.own === `${wax.piece}/${wax.copy}` ? '' : ` ${placeWords(tree, one.own)}`
    return `${spareWords(one.spare, writes)}${one.spare < HAND ? ' *' : ''}${own}`
  }
  return {
    title: `What each wax has to spare, ${writes.unit}`,
    columns: [
      { head: ['wax', ''], width: NAME, left: true },
      { head: ['out to', 'the wall'], width: 25, left: true },
      { head: ['up to', 'the top'], width: 25, left: true },
      { head: ['down to the', 'cone’s top'], width: 25, left: true },
      { head: ['in to the', 'main sprue'], width: 25, left: true },
      { head: ['to its nearest', 'neighbour'], width: 25, left: true },
      { head: ['which is', ''], width: 18, left: true },
      { head: ['turned', 'by °'], width: 16 },
    ],
    rows: tree.waxes.map((wax) => {
      const { wall, top, base, stem, other } = wax.spares
      return [
        named(wax),
        cell(wax, wall),
        cell(wax, top),
        cell(wax, base),
        cell(wax, stem),
        cell(wax, other),
        other === null ? '' : placeWords(tree, other.towards),
        turnWords(wax),
      ]
    }),
    notes: [
      'What is left of each distance beyond what the rules need. To the wall, the top, the top of the base’s cone and the main sprue all of it is the wax’s own: so far it may stand off that way, and no more. To a neighbour it is shared: each of the two may use half. Where one of its sprues comes nearest, that is named beside it',
      'Turned: how far the wax may be turned about the main sprue either way, to the half degree below: at its farthest from the middle that uses up its half to its neighbour. Each figure is for a wax that stands off in that one way alone',
      ...(tree.waxes
        .flatMap(({ spares }) => Object.values(spares))
        .some((one) => one !== null && one.spare < HAND)
        ? [
            `* under ${writes.write(HAND)} ${writes.unit}: measure it on the tree with the ruler before the next wax is set; a hand sets a wax no closer`,
          ]
        : []),
    ],
  }
}

/** The tightest of all, as a sentence. */
export const tightestWords = (tree: BenchTree, writes: Writing): string[] => {
  const { tightest } = tree
  if (tightest === null) return []
  const { unit } = writes
  const [own, towards] = [tightest.own, tightest.towards].map((place) => {
    const wax = tree.waxes.find(({ piece, copy }) => `${piece}/${copy}` === place)
    return wax === undefined ? placeWords(tree, place) : `${wax.name} (${wax.tag})`
  })
  const name = `${(own ?? '').charAt(0).toUpperCase()}${(own ?? '').slice(1)}`
  // another wax or its sprue may stand off too
  const isShared = !ROOM.includes(tightest.towards)
  const may =
    tightest.spare < -1e-9
      ? `stands ${writes.write(-tightest.spare)} ${unit} too near ${towards}`
      : isShared
        ? `and ${towards} have ${writes.atMost(tightest.spare)} ${unit} to spare between them: each may stand ${writes.atMost(tightest.spare / 2)} ${unit} off towards the other, and no more`
        : `may stand ${writes.atMost(tightest.spare)} ${unit} off towards ${towards}, and no more`
  return [`Tightest: ${name} ${may}${tightest.spare < HAND ? '; check it with the ruler' : ''}`]
}
