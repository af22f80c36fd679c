import type { BurnoutStoppedJson } from '../engine/burnout-json.ts'
import { holdAndReplan } from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { toCelsius, writeDuration } from '../engine/quantity/index.ts'
import { refuse } from './refusal.ts'

const minutes = (seconds: number): number => Number((seconds / 60).toFixed(1))

/** What is still to come after a stop of the kiln. @throws Refusal where this burnout is not solved */
export const replanStopped = (
  plan: Plan,
  { at_min, for_min }: { readonly at_min: number; readonly for_min: number },
): BurnoutStoppedJson => {
  const { asked, designed, total, start } = plan.burnout
  if (asked === undefined || designed === undefined || total === undefined)
    return refuse(
      '--stopped-at',
      'this pour’s burnout is not solved, so it can’t be planned again',
      'choose a flask and a gypsum-bonded powder, and leave "burnout" at gentle or shortest',
    )
  if (at_min * 60 > total.value)
    return refuse(
      '--stopped-at',
      `the program ends after ${writeDuration(total.value)}`,
      'give a moment within it',
    )
  const again = holdAndReplan(asked.question, designed, at_min * 60, for_min * 60)
  return {
    kind: 'burnout-stopped',
    version: 1,
    kiln_C: Number(toCelsius(again.kiln).toFixed(1)),
    stages: again.stages.map(({ id, climb, hold, cut }) => ({
      id,
      climb_min: minutes(climb),
      hold_min: minutes(hold),
      longEnough: cut !== true,
    })),
    waits_min: minutes(again.waits),
    total_min: minutes(again.total),
    later_min: minutes(again.later),
    castAt: start === undefined ? null : writeMoment(start + again.total * 1000, plan.shop.timeZone),
  }
}

export const replannedInWords = ({
  kiln_C,
  stages,
  waits_min,
  total_min,
  later_min,
  castAt,
}: BurnoutStoppedJson): string =>
  [
    `The kiln goes on again at about ${kiln_C.toFixed(0)} °C. Still to come:`,
    ...stages.map(
      ({ id, climb_min, hold_min, longEnough }) =>
        `  ${id.padEnd(10)}${writeDuration(climb_min * 60)} there, then hold ${writeDuration(hold_min * 60)}${longEnough ? '' : ', and even that is not long enough'}`,
    ),
    `From switching on first ${writeDuration(total_min * 60)}: ${
      later_min > 0
        ? `the cast moves ${writeDuration(later_min * 60)} back`
        : `the casting moment is kept${waits_min > 0 ? `, with ${writeDuration(waits_min * 60)} of waiting at the casting heat` : ''}`
    }${castAt === null ? '' : `, to ${castAt}`}.`,
    'Look at the flask before going on: cracks, or water that has come back, end this burnout.',
  ].join('\n')
