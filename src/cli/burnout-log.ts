import { readFile } from 'node:fs/promises'
import { FITTED, type Fitted, fitLog, type LogUnits, readLog } from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { METRIC, type Problem, writeWords } from '../engine/quantity/index.ts'
import { Refusal, refuse } from './refusal.ts'

const MOST_BYTES = 20_000_000

interface Stated {
  readonly value: number
  readonly low: number
  readonly high: number
  readonly source: string
  readonly measured: string
}

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
  readonly keep: {
    readonly investment: {
      readonly id: string
      readonly dryConductivity_W_mK: Stated
    }
    readonly kiln: { readonly id: string; readonly film_W_m2K: Stated }
  }
  readonly notes: readonly Told[]
}

const tell = ({ where, what, remedy }: Problem): Told => ({
  where,
  what: writeWords(what, METRIC),
  remedy: writeWords(remedy, METRIC),
})

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
  const keep = (name: Fitted): Stated => ({
    value: Number(fit.values[name].value.toPrecision(4)),
    low: Number(fit.values[name].low.toPrecision(4)),
    high: Number(fit.values[name].high.toPrecision(4)),
    source: `fitted to a thermocouple's log of ${fit.used} readings`,
    measured: day,
  })
  return {
    kind: 'burnout-log',
    version: 1,
    used: fit.used,
    before_K: Number(fit.before.toPrecision(3)),
    left_K: Number(fit.left.toPrecision(3)),
    keep: {
      investment: {
        id: plan.pour.investment.id,
        dryConductivity_W_mK: keep('conductivity'),
      },
      kiln: { id: plan.pour.kiln, film_W_m2K: keep('film') },
    },
    notes: reading.notes.map(tell),
  }
}

const NAMES: Readonly<Record<Fitted, string>> = {
  conductivity: 'heat passed by the dry mould, W/mK',
  film: 'heat passed by the kiln’s air, W/m²K',
}

export const learnedInWords = ({ keep, used, before_K, left_K, notes }: LearnedJson): string => {
  const of: Readonly<Record<Fitted, Stated>> = {
    conductivity: keep.investment.dryConductivity_W_mK,
    film: keep.kiln.film_W_m2K,
  }
  return [
    `Fitted to ${used} readings; log and reckoning ${before_K} K apart before, ${left_K} K after.`,
    ...FITTED.map(
      (name) => `  ${NAMES[name].padEnd(42)}${of[name].value}, ${of[name].low} to ${of[name].high}`,
    ),
    ...notes.map(({ where, what, remedy }) => `  ${where}: ${what} ${remedy}`),
    'Keep these in the shop:',
    JSON.stringify(keep, null, 2),
  ].join('\n')
}
