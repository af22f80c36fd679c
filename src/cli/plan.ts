import { explanationsOf, planToJson } from '../engine/plan-json.ts'
import type { UnitChoice } from '../engine/quantity/index.ts'
import { settlePlan } from '../settle/index.ts'
import { slowLoaders } from './load.ts'
import { planInWords } from './plan-words.ts'
import { readPour } from './read-pour.ts'
import { refuse } from './refusal.ts'
import { checkWritable, save } from './write-file.ts'

export interface PlanOptions {
  readonly shop?: string
  readonly now?: string
  readonly json: boolean
  readonly explain: boolean
  /** by the outside boxes of the waxes, without a place for each */
  readonly byBoxes?: boolean
  readonly pdf?: string
  readonly paper: 'a4' | 'letter'
  readonly units: UnitChoice
}

export interface CommandAnswer {
  readonly out: string
  readonly exitStatus: 0 | 1
}

/** The moment named by --now, or this one. */
export const readNow = (now: string | undefined): number => {
  if (now === undefined) return Date.now()
  const at = Date.parse(now)
  if (Number.isNaN(at) || !/(Z|[+-]\d\d:?\d\d)$/.test(now))
    return refuse('--now', `"${now}" is not a time with its offset`, 'write it as 2030-11-14T15:30:00-07:00')
  return at
}

/** `plan POUR.json`: waits for every slow result; exit status 1 when the plan holds a stop. */
export const runPlan = async (path: string, options: PlanOptions): Promise<CommandAnswer> => {
  const now = readNow(options.now)
  const { pour, shop, readModel } = await readPour(path, options.shop)
  await checkWritable([['--pdf', options.pdf]])
  const work = { readModel, ...slowLoaders }
  const plan = await settlePlan(shop, pour, now, work, { byBoxes: options.byBoxes })
  const units = { ...options.units, currency: shop.currency }
  if (options.pdf !== undefined) {
    const { printRunSheet } = await import('../print/index.ts')
    const sheet = await printRunSheet(plan, {
      paper: options.paper,
      units,
      printedAt: now,
      explanations: options.explain,
    })
    await save('--pdf', options.pdf, sheet)
  }
  const out = options.json
    ? JSON.stringify({
        ...planToJson(plan, units),
        ...(options.explain && { explanations: explanationsOf(plan) }),
      })
    : planInWords(plan, units, options.explain)
  return { out, exitStatus: plan.go.stops.length > 0 ? 1 : 0 }
}
