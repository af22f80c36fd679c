import { runsOf } from '../place-words.ts'
import type { Joint, WaxCard, WayOut } from './bench-tree.ts'
import {
  across,
  BALLOON,
  balloon,
  bar,
  circle,
  line,
  type Mark,
  solid,
  TEXT,
  upright,
  words,
} from './marks.ts'
import type { Flat } from './silhouette.ts'
import { wrapped } from './text-width.ts'
import { type Block, scaleWords, type Write } from './tree-views.ts'

/** How much of a sprue is drawn on a wax by itself, mm on the paper. */
const STUB = 7
/** Room round the wax for stubs and numbers. */
const ROUND = STUB + 2 * BALLOON + 1
const LEVEL = 5.5
const LINE = 4
/** Room above and below the wax edge on, where no stub leaves it that way. */
const EDGE = 3
/** Words under a small wax need this much. */
const LEAST = 85
const DEGREE = Math.PI / 180

/** As large as it is, larger where it is too small to dimension, smaller where the page does not hold it. */
const scaleOf = ([wide, tall, thick]: WaxCard['size'], most: Flat): number => {
  const longest = Math.max(wide, tall)
  const wanted = longest >= 16 ? 1 : longest >= 8 ? 2 : 5
  return (
    [wanted, 1, 0.5, 0.2, 0.1].find(
      (scale) => scale <= wanted && wide * scale <= most[0] && (tall + thick) * scale <= most[1],
    ) ?? 0.05
  )
}

/** What a part is called on a wax with a worked face, and on one without. */
export const partWords = ({ isWorked }: Pick<WaxCard, 'isWorked'>, part: Joint['part']): string => {
  if (part === 'rim') return 'rim'
  if (part === 'inside') return 'inner edge'
  if (!isWorked) return `broad face, ${part}`
  return part === 'front' ? 'worked face' : 'broad face, back'
}

const copiesOf = ({ letter, name, copies, of }: WaxCard): string => {
  if (of === 1) return `${letter}  ${name}`
  return `${letter} ${runsOf(copies).join(', ')}  ${name}`
}

const captionOf = (card: WaxCard, scale: number): string =>
  `${copiesOf(card)}, ${card.standIn ? 'as the box of its outside sizes' : `its ${card.isWorked ? 'worked face' : 'front'} toward you`}, ${scaleWords(scale)}`

const sprueWords = (numbers: readonly number[]): string =>
  `${numbers.length === 1 ? 'Sprue' : 'Sprues'} ${runsOf(numbers).join(', ')}`

/** Sprues of one joint that leave it the same way, as near as a hand sets them. */
const waysOf = ({ sprues }: Joint): { said: string; numbers: number[]; way: WayOut }[] => {
  const ways: { said: string; numbers: number[]; way: WayOut }[] = []
  for (const { number, turn, rise } of sprues) {
    const off = Math.round(rise)
    const toward = off === 0 ? 'along the face' : `${Math.abs(off)}° to the ${off > 0 ? 'front' : 'back'}`
    const said =
      Math.abs(off) === 90
        ? `square to the ${off > 0 ? 'front' : 'back'}`
        : `leaving toward ${Math.round(turn) % 360}°, ${toward}`
    const same = ways.find((one) => one.said === said)
    if (same === undefined) ways.push({ said, numbers: [number], way: { turn, rise } })
    else same.numbers.push(number)
  }
  return ways
}

const linesOf = (card: WaxCard, write: Write, wide: number): string[] =>
  card.joints.flatMap((joint) => {
    const { part, left, foot, back, sprues } = joint
    const ways = waysOf(joint)
    const where = `${sprueWords(sprues.map(({ number }) => number))}: ${partWords(card, part)}, ${write(left)} from the left edge${part === 'back' ? ' as drawn, so from the right once it is turned over like a page' : ''}, ${write(foot)} from the foot, ${write(back)} from the back`
    const said =
      ways.length === 1
        ? `${where}; ${ways[0]?.said}`
        : `${where}; ${ways.map(({ numbers, said: way }) => `${runsOf(numbers).join(', ')} ${way}`).join('; ')}`
    return wrapped(said, TEXT, wide)
  })

const DOT = 0.55

/** Whether some sprue of a joint leaves it toward the front, 1, or the back, -1. */
const leaves = ({ sprues }: Joint, side: number): boolean =>
  sprues.some(({ rise }) => Math.sin(rise * DEGREE) * side > 0.2)

/** A joint seen square to a face or edge on: its stub, under the wax where it leaves behind it, and its number. */
interface Drawn {
  readonly under: Mark[]
  readonly over: Mark[]
}

const jointIn = (at: Flat, end: Flat, joint: Joint, scale: number, behind: boolean, taken: Flat[]): Drawn => {
  const [first] = joint.sprues
  const alone = waysOf(joint).length === 1
  const wide = joint.diameter * scale
  const stub = alone ? bar(at, end, wide) : circle(at, wide / 2, 'wax', 'sprue')
  const place = freePlace(at, alone ? end : at, Math.max(alone ? 0 : wide / 2), taken)
  taken.push(place)
  return {
    under: behind ? [stub] : [],
    over: [
      ...(behind ? [alone ? line(at, end, 'hidden') : circle(at, wide / 2, 'hidden')] : [stub]),
      circle(at, DOT, 'none', 'ink'),
      ...balloon(place, first?.number ?? 0),
    ],
  }
}

/** Beyond the end of a stub, turned aside where another number stands there. */
const freePlace = (from: Flat, to: Flat, least: number, taken: readonly Flat[]): Flat => {
  const [u, v] = [to[0] - from[0], to[1] - from[1]]
  const size = Math.hypot(u, v)
  const along = size < 1e-6 ? -Math.PI / 4 : Math.atan2(v, u)
  const out = Math.max(size, least, BALLOON) + BALLOON
  const tried = [0, 35, -35, 70, -70, 110, -110, 150, -150, 180].map((aside): Flat => {
    const turn = along + aside * DEGREE
    return [from[0] + out * Math.cos(turn), from[1] + out * Math.sin(turn)]
  })
  const isFree = ([x, y]: Flat): boolean =>
    taken.every(([a, b]) => Math.hypot(a - x, b - y) >= 2 * BALLOON + 0.3)
  return tried.find(isFree) ?? tried[0] ?? to
}

/**
 * A wax by itself: its broad face, under it edge on from its foot, and each joint from the left edge and the foot.
 * @param most  the widest and tallest it may be drawn
 */
export const waxCard = (card: WaxCard, write: Write, most: Flat): Block => {
  const [wide, tall, thick] = card.size
  const beside = LEVEL * card.joints.length + 3
  const scale = scaleOf(card.size, [most[0] - 2 * ROUND - beside - LEVEL, most[1] - 4 * ROUND - beside - 30])
  const [w, t, d] = [wide * scale, tall * scale, thick * scale]
  const width = Math.min(most[0], Math.max(beside + 2 * ROUND + w + 2 * LEVEL, LEAST))
  const lines = linesOf(card, write, width)
  const head = wrapped(captionOf(card, scale), TEXT, width)
  const above = head.length * LINE + beside
  const [toFront, toBack] = [1, -1].map((side) =>
    card.joints.some((joint) => leaves(joint, side) || joint.part === (side > 0 ? 'front' : 'back'))
      ? ROUND
      : EDGE,
  ) as [number, number]
  const toFoot = card.joints.some(({ foot: up, sprues }) => up * scale < ROUND && sprues.length > 0)
    ? ROUND
    : EDGE
  const drawn = above + ROUND + t + toFoot + toFront + d + toBack + LEVEL + 3
  return {
    width,
    height: drawn + lines.length * LINE + 3,
    draw: ([x, y]) => {
      const left = x + beside + ROUND
      const foot = y + above + ROUND + t
      const back = foot + toFoot + toFront + d
      const dimensions: Mark[] = []
      const taken: Flat[] = []
      const faces: Drawn[] = []
      const edges: Drawn[] = []
      card.joints.forEach((joint, k) => {
        const at: Flat = [left + joint.left * scale, foot - joint.foot * scale]
        const edge: Flat = [at[0], back - joint.back * scale]
        const { turn, rise } = joint.sprues[0] ?? { turn: 0, rise: 0 }
        const flat = STUB * Math.cos(rise * DEGREE)
        const right = flat * Math.cos(turn * DEGREE)
        const end: Flat = [at[0] + right, at[1] - flat * Math.sin(turn * DEGREE)]
        const edgeEnd: Flat = [edge[0] + right, edge[1] - STUB * Math.sin(rise * DEGREE)]
        faces.push(jointIn(at, end, joint, scale, joint.part === 'back', taken))
        edges.push(
          jointIn(edge, edgeEnd, joint, scale, Math.sin(turn * DEGREE) > 0.1 && joint.part === 'rim', taken),
        )
        dimensions.push(
          ...across([left, foot - t], at, y + above - 1 - LEVEL * k, write(joint.left)),
          ...upright(at, [left, foot], left - ROUND + 1 - LEVEL * k, write(joint.foot)),
        )
      })
      return [
        ...head.map((text, k) => words([x, y + TEXT + k * LINE], text, { bold: k === 0 })),
        ...faces.flatMap(({ under }) => under),
        ...edges.flatMap(({ under }) => under),
        ...solid(card.face, [left, foot], scale),
        ...solid(card.edge, [left, back], scale),
        line([left - 2, foot], [left + w + 2, foot], 'centre'),
        line([left, foot - t - 2], [left, back + 2], 'centre'),
        ...dimensions,
        ...across([left, back], [left + w, back], back + toBack + 3, write(wide)),
        ...upright([left + w, foot - t], [left + w, foot], left + w + ROUND, write(tall)),
        ...upright([left + w, back - d], [left + w, back], left + w + ROUND, write(thick), 'below'),
        ...faces.flatMap(({ over }) => over),
        ...edges.flatMap(({ over }) => over),
        ...lines.map((text, k) => words([x, y + drawn + 1 + (k + 1) * LINE], text)),
      ]
    },
  }
}
