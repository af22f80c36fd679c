import PDFDocument from 'pdfkit'
import { type ChartPoint, coreMarks, setpointKnots } from '../engine/heat/burnout-lines.ts'
import { sayClock } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { toUser, type UnitChoice } from '../engine/quantity/index.ts'
import { bytesOf } from './bytes-of.ts'
import { readSheetFonts } from './fonts.ts'
import { type KilnRow, layKiln } from './lay-kiln.ts'
import type { RunSheetOptions } from './run-sheet.ts'
import { begin } from './say.ts'
import { drawSign } from './signs.ts'
import { TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>
type Place = readonly [x: number, y: number]

const MM = 72 / 25.4
const GREY = '#444'
const BAND = '#ccc'
const COLUMNS: readonly (readonly [keyof KilnRow, number])[] = [
  ['number', 12],
  ['starts', 26],
  ['to', 22],
  ['other', 18],
  ['climb', 26],
  ['takes', 24],
]
/** Room at the right of each row for what was seen. */
const SEEN = 'Seen'
const ROW = 6.4 * MM
const CHART = 82 * MM
const SIGN = 11
/** Points along the chart under which two marks share a name. */
const TOGETHER = 14

export type KilnSheetOptions = Omit<RunSheetOptions, 'explanations' | 'places'>

/** Of a chart: time along, heat up. */
interface Frame {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly foot: number
  readonly hours: number
  readonly hottest: number
}

const stepOf = (hottest: number): number => [50, 100, 200].find((step) => hottest / step <= 8) ?? 500

/** Setpoint, steel and core, told apart by weight and dash alone, with what happens numbered on the core's line. */
const drawChart = (doc: Doc, type: TypeSetter, plan: Plan, units: UnitChoice, frame: Frame): void => {
  const { burnout, shop } = plan
  const { left, right, top, foot, hours, hottest } = frame
  const shown = (kelvin: number): number => toUser(kelvin, 'K', units)
  const place = ({ s, K }: ChartPoint): Place => [
    left + (s / 3600 / hours) * (right - left),
    foot - (shown(K) / hottest) * (foot - top),
  ]
  const trace = (points: readonly ChartPoint[]): Doc => {
    points.forEach((point, index) => {
      if (index === 0) doc.moveTo(...place(point))
      else doc.lineTo(...place(point))
    })
    return doc
  }
  const step = stepOf(hottest)
  for (let heat = 0; heat <= hottest; heat += step) {
    const y = foot - (heat / hottest) * (foot - top)
    doc.lineWidth(0.4).moveTo(left, y).lineTo(right, y).stroke('#bbb')
    type.drawRight({ text: String(heat), face: 'regular' }, left - 4, y + 3, 9)
  }
  type.drawRight({ text: `°${units.temperature}`, face: 'regular' }, left - 4, top - 8, 9)
  const every = hours > 20 ? 3 : hours > 10 ? 2 : 1
  for (let hour = 0; hour <= hours; hour += every) {
    const x = left + (hour / hours) * (right - left)
    doc
      .lineWidth(0.6)
      .moveTo(x, foot)
      .lineTo(x, foot + 4)
      .stroke('#000')
    const text =
      burnout.start === undefined
        ? `${hour} h`
        : sayClock(burnout.start + hour * 3_600_000, shop.timeZone).replace(/\u00a0| /, ' ')
    const run = { text, face: 'regular' } as const
    type.draw([run], x - type.width(run, 8.5) / 2, foot + 13, 8.5)
  }
  const core = burnout.core?.curve ?? []
  if (core.length > 0) {
    trace([
      ...core.map(({ s, high }) => ({ s, K: high })),
      ...core.toReversed().map(({ s, low }) => ({ s, K: low })),
    ])
    doc.fill(BAND)
  }
  const steel = core.flatMap(({ s, wall }) => (wall === undefined ? [] : [{ s, K: wall }]))
  if (steel.length > 0) trace(steel).lineWidth(0.9).dash(4, { space: 2.5 }).stroke('#000').undash()
  const knots = setpointKnots(burnout)
  trace(knots).lineWidth(0.9).stroke('#000')
  if (core.length > 0) trace(core).lineWidth(2.6).stroke('#000')
  for (const { core: beside } of burnout.load ?? [])
    trace(beside.curve).lineWidth(0.7).dash(1, { space: 1.6 }).stroke('#000').undash()
  for (const knot of knots)
    doc
      .circle(...place(knot), 2.4)
      .lineWidth(0.9)
      .fillAndStroke('#fff', '#000')
  // what falls together is named together, or one name would hide the other's place
  const groups: { readonly at: Place; readonly names: string[] }[] = []
  for (const mark of coreMarks(burnout).toSorted((one, other) => one.s - other.s)) {
    const [x, y] = place(mark)
    doc
      .polygon([x - 4, y], [x, y - 4], [x + 4, y], [x, y + 4])
      .lineWidth(1)
      .fillAndStroke('#fff', '#000')
    const last = groups.at(-1)
    if (last !== undefined && x - last.at[0] < TOGETHER) last.names.push(mark.name)
    else groups.push({ at: [x, y], names: [mark.name] })
  }
  for (const { at, names } of groups) {
    const run = { text: begin(names.join(', ')), face: 'semibold' } as const
    const [x, base] = [at[0] + 7.5, at[1] + 13]
    doc.rect(x - 1.5, base - 8, type.width(run, 9) + 3, 10.5).fill('#fff')
    type.draw([run], x, base, 9)
  }
  doc.lineWidth(1).moveTo(left, foot).lineTo(right, foot).stroke('#000')
  doc.lineWidth(2).moveTo(right, top).lineTo(right, foot).stroke('#000')
  type.drawRight({ text: 'cast', face: 'semibold' }, right, top - 8, 9)
}

/**
 * One side to hang beside the kiln: its program, how the flask's middle follows it, when to look for what, and a
 * ruled place for what was seen, which is what the next burnout learns from. Black on white.
 * The same plan and options give the same bytes.
 */
export const printKilnSheet = async (plan: Plan, options: KilnSheetOptions): Promise<Uint8Array> => {
  const fonts = options.fonts ?? (await readSheetFonts())
  const words = layKiln(plan, options.units)
  const doc = new PDFDocument({
    size: options.paper === 'a4' ? 'A4' : 'LETTER',
    margin: 0,
    compress: options.compress ?? true,
    lang: 'en',
    info: {
      Title: words.title,
      Creator: 'Pourwright',
      Producer: 'Pourwright',
      CreationDate: new Date(options.printedAt),
    },
  })
  for (const [name, bytes] of Object.entries(fonts)) doc.registerFont(name, Buffer.from(bytes))
  const type = new TypeSetter(doc)
  const left = 14 * MM
  const right = doc.page.width - 12 * MM
  let y = 10 * MM
  const put = (text: string, size: number, lead: number, ink = '#000', indent = 0): void => {
    for (const line of type.lines([{ text, face: 'regular' }], size, right - left - indent)) {
      y += lead
      type.draw(line.runs, left + indent, y, size, ink)
    }
  }
  y += 20
  type.draw([{ text: words.title, face: 'serif' }], left, y, 20)
  put(words.under, 10.5, 15)
  for (const { level, words: said } of words.signs) {
    y += 3
    drawSign(doc, level, left, y + 2, SIGN)
    put(`${begin(level)}. ${said}`, 10, 12.5, '#000', SIGN + 5)
  }

  const knots = setpointKnots(plan.burnout)
  const last = knots.at(-1)
  if (last === undefined) {
    put('The program stays open until the flask is chosen.', 12, 24)
    return bytesOf(doc)
  }
  const hottest = Math.max(...knots.map(({ K }) => toUser(K, 'K', options.units)))
  const step = stepOf(hottest)
  const top = y + 24
  drawChart(doc, type, plan, options.units, {
    left: left + 26,
    right,
    top,
    foot: top + CHART,
    hours: last.s / 3600,
    hottest: Math.ceil((hottest * 1.04) / step) * step,
  })
  y = top + CHART + 24

  const wide = COLUMNS.reduce((sum, [, each]) => sum + each, 0) * MM
  const drawRow = (row: KilnRow, base: number, face: 'regular' | 'bold', size: number, ink: string): void => {
    let x = left
    for (const [key, each] of COLUMNS) {
      const heavy = face === 'bold' && (key === 'to' || key === 'number')
      type.drawRight({ text: row[key], face: heavy ? 'bold' : 'regular' }, x + each * MM - 4, base, size, ink)
      x += each * MM
    }
  }
  const rule = (weight: number): void => {
    doc.lineWidth(weight).moveTo(left, y).lineTo(right, y).stroke('#000')
  }
  y += 11
  drawRow(words.head, y, 'regular', 9, GREY)
  type.draw([{ text: SEEN, face: 'regular' }], left + wide + 10, y, 9, GREY)
  y += 3
  rule(1.2)
  for (const row of words.rows) {
    y += ROW
    drawRow(row, y - 5, 'bold', 11, '#000')
    rule(0.4)
  }
  if (words.events.length > 0) {
    y += 16
    type.draw([{ text: 'At the middle of the flask', face: 'regular' }], left, y, 9, GREY)
    type.draw([{ text: 'About', face: 'regular' }], left + 52 * MM, y, 9, GREY)
    type.draw([{ text: 'Nine in ten', face: 'regular' }], left + 78 * MM, y, 9, GREY)
    type.draw([{ text: SEEN, face: 'regular' }], left + wide + 10, y, 9, GREY)
    y += 3
    rule(1.2)
    for (const { what, at, between } of words.events) {
      y += ROW
      type.draw([{ text: what, face: 'bold' }], left, y - 5, 11)
      type.draw([{ text: at, face: 'regular' }], left + 52 * MM, y - 5, 11)
      type.draw([{ text: between, face: 'regular' }], left + 78 * MM, y - 5, 11)
      rule(0.4)
    }
  }
  y += 4
  for (const note of words.notes) put(note, 9.5, 12.5)
  return bytesOf(doc)
}
