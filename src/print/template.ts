import PDFDocument from 'pdfkit'
import { PENS, type SheetMark, type TemplateLayout } from '../engine/pattern/template/index.ts'
import { bytesOf } from './bytes-of.ts'
import { readSheetFonts, type SheetFonts } from './fonts.ts'
import { TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>
/** The library takes a whole pattern; its types know one dash only. */
type Dashed = { dash(lengths: readonly number[]): unknown }

export interface TemplatePrintOptions {
  /** the moment on the file, as milliseconds of the epoch */
  readonly printedAt: number
  /** read from the installed font packages when left out */
  readonly fonts?: SheetFonts
  /** false leaves the file's streams readable as text */
  readonly compress?: boolean
}

/** Points to a millimetre. */
const MM = 72 / 25.4
/** White round a letter that stands on lines, as a share of its size. */
const CLEAR = 0.12

const trace = (doc: Doc, points: Float64Array, closed: boolean): Doc => {
  doc.moveTo(points[0] ?? 0, points[1] ?? 0)
  for (let i = 2; i < points.length; i += 2) doc.lineTo(points[i] ?? 0, points[i + 1] ?? 0)
  return closed ? doc.closePath() : doc
}

const takePen = (doc: Doc, line: keyof typeof PENS): void => {
  const { wide_mm, dash_mm } = PENS[line]
  doc.lineWidth(wide_mm)
  if (dash_mm.length === 0) doc.undash()
  else (doc as unknown as Dashed).dash(dash_mm)
}

/** The page is scaled so that one unit is a millimetre before any mark is drawn. */
const drawMark = (doc: Doc, type: TypeSetter, mark: SheetMark): void => {
  switch (mark.shape) {
    case 'stroke':
      takePen(doc, mark.line)
      for (const { points, closed } of mark.runs) trace(doc, points, closed)
      if (mark.runs.length > 0) doc.stroke('#000')
      return
    case 'filled':
      trace(doc, mark.points, true).fill('#000')
      return
    case 'round':
      takePen(doc, mark.line)
      doc.circle(mark.at[0], mark.at[1], mark.radius_mm).fillAndStroke('#fff', '#000')
      return
    case 'words': {
      const run = { text: mark.text, face: mark.face }
      const wide = type.width(run, mark.size_mm)
      const from = { start: 0, middle: -wide / 2, end: -wide }[mark.anchor]
      doc.save().translate(mark.at[0], mark.at[1])
      if (mark.turned) doc.rotate(-90)
      if (mark.cleared)
        doc
          .rect(
            from - CLEAR * mark.size_mm,
            -0.78 * mark.size_mm,
            wide + 2 * CLEAR * mark.size_mm,
            0.86 * mark.size_mm,
          )
          .fill('#fff')
      type.draw([run], from, 0, mark.size_mm)
      doc.restore()
    }
  }
}

/**
 * A template as a PDF at true size, one page for each of its sheets. A layout that is corrected for a printer
 * comes out larger or smaller by as much on the same paper. The same layout and options give the same bytes.
 */
export const printTemplate = async (
  layout: TemplateLayout,
  options: TemplatePrintOptions,
): Promise<Uint8Array> => {
  const fonts = options.fonts ?? (await readSheetFonts())
  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    compress: options.compress ?? true,
    lang: 'en',
    info: {
      Title: `${layout.name}, template`,
      Creator: 'Pourwright',
      Producer: 'Pourwright',
      CreationDate: new Date(options.printedAt),
    },
  })
  for (const [name, bytes] of Object.entries(fonts)) doc.registerFont(name, Buffer.from(bytes))
  const type = new TypeSetter(doc)
  const [across, down] = [MM * layout.correction.across, MM * layout.correction.down]
  for (const { paper, marks, window } of layout.sheets) {
    doc.addPage({ size: [paper.width_mm * across, paper.height_mm * down], margin: 0 })
    doc.save().scale(across, down).lineJoin('round').lineCap('butt')
    if (window !== undefined) {
      doc.save().rect(window.x, window.y, window.width_mm, window.height_mm).clip()
      doc.translate(...window.moved)
      for (const mark of window.marks) drawMark(doc, type, mark)
      doc.restore()
    }
    for (const mark of marks) drawMark(doc, type, mark)
    doc.restore()
  }
  return bytesOf(doc)
}
