import type PDFDocument from 'pdfkit'
import type { Block, Row, Section, Sheet, Sign, SignLevel, Signs } from './sheet.ts'
import { drawSign } from './signs.ts'
import type { Line, Run, TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>

const MM = 72 / 25.4

/** How close the lines stand: a sheet takes the roomiest that keeps it on one side, or on two by the day. */
interface Spacing {
  readonly row: number
  readonly lead: number
  readonly pad: number
  /** the signs of a step run on in one paragraph */
  readonly close: boolean
}

const SPACINGS: readonly Spacing[] = [
  { row: 18.5, lead: 13.2, pad: 3.4, close: false },
  { row: 17, lead: 12.6, pad: 2.4, close: false },
  { row: 17, lead: 12.6, pad: 2.4, close: true },
  { row: 16, lead: 12.2, pad: 1.8, close: true },
  { row: 15, lead: 11.8, pad: 1.4, close: true },
  { row: 14.3, lead: 11.4, pad: 1.2, close: true },
  { row: 13.4, lead: 11.1, pad: 0.8, close: true },
  { row: 12.6, lead: 10.9, pad: 1.5, close: true },
  { row: 12.4, lead: 10.7, pad: 1, close: true },
]
const SIZE = { body: 10.5, plan: 11.5, under: 9, small: 9, heading: 12.5, number: 18, title: 22, cast: 12 }
const MARGIN = { left: 14 * MM, right: 11 * MM, top: 10 * MM, bottom: 10 * MM }
const COLUMN = { heading: 41 * MM, number: 7 * MM, tick: 6 * MM, got: 26 * MM, gap: 3 * MM }
const PLATE = 23 * MM
/** A section up to this tall goes to the next page whole. */
const SHORT_SECTION = 260
/** Room for a heading and a line to write on. */
const NOTES = 8 * MM
/** What stands at the head of a further side. */
const NEXT_HEAD = 30
const GREY = '#333'

const HELD_FOR_SIGN = '\u00a0'.repeat(6)

const wordOf = (level: SignLevel): string => `${level.charAt(0).toUpperCase()}${level.slice(1)}`

interface Measured {
  readonly height: number
  draw(top: number): void
}

interface Heading extends Measured {
  again(): Measured
}

/** Draws a sheet on as many pages as it needs; a step never breaks across two. */
export class SheetDrawing {
  readonly #doc: Doc
  readonly #type: TypeSetter
  readonly #sheet: Sheet
  readonly #plate: (x: number, y: number, size: number) => void
  #spacing: Spacing = SPACINGS[0] as Spacing
  #y = 0
  /** whether the sheet takes a side for the way into the kiln and one for the day of the cast */
  #sides = false
  #day = 'Up to the kiln; the day of the cast is on the next side'

  constructor(doc: Doc, type: TypeSetter, sheet: Sheet, plate: (x: number, y: number, size: number) => void) {
    this.#doc = doc
    this.#type = type
    this.#sheet = sheet
    this.#plate = plate
  }

  get #left(): number {
    return MARGIN.left
  }
  get #right(): number {
    return this.#doc.page.width - MARGIN.right
  }
  get #body(): number {
    return this.#left + COLUMN.heading
  }
  /** The foot line stands below this. */
  get #floor(): number {
    return this.#doc.page.height - MARGIN.bottom - 13
  }

  draw(): void {
    const head = this.#headHeight()
    const { sections } = this.#sheet
    const day = sections.findIndex(({ opensSide }) => opensSide === true)
    const notes = NOTES + this.#notesLines().length * 13
    const first = MARGIN.top + head
    const roomiest = (fits: () => boolean): Spacing | undefined =>
      SPACINGS.find((spacing) => {
        this.#spacing = spacing
        return fits()
      })
    const one = roomiest(() => first + this.#heightOf(sections) + notes <= this.#floor)
    this.#sides = one === undefined && day > 0
    this.#spacing =
      one ??
      roomiest(
        () =>
          first + this.#heightOf(sections.slice(0, day)) <= this.#floor &&
          MARGIN.top + NEXT_HEAD + this.#heightOf(sections.slice(day)) + notes <= this.#floor,
      ) ??
      (SPACINGS[0] as Spacing)
    this.#drawHead()
    for (const section of sections) {
      if (this.#sides && section.opensSide === true) {
        this.#day = 'The day of the cast'
        this.#nextPage()
      }
      this.#drawSection(section)
    }
    this.#drawNotes()
  }

  /** Foot lines, once the number of pages is known. */
  drawFeet(): void {
    const { start, count } = this.#doc.bufferedPageRange()
    for (let page = 0; page < count; page += 1) {
      this.#doc.switchToPage(start + page)
      const base = this.#doc.page.height - MARGIN.bottom - 2
      this.#type.draw([{ text: this.#sheet.foot, face: 'regular' }], this.#left, base, 8.2, GREY)
      this.#type.drawRight(
        { text: `Sheet ${page + 1} of ${count}, ${this.#sheet.printed}`, face: 'regular' },
        this.#right,
        base,
        8.2,
        GREY,
      )
    }
  }

  #rule(y: number, wide: number, from = this.#left, ink = '#000'): void {
    this.#doc.lineWidth(wide).lineCap('butt').moveTo(from, y).lineTo(this.#right, y).stroke(ink)
  }

  #drawLines(
    lines: readonly Line[],
    x: number,
    first: number,
    size: number,
    lead: number,
    ink?: string,
  ): void {
    lines.forEach((line, index) => {
      this.#type.draw(line.runs, x, first + index * lead, size, ink)
    })
  }

  #headParts() {
    const { over, title, cast, pieces, stops } = this.#sheet
    const wide = this.#right - this.#left - PLATE - 6 * MM
    const castRuns: Run[] = [
      { text: cast.before, face: 'regular' },
      { text: cast.moment, face: 'bold' },
      { text: cast.after, face: 'regular' },
    ]
    return {
      over: this.#type.lines([{ text: over, face: 'regular' }], SIZE.body, wide),
      title: this.#type.lines([{ text: title, face: 'serif' }], SIZE.title, wide),
      cast: this.#type.lines(castRuns, SIZE.cast, wide),
      pieces: this.#type.lines([{ text: pieces, face: 'regular' }], SIZE.body, wide),
      stops: stops.map((stop) =>
        this.#type.lines(
          [
            { text: `${stop.title} `, face: 'bold' },
            { text: stop.words, face: 'regular' },
          ],
          SIZE.body,
          this.#right - this.#left - 30,
        ),
      ),
    }
  }

  #stopsHeight(stops: readonly (readonly Line[])[]): number {
    return stops.length === 0 ? 0 : 30 + stops.reduce((sum, lines) => sum + lines.length * 13 + 3, 0)
  }

  #headHeight(): number {
    const { over, title, cast, pieces, stops } = this.#headParts()
    const words = over.length * 13 + title.length * 24.5 + cast.length * 15 + pieces.length * 13 + 3.5
    return Math.max(words, PLATE + 2) + this.#stopsHeight(stops) + 14
  }

  #drawHead(): void {
    const { over, title, cast, pieces, stops } = this.#headParts()
    let y = MARGIN.top
    this.#drawLines(over, this.#left, y + 9, SIZE.body, 13)
    y += over.length * 13
    this.#drawLines(title, this.#left, y + 21, SIZE.title, 24.5)
    y += title.length * 24.5
    this.#drawLines(cast, this.#left, y + 14.5, SIZE.cast, 15)
    y += cast.length * 15
    this.#drawLines(pieces, this.#left, y + 12.5, SIZE.body, 13)
    this.#plate(this.#right - PLATE - 6, MARGIN.top, PLATE)
    y = MARGIN.top + this.#headHeight() - 14 - this.#stopsHeight(stops)
    if (stops.length > 0) y = this.#drawStops(stops, y)
    this.#y = y
    this.#drawColumns()
  }

  #drawStops(stops: readonly (readonly Line[])[], top: number): number {
    const height = this.#stopsHeight(stops) - 6
    const { stopCount } = this.#sheet
    this.#doc
      .lineWidth(2.6)
      .rect(this.#left, top + 1, this.#right - this.#left, height)
      .stroke('#000')
    this.#type.draw([{ text: 'NOT READY', face: 'bold' }], this.#left + 8, top + 18, 15)
    this.#type.drawRight(
      { text: stopCount === 1 ? 'one stop' : `${stopCount} stops`, face: 'bold' },
      this.#right - 8,
      top + 18,
      SIZE.plan,
    )
    let y = top + 24
    for (const lines of stops) {
      drawSign(this.#doc, 'stop', this.#left + 7, y + 0.5, 12)
      this.#drawLines(lines, this.#left + 24, y + 10, SIZE.body, 13)
      y += lines.length * 13 + 3
    }
    return top + height + 6
  }

  #drawColumns(): void {
    const base = this.#y + 9
    const got = this.#right - COLUMN.got
    if (this.#sides)
      this.#type.draw([{ text: this.#day, face: 'semibold' }], this.#body + 30, base, SIZE.small, GREY)
    this.#type.draw([{ text: 'Tick', face: 'regular' }], this.#body, base, SIZE.small, GREY)
    this.#type.drawRight({ text: 'Plan', face: 'regular' }, got - COLUMN.gap, base, SIZE.small, GREY)
    this.#type.draw([{ text: 'What you got', face: 'regular' }], got, base, SIZE.small, GREY)
    this.#y += 14
    this.#rule(this.#y, 1.2)
  }

  #nextPage(): void {
    this.#doc.addPage()
    this.#y = MARGIN.top
    const { title, over } = this.#sheet
    this.#type.draw(
      [
        { text: `${title}. `, face: 'bold' },
        { text: over, face: 'regular' },
      ],
      this.#left,
      this.#y + 9,
      SIZE.body,
    )
    this.#y += 16
    this.#drawColumns()
  }

  #measureRow(row: Row): Measured {
    const { row: least, lead } = this.#spacing
    const got = this.#right - COLUMN.got
    const planWide =
      row.plan === undefined ? 0 : this.#type.width({ text: row.plan, face: 'bold' }, SIZE.plan)
    const start = this.#body + COLUMN.tick
    const wide = (row.got === undefined && row.plan === undefined ? this.#right : got - COLUMN.gap) - start
    const lines = this.#type.lines(
      [{ text: row.words, face: 'regular' }],
      SIZE.body,
      wide - planWide - (planWide > 0 ? 6 : 0),
    )
    const under =
      row.under === undefined
        ? []
        : this.#type.lines([{ text: row.under, face: 'regular' }], SIZE.under, wide)
    const height = least + (lines.length - 1) * lead + under.length * 10.4
    return {
      height,
      draw: (top) => {
        const base = top + least - 4.2
        this.#doc
          .lineWidth(0.8)
          .rect(this.#body, base - 8.6, 9.6, 9.6)
          .stroke('#000')
        this.#drawLines(lines, start, base, SIZE.body, lead)
        this.#drawLines(under, start, base + (lines.length - 1) * lead + 10.6, SIZE.under, 10.4, GREY)
        if (row.plan !== undefined)
          this.#type.drawRight({ text: row.plan, face: 'bold' }, got - COLUMN.gap, base, SIZE.plan)
        if (row.got === undefined) return
        this.#rule(base + 2.8, 0.7, got)
        this.#type.drawRight({ text: row.got, face: 'regular' }, this.#right, base, SIZE.small, GREY)
      },
    }
  }

  #measureSign({ level, words }: Sign): Measured {
    const { lead } = this.#spacing
    const start = this.#body + COLUMN.tick
    const lines = this.#type.lines(
      [
        { text: `${wordOf(level)}. `, face: 'bold' },
        { text: words, face: 'regular' },
      ],
      SIZE.body,
      this.#right - start,
    )
    return {
      height: lines.length * lead + 3,
      draw: (top) => {
        drawSign(this.#doc, level, this.#body - 1, top + 1, 12)
        this.#drawLines(lines, start, top + 10.5, SIZE.body, lead)
      },
    }
  }

  /** Signs run on: the first in the margin, each other before its word in the line. */
  #measureSigns({ signs }: Signs): Measured {
    const { close, lead } = this.#spacing
    const [first] = signs
    if (!close || signs.length === 1 || first === undefined) {
      const each = signs.map((sign) => this.#measureSign(sign))
      return {
        height: each.reduce((sum, { height }) => sum + height, 0),
        draw: (top) => {
          each.reduce((at, one) => {
            one.draw(at)
            return at + one.height
          }, top)
        },
      }
    }
    const start = this.#body + COLUMN.tick
    const runs = signs.flatMap(({ level, words }, index): Run[] => [
      // a sign's place is held by hard spaces before its word, which never leaves it
      { text: index === 0 ? '' : ' ', face: 'regular' },
      { text: `${index === 0 ? '' : HELD_FOR_SIGN}${wordOf(level)}.`, face: 'bold' },
      { text: ` ${words}`, face: 'regular' },
    ])
    const lines = this.#type.lines(runs, SIZE.body, this.#right - start)
    return {
      height: lines.length * lead + 3,
      draw: (top) => {
        drawSign(this.#doc, first.level, this.#body - 1, top + 1, 12)
        const later = signs.slice(1)
        lines.forEach((line, index) => {
          let at = start
          const base = top + 10.5 + index * lead
          for (const run of line.runs) {
            const held = run.text.indexOf(HELD_FOR_SIGN)
            const next = held < 0 ? undefined : later.shift()
            if (next !== undefined) {
              const before = this.#type.width({ ...run, text: run.text.slice(0, held) }, SIZE.body)
              drawSign(this.#doc, next.level, at + before, base - 9.3, 11)
            }
            at = this.#type.draw([run], at, base, SIZE.body)
          }
        })
      },
    }
  }

  #measure(block: Block): Measured {
    switch (block.kind) {
      case 'row':
        return this.#measureRow(block)
      case 'sign':
        return this.#measureSign(block)
      case 'signs':
        return this.#measureSigns(block)
    }
  }

  #measureHeading({ number, title, when }: Section): Heading {
    const at = this.#left + COLUMN.number
    const wide = COLUMN.heading - COLUMN.number - 3 * MM
    const titles = this.#type.lines([{ text: title, face: 'serif' }], SIZE.heading, wide)
    const whens = this.#type.lines([{ text: when, face: 'regular' }], SIZE.small, wide)
    const drawNumber = (top: number): void => {
      this.#type.draw([{ text: String(number), face: 'serif' }], this.#left, top + 14, SIZE.number)
      this.#drawLines(titles, at, top + 12.5, SIZE.heading, 14.5)
    }
    return {
      height: titles.length * 14.5 + whens.length * 11 + 4,
      draw: (top) => {
        drawNumber(top)
        this.#drawLines(whens, at, top + 12.5 + titles.length * 14.5 - 2.5, SIZE.small, 11, GREY)
      },
      again: () => ({
        height: titles.length * 14.5 + 15,
        draw: (top) => {
          drawNumber(top)
          this.#type.draw(
            [{ text: 'goes on', face: 'regular' }],
            at,
            top + 12.5 + titles.length * 14.5 - 2.5,
            SIZE.small,
            GREY,
          )
        },
      }),
    }
  }

  #sectionHeight(section: Section): number {
    const blocks = section.blocks.reduce((sum, block) => sum + this.#measure(block).height, 0)
    const { pad } = this.#spacing
    return Math.max(blocks, this.#measureHeading(section).height) + 2 * pad + (section.noReturnAfter ? 7 : 0)
  }

  #heightOf(sections: readonly Section[]): number {
    return sections.reduce((sum, section) => sum + this.#sectionHeight(section), 0)
  }

  #drawSection(section: Section): void {
    const { pad } = this.#spacing
    const heading = this.#measureHeading(section)
    const blocks = section.blocks.map((block) => this.#measure(block))
    const first = blocks[0]?.height ?? 0
    const whole = this.#sectionHeight(section)
    const room = this.#floor - this.#y
    // a step and its cautions stay together unless that would leave much of a page bare
    const moves = whole > room && whole < SHORT_SECTION && room < SHORT_SECTION
    if (moves || pad + Math.max(heading.height, first) > room) this.#nextPage()
    let top = this.#y + pad
    let least = top + heading.height
    heading.draw(top)
    for (const block of blocks) {
      if (top + block.height > this.#floor) {
        this.#nextPage()
        const again = heading.again()
        top = this.#y + pad
        least = top + again.height
        again.draw(top)
      }
      block.draw(top)
      top += block.height
    }
    this.#y = Math.min(Math.max(top, least), this.#floor) + pad
    if (section.noReturnAfter) this.#drawNoReturn()
    else this.#rule(this.#y, section === this.#sheet.sections.at(-1) ? 1.2 : 0.6)
  }

  /** Two lines across the whole page, one heavy: what lies above can't be had back. */
  #drawNoReturn(): void {
    this.#rule(this.#y + 1, 0.9)
    this.#rule(this.#y + 4.8, 3.4)
    this.#y += 7
  }

  #notesLines(): Line[] {
    const { notes } = this.#sheet
    return notes === undefined || notes === ''
      ? []
      : this.#type.lines([{ text: notes, face: 'regular' }], SIZE.body, this.#right - this.#left)
  }

  #drawNotes(): void {
    const lines = this.#notesLines()
    if (this.#y + NOTES + Math.min(lines.length, 2) * 13 > this.#floor) this.#nextPage()
    this.#type.draw([{ text: 'Notes', face: 'serif' }], this.#left, this.#y + 15, SIZE.heading)
    this.#y += 18
    for (const line of lines) {
      if (this.#y + 13 > this.#floor) this.#nextPage()
      this.#type.draw(line.runs, this.#left, this.#y + 11, SIZE.body)
      this.#y += 13
    }
    for (let y = this.#y + 7 * MM; y <= this.#floor - 2; y += 7 * MM) this.#rule(y, 0.5, this.#left, '#999')
  }
}
