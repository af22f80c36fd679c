import { designBurnout, holdAndReplan } from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { toCelsius, writeDuration } from '../engine/quantity/index.ts'
import { refuse } from './refusal.ts'

/** What `burnout --stopped-at --json` writes. */
interface ReplannedJson {
  readonly kind: 'burnout-stopped'
  readonly version: 1
  readonly kiln_C: number
  readonly stages: readonly { readonly id: string; readonly climb_min: number; readonly hold_min: number }[]
  readonly total_min: number
  readonly later_min: number
  /** null where the pour has no moment */
  readonly castAt: string | null
}

const minutes = (seconds: number): number => Number((seconds / 60).toFixed(1))

/** What is still to come after a stop of the kiln. @throws Refusal where this burnout is not solved */
export const replanStopped = (
  plan: Plan,
  { at_min, for_min }: { readonly at_min: number; readonly for_min: number },
): ReplannedJson => {
  const { asked, total, start } = plan.burnout
  if (asked === undefined || total === undefined)
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
  const again = holdAndReplan(asked.question, designBurnout(asked.question), at_min * 60, for_min * 60)
  return {
    kind: 'burnout-stopped',
    version: 1,
    kiln_C: Number(toCelsius(again.kiln).toFixed(1)),
    stages: again.stages.map(({ id, climb, hold }) => ({
      id,
      climb_min: minutes(climb),
      hold_min: minutes(hold),
    })),
    total_min: minutes(again.total),
    later_min: minutes(again.later),
    castAt: start === undefined ? null : writeMoment(start + again.total * 1000, plan.shop.timeZone),
  }
}

export const replannedInWords = ({ kiln_C, stages, total_min, later_min, castAt }: ReplannedJson): string =>
  [
    `The kiln goes on again at about ${kiln_C.toFixed(0)} °C. Still to come:`,
    ...stages.map(
      ({ id, climb_min, hold_min }) =>
        `  ${id.padEnd(10)}${writeDuration(climb_min * 60)} there, then hold ${writeDuration(hold_min * 60)}`,
    ),
    `From switching on first ${writeDuration(total_min * 60)}: the cast moves ${writeDuration(Math.abs(later_min) * 60)} ${later_min < 0 ? 'forward' : 'back'}${castAt === null ? '' : `, to ${castAt}`}.`,
    'Look at the flask before going on: cracks, or water that has come back, end this burnout.',
  ].join('\n')
