import type PDFDocument from 'pdfkit'
import { explain } from '../engine/explain.ts'
import type { Plan } from '../engine/plan.ts'
import type { Quantity, UnitChoice } from '../engine/quantity/index.ts'
import { begin, sentence, write, writeWithRange } from './say.ts'
import type { Run, TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>

const MM = 72 / 25.4
/** Roots shown under each answer: together a dozen. */
const ROOTS = 4

export interface Rest {
  readonly title: string
  readonly value: string
  readonly moves: string
  readonly source: string
}

export interface Ground {
  readonly title: string
  readonly value: string
  readonly says: string
  readonly rests: readonly Rest[]
}

const groundOf = (quantity: Quantity, units: UnitChoice): Ground => {
  const why = explain(quantity)
  return {
    title: why.title,
    value: writeWithRange(quantity, units),
    says: [why.says, why.source]
      .flatMap((words) => (words === null ? [] : [begin(sentence(words))]))
      .join(' '),
    rests: why.rests.slice(0, ROOTS).map((root) => ({
      title: root.title,
      value: writeWithRange(root, units),
      moves: writeMove(root.moves, quantity, units),
      source: root.source,
    })),
  }
}

/** A shift is written as the middle of nothing and itself, so that it takes the answer's own digits. */
const writeMove = (moves: number, answer: Quantity, units: UnitChoice): string => {
  const shift = answer.unit === 'K' ? ('ΔK' as const) : answer.unit
  return write(
    { value: moves, low: answer.low, high: answer.high, unit: shift, plainMass: answer.plainMass },
    units,
  )
}

/** What moves the charge, the fineness and the opening of the quench window most. Pure. */
export const groundsOf = (plan: Plan, units: UnitChoice): Ground[] =>
  [plan.needed.needed, plan.charge.fineness, plan.quench.opens].flatMap((quantity) =>
    quantity === undefined || quantity.low === quantity.high ? [] : [groundOf(quantity, units)],
  )

/** The second side: what the sheet's figures rest on, with ranges and sources. */
export const drawGrounds = (doc: Doc, type: TypeSetter, title: string, grounds: readonly Ground[]): void => {
  doc.addPage()
  const left = 15 * MM
  const right = doc.page.width - 12 * MM
  const floor = doc.page.height - 10.5 * MM - 16
  let y = 11 * MM
  const put = (runs: readonly Run[], size: number, lead: number, indent = 0, ink = '#000'): void => {
    for (const line of type.lines(runs, size, right - left - indent)) {
      if (y + lead > floor) {
        doc.addPage()
        y = 11 * MM
      }
      type.draw(line.runs, left + indent, y + lead - 3, size, ink)
      y += lead
    }
  }
  const plain = (text: string): Run => ({ text, face: 'regular' })
  const heavy = (text: string): Run => ({ text, face: 'bold' })
  put([plain(title)], 10.5, 13)
  put([{ text: 'What it rests on', face: 'serif' }], 20, 27)
  y += 4
  for (const { title: name, value, says, rests } of grounds) {
    doc
      .lineWidth(0.8)
      .moveTo(left, y + 2)
      .lineTo(right, y + 2)
      .stroke('#000')
    y += 6
    put([{ text: name, face: 'serif' }, plain('  '), heavy(value)], 12, 16)
    put([plain(says)], 9.5, 12, 0, '#333')
    y += 3
    for (const root of rests) {
      put(
        [
          heavy(`${root.title}: `),
          plain(`${root.value}. Its own range moves the answer by ${root.moves} either way.`),
        ],
        10.5,
        13.5,
        6 * MM,
      )
      put([plain(sentence(`From: ${root.source}`))], 9.5, 12, 6 * MM, '#333')
      y += 3
    }
    y += 4
  }
}
