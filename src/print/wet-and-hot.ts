import { sayClock, sayMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { figureOf, type Quantity, type UnitChoice, writeFigure } from '../engine/quantity/index.ts'
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
  const { mix, burnout } = plan
  const water = writeFigure(figureOf(mix.slurryTemperature), units)
  return [
    row('Respirator on; flask tried over the tree, on its base'),
    ...(mix.collar === undefined
      ? []
      : [
          row('Collar on the flask', {
            plan: write({ ...mix.collar, low: mix.collar.value, high: mix.collar.value }, units),
          }),
        ]),
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
      `All still on the clock; the gloss goes at ${writeClockTime(mix.glossOff.low)} to ${writeClockTime(mix.glossOff.high)}`,
      { plan: writeClockTime(mix.allStill.value), got: ':' },
    ),
    row('Left alone until it has set', { plan: writeHold(mix.setAt.value - mix.allStill.value), got: '' }),
    row(mix.collar === undefined ? 'Base off' : 'Base and collar off, the face scraped level'),
    ...(burnout.eveningBefore === undefined ? [] : [row('Bagged damp until the kiln')]),
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
  const on = burnout.start === undefined ? '' : ` for ${sayMoment(burnout.start, shop.timeZone)}`
  const holds = burnout.program.flatMap((step, index) => {
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
          : `, climb ${writeFigure({ value: rate, unit: 'K/s', decimals: 0 }, units)}`
    const from = step.start === undefined ? '' : ` from ${sayClock(step.start, shop.timeZone)}`
    return [
      row(`${writeBothTemperatures(step.setpoint, units)}${way}; hold${from}`, {
        plan: writeHold(step.duration.value),
        got: '',
        under: index === 1 && readsHigh ? 'As this kiln displays it; its own error is counted in' : undefined,
      }),
    ]
  })
  return [
    row('Flask into the kiln, mouth down'),
    row(`Kiln on, or its delay set${on}`, { got: ':' }),
    ...holds,
    row('Before the top hold ends: sprue white and clean, no grey, no smell', { got: '' }),
  ]
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
  const { transfer } = plan.quench
  const { balance, time } = spin
  const wound = `Wind ${Number(spin.turns.value.toFixed(2))} turns`
  return [
    balance
      ? row(`${wound}; counterweight still at`, {
          plan: write(balance.counterweightAt, units),
          got: units.length,
        })
      : row(`${wound}; counterweight open until the flask has a weight`, { got: units.length }),
    row('Crucible warmed and glazed, tongs and rod dry'),
    ...(plan.charge.fineWithCopper
      ? [row('Silver first, with borax'), row('Copper after, under the flame; stir')]
      : [row('Metal in, with borax; stir')]),
    row(
      `Rolls like quicksilver, ${writeBothTemperatures(melt.pourTemperature.value, units)}: open the kiln now, the flame kept on`,
      {
        plan: melt.time && `${writeClockTime(melt.time.value)}`,
        got: ':',
        under:
          melt.time &&
          `Melting takes ${writeRange(melt.time, units)} by this torch; metal ${writeRange(melt.pourTemperature, units)}`,
      },
    ),
    row('Flask out with dry tongs, no dirt in the sprue', {
      plan: transfer && `${Math.max(5, Math.floor(transfer.seconds.low / 5) * 5)}\u00a0s`,
      got: transfer && ':',
      under:
        transfer &&
        `From the door to the pour, at most: the mould at the farthest wax stays hot enough for ${writeRange(transfer.seconds, units)}`,
    }),
    row('Seated in the cradle, mouth to crucible, wired'),
    row('All clear, pin out, let go at once'),
    row('Let it run', {
      plan: time && write({ ...time.run, low: time.run.value, high: time.run.value }, units),
      got: ':',
      under: time && `Last metal solid at ${writeRange(time.lastSolid, units)}`,
    }),
  ]
}

export const whenMelted = ({ castAt, melt, shop }: Plan): string => {
  if (castAt === undefined) return 'when the kiln is ready'
  const clock = (at: number): string => sayClock(at, shop.timeZone)
  const lit = melt.time && castAt - Math.ceil(melt.time.high / 60) * 60_000
  const about = `open the kiln when the metal rolls, not by the clock: about ${clock(castAt)}`
  return lit === undefined ? about : `light the torch at ${clock(lit)}; ${about}`
}
