import { planToJson } from '../engine/plan-json.ts'
import { massOf, type UnitChoice, writeFigure, writeQuantity, writeWords } from '../engine/quantity/index.ts'
import { settlePlan } from '../settle/index.ts'
import { slowLoaders } from './load.ts'
import { type CommandAnswer, readNow } from './plan.ts'
import { readPour } from './read-pour.ts'

export interface ChargeOptions {
  readonly shop?: string
  readonly now?: string
  readonly json: boolean
  /** by the outside boxes of the waxes, without a place for each */
  readonly byBoxes?: boolean
  readonly units: UnitChoice
}

/** `charge POUR.json`: only the charge and its make-up; exit status 1 when a stop stands in that part. */
export const runCharge = async (path: string, options: ChargeOptions): Promise<CommandAnswer> => {
  const { pour, shop, readModel } = await readPour(path, options.shop)
  const work = { readModel, ...slowLoaders }
  const plan = await settlePlan(shop, pour, readNow(options.now), work, { byBoxes: options.byBoxes })
  const units = { ...options.units, currency: shop.currency }
  const stop = plan.go.stops.some((one) => one.part === 'charge')
  if (options.json) {
    const { metal, charge, verdicts, currency } = planToJson(plan, units)
    const answer = {
      kind: 'charge' as const,
      version: 1 as const,
      metal,
      charge,
      currency,
      verdicts: verdicts.filter((one) => one.part === 'charge'),
    }
    return { out: JSON.stringify(answer), exitStatus: stop ? 1 : 0 }
  }
  const { fineness, lines } = plan.charge
  const written = fineness && writeQuantity(fineness, units)
  const elsewhere = plan.go.stops.filter((one) => one.part !== 'charge')
  const out = [
    ...lines.map((lot) => `${lot.name}: ${writeFigure(massOf(lot.mass), units)}`),
    ...(plan.needed.toWeigh === undefined
      ? ['charge open']
      : [
          `in all: ${writeFigure(massOf(plan.needed.toWeigh.value), units)}${plan.spruesBy === 'boxes' ? ', with sprues by outside boxes' : ''}`,
        ]),
    written === undefined ? 'fineness open' : `fineness ${written.value}, ${written.low} to ${written.high}`,
    ...[...plan.go.stops, ...plan.go.checks]
      .filter((one) => one.part === 'charge')
      .map(
        (one) =>
          `${one.verdict === 'stop' ? 'STOP' : 'check'}: ${writeWords(one.title, units)}. ${writeWords(one.reason, units)}\n  do: ${writeWords(one.remedy, units)}`,
      ),
    // a charge weighed out for a tree that can't be poured
    ...(elsewhere[0] === undefined
      ? []
      : [
          `NOT READY: the plan is stopped elsewhere, by ${elsewhere.length === 1 ? 'this' : `${elsewhere.length}, the first`}: ${writeWords(elsewhere[0].title, units)}. See plan before weighing it out.`,
        ]),
  ]
  return { out: out.join('\n'), exitStatus: stop ? 1 : 0 }
}
