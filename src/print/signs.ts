import type PDFDocument from 'pdfkit'
import type { SignLevel } from './sheet.ts'

type Doc = InstanceType<typeof PDFDocument>

const DIAMOND = 'M12 2.5L21.5 12 12 21.5 2.5 12Z'
const TRIANGLE = 'M12 2.5L22.5 21H1.5Z'

const bang = (doc: Doc, ink: string, thick: number, foot: number): void => {
  doc.lineWidth(thick).lineCap('butt').moveTo(12, 8.8).lineTo(12, 15.2).stroke(ink)
  doc.circle(12, foot, thick * 0.62).fill(ink)
}

const DRAWN: Readonly<Record<SignLevel, (doc: Doc) => void>> = {
  note: (doc) => doc.lineWidth(1.8).path(DIAMOND).stroke('#000'),
  check: (doc) => {
    doc.lineWidth(1.8).path(DIAMOND).stroke('#000')
    doc.path('M12 2.5V21.5L2.5 12Z').fill('#000')
  },
  stop: (doc) => {
    doc.path('M12 1L23 12 12 23 1 12Z').fill('#000')
    doc.rect(6.5, 10.4, 11, 3.2).fill('#fff')
  },
  caution: (doc) => {
    doc.lineWidth(1.6).lineJoin('round').path(TRIANGLE).stroke('#000')
    bang(doc, '#000', 2, 17.8)
  },
  // in black and white a warning is told from a caution by its heavy edge, as well as by its word
  warning: (doc) => {
    doc.lineWidth(3.2).lineJoin('round').path(TRIANGLE).stroke('#000')
    bang(doc, '#000', 2.2, 17.8)
  },
  danger: (doc) => {
    doc.path('M12 1.5L23.5 22H.5Z').fill('#000')
    bang(doc, '#fff', 2.6, 18.4)
  },
}

/** Draws a sign in a square of `size` points; shape says who is at risk, fill how badly. */
export const drawSign = (doc: Doc, level: SignLevel, x: number, y: number, size: number): void => {
  doc
    .save()
    .translate(x, y)
    .scale(size / 24)
  DRAWN[level](doc)
  doc.restore()
}
