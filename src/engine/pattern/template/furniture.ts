import { millimetresPer } from '../../piece/mesh/index.ts'
import type { Place } from '../drawing.ts'
import type { Compensation } from './compensate.ts'
import { percentOver, smallFigure, type TemplateUnit } from './figures.ts'
import { box, dot, fitted, inLines, line, type SheetMark, words } from './marks.ts'
import { MARGIN, PAPER_WORDS, type Paper } from './paper.ts'

const SMALL = 3.1

/** A graduated bar: a tick each step, longer ones at the steps named, figures under those. */
const bar = (
  [x, y]: Place,
  step: number,
  count: number,
  long: (tick: number) => 'long' | 'middle' | 'short',
  figures: readonly (readonly [tick: number, text: string])[],
): SheetMark[] => [
  line('frame', [x, y], [x + step * count, y]),
  ...Array.from({ length: count + 1 }, (_, tick) => {
    const size = long(tick)
    const deep = { long: 3.6, middle: 2.4, short: 1.6 }[size]
    return line(size === 'long' ? 'region' : 'tick', [x + step * tick, y], [x + step * tick, y + deep])
  }),
  ...figures.map(([tick, text]) => words(text, [x + step * tick, y + 7], SMALL, { anchor: 'middle' })),
]

/** Both bars, measured before anything is cut. */
export const checkBars = (paper: Paper, y: number): SheetMark[] => {
  const inches = paper.width_mm - MARGIN - 2 * millimetresPer.in - 3
  return [
    ...bar(
      [MARGIN, y],
      1,
      100,
      (tick) => (tick % 10 === 0 ? 'long' : tick % 5 === 0 ? 'middle' : 'short'),
      [0, 20, 40, 60, 80, 100].map((tick) => [tick, `${tick}`] as const),
    ),
    words('mm', [MARGIN + 104, y + 7], SMALL),
    ...bar(
      [inches, y],
      millimetresPer.in / 16,
      32,
      (tick) => (tick % 16 === 0 ? 'long' : tick % 4 === 0 ? 'middle' : 'short'),
      [
        [0, '0'],
        [16, '1'],
        [32, '2 in'],
      ],
    ),
  ]
}

/** Where the upright bar begins, mm from the top; on every sheet, for the paper's own speed through the printer. */
export const UPRIGHT_BAR = { x: 13, y: 62 } as const

const uprightBar = (): SheetMark[] => {
  const { x, y } = UPRIGHT_BAR
  return [
    line('frame', [x, y], [x, y + 100]),
    ...Array.from({ length: 11 }, (_, tick) =>
      line(
        tick % 5 === 0 ? 'region' : 'tick',
        [x, y + 10 * tick],
        [x - (tick % 5 === 0 ? 2.7 : 1.6), y + 10 * tick],
      ),
    ),
    words('100 mm', [x, y + 102], 2.6, { turned: true, anchor: 'end' }),
  ]
}

/** What the lines are over the finished size by, in one sentence. */
export const sayCompensation = (compensation: Compensation, unit: TemplateUnit): string => {
  const { shrink, shrinkLow, shrinkHigh, finish_mm } = compensation
  const filing = `${smallFigure(finish_mm, unit)} ${unit} for filing, rim and openings`
  if (shrink === 0)
    return finish_mm === 0
      ? 'Drawn at the finished size: nothing added for shrink or filing.'
      : `Drawn at the finished size, with ${filing}; nothing added for shrink.`
  const range =
    shrinkLow === undefined || shrinkHigh === undefined
      ? ''
      : ` (${percentOver(shrinkLow)} to ${percentOver(shrinkHigh)})`
  const over = `All lines ${percentOver(shrink)}% over the finished size${range}`
  return finish_mm === 0 ? `${over}; nothing for filing.` : `${over}; ${filing}.`
}

export interface HeadWords {
  readonly name: string
  readonly under: string
  /** what the last print's bar measured, when this one is corrected by it */
  readonly measured?: string
}

const MEASURE = 'Measure these before you cut.'

const howToPrint = (measured?: string): string =>
  measured === undefined
    ? 'Print at 100%. If the bars are off by more than 0.3 mm, don’t use this sheet: enter what the 100 measures.'
    : `Corrected for a printer whose 100 mm came out ${measured}. Print at 100%, on that printer only.`

/** The first sheet says everything; the others say what they are, and carry the bars too. */
export const headOf = (paper: Paper, head: HeadWords, first: boolean): SheetMark[] => {
  const right = paper.width_mm - MARGIN
  if (!first)
    return [
      fitted(head.name, [MARGIN, 17], 4.6, right - MARGIN - 82, 'serif'),
      words(MEASURE, [right, 15], SMALL, { face: 'semibold', anchor: 'end' }),
      words(
        head.measured === undefined
          ? 'Print at 100%.'
          : `Print at 100%, on the printer whose 100 came out ${head.measured}.`,
        [right, 19.4],
        SMALL,
        { anchor: 'end' },
      ),
      line('outline', [MARGIN, 22], [right, 22]),
      ...checkBars(paper, 26),
      ...uprightBar(),
      words(head.under, [MARGIN, 39.5], SMALL),
    ]
  return [
    fitted(head.name, [MARGIN, 18], 7, right - MARGIN, 'serif'),
    words(head.under, [MARGIN, 24.5], 3.4),
    line('outline', [MARGIN, 28], [right, 28]),
    words(MEASURE, [MARGIN, 35], 3.4, { face: 'semibold' }),
    words(howToPrint(head.measured), [MARGIN, 39.6], SMALL),
    ...checkBars(paper, 46),
    ...uprightBar(),
  ]
}

/** The cone of the third angle: its round end at the left of its side view. */
const thirdAngle = (x: number, y: number): SheetMark[] => [
  { shape: 'round', line: 'region', at: [x + 4, y], radius_mm: 2.4 },
  { shape: 'round', line: 'region', at: [x + 4, y], radius_mm: 1.2 },
  {
    shape: 'stroke',
    line: 'region',
    runs: [
      {
        points: Float64Array.of(x + 8.5, y - 1.2, x + 14, y - 2.4, x + 14, y + 2.4, x + 8.5, y + 1.2),
        closed: true,
      },
    ],
  },
  line('thin', [x, y], [x + 7.6, y]),
  line('thin', [x + 7.9, y], [x + 14.8, y]),
  line('thin', [x + 4, y - 3.3], [x + 4, y + 3.3]),
]

export interface BlockWords {
  readonly piece: string
  readonly stock: string
  readonly shrink: string
  readonly unit: TemplateUnit
}

const BLOCK = { wide: 112, high: 22 }

export const titleBlock = (paper: Paper, of: BlockWords, number: number, count: number): SheetMark[] => {
  const x = paper.width_mm - MARGIN - BLOCK.wide
  const y = paper.height_mm - 14 - BLOCK.high
  const cell = (dx: number, dy: number, name: string, value: string, wide: number): SheetMark[] => [
    words(name, [x + dx + 2, y + dy + 4], 2.5),
    fitted(value, [x + dx + 2, y + dy + 8.7], 3.4, wide - 3, 'semibold'),
  ]
  return [
    box('frame', x, y, BLOCK.wide, BLOCK.high),
    line('frame', [x, y + 11], [x + BLOCK.wide, y + 11]),
    line('frame', [x + 42, y], [x + 42, y + BLOCK.high]),
    line('frame', [x + 78, y], [x + 78, y + BLOCK.high]),
    line('frame', [x + 94, y + 11], [x + 94, y + BLOCK.high]),
    ...cell(0, 0, 'Piece', of.piece, 42),
    ...cell(42, 0, 'Wax to cut from', of.stock, 36),
    ...cell(78, 0, 'Scale', '1:1', 34),
    ...cell(0, 11, 'Shrink', of.shrink, 42),
    ...cell(42, 11, 'Sheet', `${number} of ${count}, ${PAPER_WORDS[paper.name]}`, 36),
    ...cell(78, 11, 'Units', of.unit, 16),
    ...thirdAngle(x + 95.5, y + 16.5),
  ]
}

const CARE =
  'Cut away from the hand that holds. Scrape wax or wet it rather than sand it dry, and keep its dust from your lungs. The wax maker’s sheet comes first.'

/** A triangle with its stroke and dot, for the carver's own sake, at the foot beside the title block. */
export const careNote = (paper: Paper): SheetMark[] => {
  const [x, y] = [MARGIN, paper.height_mm - 14 - BLOCK.high]
  const wide = paper.width_mm - 2 * MARGIN - BLOCK.wide - 4
  const top = y + 1
  return [
    {
      shape: 'stroke',
      line: 'frame',
      runs: [{ points: Float64Array.of(x + 2.4, top, x + 4.8, top + 4.2, x, top + 4.2), closed: true }],
    },
    line('frame', [x + 2.4, top + 1.5], [x + 2.4, top + 2.8]),
    dot([x + 2.4, top + 3.5], 0.25),
    words('Caution.', [x + 6.2, top + 3.6], SMALL, { face: 'semibold' }),
    ...inLines(CARE, 2.6, wide).map((text, index) => words(text, [x, top + 8.2 + 3.4 * index], 2.6)),
  ]
}
