import { readFile } from 'node:fs/promises'
import type { BurnoutLogJson } from '../engine/burnout-json.ts'
import { FITTED, FITTED_TITLES, type LogUnits, learnFromLog, loggedBurnout } from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { METRIC, type Problem, toCelsius, writeWords } from '../engine/quantity/index.ts'
import { Refusal, refuse } from './refusal.ts'

const MOST_BYTES = 20_000_000

const tell = ({ where, what, remedy }: Problem) => ({
  where,
  what: writeWords(what, METRIC),
  remedy: writeWords(remedy, METRIC),
})

const tidy = (value: number): number => Number(value.toPrecision(5))

/** The mould's and the kiln's properties from a log of this pour's own program. @throws Refusal */
export const readLogFile = async (plan: Plan, path: string, units: LogUnits): Promise<BurnoutLogJson> => {
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) =>
    refuse(`--log ${path}`, `can’t be read: ${error.code ?? error.message}`, 'give the path of the log'),
  )
  if (bytes.length > MOST_BYTES)
    return refuse(`--log ${path}`, 'is far longer than any burnout', 'log a reading a minute')
  const { fit, keep, problems, notes } = learnFromLog(
    bytes.toString('utf8'),
    units,
    loggedBurnout(plan.burnout),
    {
      investment: plan.pour.investment.id,
      kiln: plan.pour.kiln,
      day: writeMoment(plan.now, plan.shop.timeZone).slice(0, 10),
    },
  )
  if (fit === undefined || keep === undefined)
    throw new Refusal(problems.map(tell).map((one) => ({ ...one, where: `--log ${path}, ${one.where}` })))
  return {
    kind: 'burnout-log',
    version: 1,
    used: fit.used,
    before_K: Number(fit.before.toPrecision(3)),
    left_K: Number(fit.left.toPrecision(3)),
    keep,
    curve: fit.curve.map(({ s, measured, before, after }) => ({
      min: tidy(s / 60),
      measured_C: tidy(toCelsius(measured)),
      before_C: tidy(toCelsius(before)),
      after_C: tidy(toCelsius(after)),
    })),
    notes: notes.map(tell),
  }
}

export const learnedInWords = ({ keep, used, before_K, left_K, notes }: BurnoutLogJson): string => {
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
