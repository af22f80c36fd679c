import { sayLengths } from '../../quantity/say-lengths.ts'
import type { BenchTree } from './bench-tree.ts'
import { keyOf } from './key.ts'
import { levelsOf } from './levels.ts'
import { line, type Mark, shape, TEXT, words } from './marks.ts'
import type { Flat } from './silhouette.ts'
import {
  type Column,
  joinTable,
  orderTable,
  spareTable,
  sprueTable,
  standTable,
  type Table,
  tightestWords,
  type Writing,
  writing,
} from './tables.ts'
import { cutTo, wrapped } from './text-width.ts'
import { type Block, fromAbove, fromSide, type Level, treeViews } from './tree-views.ts'
import { waxCard } from './wax-cards.ts'

/** A page as wide as A4 and as high as Letter, so that either paper holds it, its margins within: mm. */
export const PAGE = { width: 210, height: 279 } as const
const MARGIN = 10
const WIDE = PAGE.width - 2 * MARGIN
/** A printer's own foot line stands below. */
const FOOT = PAGE.height - 17
const STRIP = 19
const AREA = { top: MARGIN, foot: FOOT - STRIP - 2 }
const TALL = AREA.foot - AREA.top
const GAP = 5
const ROW = 4.6
/** A table's title and the heads of its columns. */
const HEAD = 14.5
const LINE = 4
/** The key is as wide as the tree in a flask of common size leaves. */
const KEY = 55

export type SheetUnit = Writing['unit']

export interface Page {
  readonly marks: readonly Mark[]
}

/** Fills pages from the upper left: blocks side by side where they have room, tables over as many as they need. */
class Flow {
  readonly pages: Mark[][] = [[]]
  #x = MARGIN
  #y: number = AREA.top
  #below: number = AREA.top

  #add(marks: readonly Mark[]): void {
    this.pages.at(-1)?.push(...marks)
  }

  turn(): void {
    if (this.pages.at(-1)?.length !== 0) this.pages.push([])
    this.#x = MARGIN
    this.#y = AREA.top
    this.#below = AREA.top
  }

  #newRow(): void {
    if (this.#x === MARGIN) return
    this.#x = MARGIN
    this.#y = this.#below
  }

  put(block: Block): void {
    if (this.#x + block.width > MARGIN + WIDE + 1e-6) this.#newRow()
    if (this.#y + block.height > AREA.foot + 1e-6) this.turn()
    this.#add(block.draw([this.#x, this.#y]))
    this.#x += block.width + GAP
    this.#below = Math.max(this.#below, this.#y + block.height + GAP)
  }

  #room(height: number): boolean {
    return this.#y + height <= AREA.foot + 1e-6
  }

  #headOf({ title, columns }: Table, isFirst: boolean): void {
    const y = this.#y
    let x = MARGIN
    this.#add([words([MARGIN, y + 4], isFirst ? title : `${title}, continued`, { size: 3.6, bold: true })])
    for (const column of columns) {
      column.head.forEach((text, k) => {
        this.#add(cellOf(column, x, y + 9 + k * 3.6, text))
      })
      x += column.width
    }
    this.#add([line([MARGIN, y + 14.2], [x, y + 14.2], 'wide')])
    this.#y += HEAD
  }

  table(table: Table): void {
    this.#newRow()
    const notes = table.notes.flatMap((note) => wrapped(note, TEXT, WIDE)).length * LINE + 2
    const whole = HEAD + table.rows.length * ROW + notes
    if (!this.#room(whole <= TALL ? whole : HEAD + 3 * ROW)) this.turn()
    this.#headOf(table, true)
    for (const row of table.rows) {
      if (!this.#room(ROW)) {
        this.turn()
        this.#headOf(table, false)
      }
      let x = MARGIN
      table.columns.forEach((column, k) => {
        this.#add(cellOf(column, x, this.#y + ROW - 1.3, row[k] ?? ''))
        x += column.width
      })
      this.#add([line([MARGIN, this.#y + ROW], [x, this.#y + ROW], 'narrow')])
      this.#y += ROW
    }
    this.#y += 1.5
    this.notes(table.notes)
  }

  notes(notes: readonly string[]): void {
    this.#newRow()
    const lines = notes.flatMap((note) => wrapped(/[.!?]$/.test(note) ? note : `${note}.`, TEXT, WIDE))
    const whole = lines.length * LINE
    if (whole <= TALL && !this.#room(whole)) this.turn()
    for (const text of lines) {
      if (!this.#room(LINE)) this.turn()
      this.#add([words([MARGIN, this.#y + TEXT], text)])
      this.#y += LINE
    }
    this.#y += 3
    this.#below = this.#y
  }
}

const cellOf = ({ width, left }: Column, x: number, y: number, text: string): Mark[] => {
  if (text === '') return []
  const held = cutTo(text, TEXT, width - 1)
  return [left ? words([x + 1.5, y], held) : words([x + width - 1, y], held, { align: 'end' })]
}

/** A bar to check a print by, in the units of the sheet. */
const checkBar = (right: number, y: number, unit: SheetUnit): Mark[] => {
  const [parts, step, name] = unit === 'mm' ? ([10, 10, '100 mm'] as const) : ([4, 25.4, '4 in'] as const)
  const left = right - parts * step
  const marks: Mark[] = [
    words([left, y + 3], `This bar is ${name} long: measure it before you build by the drawing`),
    line([left, y + 7.5], [right, y + 7.5], 'wide'),
  ]
  for (let k = 0; k <= parts; k += 1)
    marks.push(
      line(
        [left + k * step, y + 7.5],
        [left + k * step, y + (k % 5 === 0 || unit === 'in' ? 4.5 : 6)],
        'narrow',
      ),
    )
  return marks
}

/** The sign of third-angle views: a cone from the side, and from its narrow end. */
const thirdAngle = ([x, y]: Flat): Mark[] => [
  shape(
    [
      [
        [x + 6, y + 1.6],
        [x + 12, y],
        [x + 12, y + 5],
        [x + 6, y + 3.4],
      ],
    ],
    'narrow',
    'none',
  ),
  { kind: 'circle', at: [x + 2.5, y + 2.5], radius: 0.9, line: 'narrow', fill: 'none' },
  { kind: 'circle', at: [x + 2.5, y + 2.5], radius: 2.5, line: 'narrow', fill: 'none' },
]

const strip = (tree: BenchTree, name: string, { unit, write }: Writing, page: number, of: number): Mark[] => {
  const y = FOOT - STRIP
  const { flask } = tree
  const room = WIDE - 106
  const inside =
    flask === null
      ? 'no flask of the rack holds it'
      : `flask ${write(flask.diameter)} × ${write(flask.height)} ${unit} inside`
  return [
    line([MARGIN, y], [MARGIN + WIDE, y], 'wide'),
    words([MARGIN, y + 5.5], cutTo(name, 4.2, room / 1.08), { size: 4.2, bold: true }),
    words([MARGIN, y + 10.3], 'where each wax and sprue goes'),
    words([MARGIN, y + 14.3], inside),
    words(
      [MARGIN, y + 18.3],
      `${unit === 'mm' ? 'millimetres' : 'inches'}, page ${page} of ${of}, third-angle`,
    ),
    ...thirdAngle([MARGIN + room - 14, y + 13.2]),
    ...checkBar(MARGIN + WIDE, y + 3, unit),
  ]
}

const SCALES = [1, 0.5, 0.2, 0.1] as const

/** Above over side where a page holds both, else each by itself, as large as it is if a page holds that. */
const viewsOf = (tree: BenchTree, level: Level, { write }: Writing): Block[] => {
  const scale =
    SCALES.find((one) => {
      const [above, side] = [fromAbove(tree, level, one), fromSide(tree, level, one, write)]
      return above.width <= WIDE && Math.max(above.height, side.height) <= TALL
    }) ?? 0.05
  const both = treeViews(tree, level, scale, write)
  return both.height <= TALL ? [both] : [fromAbove(tree, level, scale), fromSide(tree, level, scale, write)]
}

const HOT =
  'Caution: a hot wax tool burns, and wax that smokes is too hot to breathe over; let it cool a little, and air the room'

/** The sheet for the bench, page by page: the tree, its tables, each wax by itself. */
export const sheetPages = (tree: BenchTree, name: string, unit: SheetUnit): Page[] => {
  const writes = writing(unit)
  // told in millimetres by whoever judged the tree
  const names = tree.waxes.map((wax) => wax.name)
  const told = tree.notes.map((note) => sayLengths(note, unit, names))
  const flow = new Flow()
  if (tree.flask !== null) {
    levelsOf(tree).forEach((level, k) => {
      for (const block of viewsOf(tree, level, writes)) flow.put(block)
      if (k === 0) flow.put(keyOf(tree, KEY, writes.write, unit))
    })
    for (const card of tree.cards) flow.put(waxCard(card, writes.write, [WIDE, TALL]))
    flow.notes([HOT, ...tightestWords(tree, writes), ...told])
    for (const table of [orderTable, sprueTable, joinTable, standTable, spareTable])
      flow.table(table(tree, writes))
  } else flow.notes(told)
  return flow.pages.map((marks, at) => ({
    marks: [...marks, ...strip(tree, name, writes, at + 1, flow.pages.length)],
  }))
}
