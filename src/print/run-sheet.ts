import PDFDocument from 'pdfkit'
import type { Plan } from '../engine/plan.ts'
import { bytesOf } from './bytes-of.ts'
import { drawPlaces } from './draw-places.ts'
import { SheetDrawing } from './draw-sheet.ts'
import { readSheetFonts, type SheetFonts } from './fonts.ts'
import { laySheet, type SheetOptions } from './lay-sheet.ts'
import { drawPlate } from './plate.ts'
import { TypeSetter } from './type.ts'
import { drawGrounds, groundsOf } from './why-page.ts'

export interface RunSheetOptions extends SheetOptions {
  readonly paper: 'a4' | 'letter'
  /** adds a side that says what the charge, the fineness and the quench rest on */
  readonly explanations?: boolean
  /** false leaves out the sides that say where each wax goes, which a plan with an arrangement has */
  readonly places?: boolean
  /** read from the installed font packages when left out */
  readonly fonts?: SheetFonts
  /** false leaves the file's streams readable as text */
  readonly compress?: boolean
}

/**
 * The run sheet of a plan as a PDF with its faces embedded: one side of one sheet for an ordinary pour, more
 * where it needs them, and sides of their own that say where each wax goes, to be laid beside the tree. A plan with stops prints too, and says NOT READY at its head. The same plan and
 * options give the same bytes.
 */
export const printRunSheet = async (plan: Plan, options: RunSheetOptions): Promise<Uint8Array> => {
  const fonts = options.fonts ?? (await readSheetFonts())
  const sheet = laySheet(plan, options)
  const doc = new PDFDocument({
    size: options.paper === 'a4' ? 'A4' : 'LETTER',
    margin: 0,
    bufferPages: true,
    compress: options.compress ?? true,
    lang: 'en',
    info: {
      Title: `${sheet.title}, run sheet`,
      Creator: 'Pourwright',
      Producer: 'Pourwright',
      CreationDate: new Date(options.printedAt),
    },
  })
  for (const [name, bytes] of Object.entries(fonts)) doc.registerFont(name, Buffer.from(bytes))
  const type = new TypeSetter(doc)
  const drawing = new SheetDrawing(doc, type, sheet, (x, y, size) => drawPlate(doc, type, plan, x, y, size))
  drawing.draw()
  if (options.places !== false) drawPlaces(doc, type, plan, sheet.title, options.units)
  if (options.explanations === true)
    drawGrounds(doc, type, `${sheet.title}. ${sheet.over}`, groundsOf(plan, options.units))
  drawing.drawFeet()
  return bytesOf(doc)
}
