import type PDFDocument from 'pdfkit'
import type { FlatLine } from '../engine/measure-arrangement.ts'
import type { Plan } from '../engine/plan.ts'
import type { UnitChoice } from '../engine/quantity/index.ts'
import { layPlaces, letterOf, type PlacesRow } from './places.ts'
import type { TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>
type Flat = [number, number]

const MM = 72 / 25.4
const GREY = '#333'
const COLUMNS: readonly (readonly [keyof PlacesRow, number])[] = [
  ['number', 7],
  ['wax', 13],
  ['angle', 13],
  ['up', 12],
  ['tilt', 10],
  ['long', 12],
  ['across', 14],
]
const TABLE = COLUMNS.reduce((sum, [, wide]) => sum + wide, 0) * MM
const ROW = 5.2 * MM
/** Paper for one of the flask: the first that leaves room for the table. */
const SCALES = [1, 1.5, 2, 2.5, 5]
const BALLOON = 2.3 * MM

/**
 * The side that says where each wax goes: the tree from above and from the side, true to size where the paper is
 * large enough, and a table of its sprues. Nothing without an arrangement.
 */
export const drawPlaces = (
  doc: Doc,
  type: TypeSetter,
  plan: Plan,
  title: string,
  units: UnitChoice,
): void => {
  const { arranged, flask, shop, pour } = plan
  const base = shop.bases.find(({ id }) => id === pour.tree.base) ?? shop.bases[0]
  if (arranged === undefined || flask === undefined || base === undefined) return
  const { measured } = arranged
  const { views } = measured
  const sheet = layPlaces(plan, arranged, units)
  doc.addPage()
  const left = 14 * MM
  const right = doc.page.width - 11 * MM
  const floor = doc.page.height - 10 * MM - 16
  let y = 10 * MM
  type.draw([{ text: title, face: 'regular' }], left, y + 9, 10.5)
  type.draw([{ text: 'Where each wax goes', face: 'serif' }], left, y + 33, 20)
  const letters = plan.pieces.pieces.map(({ letter, name, quantity }) =>
    quantity > 1 ? `${letter} ${name} × ${quantity}` : `${letter} ${name}`,
  )
  const named = type.lines([{ text: letters.join(', '), face: 'regular' }], 10.5, right - left)
  named.slice(0, 4).forEach((line, at) => {
    type.draw(line.runs, left, y + 48 + at * 13, 10.5)
  })
  y += 54 + Math.min(named.length, 4) * 13

  const [wide, high] = [flask.flask.insideDiameter_mm, flask.flask.insideHeight_mm]
  const between = 14 * MM
  const scale =
    SCALES.find(
      (one) =>
        (wide / one) * MM + 12 * MM + TABLE <= right - left &&
        ((wide + high) / one) * MM + between + 14 * MM <= floor - y,
    ) ?? 10
  const mm = MM / scale
  const radius = (wide / 2) * mm
  const x0 = left + radius + 3 * MM
  const above = y + 8 * MM + radius
  const foot = above + radius + between + high * mm
  const fromAbove = (x: number, up: number): Flat => [x0 + x * mm, above - up * mm]
  const fromSide = (x: number, up: number): Flat => [x0 + x * mm, foot - up * mm]
  const lines = (list: readonly FlatLine[], place: (x: number, up: number) => Flat): void => {
    for (const [a, b, c, d] of list) doc.moveTo(...place(a, b)).lineTo(...place(c, d))
    doc.lineWidth(0.9).stroke('#000')
  }

  doc.save().lineJoin('round').lineCap('round')
  const caption = `from above, ${scale === 1 ? 'true to size' : `1 : ${scale}`}`
  type.draw([{ text: caption, face: 'semibold' }], left, y + 9, 10)
  type.draw([{ text: 'from the side', face: 'semibold' }], left, foot - high * mm - 5, 10)
  doc.lineWidth(1.4).circle(x0, above, radius).stroke('#000')
  doc.rect(x0 - radius, foot - high * mm, 2 * radius, high * mm).stroke('#000')
  // the room that the rules leave
  const wall = shop.rules.wallClearance_mm
  const top = flask.neededTop.value * 1000
  doc.lineWidth(0.5).dash(3, { space: 2 })
  doc.circle(x0, above, radius - wall * mm).stroke(GREY)
  doc
    .polygon(
      fromSide(wall - wide / 2, 0),
      fromSide(wall - wide / 2, high - top),
      fromSide(wide / 2 - wall, high - top),
      fromSide(wide / 2 - wall, 0),
    )
    .stroke(GREY)
  doc.undash()
  const [mouth, neck] = [base.mouthDiameter_mm / 2, base.neckDiameter_mm / 2]
  doc
    .lineWidth(0.8)
    .polygon(
      fromSide(-mouth, 0),
      fromSide(-neck, base.depth_mm),
      fromSide(neck, base.depth_mm),
      fromSide(mouth, 0),
    )
    .fillAndStroke('#ddd', '#000')
  // round the base: a tick each 30°, long and named each 90°
  for (let angle = 0; angle < 360; angle += 30) {
    const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)]
    const long = (angle % 90 === 0 ? 2.4 : 1.2) * MM
    doc
      .lineWidth(0.7)
      .moveTo(x0 + radius * c, above - radius * s)
      .lineTo(x0 + (radius + long) * c, above - (radius + long) * s)
      .stroke('#000')
  }
  type.draw([{ text: '0°', face: 'regular' }], x0 + radius + 3.2 * MM, above + 3, 9)

  const stem = measured.stem.diameter_mm / 2
  doc
    .lineWidth(0.8)
    .rect(
      x0 - stem * mm,
      foot - (measured.stem.top_mm - stem) * mm,
      2 * stem * mm,
      (measured.stem.top_mm - stem - base.depth_mm) * mm,
    )
    .fillAndStroke('#eee', '#000')
  doc.circle(x0, foot - (measured.stem.top_mm - stem) * mm, stem * mm).fillAndStroke('#eee', '#000')
  for (const [place, up] of [
    [fromSide, 2],
    [fromAbove, 1],
  ] as const)
    for (const { from_mm, to_mm, diameter_mm, stemEnd_mm } of views.sprues) {
      const [a, b] = [place(from_mm[0], from_mm[up]), place(to_mm[0], to_mm[up])]
      const across = ((diameter_mm + stemEnd_mm) / 2) * mm
      doc
        .lineCap('butt')
        .lineWidth(across)
        .moveTo(...a)
        .lineTo(...b)
        .stroke('#000')
      if (across > 2)
        doc
          .lineWidth(across - 1.6)
          .moveTo(...a)
          .lineTo(...b)
          .stroke('#eee')
    }
  doc.lineCap('round')
  doc
    .circle(x0, above, stem * mm)
    .lineWidth(0.8)
    .fillAndStroke('#eee', '#000')
  lines(views.side, fromSide)
  lines(views.above, fromAbove)

  // a number on each sprue, where it hides no other
  for (const [place, up] of [
    [fromSide, 2],
    [fromAbove, 1],
  ] as const) {
    const taken: Flat[] = []
    const free = (at: Flat): number =>
      Math.min(
        Number.POSITIVE_INFINITY,
        ...taken.map((other) => Math.hypot(other[0] - at[0], other[1] - at[1])),
      )
    views.sprues.forEach(({ from_mm, to_mm }, index) => {
      const along = [0.5, 0.7, 0.3, 0.9, 0.1, 1.15, 1.4].map((share): Flat => {
        const [a, b] = [place(from_mm[0], from_mm[up]), place(to_mm[0], to_mm[up])]
        return [b[0] + share * (a[0] - b[0]), b[1] + share * (a[1] - b[1])]
      })
      const at =
        along.find((one) => free(one) >= 2 * BALLOON) ??
        along.reduce((best, one) => (free(one) > free(best) ? one : best))
      taken.push(at)
      const number = { text: String(index + 1), face: 'bold' } as const
      doc.lineWidth(0.7).circle(at[0], at[1], BALLOON).fillAndStroke('#fff', '#000')
      type.draw([number], at[0] - type.width(number, 8.5) / 2, at[1] + 3, 8.5)
    })
  }
  // each wax by its letter: in its middle from above, over its top from the side
  const overTop: Flat[] = []
  for (const { piece, copy, min_mm, max_mm } of measured.boxes) {
    const letter = { text: letterOf(plan, piece, copy), face: 'bold' } as const
    const half = type.width(letter, 11) / 2
    const put = ([x, middle]: Flat): void => {
      doc.rect(x - half - 1.5, middle - 6, 2 * half + 3, 12).fill('#fff')
      type.draw([letter], x - half, middle + 4, 11)
    }
    const across = (min_mm[0] + max_mm[0]) / 2
    put(fromAbove(across, (min_mm[1] + max_mm[1]) / 2))
    let [x, top] = fromSide(across, max_mm[2])
    top -= 7
    while (overTop.some((one) => Math.abs(one[0] - x) < 2 * half + 4 && Math.abs(one[1] - top) < 12))
      top -= 12
    overTop.push([x, top])
    put([x, top])
  }
  doc.restore()

  const tableLeft = right - TABLE
  const drawRow = (row: PlacesRow, at: number, face: 'regular' | 'bold', size: number, ink: string): void => {
    let x = tableLeft
    for (const [key, wideMm] of COLUMNS) {
      const text = row[key]
      if (key === 'wax') type.draw([{ text, face: 'bold' }], x + 3 * MM, at, size, ink)
      else type.drawRight({ text, face: key === 'number' ? 'bold' : face }, x + wideMm * MM, at, size, ink)
      x += wideMm * MM
    }
  }
  const rule = (at: number, heavy: number): void => {
    doc.lineWidth(heavy).lineCap('butt').moveTo(tableLeft, at).lineTo(right, at).stroke('#000')
  }
  const drawHead = (): void => {
    for (const row of sheet.head) {
      y += 11
      drawRow(row, y, 'regular', 9, GREY)
    }
    y += 3
    rule(y, 1.2)
  }
  const notes = sheet.notes.flatMap((note) => type.lines([{ text: note, face: 'regular' }], 9.5, TABLE))
  const drawNotes = (): void => {
    y += 10
    for (const line of notes) {
      y += 12.5
      type.draw(line.runs, tableLeft, y, 9.5)
    }
  }
  // under the table, or over it where it runs on to another side
  const runsOn = y + 40 + sheet.rows.length * ROW + notes.length * 12.5 > floor
  if (runsOn) drawNotes()
  drawHead()
  for (const row of sheet.rows) {
    if (y + ROW > floor) {
      doc.addPage()
      y = 10 * MM
      drawHead()
    }
    y += ROW
    drawRow(row, y - 4, 'regular', 11, '#000')
    rule(y, 0.4)
  }
  if (!runsOn) drawNotes()
}
