import type { Correction, Heights } from '../../../../engine/documents/heights.ts'
import type { Place } from '../../../../engine/pattern/drawing.ts'

/** What a press on the drawing does. */
export type Tool = 'look' | 'drop' | 'join' | 'move' | 'mirror' | 'section' | 'hardware'

export interface ToolFacts {
  readonly name: string
  /** how many places it takes */
  readonly places: 1 | 2
  readonly first: string
  readonly second: string
}

export const TOOLS: Readonly<Record<Exclude<Tool, 'look'>, ToolFacts>> = {
  drop: { name: 'Drop specks', places: 1, first: 'Press the speck or line to leave out.', second: '' },
  join: {
    name: 'Join a gap',
    places: 2,
    first: 'Press one side of the gap.',
    second: 'Press the other side.',
  },
  move: {
    name: 'Move a point',
    places: 2,
    first: 'Press the place on the line that lies wrong.',
    second: 'Press where it should lie.',
  },
  mirror: {
    name: 'Mirror a half',
    places: 2,
    first: 'Press one end of the middle line. What lies to its left is kept.',
    second: 'Press its other end.',
  },
  section: {
    name: 'Place a section',
    places: 2,
    first: 'Press where the cut begins.',
    second: 'Press where it ends.',
  },
  hardware: { name: 'Place it', places: 1, first: 'Press where it stands on the back.', second: '' },
}

const rounded = ([x, y]: Place): [number, number] => [Number(x.toFixed(3)), Number(y.toFixed(3))]

/** A corrected place moves the line round it too, this far. */
const MOVE_REACH_MM = 2

const LETTERS = 'ABCDEFGH'

const freeName = (taken: readonly string[]): string =>
  [...LETTERS].find((letter) => !taken.includes(letter)) ?? String(taken.length + 1)

const corrected = (heights: Heights, correction: Correction): Heights => ({
  ...heights,
  corrections: [...heights.corrections, correction],
})

/** The document with one of its hardware stood at a place of the drawing. */
export const withHardwareAt = (heights: Heights, which: number, place: Place): Heights => ({
  ...heights,
  hardware: heights.hardware.map((one, index) => (index === which ? { ...one, at_mm: rounded(place) } : one)),
})

/** The document after a tool was used at its places. @param which  of the hardware, for the tool that stands it */
export const withTool = (
  heights: Heights,
  tool: Exclude<Tool, 'look'>,
  from: Place,
  to: Place,
  which = 0,
): Heights => {
  const [from_mm, to_mm] = [rounded(from), rounded(to)]
  switch (tool) {
    case 'drop':
      return corrected(heights, { do: 'drop', at_mm: from_mm })
    case 'join':
      return corrected(heights, { do: 'join', from_mm, to_mm })
    case 'mirror':
      return corrected(heights, { do: 'mirror', from_mm, to_mm })
    case 'move':
      return corrected(heights, { do: 'move', from_mm, to_mm, reach_mm: MOVE_REACH_MM })
    case 'section': {
      const name = freeName(heights.sections.map((section) => section.name))
      return { ...heights, sections: [...heights.sections, { name, from_mm, to_mm }] }
    }
    case 'hardware':
      return withHardwareAt(heights, which, from_mm)
  }
}

const at = ([x, y]: readonly [number, number], write: (mm: number) => string): string =>
  `${write(x)}, ${write(y)}`

/** What a correction did, for its line in the list. */
export const sayCorrection = (correction: Correction, write: (mm: number) => string): string => {
  switch (correction.do) {
    case 'drop':
      return `left out at ${at(correction.at_mm, write)}`
    case 'join':
      return `joined from ${at(correction.from_mm, write)} to ${at(correction.to_mm, write)}`
    case 'move':
      return `moved from ${at(correction.from_mm, write)} to ${at(correction.to_mm, write)}`
    case 'mirror':
      return `left half kept and mirrored at the line from ${at(correction.from_mm, write)} to ${at(correction.to_mm, write)}`
  }
}
