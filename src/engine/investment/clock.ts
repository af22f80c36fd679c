import type { Roots } from '../documents/index.ts'
import { addUp, type Quantity, root, say, temperatureOf, timeOf, type Verdict } from '../quantity/index.ts'
import { glossOffTime, laterBy, tooEarlyTime, tooLateTime } from './formulas.ts'

/** One stretch of the working time; seconds from the moment the powder touches the water. */
export interface ClockStep {
  readonly id: 'mix' | 'vacuum-mix' | 'pour' | 'vacuum-flask' | 'still'
  readonly name: string
  readonly from_s: number
  readonly to_s: number
}

export interface WorkingTime {
  readonly steps: readonly ClockStep[]
  readonly glossOff: Quantity
  /** when all handling ends and the flask is left still */
  readonly allStill: Quantity
  readonly tooLate: Quantity
  readonly tooEarly: Quantity
  /** the sure part [s]: still no sooner than `notBefore` and no later than `stopBy` */
  readonly notBefore_s: number
  readonly stopBy_s: number
  readonly setAt: Quantity
  readonly intoKiln: Quantity
}

const HANDLING = [
  { id: 'mix', name: 'Powder in, mix', path: '/shop/clock/mix_min' },
  { id: 'vacuum-mix', name: 'Vacuum the mix', path: '/shop/clock/vacuumMix_min' },
  { id: 'pour', name: 'Pour', path: '/shop/clock/pour_min' },
  { id: 'vacuum-flask', name: 'Vacuum the flask', path: '/shop/clock/vacuumFlask_min' },
] as const

/** The working time laid out from the first powder in the water, with its two limits. */
export const layWorkingTime = (input: {
  roots: Roots
  investmentIndex: number
  slurryTemperature: Quantity
}): WorkingTime => {
  const { roots, slurryTemperature } = input
  const bag = `/shop/investments/${input.investmentIndex}`
  const lengths = HANDLING.map(({ path, name }) => roots.at(path, name))
  const allStill = addUp(
    {
      id: 'mix.allStill',
      title: 'All still',
      says: 'mixing, the vacuum on the mix, the pour and the vacuum on the flask, one after another',
    },
    lengths,
  )
  const glossOff = glossOffTime(
    {
      bag: roots.at(`${bag}/glossOff_min`, 'Gloss-off of this bag'),
      perKelvin: roots.at(`${bag}/glossOffPerKelvin`, 'Change of gloss-off for each degree'),
      slurry: slurryTemperature,
      reference: roots.at(`${bag}/glossOffAt_C`, 'Temperature of that gloss-off'),
    },
    { id: 'mix.glossOff' },
  )
  const still = roots.at('/shop/clock/stillBefore_min', 'Stillness before the gloss goes')
  const tooLate = tooLateTime({ glossOff, still }, { id: 'mix.tooLate' })
  const tooEarly = tooEarlyTime(
    {
      glossOff,
      share: root({
        id: 'mix.earlyShare',
        title: 'Share of the working time before which still is too early',
        unit: '1',
        value: 5 / 6,
        low: 0.78,
        high: 0.88,
        kind: 'usual',
        source: 'common practice: 8 to 8½ of 9 min is right, 5 to 6 is too early; five sixths taken',
      }),
    },
    { id: 'mix.tooEarly' },
  )
  const setAt = laterBy(
    { from: allStill, wait: roots.at(`${bag}/set_min`, 'Time to set') },
    { id: 'mix.setAt', title: 'Set, may be moved' },
  )
  const intoKiln = laterBy(
    { from: allStill, wait: roots.at(`${bag}/beforeKiln_min`, 'Wait before the kiln') },
    { id: 'mix.intoKiln', title: 'Earliest into the kiln' },
  )
  const steps: ClockStep[] = []
  let from_s = 0
  HANDLING.forEach(({ id, name }, index) => {
    const to_s = from_s + (lengths[index]?.value ?? 0)
    steps.push({ id, name, from_s, to_s })
    from_s = to_s
  })
  steps.push({ id: 'still', name: 'Top up, leave still', from_s, to_s: setAt.value })
  return {
    steps,
    glossOff,
    allStill,
    tooLate,
    tooEarly,
    notBefore_s: tooEarly.value,
    stopBy_s: tooLate.low,
    setAt,
    intoKiln,
  }
}

/** Whether the handling ends inside the sure part of the working time, and what would bring it there. */
export const judgeWorkingTime = (
  time: WorkingTime,
  slurryTemperature: Quantity,
  perKelvin: Quantity,
): Verdict => {
  const { allStill, glossOff, notBefore_s, stopBy_s } = time
  const base = { id: 'mix.time', part: 'mix', title: say`All still in time` } as const
  const end = allStill.value
  if (end > stopBy_s) {
    const over = end - stopBy_s
    const still = glossOff.value - time.tooLate.value
    // the slurry temperature at which the same handling would fit, and a degree for the thermometer
    const cooler =
      slurryTemperature.value + Math.log((end + still) / (stopBy_s + still)) / perKelvin.value - 1
    const canCool = perKelvin.value < 0 && cooler > 273.15 + 12
    return {
      ...base,
      verdict: end > glossOff.value ? 'stop' : 'check',
      reason: say`The work takes ${allStill}, and the gloss may go from ${timeOf(glossOff.low)}: all should be still by ${timeOf(stopBy_s)}. Later, the mix stiffens round the wax and holds its bubbles.`,
      remedy: canCool
        ? say`Take ${timeOf(over)} off the mixing or the pour, or mix at ${temperatureOf(cooler)}.`
        : say`Take ${timeOf(over)} off the mixing or the pour.`,
      where: '/shop/clock/mix_min',
    }
  }
  if (end < notBefore_s)
    return {
      ...base,
      verdict: 'check',
      reason: say`All is still at ${allStill} and the gloss goes at ${glossOff}. Left still before ${timeOf(notBefore_s)}, water parts from the plaster and leaves trails on upright faces.`,
      remedy: say`Stir ${timeOf(notBefore_s - end)} longer before the first vacuum.`,
      where: '/shop/clock/mix_min',
    }
  return {
    ...base,
    verdict: 'pass',
    reason: say`All is still at ${allStill}, between ${timeOf(notBefore_s)} and ${timeOf(stopBy_s)}; the gloss goes at ${glossOff}.`,
    remedy: [],
  }
}
