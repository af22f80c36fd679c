/**
 * The burnout by solving how heat moves through the wet flask, instead of by the size of the flask. Needs
 * the flask, its mix, the kiln's limits and what is not known of all these. Gives a program whose holds end
 * when the middle is dry, clean and settled, and the middle's history with its band. Does not know the air
 * that carbon needs, the rest of the load, nor steam held back in the mould. Read flask-body.ts, then
 * design.ts.
 */
export {
  type BesideFlask,
  type DesignedBurnout,
  type DesignQuestion,
  designBurnout,
  type Variant,
} from './design.ts'
export { FITTED, type Fitted, type FittedPoint, type FittedValue, fitLog, type LogFit } from './fit-log.ts'
export { type Followed, follow, type KilnCourse, type KilnFlask, passes } from './follow.ts'
export { historyOf, SOLVER } from './history.ts'
export { holdAndReplan, type Interrupted, type Replanned } from './hold-and-replan.ts'
export { FITTED_TITLES, type KeptFit, type KeptNumber, keepFit, withFit } from './keep-fit.ts'
export { type AskedBurnout, askBurnout, laySolved, usualFilm } from './lay-solved.ts'
export { type LearnedLog, type LoggedBurnout, type LogRows, learnFromLog, loggedBurnout } from './learn.ts'
export { type LogPoint, type LogReading, type LogUnits, readLog } from './read-log.ts'
export type { CoreAnswer } from './solve-core.ts'
