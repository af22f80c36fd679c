import type { BurnoutStoppedJson } from '../engine/burnout-json.ts'
import { holdAndReplan } from '../engine/heat/index.ts'
import { writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { toCelsius, writeDuration } from '../engine/quantity/index.ts'
import { refuse } from './refusal.ts'

const minutes = (seconds: number): number => Number((seconds / 60).toFixed(1))

/** s from switching on until the moment wished now. */
const wishedFrom = (castAt: string, start: number | undefined, at_min: number): number => {
  const at = Date.parse(castAt)
  if (Number.isNaN(at) || !/(Z|[+-]\d\d:\d\d)$/.test(castAt))
    return refuse('--cast-at', `"${castAt}" is no moment`, 'give one such as 2030-11-14T15:30:00-07:00')
  if (start === undefined)
    return refuse('--cast-at', 'this pour has no moment, so the kiln has none', 'give the pour its castAt')
  const wished = (at - start) / 1000
  return wished >= at_min * 60
    ? wished
    : refuse('--cast-at', `${castAt} is before the kiln stopped`, 'give a moment still to come')
}

/** What is still to come after a stop of the kiln. @throws Refusal where this burnout is not solved */
export const replanStopped = (
  plan: Plan,
  {
    at_min,
    for_min,
    castAt,
  }: { readonly at_min: number; readonly for_min: number; readonly castAt?: string },
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
  const wished = castAt === undefined ? undefined : wishedFrom(castAt, start, at_min)
  const again = holdAndReplan(asked.question, designed, { at: at_min * 60, stopped: for_min * 60, wished })
  const moment = (after: number): string | null =>
    start === undefined ? null : writeMoment(start + after * 1000, plan.shop.timeZone)
  return {
    kind: 'burnout-stopped',
    version: 1,
    kiln_C: Number(toCelsius(again.kiln).toFixed(1)),
    stages: again.stages.map(({ id, climb, hold, cut }) => ({
      id,
      cut,
      climb_min: minutes(climb),
      hold_min: minutes(hold),
    })),
    total_min: minutes(again.total),
    soonest_min: minutes(again.soonest),
    chilled: again.chilled,
    missed: wished !== undefined && again.soonest > wished,
    later_min: minutes(again.later),
    castAt: moment(again.total),
    soonestAt: moment(again.soonest),
  }
}

const NEVER_ENDS: Readonly<Record<string, string>> = {
  drying: 'even the longest hold does not dry the middle',
  top: 'even the longest hold does not burn the carbon off',
  casting: 'even the longest hold does not settle the middle',
}

export const replannedInWords = ({
  kiln_C,
  stages,
  total_min,
  later_min,
  castAt,
  missed,
  chilled,
  soonest_min,
  soonestAt,
}: BurnoutStoppedJson): string =>
  [
    `The kiln goes on again at about ${kiln_C.toFixed(0)} °C. Still to come:`,
    ...stages.map(
      ({ id, climb_min, hold_min, cut }) =>
        `  ${id.padEnd(10)}${writeDuration(climb_min * 60)} there, then hold ${writeDuration(hold_min * 60)}${cut ? `; ${NEVER_ENDS[id] ?? ''}` : ''}`,
    ),
    ...(missed ? ['The moment wished is too soon.'] : []),
    `From switching on first ${writeDuration(total_min * 60)}: ${moves(later_min)}${castAt === null ? '' : `, to ${castAt}`}.`,
    ...(soonest_min < total_min
      ? [
          `It could be ${writeDuration(soonest_min * 60)} at the soonest${soonestAt === null ? '' : `, ${soonestAt}`}; till then the flask waits at casting heat.`,
        ]
      : []),
    ...(chilled
      ? [
          'The mould had been hot and has cooled through 270 to 220 °C, where its cristobalite shrinks: it may have cracked, and metal may break out. Common practice is not to cast it.',
        ]
      : []),
    'Look at the flask before going on: cracks, or water that has come back, end this burnout.',
  ].join('\n')

const moves = (later_min: number): string =>
  later_min === 0
    ? 'the cast stays where it was'
    : `the cast moves ${writeDuration(Math.abs(later_min) * 60)} ${later_min < 0 ? 'forward' : 'back'}`
