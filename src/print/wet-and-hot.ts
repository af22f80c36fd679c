import { sayClock, sayMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import {
  figureOf,
  type Quantity,
  type UnitChoice,
  writeFigure,
  writeNumber,
} from '../engine/quantity/index.ts'
import { write, writeBothTemperatures, writeClockTime, writeHold, writeRange } from './say.ts'
import { type Block, row } from './sheet.ts'

const STEP_WORDS: Readonly<Record<string, (plan: Plan, units: UnitChoice) => string>> = {
  mix: () => 'Powder into water, mix',
  'vacuum-mix': ({ mix }, units) =>
    `Vacuum the mix; it boils from ${writeFigure(figureOf(mix.vacuum.boilGauge), units)}`,
  pour: () => 'Pour down the wall',
  'vacuum-flask': () => 'Vacuum the flask, top it up',
}

/** (551 to 568 g): the range, where there is one. */
const within = (quantity: Quantity | undefined, units: UnitChoice): string =>
  quantity === undefined || quantity.low === quantity.high ? '' : ` (${writeRange(quantity, units)})`

/** Powder, water, and the clock from the first powder in the water. */
export const mixAndFill = (plan: Plan, units: UnitChoice): Block[] => {
  const { mix } = plan
  const water = writeFigure(figureOf(mix.slurryTemperature), units)
  return [
    row(`Powder${within(mix.powder, units)}`, { plan: mix.powder && write(mix.powder, units), got: 'g' }),
    row(`Water, ${water}${within(mix.water, units)}`, {
      plan: mix.water && write(mix.water, units),
      got: 'g',
    }),
    ...mix.steps.flatMap((step) => {
      const words = STEP_WORDS[step.id]
      return words === undefined
        ? []
        : [row(words(plan, units), { plan: writeClockTime(step.to_s - step.from_s), got: ':' })]
    }),
    row(
      `All still at ${writeClockTime(mix.allStill.value)}; gloss goes ${writeClockTime(mix.glossOff.low)} to ${writeClockTime(mix.glossOff.high)}`,
      { plan: writeHold(mix.setAt.value - mix.allStill.value), got: '' },
    ),
  ]
}

export const whenMixed = ({ burnout, mix, shop }: Plan): string => {
  const length = `${Math.round(mix.allStill.value / 60)}\u00a0min from powder in water`
  if (burnout.mixBy === undefined) return length
  const evening =
    burnout.eveningBefore === undefined
      ? ''
      : `. Common practice: the evening before, by ${sayClock(burnout.eveningBefore.mixAt, shop.timeZone)}; then bag it damp, the kiln on its delay`
  return `start by ${sayMoment(burnout.mixBy, shop.timeZone)} at the latest; ${length}${evening}`
}

/** The kiln's program, each climb with the hold that it ends in. */
export const burnOut = (plan: Plan, units: UnitChoice): Block[] => {
  const { burnout, shop } = plan
  if (burnout.program.length === 0) return [row('Program: open until the flask is chosen', { got: '' })]
  const readsHigh = burnout.program.some((step) => Math.abs(step.setpoint - step.to.value) >= 0.5)
  return burnout.program.flatMap((step, index) => {
    if (step.kind !== 'hold') return []
    const before = burnout.program[index - 1]
    const climb = before?.kind === 'ramp' ? before : undefined
    const rate = climb && Math.abs(climb.to.value - climb.from.value) / Math.max(1, climb.duration.value)
    const falls = climb !== undefined && climb.to.value < climb.from.value
    const way =
      rate === undefined
        ? ''
        : falls
          ? ', let it fall'
          : `, climb ${writeNumber({ value: rate, unit: 'K/s', decimals: 0 }, units)}/h`
    const from = step.start === undefined ? '' : ` from ${sayClock(step.start, shop.timeZone)}`
    return [
      row(`${writeBothTemperatures(step.setpoint, units)}${way}; hold${from}`, {
        plan: writeHold(step.duration.value),
        got: '',
        aside: index === 1 && readsHigh ? 'As this kiln displays it; its own error is counted in' : undefined,
      }),
    ]
  })
}

const BY = { rule: 'by rule', solver: 'solved' } as const

export const whenBurned = ({ burnout, shop }: Plan): string => {
  const length = burnout.total && `${writeHold(burnout.total.value)}, ${BY[burnout.core?.by ?? 'rule']}`
  if (burnout.start === undefined) return length ?? 'open'
  return `${sayMoment(burnout.start, shop.timeZone)}${length ? `; ${length}` : ''}`
}

/** The arm wound, the melt, and how long it runs. */
export const meltAndSpin = (plan: Plan, units: UnitChoice): Block[] => {
  const { spin, melt } = plan
  const { balance, time } = spin
  const wound = `Wind ${Number(spin.turns.value.toFixed(2))} turns`
  return [
    balance
      ? row(`${wound}; counterweight still at`, {
          plan: write(balance.counterweightAt, units),
          got: units.length,
        })
      : row(`${wound}; counterweight open until the flask has a weight`, { got: units.length }),
    row(`Melt with borax; let go at ${writeBothTemperatures(melt.pourTemperature.value, units)}, rolling`, {
      plan: melt.time && `${writeClockTime(melt.time.value)}`,
      got: ':',
      aside: melt.time && `Melting takes ${writeRange(melt.time, units)} by this torch`,
    }),
    row('Let it run', {
      plan: time && write({ ...time.run, low: time.run.value, high: time.run.value }, units),
      got: ':',
      aside: time && `Last metal solid at ${writeRange(time.lastSolid, units)}`,
    }),
  ]
}

export const whenMelted = ({ castAt, melt, shop }: Plan): string => {
  if (castAt === undefined) return 'when the kiln is ready'
  const clock = (at: number): string => sayClock(at, shop.timeZone)
  const lit = melt.time && castAt - Math.ceil(melt.time.high / 60) * 60_000
  return `${lit === undefined ? '' : `torch lit ${clock(lit)}; `}open the kiln at ${clock(castAt)}`
}
