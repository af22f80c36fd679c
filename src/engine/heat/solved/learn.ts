import { type Problem, say } from '../../quantity/index.ts'
import type { Burnout } from '../burnout.ts'
import type { DesignQuestion } from './design.ts'
import { fitLog, type LogFit } from './fit-log.ts'
import type { KilnCourse } from './follow.ts'
import { type KeptFit, keepFit } from './keep-fit.ts'
import { type LogReading, type LogUnits, readLog } from './read-log.ts'

export interface LearnedLog {
  readonly reading: LogReading
  /** absent where the log or the burnout keeps it from being fitted, or the fit from being used */
  readonly fit?: LogFit
  readonly keep?: KeptFit
  readonly problems: readonly Problem[]
  readonly notes: readonly Problem[]
}

const NOT_SOLVED: Problem = {
  kind: 'log-not-solved',
  where: '/burnout',
  what: say`This pour's burnout is not solved, so nothing can be fitted to a log.`,
  remedy: say`Choose a flask and a gypsum-bonded powder, and leave "burnout" at gentle or shortest.`,
}

/** The burnout that a log is held against, in plain numbers. */
export interface LoggedBurnout {
  readonly question: Pick<DesignQuestion, 'flask' | 'spread'>
  readonly course: KilnCourse
  /** K, the kiln's display over its true temperature */
  readonly readsHigh: number
}

/** Undefined where the burnout is not solved, so that nothing can be fitted. */
export const loggedBurnout = ({
  asked,
  program,
}: Pick<Burnout, 'asked' | 'program'>): LoggedBurnout | undefined => {
  const [first] = program
  if (asked === undefined || first === undefined) return undefined
  return {
    question: asked.question,
    course: {
      temperatures: [first.from.value, ...program.map(({ to }) => to.value)],
      durations: program.map(({ duration }) => duration.value),
    },
    readsHigh: first.setpoint - first.to.value,
  }
}

/** Which rows of the shop a log belongs to, and its day as 2030-11-14. */
export interface LogRows {
  readonly investment: string
  readonly kiln: string
  readonly day: string
}

/**
 * Reads a thermocouple's log from the middle of a flask that went through this pour's own program, and fits to it
 * what the shop's kiln and investment pass on. About a second.
 */
export const learnFromLog = (
  text: string,
  units: LogUnits,
  burnout: LoggedBurnout | undefined,
  rows: LogRows,
): LearnedLog => {
  const reading = readLog(text.replace(/^\uFEFF/, ''), units)
  if (reading.problems.length > 0) return { reading, problems: reading.problems, notes: reading.notes }
  if (burnout === undefined) return { reading, problems: [NOT_SOLVED], notes: reading.notes }
  const fit = fitLog(reading.points, burnout.question, burnout.course, burnout.readsHigh)
  const notes = [...reading.notes, ...fit.notes]
  if (fit.problems.length > 0) return { reading, fit, problems: fit.problems, notes }
  return {
    reading,
    fit,
    keep: keepFit(fit, { investment: rows.investment, kiln: rows.kiln }, rows.day),
    problems: [],
    notes,
  }
}
