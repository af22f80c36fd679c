import type { Roots } from '../documents/index.ts'
import {
  celsius,
  fahrenheit,
  hours,
  lengthOf,
  type Quantity,
  root,
  say,
  temperatureOf,
  type Unit,
  type Words,
} from '../quantity/index.ts'
import {
  castingHeat,
  coreLag,
  coreTime,
  halfOf,
  meltedOut,
  middleHold,
  RULE_SIZES,
  rampTime,
  ruleSoak,
  settleTime,
  slowerOf,
  soakHold,
  topHeat,
  topHold,
} from './formulas.ts'

export interface ProgramStep {
  readonly kind: 'ramp' | 'hold'
  readonly id: string
  /** kiln at the start and the end of the step, true [K] */
  readonly from: Quantity
  readonly to: Quantity
  readonly duration: Quantity
  /** what to enter, as this kiln displays it [K] */
  readonly setpoint: number
  readonly words: Words
  /** moments [ms since 1970], when the casting moment is known */
  readonly start?: number
  readonly end?: number
}

/** A number of the trade that stands in no document. */
export const usual = (
  id: string,
  title: string,
  unit: Unit,
  value: number,
  source = 'common practice',
  low = value,
  high = value,
): Quantity => root({ id, title, unit, value, low, high, kind: 'usual', source })

export interface Mould {
  readonly radius: Quantity
  readonly height: Quantity
  readonly soakSize: Quantity
  readonly lagSize: Quantity
  readonly wallShare: Quantity
  readonly density: Quantity
  readonly heat: Quantity
  readonly conductivity: Quantity
  readonly diffusivity: Quantity
}

export interface LaidProgram {
  readonly steps: readonly ProgramStep[]
  readonly room: Quantity
  readonly top: Quantity
  readonly casting: Quantity
  readonly soak: Quantity
  /** what the core needs at casting heat before it stands within ten degrees [s] */
  readonly settle: Quantity
  /** hotter than this the wax is sure to melt and run, in the first hold [K] */
  readonly firstHold: Quantity
  readonly holds: { readonly top: Quantity }
  /** of the kiln, up and down [K/s] */
  readonly rise: Quantity
  readonly fall: Quantity
  /** what the kiln is set to for casting, and the time it falls there */
  readonly castingSet: Quantity
  readonly fallTime: Quantity
  readonly readsHigh: Quantity
  /** what is not known of the kiln's error [K], about zero */
  readonly kilnError: Quantity
}

/** A wax asked to be this hot to melt is no wax that drains: it burns away [K]. */
const DRAINS_BELOW = celsius(230)

export const drains = (waxMelts: Quantity | undefined): boolean =>
  waxMelts !== undefined && waxMelts.high < DRAINS_BELOW

export const wordsOfFirstHold = (waxMelts: Quantity | undefined): Words => {
  const melts = waxMelts?.high ?? Number.POSITIVE_INFINITY
  return !drains(waxMelts)
    ? say`dries the mould; this pattern does not run out and must burn away`
    : melts < celsius(90)
      ? say`dries the mould, wax runs out`
      : say`dries the mould; the wax, which melts at up to ${temperatureOf(melts)}, runs only as the mould dries`
}

/** A heat to climb or fall to, and how long to stay there. */
export interface Stage {
  readonly id: string
  readonly to: Quantity
  readonly hold: Quantity
  readonly words: Words
}

/** Stages as the kiln is told them: a ramp and a hold each. `under` begins the ids of the ramps' times. */
export const stepsOf = (
  stages: readonly Stage[],
  kiln: Pick<LaidProgram, 'room' | 'rise' | 'fall' | 'fallTime' | 'readsHigh'>,
  under: string,
): ProgramStep[] => {
  let from = kiln.room
  const steps: ProgramStep[] = []
  for (const { id, to, hold, words } of stages) {
    const falls = to.value < from.value
    const setpoint = to.value + kiln.readsHigh.value
    steps.push({
      kind: 'ramp',
      id: `${id}-ramp`,
      from,
      to,
      duration:
        id === 'casting' && falls
          ? kiln.fallTime
          : rampTime({ from, to, rate: falls ? kiln.fall : kiln.rise }, { id: `${under}.${id}.ramp` }),
      setpoint,
      words: falls ? say`falls to ${temperatureOf(to.value)}` : say`climbs to ${temperatureOf(to.value)}`,
    })
    steps.push({ kind: 'hold', id, from: to, to, duration: hold, setpoint, words })
    from = to
  }
  return steps
}

/**
 * The program by the trade's rule: wax out, middle, top, and down to casting heat, with the holds of the
 * published schedules taken between their sizes. A large flask takes its middle hold in two.
 */
export const layProgram = (input: {
  roots: Roots
  kilnIndex: number
  investmentIndex: number
  aim: Quantity
  mould: Mould
  waxMelts?: Quantity
}): LaidProgram => {
  const { roots, aim, mould, waxMelts } = input
  const kiln = `/shop/kilns/${input.kilnIndex}`
  const bag = `/shop/investments/${input.investmentIndex}`
  const size = mould.soakSize
  const readsHigh = roots.at(`${kiln}/readsHigh_K`, 'How much the kiln reads high')
  const doubt = (readsHigh.high - readsHigh.low) / 2
  const room = usual('burnout.room', 'Kiln when switched on', 'K', celsius(20))
  const firstPractice = usual('burnout.first', 'First hold of the trade', 'K', fahrenheit(300))
  const firstHold =
    waxMelts === undefined || !drains(waxMelts)
      ? firstPractice
      : meltedOut(
          {
            practice: firstPractice,
            melts: waxMelts,
            margin: usual('burnout.waxMargin', 'Margin above the melting point', 'ΔK', 15),
          },
          { id: 'burnout.firstHold' },
        )
  const top = topHeat(
    {
      top: roots.at(`${bag}/topHold_C`, 'Top hold of this investment'),
      ceiling: roots.at(`${bag}/ceiling_C`, 'Ceiling of this investment'),
      overshoot: roots.at(`${kiln}/overshoot_K`, 'Overshoot of the kiln'),
      doubt: usual(
        'burnout.kilnDoubt',
        'What the kiln may be off',
        'ΔK',
        doubt,
        'the range given for the kiln’s error',
      ),
    },
    { id: 'burnout.top' },
  )
  const kilnError = usual(
    'burnout.kilnError',
    'What is not known of the kiln’s error',
    'ΔK',
    0,
    'the range given for the kiln’s error',
    -doubt,
    doubt,
  )
  const casting = castingHeat({ aim, top, doubt: kilnError }, { id: 'burnout.casting' })
  // the setting is a choice: the kiln's doubt belongs to the mould, not to the times
  const castingSet = castingHeat(
    { aim, top, doubt: usual('burnout.noDoubt', 'As set', 'ΔK', 0, 'the setting itself') },
    { id: 'burnout.castingSet', title: 'Casting heat as set' },
  )
  const rise = slowerOf(
    {
      gentle: roots.has('/shop/rules/gentleRise_C_h')
        ? roots.at('/shop/rules/gentleRise_C_h', 'Gentle climb')
        : usual('burnout.gentle', 'Gentle climb', 'K/s', 300 / 1.8 / 3600),
      kiln: roots.at(`${kiln}/fastestRise_C_h`, 'Fastest climb of the kiln'),
    },
    { id: 'burnout.rise' },
  )
  const fall = roots.at(`${kiln}/fall_C_h`, 'Fall of the kiln')
  const fallTime = rampTime({ from: top, to: castingSet, rate: fall }, { id: 'burnout.fallTime' })
  const time = coreTime(
    {
      size,
      diffusivity: mould.diffusivity,
      density: mould.density,
      heat: mould.heat,
      wallShare: mould.wallShare,
      transfer: usual(
        'burnout.transfer',
        'Heat passed by the face of the flask in a hot kiln',
        'W/m2K',
        90,
        'radiation at 500 to 600 °C and moving air, from memory',
        60,
        130,
      ),
    },
    { id: 'burnout.coreTime' },
  )
  const lag = coreLag({ rate: fall, time, fallTime }, { id: 'burnout.coreLag' })
  const settle = settleTime(
    { time, lag, within: usual('burnout.within', 'Settled within', 'ΔK', 10) },
    { id: 'burnout.settle' },
  )
  const soak = soakHold(
    { rule: ruleSoak({ size }, { id: 'burnout.ruleSoak' }), settle },
    { id: 'burnout.soak' },
  )
  const middle = middleHold({ size }, { id: 'burnout.middleHold' })
  const inTwo = size.value > (RULE_SIZES.medium + RULE_SIZES.large) / 2
  const stages: Stage[] = [
    {
      id: 'wax',
      to: firstHold,
      hold: usual('burnout.firstHoldTime', 'First hold', 's', hours(2)),
      words: wordsOfFirstHold(waxMelts),
    },
    ...(inTwo
      ? [fahrenheit(600), fahrenheit(900)].map((to, index) => ({
          id: index === 0 ? 'middle' : 'middle-2',
          to: usual(
            `burnout.middle${index + 1}`,
            index === 0 ? 'Middle hold' : 'Second middle hold',
            'K',
            to,
          ),
          hold: halfOf({ whole: middle }, { id: `burnout.middleHalf${index + 1}` }),
          words: index === 0 ? say`drives out the rest of the water` : say`chars and burns what wax is left`,
        }))
      : [
          {
            id: 'middle',
            to: usual('burnout.middle', 'Middle hold', 'K', fahrenheit(700)),
            hold: middle,
            words: say`drives out the rest of the water, chars what wax is left`,
          },
        ]),
    {
      id: 'top',
      to: top,
      hold: topHold({ size }, { id: 'burnout.topHold' }),
      words: say`burns the carbon off`,
    },
    { id: 'casting', to: castingSet, hold: soak, words: say`settles at casting heat` },
  ]
  const steps = stepsOf(stages, { room, rise, fall, fallTime, readsHigh }, 'burnout')
  const topStep = steps.find(({ id }) => id === 'top')
  return {
    steps,
    room,
    top,
    casting,
    soak,
    settle,
    firstHold,
    holds: { top: topStep?.duration ?? soak },
    rise,
    fall,
    castingSet,
    fallTime,
    readsHigh,
    kilnError,
  }
}

/** Flasks outside the published sizes, by name. */
export const outsideSizes = (mould: Mould): Words | undefined =>
  mould.soakSize.value > RULE_SIZES.large * 1.02
    ? say`A flask of ${lengthOf(mould.radius.value * 2)} by ${lengthOf(mould.height.value)} is larger than any published schedule here, and its holds are stretched by size.`
    : undefined
