import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  type Caution,
  figureOf,
  type Problem,
  plainMassOf,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
} from '../quantity/index.ts'
import { type ClockStep, judgeWorkingTime, layWorkingTime, type WorkingTime } from './clock.ts'
import {
  bagLeft,
  bowlVolume,
  collarHeight,
  densityOfWater,
  lengthSwelling,
  mixedTemperature,
  netVolume,
  powderCost,
  powderMass,
  slurryVolume,
  waterMass,
  waxSwelling,
} from './formulas.ts'
import { judgeVacuum, readVacuum, type Vacuum, type WarmerMix } from './vacuum.ts'

export interface MixInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly investmentIndex: number
  readonly flaskInside?: { readonly diameter: Quantity; readonly height: Quantity; readonly volume: Quantity }
  /** all the wax that stands in the flask [m3] */
  readonly waxVolume?: Quantity
  /** the dome of the base [m3] */
  readonly domeVolume: Quantity
  /** the shop's own air pressure [Pa] */
  readonly pressure: Quantity
  /** growth of the pattern wax, per kelvin */
  readonly waxGrowth?: Quantity
  /** the longest stone seat [m] */
  readonly seatLength?: Quantity
  /** when the powder touches the water [ms since 1970] */
  readonly startAt?: number
}

export interface Mix extends WorkingTime {
  readonly ratio: Quantity
  readonly slurryTemperature: Quantity
  readonly slurryVolume?: Quantity
  readonly powder?: Quantity
  readonly water?: Quantity
  readonly bagLeft?: Quantity
  readonly cost?: Quantity
  readonly collar?: Quantity
  readonly bowl?: Quantity
  readonly vacuum: Vacuum
  readonly waxSwelling?: Quantity
  readonly seatGrowth?: Quantity
  /** the clock's moments [ms since 1970], when the start is known */
  readonly moments?: {
    readonly powderIn: number
    readonly steps: readonly { readonly id: ClockStep['id']; readonly from: number; readonly to: number }[]
    readonly allStill: number
    readonly glossOff: number
    readonly set: number
    readonly intoKiln: number
  }
  readonly answer: RoomAnswer
}

const usual = (id: string, title: string, value: number, low: number, high: number): Quantity =>
  root({ id, title, unit: '1', value, low, high, kind: 'usual', source: 'common practice' })

/** A thermometer in a jug: half a degree either way, nine in ten, as a standard uncertainty. */
const THERMOMETER = 0.3

/** Plans the mix: masses, clock and gauge. What needs the flask or the wax is left out while they are unknown. */
export const planMix = (input: MixInput): Mix => {
  const { roots, pour, investmentIndex } = input
  const bag = `/shop/investments/${investmentIndex}`
  const ratio = roots.has('/pour/investment/waterRatio')
    ? roots.at('/pour/investment/waterRatio', 'Water to powder')
    : roots.at(
        `${bag}/waterRatio/${pour.investment.work}`,
        `Water to powder for ${pour.investment.work} work`,
      )
  const waterTemperature = roots.at('/pour/investment/water_C', 'Temperature of the water', {
    u: THERMOMETER,
  })
  const slurryTemperature = roots.has('/pour/investment/powder_C')
    ? mixedTemperature(
        {
          water: waterTemperature,
          powder: roots.at('/pour/investment/powder_C', 'Temperature of the powder', { u: THERMOMETER }),
          ratio,
        },
        { id: 'mix.slurryTemperature' },
      )
    : waterTemperature
  const time = layWorkingTime({ roots, investmentIndex, slurryTemperature })
  const perKelvin = roots.at(`${bag}/glossOffPerKelvin`, 'Change of gloss-off for each degree')
  const vacuum = readVacuum({ roots, pressure: input.pressure, slurryTemperature })
  const warmer = mixWarmer(input, time, perKelvin)
  const masses = weighMix(input, ratio, waterTemperature)
  const swelling =
    input.waxGrowth === undefined
      ? undefined
      : waxSwelling({ growth: input.waxGrowth, slurry: slurryTemperature }, { id: 'mix.waxSwelling' })
  const seatGrowth =
    swelling === undefined || input.seatLength === undefined
      ? undefined
      : lengthSwelling({ length: input.seatLength, swelling }, { id: 'mix.seatGrowth' })
  const { startAt } = input
  const later = (seconds: number): number => (startAt ?? 0) + seconds * 1000
  return {
    ...time,
    ratio,
    slurryTemperature,
    ...masses.quantities,
    vacuum,
    waxSwelling: swelling,
    seatGrowth,
    ...(startAt !== undefined && {
      moments: {
        powderIn: startAt,
        steps: time.steps.map(({ id, from_s, to_s }) => ({ id, from: later(from_s), to: later(to_s) })),
        allStill: later(time.allStill.value),
        glossOff: later(time.glossOff.value),
        set: later(time.setAt.value),
        intoKiln: later(time.intoKiln.value),
      },
    }),
    answer: {
      verdicts: [
        judgeWorkingTime(time, slurryTemperature, perKelvin),
        judgeVacuum(vacuum, slurryTemperature, warmer),
        judgeRatio(input, ratio),
        ...judgeWarmth(input, slurryTemperature, swelling, seatGrowth),
        ...judgeBag(input, masses.quantities),
      ],
      cautions: CAUTIONS,
      problems: masses.problems,
    },
  }
}

/** The same mix at another temperature, by the functions that lay and judge this one. */
const mixWarmer = (
  { roots, investmentIndex, waxGrowth }: MixInput,
  time: WorkingTime,
  perKelvin: Quantity,
): WarmerMix => {
  const at = (temperature: number): Quantity =>
    root({
      id: 'mix.warmer',
      title: 'A warmer slurry',
      unit: 'K',
      value: temperature,
      u: THERMOMETER,
      kind: 'asked',
      source: 'tried as a remedy',
    })
  const laid = (temperature: number): WorkingTime =>
    layWorkingTime({ roots, investmentIndex, slurryTemperature: at(temperature) })
  return {
    glossOff: (temperature) => laid(temperature).glossOff.value,
    inTime: (temperature) =>
      judgeWorkingTime(laid(temperature), at(temperature), perKelvin).verdict === 'pass',
    work: time.allStill.value,
    swelling: (temperature) =>
      waxGrowth &&
      waxSwelling({ growth: waxGrowth, slurry: at(temperature) }, { id: 'mix.warmer.swelling' }).value,
  }
}

type Masses = Pick<Mix, 'slurryVolume' | 'powder' | 'water' | 'bagLeft' | 'cost' | 'collar' | 'bowl'>

const weighMix = (
  { roots, investmentIndex, flaskInside, waxVolume, domeVolume }: MixInput,
  ratio: Quantity,
  waterTemperature: Quantity,
): { quantities: Masses; problems: readonly Problem[] } => {
  const bag = `/shop/investments/${investmentIndex}`
  const problems: Problem[] = []
  if (flaskInside === undefined)
    problems.push({
      kind: 'mix-needs-flask',
      where: '/pour/flask',
      what: say`Powder and water are not worked out: no flask is chosen.`,
      remedy: say`Choose a flask, or give the pieces' sizes so that one can be chosen.`,
    })
  if (waxVolume === undefined)
    problems.push({
      kind: 'mix-needs-wax',
      where: '/pour/pieces',
      what: say`Powder and water are not worked out: the volume of the wax is not known.`,
      remedy: say`Weigh the waxes, or give their models.`,
    })
  const collar = flaskInside && {
    collar: collarHeight(
      {
        height: flaskInside.height,
        share: usual('mix.rise', 'Rise of a mix vacuumed once already', 0.3, 0.2, 0.5),
      },
      { id: 'mix.collar' },
    ),
  }
  if (flaskInside === undefined || waxVolume === undefined) return { quantities: { ...collar }, problems }
  const net = netVolume(
    { flask: flaskInside.volume, wax: waxVolume, dome: domeVolume },
    { id: 'mix.netVolume' },
  )
  if (!(net.value > 0)) {
    problems.push({
      kind: 'mix-no-room',
      where: '/pour/flask',
      what: say`Wax and base (${waxVolume} and ${domeVolume}) fill the flask, which holds ${flaskInside.volume}.`,
      remedy: say`Take a larger flask, or check the weights of the waxes.`,
    })
    return { quantities: { ...collar }, problems }
  }
  const slurry = slurryVolume(
    { net, allowance: roots.at('/shop/rules/wasteAllowance', 'Over for what stays in the bowl') },
    { id: 'mix.slurryVolume' },
  )
  const powder = powderMass(
    {
      slurry,
      ratio,
      particle: roots.at(`${bag}/particleDensity_g_cm3`, "Density of the powder's grains"),
      water: densityOfWater({ temperature: waterTemperature }, { id: 'mix.waterDensity' }),
    },
    { id: 'mix.powder' },
  )
  return {
    quantities: {
      ...collar,
      slurryVolume: slurry,
      powder,
      water: waterMass({ powder, ratio }, { id: 'mix.water' }),
      bagLeft: bagLeft(
        {
          stock: roots.at(`${bag}/inStock_kg`, 'Powder in stock', { plainMass: true }),
          powder,
        },
        { id: 'mix.bagLeft' },
      ),
      cost: powderCost(
        {
          powder,
          price: roots.at(`${bag}/price_kg`, 'Price of the powder', { unit: 'money/kg', scale: 1 }),
        },
        { id: 'mix.cost' },
      ),
      bowl: bowlVolume(
        { slurry, times: usual('mix.bowlTimes', 'Bowl over slurry', 2.5, 2, 3) },
        { id: 'mix.bowl' },
      ),
    },
    problems,
  }
}

/** How far the ratio may stand from the bag's own before flat faces show it. */
const RATIO_SHOWS = 0.02

const judgeRatio = ({ shop, pour, investmentIndex }: MixInput, ratio: Quantity): Verdict => {
  const usualRatio = shop.investments[investmentIndex]?.waterRatio[pour.investment.work] ?? ratio.value
  const hundred = (value: number): string => String(Math.round(value * 1000) / 10)
  const base = { id: 'mix.ratio', part: 'mix', title: say`Water to powder` } as const
  const off = ratio.value - usualRatio
  if (Math.abs(off) < RATIO_SHOWS - 1e-9)
    return {
      ...base,
      verdict: 'pass',
      reason: say`${hundred(ratio.value)} of water to 100 of powder, by weight, for ${pour.investment.work} work.`,
      remedy: [],
    }
  return {
    ...base,
    verdict: 'check',
    reason: say`${hundred(ratio.value)} of water to 100 of powder; this bag wants ${hundred(usualRatio)} for ${pour.investment.work} work. ${
      off > 0
        ? 'A thin mix is weaker: fins and water marks.'
        : 'A thick mix holds bubbles and leaves less time.'
    } Two parts off shows on flat faces.`,
    remedy: say`Weigh ${hundred(usualRatio)} to 100.`,
    where: '/pour/investment/waterRatio',
  }
}

/** Above this the mix counts as warm: shops run at 20 to 25 °C. */
const WARM = 273.15 + 26

const judgeWarmth = (
  { roots }: MixInput,
  slurryTemperature: Quantity,
  swelling: Quantity | undefined,
  seatGrowth: Quantity | undefined,
): Verdict[] => {
  const base = { id: 'mix.warm', part: 'mix', title: say`The wax keeps its size in the mix` } as const
  if (slurryTemperature.value <= WARM)
    return [
      {
        ...base,
        verdict: 'pass',
        reason: say`The slurry is at ${slurryTemperature}; the wax hardly swells before it sets.`,
        remedy: [],
      },
    ]
  const share =
    swelling === undefined
      ? say`by an amount not known for this wax`
      : say`by ${(swelling.low * 100).toFixed(2)} to ${(swelling.high * 100).toFixed(2)} %`
  const seat = seatGrowth === undefined ? say`` : say`, and the seat by ${seatGrowth}`
  const powder = roots.has('/pour/investment/powder_C')
    ? say``
    : say` The powder is taken to be as warm as the water; cool powder would cool the mix.`
  return [
    {
      ...base,
      verdict: 'check',
      reason: say`At ${slurryTemperature} the wax swells ${share} before the mix sets${seat}, and the casting with it. Soft waxes may also sag.${powder}`,
      remedy: say`Carve the size and the seat that much smaller, or mix cooler with a better pump.`,
      where: '/pour/investment/water_C',
    },
  ]
}

const judgeBag = ({ shop, investmentIndex }: MixInput, { powder, bagLeft: left }: Masses): Verdict[] => {
  if (powder === undefined || left === undefined) return []
  const stock = shop.investments[investmentIndex]?.inStock_kg ?? 0
  const base = { id: 'mix.bag', part: 'mix', title: say`Powder in the bag` } as const
  const where = `/shop/investments/${investmentIndex}/inStock_kg`
  if (left.value < 0)
    return [
      {
        ...base,
        verdict: 'stop',
        reason: say`The mix takes ${powder} of powder and the bag holds ${plainMassOf(stock)}.`,
        remedy: say`Open or order a bag, and enter it.`,
        where,
      },
    ]
  if (left.low < 0)
    return [
      {
        ...base,
        verdict: 'check',
        reason: say`The mix takes ${powder} of powder and the bag holds ${plainMassOf(stock)}: too close to call.`,
        remedy: say`Weigh what is in the bag before the wax goes on its base.`,
        where,
      },
    ]
  const most = shop.scales.powder.most_g / 1000
  if (powder.value > most)
    return [
      {
        ...base,
        verdict: 'check',
        reason: say`The powder, ${powder}, is more than the scale can weigh at once (${plainMassOf(most)}).`,
        remedy: say`Weigh it in parts.`,
        where: '/shop/scales/powder/most_g',
      },
    ]
  return [
    {
      ...base,
      verdict: 'pass',
      reason: say`The mix takes ${powder}; ${figureOf(left)} is left.`,
      remedy: [],
    },
  ]
}

const CAUTIONS: readonly Caution[] = [
  {
    id: 'mix.silica',
    part: 'mix',
    step: 'opening the bag',
    level: 'warning',
    words: say`Powder holds fine silica, which scars the lungs for good. Fitted respirator on before the bag is opened; wipe up wet, never sweep dry. The maker's sheet and local rules come first.`,
  },
  {
    id: 'mix.belljar',
    part: 'mix',
    step: 'pulling the vacuum',
    level: 'caution',
    words: say`A bell jar under vacuum can burst inwards. Look it over for cracks and chips, and wear eye protection while it is pumped.`,
  },
]
