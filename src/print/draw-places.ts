import type PDFDocument from 'pdfkit'
import { type FillKind, type LineKind, type Mark, PAGE, sheetPages } from '../engine/arrange/index.ts'
import type { Plan } from '../engine/plan.ts'
import type { UnitChoice } from '../engine/quantity/index.ts'
import type { TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>

const MM = 72 / 25.4

/** Black on white: a width in mm, and a dash. */
const LINES: Readonly<
  Record<Exclude<LineKind, 'none'>, { readonly wide: number; readonly dash?: number[] }>
> = {
  wide: { wide: 0.5 },
  narrow: { wide: 0.18 },
  centre: { wide: 0.18, dash: [6, 1, 0.5, 1] },
  hidden: { wide: 0.2, dash: [1.6, 0.8] },
  limit: { wide: 0.25, dash: [8, 1.2, 0.5, 1.2] },
  wax: { wide: 0.35 },
  'wax-narrow': { wide: 0.12 },
}
const FILLS: Readonly<Record<Exclude<FillKind, 'none'>, string>> = {
  paper: '#fff',
  wax: '#fff',
  sprue: '#ddd',
  base: '#eee',
  ink: '#000',
}

const finish = (doc: Doc, line: LineKind, fill: FillKind): void => {
  const { wide, dash = [] } = line === 'none' ? { wide: 0 } : LINES[line]
  // a chain line has more than a dash and a space, which the library's own order does not take
  doc.addContent(`[${dash.map((mm) => (mm * MM).toFixed(2)).join(' ')}] 0 d`)
  doc.lineWidth(wide * MM)
  if (line === 'none') doc.fill(fill === 'none' ? '#000' : FILLS[fill], 'non-zero')
  else if (fill === 'none') doc.stroke('#000')
  else doc.fillAndStroke(FILLS[fill], '#000', 'non-zero')
}

/** @param aside  where the page's left edge lies on the paper, mm */
export const drawMark = (doc: Doc, type: TypeSetter, mark: Mark, aside: number): void => {
  const put = ([x, y]: readonly [number, number]): [number, number] => [(x + aside) * MM, y * MM]
  if (mark.kind === 'text') {
    const { at, text, align, bold, upward } = mark
    const size = mark.size * MM
    const run = { text, face: bold ? 'bold' : 'regular' } as const
    const wide = type.width(run, size)
    const left = align === 'start' ? 0 : align === 'middle' ? wide / 2 : wide
    const [x, y] = put(at)
    if (upward) {
      doc.save().translate(x, y).rotate(-90)
      type.draw([run], -left, 0, size)
      doc.restore()
    } else type.draw([run], x - left, y, size)
    return
  }
  if (mark.kind === 'circle') doc.circle(...put(mark.at), mark.radius * MM)
  else
    for (const round of mark.rounds) {
      round.forEach((point, k) => {
        if (k === 0) doc.moveTo(...put(point))
        else doc.lineTo(...put(point))
      })
      if (mark.closed) doc.closePath()
    }
  finish(doc, mark.line, mark.fill)
}

/**
 * The sides that say where each wax goes, to be laid beside the tree: the same pages as the sheet's SVG, in black,
 * a millimetre to a millimetre on either paper. Nothing without an arrangement.
 */
export const drawPlaces = (
  doc: Doc,
  type: TypeSetter,
  { arranged }: Pick<Plan, 'arranged'>,
  title: string,
  units: UnitChoice,
): void => {
  if (arranged === undefined) return
  for (const { marks } of sheetPages(arranged.measured.tree, title, units.length)) {
    doc.addPage()
    doc.save().lineJoin('round').lineCap('round')
    for (const mark of marks) drawMark(doc, type, mark, (doc.page.width / MM - PAGE.width) / 2)
    doc.restore()
  }
}
