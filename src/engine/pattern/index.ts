/**
 * From a drawing to a weight before the wax is cut: what regions does it hold, what solid stands on them, what
 * is hard to cast about it, and what does the carver need on paper?
 * Needs the drawing's bytes (a photo's pixels beside), the heights document, and a solid modeller.
 * Gives regions, relief, the facts a plan takes, and a template. Does not know alloys, prices, files or pages.
 * Read read-pattern.ts first; then drawing/, photo/, regions/, relief/, castable/, section/, template/.
 */
export type { Drawing, Mark, PatternProblem, Place, Region, Regions } from './drawing.ts'
export { isPicture } from './is-picture.ts'
export type { Picture } from './photo/index.ts'
export * from './read-pattern.ts'
export type { Relief } from './relief/index.ts'
export type { ReliefSolids } from './solids.ts'
export { type TemplateWish, templateOf } from './template-of.ts'
export { write3mf } from './write-3mf.ts'
export { templateDxf } from './write-dxf.ts'
export { writeStl } from './write-stl.ts'
export { templateSvg } from './write-svg.ts'
