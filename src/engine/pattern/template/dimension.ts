import type { Place } from '../drawing.ts'
import { type Filled, line, type SheetMark, widthOf, words } from './marks.ts'

/** Between the outline and its extension line, and how far that runs past the dimension line. */
const GAP = 1
const PAST = 1.6
const ARROW = 3
/** Half the opening of an arrow of 15 degrees. */
const OPENING = Math.tan((7.5 * Math.PI) / 180)
export const FIGURES = 3.1

/** A filled arrow with its tip at a place, pointing along a unit vector. */
export const arrow = ([x, y]: Place, [dx, dy]: Place, length = ARROW): Filled => {
  const half = length * OPENING
  const [backX, backY] = [x - length * dx, y - length * dy]
  return {
    shape: 'filled',
    points: Float64Array.of(x, y, backX - half * dy, backY + half * dx, backX + half * dy, backY - half * dx),
  }
}

interface LevelDimension {
  readonly from: Place
  readonly to: Place
  /** where the dimension line runs: y of a level one, x of an upright one */
  readonly at: number
  readonly text: string
}

/** Arrows stand outside, pointing in, where the line is too short for two of them; so does a long value. */
const roomFor = (long: number, text: string): { tight: boolean; outside: boolean } => {
  const tight = long < 2 * ARROW + 1.5
  return { tight, outside: widthOf(text, FIGURES) > long - (tight ? 0 : 1) }
}

/** A size across (ISO 129-1): extension lines with a gap, filled arrows, the value above the line. */
export const across = ({ from, to, at, text }: LevelDimension): SheetMark[] => {
  const [left, right] = from[0] <= to[0] ? [from, to] : [to, from]
  const away = at < Math.min(left[1], right[1]) ? -1 : 1
  const { tight, outside } = roomFor(right[0] - left[0], text)
  const tail = tight ? 2 * ARROW : 0
  const place = outside ? right[0] + Math.max(tail, 1) + widthOf(text, FIGURES) / 2 : (left[0] + right[0]) / 2
  return [
    line('thin', [left[0], left[1] + away * GAP], [left[0], at + away * PAST]),
    line('thin', [right[0], right[1] + away * GAP], [right[0], at + away * PAST]),
    line('thin', [left[0] - tail, at], [outside ? place + widthOf(text, FIGURES) / 2 : right[0] + tail, at]),
    arrow([left[0], at], [tight ? 1 : -1, 0]),
    arrow([right[0], at], [tight ? -1 : 1, 0]),
    words(text, [place, at - 0.9], FIGURES, { anchor: 'middle' }),
  ]
}

/** A size upright, read from the right. */
export const upright = ({ from, to, at, text }: LevelDimension): SheetMark[] => {
  const [upper, lower] = from[1] <= to[1] ? [from, to] : [to, from]
  const away = at < Math.min(upper[0], lower[0]) ? -1 : 1
  const { tight, outside } = roomFor(lower[1] - upper[1], text)
  const tail = tight ? 2 * ARROW : 0
  const place = outside
    ? upper[1] - Math.max(tail, 1) - widthOf(text, FIGURES) / 2
    : (upper[1] + lower[1]) / 2
  return [
    line('thin', [upper[0] + away * GAP, upper[1]], [at + away * PAST, upper[1]]),
    line('thin', [lower[0] + away * GAP, lower[1]], [at + away * PAST, lower[1]]),
    line('thin', [at, outside ? place - widthOf(text, FIGURES) / 2 : upper[1] - tail], [at, lower[1] + tail]),
    arrow([at, upper[1]], [0, tight ? 1 : -1]),
    arrow([at, lower[1]], [0, tight ? -1 : 1]),
    words(text, [at - 0.9, place], FIGURES, { anchor: 'middle', turned: true }),
  ]
}
