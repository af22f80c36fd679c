import type { Roots, Shop } from '../documents/index.ts'
import { pressureHeight, STANDARD_PRESSURE } from '../physics/atmosphere.ts'
import { saturationPressure } from '../physics/water.ts'
import {
  pressureOf,
  type Quantity,
  root,
  say,
  temperatureOf,
  timeOf,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import {
  boilingTemperature,
  gaugeReading,
  pressureAtAltitude,
  pressureFromWeather,
  vapourPressure,
} from './formulas.ts'

/** Air pressure at the shop [Pa], from whichever of the three ways the shop gives; they are never mixed. */
export const stationPressure = ({ roots, shop }: { roots: Roots; shop: Shop }): Quantity => {
  const { pressure } = shop.place
  const at = '/shop/place/pressure'
  const as = { id: 'place.pressure' }
  switch (pressure.from) {
    case 'station':
      return roots.at(`${at}/pressure_hPa`, "The shop's own barometer")
    case 'altitude':
      return pressureAtAltitude(
        {
          altitude: roots.at(`${at}/altitude_m`, 'Height above the sea'),
          weather: root({
            id: 'place.weather',
            title: 'What the weather makes of it',
            unit: '1',
            value: 1,
            low: 0.985,
            high: 1.015,
            kind: 'usual',
            source: 'from memory: weather moves a barometer some 15 hPa either way; read one to narrow it',
          }),
        },
        as,
      )
    case 'sea-level-weather':
      return pressureFromWeather(
        {
          seaLevel: roots.at(`${at}/pressure_hPa`, 'Sea-level pressure of the weather report'),
          altitude: roots.at(`${at}/altitude_m`, 'Height above the sea'),
        },
        as,
      )
  }
}

export interface ReadingJudged {
  readonly possible: boolean
  /** pressure left inside [Pa]; below zero when the reading can't be */
  readonly left: number
  /** highest place [m, standard air] where a perfect vacuum would read this; null above 11 km */
  readonly reachableBelow: number | null
  readonly words: Words
}

/**
 * What a gauge reading means at this shop, such as one asked for on a maker's sheet.
 * @param reading Pa below the outside pressure
 * @param pressure Pa, the shop's own
 */
export const judgeReading = (reading: number, pressure: number): ReadingJudged => {
  const left = pressure - reading
  const reachableBelow = pressureHeight(reading)
  if (left >= 0)
    return {
      possible: true,
      left,
      reachableBelow,
      words: say`A reading of ${pressureOf(reading)} leaves ${pressureOf(left)} of air here.`,
    }
  const height = reachableBelow === null ? say`` : say` above ${lengthOfGround(reachableBelow)}`
  return {
    possible: false,
    left,
    reachableBelow,
    words: say`No gauge can read ${pressureOf(reading)} here: the air outside is only ${pressureOf(pressure)}, and with no air left at all the gauge would read that. No pump reaches it${height} in standard air. Readings on a maker's sheet are for sea level.`,
  }
}

/** A height of ground in whole metres and feet, both, since neither unit switch suits it. */
const lengthOfGround = (height: number): Words =>
  say`${Math.round(height).toLocaleString('en')} m (${Math.round(height / 0.3048).toLocaleString('en')} ft)`

export interface Vacuum {
  readonly pressure: Quantity
  /** pressure at which the slurry's water boils */
  readonly boilPressure: Quantity
  /** gauge readings [Pa below the outside pressure]: where the water boils, what the pump reaches, no air left */
  readonly boilGauge: Quantity
  readonly pumpGauge: Quantity
  readonly pumpLeaves: Quantity
  /** water boils at this under what the pump leaves */
  readonly boilsAt: Quantity
  readonly boils: 'yes' | 'no' | 'too close to call'
  /** what a maker's sheet, written for sea level, asks of the gauge to boil this slurry, judged here */
  readonly sheetReading: ReadingJudged & { readonly reading: number }
  /** the slurry temperature at which this pump surely makes it boil, when that is a remedy */
  readonly warmTo?: number
}

/** Slurry warmer than this sets too fast to pour: hot mixes of the trade stop at 120 to 125 °F. */
export const WARMEST_MIX = 273.15 + 50

/** The gauge at this shop, and whether its pump makes this slurry boil. */
export const readVacuum = (input: {
  roots: Roots
  pressure: Quantity
  slurryTemperature: Quantity
}): Vacuum => {
  const { roots, pressure, slurryTemperature } = input
  const pumpLeaves = roots.at('/shop/vacuumLeaves_hPa', 'Pressure the pump leaves')
  const boilPressure = vapourPressure({ temperature: slurryTemperature }, { id: 'mix.vacuum.boilPressure' })
  const boilsAt = boilingTemperature({ left: pumpLeaves }, { id: 'mix.vacuum.boilsAt' })
  const boils =
    pumpLeaves.high <= boilPressure.low
      ? 'yes'
      : pumpLeaves.low > boilPressure.high
        ? 'no'
        : 'too close to call'
  const reading = STANDARD_PRESSURE - boilPressure.value
  const warmest = boilsAt.high + 1.5
  return {
    pressure,
    boilPressure,
    boilGauge: gaugeReading(
      { station: pressure, left: boilPressure },
      { id: 'mix.vacuum.boilGauge', title: 'Gauge at which the slurry boils' },
    ),
    pumpGauge: gaugeReading(
      { station: pressure, left: pumpLeaves },
      { id: 'mix.vacuum.pumpGauge', title: 'Gauge that the pump reaches' },
    ),
    pumpLeaves,
    boilsAt,
    boils,
    sheetReading: { reading, ...judgeReading(reading, pressure.value) },
    ...(boils !== 'yes' && warmest < WARMEST_MIX && { warmTo: warmest }),
  }
}

/** What warming the mix would cost, worked out by the same functions as the mix itself. */
export interface WarmerMix {
  /** s, when the gloss would go for a slurry at a temperature */
  readonly glossOff: (temperature: number) => number
  /** whether the handling would still end inside the sure part of the clock */
  readonly inTime: (temperature: number) => boolean
  /** how long the handling takes [s] */
  readonly work: number
  /** the share by which the wax would swell, when its growth is known */
  readonly swelling: (temperature: number) => number | undefined
}

const swells = (share: number | undefined): Words =>
  share === undefined
    ? say`the wax swells by an amount not known for it`
    : say`the wax swells ${(share * 100).toFixed(2)} %, and the casting with it`

/** What is left when neither pump nor warmth makes it boil. */
const UNBOILED = say`accept that it will not boil: pull as long as the clock allows, and tap or vibrate bowl and flask while it pulls`

/** A warmer mix as a cure, only as far as the working time still holds. */
const warmth = (warmTo: number, warmer: WarmerMix): Words | undefined =>
  warmer.inTime(warmTo)
    ? say`Warm water and powder to ${temperatureOf(warmTo)}: it then boils, but the gloss goes at about ${timeOf(warmer.glossOff(warmTo))}, and ${swells(warmer.swelling(warmTo))}`
    : undefined

/** The verdict on the pull, with the ways out that hold. */
export const judgeVacuum = (vacuum: Vacuum, slurryTemperature: Quantity, warmer: WarmerMix): Verdict => {
  const { boilGauge, pumpGauge, pumpLeaves, boilsAt, boils, warmTo, pressure } = vacuum
  const base = { id: 'mix.vacuum', part: 'mix', title: say`The pump makes the slurry boil` } as const
  if (pumpLeaves.value >= pressure.low)
    return {
      ...base,
      verdict: 'stop',
      reason: say`The pump is said to leave ${pumpLeaves}, and the air outside is ${pressure}: that is no vacuum.`,
      remedy: say`Enter what the pump leaves inside, not what its gauge reads.`,
      where: '/shop/vacuumLeaves_hPa',
    }
  if (boils === 'yes')
    return {
      ...base,
      verdict: 'pass',
      reason: say`The pump reaches ${pumpGauge} on the gauge; the slurry at ${slurryTemperature} boils from ${boilGauge}, which carries the air out.`,
      remedy: [],
    }
  const why =
    boils === 'no'
      ? say`The slurry at ${slurryTemperature} boils from ${boilGauge} on the gauge, and this pump reaches ${pumpGauge}, where water boils only at ${boilsAt}. The mix gives up some air but does not boil, and bubbles left on the wax become beads of metal.`
      : say`The slurry at ${slurryTemperature} boils from ${boilGauge} on the gauge, and this pump reaches ${pumpGauge}: too close to call.`
  const mend = say`: look for a leak at the seal, change its oil, until a glass of water at ${slurryTemperature} boils (it must leave ${pressureOf(saturationPressure(slurryTemperature.low) ?? 0)} or less)`
  const warm = warmTo === undefined ? undefined : warmth(warmTo, warmer)
  const tooHot =
    warmTo === undefined
      ? say`Warming it enough for this pump would set it too fast to pour.`
      : say`Warming it to ${temperatureOf(warmTo)}, where this pump would boil it, is no cure: the gloss would go at about ${timeOf(warmer.glossOff(warmTo))}, and the work takes ${timeOf(warmer.work)}.`
  return {
    ...base,
    verdict: 'check',
    reason: warm === undefined ? say`${why} ${tooHot}` : why,
    remedy:
      warm === undefined
        ? say`Mend the pump${mend}. Or ${UNBOILED}.`
        : say`${warm}. Or mend the pump${mend}; or ${UNBOILED}.`,
    where: warm === undefined ? '/shop/vacuumLeaves_hPa' : '/pour/investment/water_C',
  }
}
