import { burnoutToJson } from '../engine/burnout-json.ts'
import type { LogUnits } from '../engine/heat/index.ts'
import type { Plan } from '../engine/plan.ts'
import {
  type Quantity,
  timeOf,
  type UnitChoice,
  writeDuration,
  writeFigure,
  writeQuantity,
  writeWords,
} from '../engine/quantity/index.ts'
import { settlePlan } from '../settle/index.ts'
import { learnedInWords, readLogFile } from './burnout-log.ts'
import { replannedInWords, replanStopped } from './burnout-stopped.ts'
import { slowLoaders } from './load.ts'
import { type CommandAnswer, readNow } from './plan.ts'
import { burnoutSection } from './plan-words.ts'
import { readPour } from './read-pour.ts'
import { checkWritable, save } from './write-file.ts'

export interface BurnoutOptions {
  readonly shop?: string
  readonly now?: string
  readonly log?: string
  readonly logUnits: LogUnits
  readonly stopped?: { readonly at_min: number; readonly for_min: number; readonly castAt?: string }
  readonly json: boolean
  readonly pdf?: string
  readonly paper: 'a4' | 'letter'
  /** in the flask that the waxes take by their outside boxes, without a place for each */
  readonly byBoxes?: boolean
  readonly units: UnitChoice
}

const event = (quantity: Quantity | undefined, units: UnitChoice): string[] => {
  if (quantity === undefined) return []
  const { value, low, high } = writeQuantity(quantity, units)
  return [`  ${quantity.title}: ${value} after switching on, ${low} to ${high}`]
}

const inWords = (plan: Plan, units: UnitChoice): string => {
  const { core, crossCheck } = plan.burnout
  const verdicts = plan.verdicts.filter(({ part }) => part === 'burnout')
  const cautions = plan.cautions.filter(({ part }) => part === 'burnout')
  return [
    burnoutSection(plan, units),
    ...(crossCheck === undefined
      ? []
      : [
          `  ${writeWords(crossCheck.words, units)}`,
          `  Gentle ${writeFigure(timeOf(crossCheck.totals.gentle), units)}, shortest ${writeFigure(timeOf(crossCheck.totals.shortest), units)}; this is the ${crossCheck.variant} one.`,
        ]),
    'The middle of the flask',
    ...event(core?.sprueMelted, units),
    ...event(core?.waxMelted, units),
    ...event(core?.coreDry, units),
    ...event(core?.coreHot, units),
    ...(plan.burnout.coreAtCast === undefined
      ? []
      : [`  ${plan.burnout.coreAtCast.title}: ${writeQuantity(plan.burnout.coreAtCast, units).value}`]),
    ...(plan.burnout.load ?? []).map(
      ({ id, core: { events } }) =>
        `  ${id}, beside it: dry after ${writeDuration(events.dry)}, hot enough to burn carbon after ${writeDuration(events.hot)}`,
    ),
    'Checks',
    ...verdicts.map(({ verdict, title, reason, remedy }) =>
      `  ${verdict}: ${writeWords(title, units)}. ${writeWords(reason, units)} ${writeWords(remedy, units)}`.trimEnd(),
    ),
    'Mind',
    ...cautions.map(({ words }) => `  ${writeWords(words, units)}`),
    ...(plan.burnout.total === undefined ? [] : [`In the kiln ${writeDuration(plan.burnout.total.value)}.`]),
  ].join('\n')
}

/** `burnout POUR.json`: program, core and events; exit status 1 when a stop stands in that part. */
export const runBurnout = async (path: string, options: BurnoutOptions): Promise<CommandAnswer> => {
  const now = readNow(options.now)
  const { pour, shop, readModel } = await readPour(path, options.shop)
  await checkWritable([['--pdf', options.pdf]])
  const work = { readModel, ...slowLoaders }
  const plan = await settlePlan(shop, pour, now, work, { byBoxes: options.byBoxes })
  const units = { ...options.units, currency: shop.currency }
  if (options.log !== undefined) {
    const learned = await readLogFile(plan, options.log, options.logUnits)
    return { out: options.json ? JSON.stringify(learned) : learnedInWords(learned), exitStatus: 0 }
  }
  if (options.stopped !== undefined) {
    const again = replanStopped(plan, options.stopped)
    return { out: options.json ? JSON.stringify(again) : replannedInWords(again), exitStatus: 0 }
  }
  if (options.pdf !== undefined) {
    const { printKilnSheet } = await import('../print/index.ts')
    const sheet = await printKilnSheet(plan, { paper: options.paper, units, printedAt: now })
    await save('--pdf', options.pdf, sheet)
  }
  const stop = plan.go.stops.some((one) => one.part === 'burnout')
  return {
    out: options.json ? JSON.stringify(burnoutToJson(plan, units)) : inWords(plan, units),
    exitStatus: stop ? 1 : 0,
  }
}
