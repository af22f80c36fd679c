import { readFile } from 'node:fs/promises'
import {
  FITTED,
  FITTED_TITLES,
  fitLog,
  type KeptFit,
  keepFit,
  type LogUnits,
  readLog,
} from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { METRIC, type Problem, toCelsius, writeWords } from '../engine/quantity/index.ts'
import { Refusal, refuse } from './refusal.ts'

const MOST_BYTES = 20_000_000

interface Told {
  readonly where: string
  readonly what: string
  readonly remedy: string
}

/** What `burnout --log --json` writes. `keep` is as the shop's document holds it. */
interface LearnedJson {
  readonly kind: 'burnout-log'
  readonly version: 1
  readonly used: number
  readonly before_K: number
  readonly left_K: number
  readonly keep: KeptFit
  /** the core as logged, and as reckoned with the shop's own figures and with the fitted ones */
  readonly curve: readonly {
    readonly min: number
    readonly measured_C: number
    readonly before_C: number
    readonly after_C: number
  }[]
  readonly notes: readonly Told[]
}

const tell = ({ where, what, remedy }: Problem): Told => ({
  where,
  what: writeWords(what, METRIC),
  remedy: writeWords(remedy, METRIC),
})

const tidy = (value: number): number => Number(value.toPrecision(5))

/** The mould's and the kiln's properties from a log of this pour's own program. @throws Refusal */
export const learnFromLog = async (plan: Plan, path: string, units: LogUnits): Promise<LearnedJson> => {
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) =>
    refuse(`--log ${path}`, `can’t be read: ${error.code ?? error.message}`, 'give the path of the log'),
  )
  if (bytes.length > MOST_BYTES)
    return refuse(`--log ${path}`, 'is far longer than any burnout', 'log a reading a minute')
  const reading = readLog(bytes.toString('utf8').replace(/^\uFEFF/, ''), units)
  const { asked, program } = plan.burnout
  if (reading.problems.length > 0)
    throw new Refusal(
      reading.problems.map(tell).map((one) => ({ ...one, where: `--log ${path}, ${one.where}` })),
    )
  const [first] = program
  if (asked === undefined || first === undefined)
    return refuse(
      `--log ${path}`,
      'this pour’s burnout is not solved, so nothing can be fitted to a log',
      'choose a flask and a gypsum-bonded powder, and leave "burnout" at gentle or shortest',
    )
  const course = {
    temperatures: [first.from.value, ...program.map(({ to }) => to.value)],
    durations: program.map(({ duration }) => duration.value),
  }
  const fit = fitLog(reading.points, asked.question, course, first.setpoint - first.to.value)
  if (fit.problems.length > 0)
    throw new Refusal(fit.problems.map(tell).map((one) => ({ ...one, where: `--log ${path}` })))
  const day = writeMoment(plan.now, plan.shop.timeZone).slice(0, 10)
  return {
    kind: 'burnout-log',
    version: 1,
    used: fit.used,
    before_K: Number(fit.before.toPrecision(3)),
    left_K: Number(fit.left.toPrecision(3)),
    keep: keepFit(fit, { investment: plan.pour.investment.id, kiln: plan.pour.kiln }, day),
    curve: fit.curve.map(({ s, measured, before, after }) => ({
      min: tidy(s / 60),
      measured_C: tidy(toCelsius(measured)),
      before_C: tidy(toCelsius(before)),
      after_C: tidy(toCelsius(after)),
    })),
    notes: [...reading.notes, ...fit.notes].map(tell),
  }
}

export const learnedInWords = ({ keep, used, before_K, left_K, notes }: LearnedJson): string => {
  const of = {
    conductivity: keep.investment.dryConductivity_W_mK,
    film: keep.kiln.film_W_m2K,
  }
  return [
    `Fitted to ${used} readings; log and reckoning ${before_K} K apart before, ${left_K} K after.`,
    ...FITTED.map(
      (name) => `  ${FITTED_TITLES[name].padEnd(42)}${of[name].value}, ${of[name].low} to ${of[name].high}`,
    ),
    ...notes.map(({ where, what, remedy }) => `  ${where}: ${what} ${remedy}`),
    'Keep these in the shop:',
    JSON.stringify(keep, null, 2),
  ].join('\n')
}
