import type { Shop } from '../../documents/index.ts'
import { type Problem, say } from '../../quantity/index.ts'
import type { Burnout } from '../burnout.ts'
import type { DesignQuestion } from './design.ts'
import { type Fitted, fitLog, type LogFit } from './fit-log.ts'
import type { KilnCourse } from './follow.ts'
import { type LogReading, type LogUnits, readLog } from './read-log.ts'

/** A fitted value as the shop's document holds it. */
export interface KeptValue {
  readonly value: number
  readonly low: number
  readonly high: number
  readonly source: string
  /** the day of the log */
  readonly measured: string
}

/** What a log taught, by the rows of the shop that it belongs to. */
export interface Learned {
  readonly investment: { readonly id: string; readonly dryConductivity_W_mK: KeptValue }
  readonly kiln: { readonly id: string; readonly film_W_m2K: KeptValue }
}

export interface LearnedLog {
  readonly reading: LogReading
  /** absent where the log or the burnout keeps it from being fitted, or the fit from being used */
  readonly fit?: LogFit
  readonly keep?: Learned
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
  const kept = (name: Fitted): KeptValue => ({
    value: Number(fit.values[name].value.toPrecision(4)),
    low: Number(fit.values[name].low.toPrecision(4)),
    high: Number(fit.values[name].high.toPrecision(4)),
    source: `fitted to a thermocouple's log of ${fit.used} readings`,
    measured: rows.day,
  })
  return {
    reading,
    fit,
    keep: {
      investment: { id: rows.investment, dryConductivity_W_mK: kept('conductivity') },
      kiln: { id: rows.kiln, film_W_m2K: kept('film') },
    },
    problems: [],
    notes,
  }
}

/** The shop with what a log taught in its rows; a row that is no longer there is left out. */
export const shopThatLearned = (shop: Shop, { investment, kiln }: Learned): Shop => ({
  ...shop,
  investments: shop.investments.map((one) =>
    one.id === investment.id ? { ...one, dryConductivity_W_mK: investment.dryConductivity_W_mK } : one,
  ),
  kilns: shop.kilns.map((one) => (one.id === kiln.id ? { ...one, film_W_m2K: kiln.film_W_m2K } : one)),
})
