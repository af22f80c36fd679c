import type { Loop, Place, Run } from '../drawing.ts'

/**
 * What stands on a printed sheet, in millimetres from its upper left corner: x to the right, y down.
 * Drawings have y up; whatever lays something on a sheet turns it over once, and says so.
 */
export type LineKind =
  | 'outline'
  | 'region'
  | 'vein'
  | 'hidden'
  | 'centre'
  | 'saw'
  | 'blank'
  | 'thin'
  | 'hatch'
  | 'section'
  | 'plane-end'
  | 'frame'
  | 'tick'
  | 'register'

/** `dash_mm`: drawn, left out, drawn ... */
export interface Pen {
  readonly wide_mm: number
  readonly dash_mm: readonly number[]
}

const WIDE = 0.5
const NARROW = 0.25

/** Long dashes of 24, gaps of 3, dots of half a line's width; plain dashes of 12: ISO 128-20, from memory. */
const chain = (dots: number, wide: number): number[] => [
  24 * wide,
  ...Array.from({ length: dots }, () => [3 * wide, 0.5 * wide]).flat(),
  3 * wide,
]

/** Widths stand two to one (ISO 128). */
export const PENS: Readonly<Record<LineKind, Pen>> = {
  outline: { wide_mm: WIDE, dash_mm: [] },
  region: { wide_mm: NARROW, dash_mm: [] },
  vein: { wide_mm: 0.18, dash_mm: [] },
  hidden: { wide_mm: NARROW, dash_mm: [12 * NARROW, 3 * NARROW] },
  centre: { wide_mm: NARROW, dash_mm: chain(1, NARROW) },
  saw: { wide_mm: NARROW, dash_mm: chain(1, NARROW) },
  // an outline before forming takes two dots
  blank: { wide_mm: NARROW, dash_mm: chain(2, NARROW) },
  thin: { wide_mm: 0.18, dash_mm: [] },
  hatch: { wide_mm: 0.13, dash_mm: [] },
  // narrow, so that a step of a few tenths stays open between its lines
  section: { wide_mm: NARROW, dash_mm: [] },
  'plane-end': { wide_mm: WIDE, dash_mm: [] },
  frame: { wide_mm: 0.35, dash_mm: [] },
  tick: { wide_mm: 0.13, dash_mm: [] },
  register: { wide_mm: 0.18, dash_mm: [] },
}

export interface Stroke {
  readonly shape: 'stroke'
  readonly line: LineKind
  readonly runs: readonly Run[]
  /** the region whose lines these are */
  readonly id?: string
}

/** Black, without an edge: arrows and dots. */
export interface Filled {
  readonly shape: 'filled'
  readonly points: Loop
}

/** A circle whose inside hides what lies beneath. */
export interface Round {
  readonly shape: 'round'
  readonly line: LineKind
  readonly at: Place
  readonly radius_mm: number
}

export type Face = 'regular' | 'semibold' | 'serif'

/** `at` is on the line the letters stand on. A turned text reads from the right: upward. */
export interface Words {
  readonly shape: 'words'
  readonly at: Place
  readonly text: string
  readonly size_mm: number
  readonly face: Face
  readonly anchor: 'start' | 'middle' | 'end'
  readonly turned: boolean
  /** clears the paper beneath the letters, where they stand on lines */
  readonly cleared: boolean
}

export type SheetMark = Stroke | Filled | Round | Words

export const line = (kind: LineKind, ...places: readonly Place[]): Stroke => ({
  shape: 'stroke',
  line: kind,
  runs: [{ points: Float64Array.from(places.flat()), closed: false }],
})

export const box = (kind: LineKind, x: number, y: number, wide: number, high: number): Stroke => ({
  shape: 'stroke',
  line: kind,
  runs: [{ points: Float64Array.of(x, y, x + wide, y, x + wide, y + high, x, y + high), closed: true }],
})

export const loops = (kind: LineKind, of: readonly Loop[], id?: string): Stroke => ({
  shape: 'stroke',
  line: kind,
  runs: of.map((points) => ({ points, closed: true })),
  ...(id === undefined ? {} : { id }),
})

export const words = (
  text: string,
  at: Place,
  size_mm: number,
  rest: Partial<Omit<Words, 'shape' | 'text' | 'at' | 'size_mm'>> = {},
): Words => ({
  shape: 'words',
  text,
  at,
  size_mm,
  face: 'regular',
  anchor: 'start',
  turned: false,
  cleared: false,
  ...rest,
})

/** A dot as a polygon round enough for its size. */
export const dot = ([x, y]: Place, radius: number): Filled => ({
  shape: 'filled',
  points: Float64Array.from(
    Array.from({ length: 24 }, (_, i) => [
      x + radius * Math.cos((i * Math.PI) / 12),
      y + radius * Math.sin((i * Math.PI) / 12),
    ]).flat(),
  ),
})

export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

const pointsOf = (mark: SheetMark): readonly Place[] => {
  switch (mark.shape) {
    case 'stroke':
      return mark.runs.flatMap(({ points }) => pairs(points))
    case 'filled':
      return pairs(mark.points)
    case 'round': {
      const [x, y] = mark.at
      return [
        [x - mark.radius_mm, y - mark.radius_mm],
        [x + mark.radius_mm, y + mark.radius_mm],
      ]
    }
    case 'words': {
      const [x, y] = mark.at
      const wide = widthOf(mark.text, mark.size_mm)
      const from = { start: 0, middle: -wide / 2, end: -wide }[mark.anchor]
      const up = mark.size_mm * 0.8
      return mark.turned
        ? [
            [x - up, y - from - wide],
            [x, y - from],
          ]
        : [
            [x + from, y - up],
            [x + from + wide, y + mark.size_mm * 0.2],
          ]
    }
  }
}

const pairs = (points: Loop): Place[] =>
  Array.from({ length: points.length / 2 }, (_, i): Place => [points[2 * i] ?? 0, points[2 * i + 1] ?? 0])

/** The rectangle that marks take up, letters included by their usual widths. */
export const boxOf = (marks: readonly SheetMark[]): Box => {
  let box: Box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }
  for (const mark of marks)
    for (const [x, y] of pointsOf(mark))
      box = {
        left: Math.min(box.left, x),
        top: Math.min(box.top, y),
        right: Math.max(box.right, x),
        bottom: Math.max(box.bottom, y),
      }
  return box
}

/** The same marks further right and down. */
export const moved = (marks: readonly SheetMark[], dx: number, dy: number): SheetMark[] => {
  const shift = (points: Loop): Loop => points.map((value, index) => value + (index % 2 === 0 ? dx : dy))
  const place = ([x, y]: Place): Place => [x + dx, y + dy]
  const move = (mark: SheetMark): SheetMark => {
    switch (mark.shape) {
      case 'stroke':
        return { ...mark, runs: mark.runs.map((run) => ({ ...run, points: shift(run.points) })) }
      case 'filled':
        return { ...mark, points: shift(mark.points) }
      case 'round':
      case 'words':
        return { ...mark, at: place(mark.at) }
    }
  }
  return marks.map(move)
}

const NARROW_LETTERS = /[ijl.,:;'’|!fI()[\] \u00a0t]/
const WIDE_LETTERS = /[mwMW%@—]/
/**
 * About how wide a text is, millimetres; a little more than the sheet's own face takes, so that what is laid
 * by it never runs over. The engine holds no fonts.
 */
export const widthOf = (text: string, size_mm: number): number =>
  size_mm *
  [...text].reduce(
    (sum, letter) =>
      sum +
      (NARROW_LETTERS.test(letter)
        ? 0.34
        : WIDE_LETTERS.test(letter)
          ? 0.92
          : /[A-Z]/.test(letter)
            ? 0.7
            : 0.58),
    0,
  )

/** Heavier faces take more room than the plain one, by at most so much. */
const WIDER: Readonly<Record<Face, number>> = { regular: 1.02, semibold: 1.12, serif: 1.2 }

/** Words made to fit a width: smaller down to seven tenths of their size, then cut short. */
export const fitted = (
  text: string,
  at: Place,
  size_mm: number,
  most_mm: number,
  face: Face = 'regular',
): Words => {
  const wide = (part: string): number => widthOf(part, size_mm) * WIDER[face]
  const smaller = Math.min(1, most_mm / wide(text))
  if (smaller >= 0.7) return words(text, at, size_mm * smaller, { face })
  const letters = [...text]
  while (letters.length > 1 && wide(`${letters.join('')}…`) * 0.7 > most_mm) letters.pop()
  return words(`${letters.join('').trimEnd()}…`, at, size_mm * 0.7, { face })
}

/** A text in lines no wider than `most_mm`, broken at spaces. */
export const inLines = (text: string, size_mm: number, most_mm: number): string[] => {
  const lines: string[] = []
  for (const word of text.split(' ')) {
    const last = lines.at(-1)
    if (last !== undefined && widthOf(`${last} ${word}`, size_mm) <= most_mm)
      lines[lines.length - 1] = `${last} ${word}`
    else lines.push(word)
  }
  return lines
}
