/**
 * Answers: what does the piece look like, cut upright along a line on the drawing?
 * Needs: the closed mesh of the relief, and two places.
 * Gives: the loops of the cut, hatching for them, and the heights worth writing over it.
 * Does not know: paper, shrink, dimensions. Read section-of.ts first.
 */
export { hatch } from './hatch.ts'
export { type SectionCut, sectionOf } from './section-of.ts'
export { type Step, stepsOf } from './steps.ts'
export { type Cut, throughCast, usualCut } from './usual-cut.ts'
