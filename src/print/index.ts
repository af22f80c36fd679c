/**
 * The run sheet on paper: a plan as a PDF that is enough to do the pour with no device.
 * Needs a finished plan, the reader's units, the paper and the moment of printing.
 * Gives the PDF's bytes. Knows no arithmetic of the pour: every figure comes from the plan.
 * Read lay-sheet.ts first (what stands where, in words), then draw-sheet.ts (how it is set).
 */
export type { SheetFonts } from './fonts.ts'
export { laySheet } from './lay-sheet.ts'
export { printRunSheet, type RunSheetOptions } from './run-sheet.ts'
export type { Sheet } from './sheet.ts'
