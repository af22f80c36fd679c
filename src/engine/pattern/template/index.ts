/**
 * Answers: which lines, numbers, notes and sizes go where on paper, so that a wax cut by them casts as drawn?
 * Needs: the drawing's regions and their heights, the blank, cuts, what the wax is over by, the paper.
 * Gives: sheets of marks in millimetres, and the lines alone at the size of the wax.
 * Does not know: PDF, fonts, how a region was found or a relief built.
 * Read lay-template.ts first, then compensate.ts (how the lines grow) and plan-view.ts (what is drawn).
 */
export {
  type Compensation,
  compensate,
  grown,
  type ShrinkOver,
  type WaxLines,
  type WaxRegion,
} from './compensate.ts'
export { figure, type RegionNote, type TemplateUnit } from './figures.ts'
export {
  layTemplate,
  type TemplateInput,
  type TemplateLayout,
  type TemplateSheet,
  type Window,
} from './lay-template.ts'
export { type Face, type LineKind, PENS, type Pen, type SheetMark, widthOf } from './marks.ts'
export { type PaperName, paperOf } from './paper.ts'
export type { AddedLine } from './plan-view.ts'
export { type Correction, isBar, type PrinterBars, SAY_BAR } from './printer.ts'
export type { TemplateSection } from './section-view.ts'
