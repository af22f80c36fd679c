import { coreMarks } from '../engine/heat/burnout-lines.ts'
import { sayClock, sayMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { temperatureOf, type UnitChoice, writeFigure, writeWords } from '../engine/quantity/index.ts'
import { shortWords, WORST_FIRST } from './caution-words.ts'
import { begin, writeHold, writeWithRange } from './say.ts'
import { type Sign, sign } from './sheet.ts'

/** One step of the program, as it is entered in the kiln. */
export interface KilnRow {
  readonly number: string
  readonly starts: string
  readonly to: string
  readonly other: string
  readonly climb: string
  readonly takes: string
}

/** What is to be seen, when, and how sure that is. */
export interface KilnEvent {
  readonly what: string
  /** when it is expected, by the clock or from switching on */
  readonly at: string
  /** nine in ten */
  readonly between: string
}

/** The words of the sheet that hangs beside the kiln. */
export interface KilnWords {
  readonly title: string
  readonly under: string
  readonly head: KilnRow
  readonly rows: readonly KilnRow[]
  readonly events: readonly KilnEvent[]
  readonly notes: readonly string[]
  readonly signs: readonly Sign[]
}

const degrees = (kelvin: number, units: UnitChoice): string =>
  writeFigure(temperatureOf(kelvin), units).replace(/\u00a0?°[CF]$/, '')

/** What a plan's burnout says to the one who minds the kiln. Pure. */
export const layKiln = (plan: Plan, units: UnitChoice): KilnWords => {
  const { burnout, shop, pour } = plan
  const other: UnitChoice = { ...units, temperature: units.temperature === 'C' ? 'F' : 'C' }
  const zone = shop.timeZone
  const { start } = burnout
  const clock = (s: number): string =>
    start === undefined ? `${writeHold(s)} after switching on` : sayClock(start + s * 1000, zone)
  const kiln = shop.kilns.find(({ id }) => id === pour.kiln)
  const readsHigh = burnout.program.some((step) => Math.abs(step.setpoint - step.to.value) >= 0.5)
  return {
    title: `${pour.name}, at the kiln`,
    under: [
      kiln?.name ?? 'Kiln',
      start === undefined ? undefined : `on ${sayMoment(start, zone)}`,
      burnout.castAt === undefined ? undefined : `cast ${sayMoment(burnout.castAt, zone)}`,
      burnout.total && `${writeHold(burnout.total.value)} in all`,
    ]
      .filter((part) => part !== undefined)
      .join(', '),
    head: {
      number: 'Step',
      starts: 'Starts',
      to: `To, °${units.temperature}`,
      other: `°${other.temperature}`,
      climb: `°${units.temperature} an hour`,
      takes: 'Takes',
    },
    rows: burnout.program.map((step, index): KilnRow => {
      const rate = ((step.to.value - step.from.value) / step.duration.value) * 3600
      return {
        number: String(index + 1),
        starts: step.start === undefined ? '' : sayClock(step.start, zone),
        to: degrees(step.setpoint, units),
        other: degrees(step.setpoint, other),
        climb:
          step.kind === 'hold'
            ? 'hold'
            : rate < 0
              ? 'falls'
              : (rate * (units.temperature === 'F' ? 1.8 : 1)).toFixed(0),
        takes: writeHold(step.duration.value),
      }
    }),
    events: coreMarks(burnout)
      .toSorted((a, b) => a.s - b.s)
      .map(({ name, at }) => ({
        what: begin(name),
        at: clock(at.value),
        between: `${clock(at.low)} to ${clock(at.high)}`,
      })),
    notes: [
      'Thin line, open rings: the kiln’s own heat, as it truly is. Broken line: the steel of the flask. Heavy line: its middle; the grey round it holds nine in ten.',
      ...(burnout.load === undefined || burnout.load.length === 0
        ? []
        : ['Dotted: the middles of the other flasks in the kiln; the holds wait for the slowest.']),
      ...(burnout.coreAtCast === undefined
        ? []
        : [`The middle of the flask at the cast: ${writeWithRange(burnout.coreAtCast, units)}.`]),
      ...(burnout.core?.by === 'solver' || burnout.core === undefined
        ? []
        : ['The middle of the flask is by rule here, not solved.']),
      ...(burnout.crossCheck === undefined ? [] : [writeWords(burnout.crossCheck.words, units)]),
      ...(readsHigh ? ['Set as this kiln displays it: its own error is counted in.'] : []),
      'If the kiln stops, leave its door shut, write down when it stopped and when it came on again, and plan the rest from there.',
      'Before the top hold ends: sprue white and clean, no grey, no smell. If not, hold on there, where carbon burns, and cast later.',
    ],
    signs: plan.cautions
      .filter(({ part }) => part === 'burnout')
      .toSorted((a, b) => WORST_FIRST.indexOf(a.level) - WORST_FIRST.indexOf(b.level))
      .map((caution) => sign(caution.level, shortWords(caution, writeWords(caution.words, units)))),
  }
}
