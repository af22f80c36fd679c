/**
 * What is printed: a plan's run sheet, enough to do the pour with no device, the sheet that
 * hangs beside the kiln, and a pattern's template.
 * Needs a finished plan, the reader's units, the paper and the moment of printing; or a laid-out template.
 * Gives the PDF's bytes. Knows no arithmetic of the pour: every figure comes from the plan.
 * Read lay-sheet.ts first (what stands where, in words), then draw-sheet.ts (how it is set), template.ts.
 */
export type { SheetFonts } from './fonts.ts'
export { type KilnSheetOptions, printKilnSheet } from './kiln-sheet.ts'
export { laySheet } from './lay-sheet.ts'
export { printRunSheet, type RunSheetOptions } from './run-sheet.ts'
export type { Sheet } from './sheet.ts'
export { printTemplate, type TemplatePrintOptions } from './template.ts'
