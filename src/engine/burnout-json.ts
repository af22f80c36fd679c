import type * as z from 'zod'
import { writeMoment } from './physics/schedule.ts'
import type { Plan } from './plan.ts'
import { planToJson } from './plan-json.ts'
import type { burnoutLogJsonSchema, burnoutStoppedJsonSchema } from './plan-schema.ts'
import { METRIC, toCelsius, type UnitChoice, writeWords } from './quantity/index.ts'

/** What `burnout --log --json` writes. */
export type BurnoutLogJson = z.infer<typeof burnoutLogJsonSchema>
/** What `burnout --stopped-at --json` writes. */
export type BurnoutStoppedJson = z.infer<typeof burnoutStoppedJsonSchema>

const tidy = (value: number): number => Number(value.toPrecision(6))

/** min; null for what never comes */
const minute = (seconds: number): number | null => (Number.isFinite(seconds) ? tidy(seconds / 60) : null)

/** What `burnout --json` writes; its form is published as schemas/burnout.schema.json. */
export const burnoutToJson = (plan: Plan, choice: UnitChoice = METRIC) => {
  const { burnout, shop } = plan
  const { burnout: planned, verdicts, cautions, now, castAt } = planToJson(plan, choice)
  const moment = (s: number): string | null =>
    burnout.start === undefined ? null : writeMoment(burnout.start + s * 1000, shop.timeZone)
  const { core } = burnout
  const events = [
    ['sprueMelted', core?.sprueMelted],
    ['waxMelted', core?.waxMelted],
    ['coreDry', core?.coreDry],
    ['coreHot', core?.coreHot],
  ] as const
  return {
    kind: 'burnout' as const,
    version: 1 as const,
    now,
    castAt,
    ...planned,
    events: events.flatMap(([id, at]) =>
      at === undefined
        ? []
        : [
            {
              id,
              title: at.title,
              min: { low: tidy(at.low / 60), expected: tidy(at.value / 60), high: tidy(at.high / 60) },
              at: moment(at.value),
            },
          ],
    ),
    core: (core?.curve ?? []).map(({ s, K, low, high, wall }) => ({
      min: tidy(s / 60),
      core_C: tidy(toCelsius(K)),
      low_C: tidy(toCelsius(low)),
      high_C: tidy(toCelsius(high)),
      wall_C: wall === undefined ? null : tidy(toCelsius(wall)),
    })),
    load: (burnout.load ?? []).map(({ id, core: { events, curve } }) => ({
      flask: id,
      dry_min: minute(events.dry),
      hot_min: minute(events.hot),
      settle_min: minute(events.settle),
      core: curve.map(({ s, K, low, high }) => ({
        min: tidy(s / 60),
        core_C: tidy(toCelsius(K)),
        low_C: tidy(toCelsius(low)),
        high_C: tidy(toCelsius(high)),
      })),
    })),
    crossCheck:
      burnout.crossCheck === undefined
        ? null
        : {
            rule_min: tidy(burnout.crossCheck.rule.value / 60),
            words: writeWords(burnout.crossCheck.words, choice),
          },
    variants:
      burnout.crossCheck === undefined
        ? []
        : (['gentle', 'shortest'] as const).map((id) => ({
            id,
            total_min: tidy((burnout.crossCheck?.totals[id] ?? Number.NaN) / 60),
            chosen: burnout.crossCheck?.variant === id,
          })),
    verdicts: verdicts.filter(({ part }) => part === 'burnout'),
    cautions: cautions.filter(({ part }) => part === 'burnout'),
  }
}
