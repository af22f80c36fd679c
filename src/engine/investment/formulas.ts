import { geopotentialHeight, standardPressure, stationPressure } from '../physics/atmosphere.ts'
import { slurryYield } from '../physics/slurry.ts'
import { saturationPressure, saturationTemperature, waterDensity } from '../physics/water.ts'
import { celsius, formula } from '../quantity/index.ts'

const T = { unit: 'K', valid: [celsius(1), celsius(80)] } as const
const TIME = { unit: 's', valid: [0, 86_400] } as const
const VOLUME = { unit: 'm3', valid: [0, 0.1] } as const
const RATIO = { unit: '1', valid: [0.25, 0.7] } as const

/** The physics answers null where no such state exists; the ranges above keep every call inside. */
const found = (value: number | null, what: string): number => {
  if (value === null) throw new Error(`${what} has no value here; expected one inside its range`)
  return value
}

export const netVolume = formula({
  name: 'netVolume',
  title: 'Room for investment in the flask',
  says: 'inside of the flask, less all the wax, less the dome of the base',
  unit: 'm3',
  inputs: { flask: VOLUME, wax: VOLUME, dome: VOLUME },
  source: 'geometry',
  value: ({ flask, wax, dome }) => flask - wax - dome,
})

export const slurryVolume = formula({
  name: 'slurryVolume',
  title: 'Slurry to mix',
  says: 'the room in the flask, and the share over it that stays in the bowl',
  unit: 'm3',
  inputs: { net: VOLUME, allowance: { unit: '1', valid: [0, 1] } },
  source: 'common practice for the share over',
  value: ({ net, allowance }) => net * (1 + allowance),
})

export const densityOfWater = formula({
  name: 'densityOfWater',
  title: 'Density of the water',
  says: 'density of water on its boiling line at this temperature, within 0.01 % of that in open air',
  unit: 'kg/m3',
  inputs: { temperature: T },
  source: 'IAPWS SR1-86 (1992)',
  fitted: true,
  value: ({ temperature }) => found(waterDensity(temperature), 'density of water'),
})

export const powderMass = formula({
  name: 'powderMass',
  title: 'Powder',
  says: 'slurry volume, over the volume that a gram of powder makes with its water',
  unit: 'kg',
  plainMass: true,
  inputs: {
    slurry: VOLUME,
    ratio: RATIO,
    particle: { symbol: 'ρp', unit: 'kg/m3', valid: [2000, 3500] },
    water: { symbol: 'ρw', unit: 'kg/m3', valid: [970, 1001] },
  },
  source: 'grains and water add their volumes, no air left in',
  value: ({ slurry, ratio, particle, water }) => slurry / slurryYield(ratio, { particle, water }),
})

export const waterMass = formula({
  name: 'waterMass',
  title: 'Water',
  says: 'powder times the ratio of water to powder',
  unit: 'kg',
  plainMass: true,
  inputs: { powder: { unit: 'kg', valid: [0, 100] }, ratio: RATIO },
  source: 'the ratio is by mass',
  value: ({ powder, ratio }) => powder * ratio,
})

export const bagLeft = formula({
  name: 'bagLeft',
  title: 'Powder left after',
  says: 'powder in stock, less the powder for this mix',
  unit: 'kg',
  plainMass: true,
  inputs: { stock: { unit: 'kg', valid: [0, 10_000] }, powder: { unit: 'kg', valid: [0, 100] } },
  source: 'a difference',
  value: ({ stock, powder }) => stock - powder,
})

export const powderCost = formula({
  name: 'powderCost',
  title: 'Cost of the powder',
  says: 'powder times its price by mass',
  unit: 'money',
  inputs: { powder: { unit: 'kg', valid: [0, 100] }, price: { unit: 'money/kg', valid: [0, 10_000] } },
  source: 'a product',
  value: ({ powder, price }) => powder * price,
})

/** Specific heats that share out the warmth: water, and the powder's grains (J/kgK, handbook, from memory). */
const WATER_HEAT = 4182
const POWDER_HEAT = 800

export const mixedTemperature = formula({
  name: 'mixedTemperature',
  title: 'Temperature of the slurry',
  says: 'water and powder share their warmth by mass and specific heat (4182 and 800 J per kg K)',
  unit: 'K',
  inputs: { water: T, powder: T, ratio: RATIO },
  source: 'heat balance; specific heats from memory',
  holdsWhen: 'the bowl takes none of it and setting has not begun to warm the mix',
  fitted: true,
  value: ({ water, powder, ratio }) =>
    (ratio * WATER_HEAT * water + POWDER_HEAT * powder) / (ratio * WATER_HEAT + POWDER_HEAT),
})

export const glossOffTime = formula({
  name: 'glossOffTime',
  title: 'Gloss goes',
  says: 'the time of the bag at its own temperature, shortened by the same share for every degree warmer',
  unit: 's',
  inputs: {
    bag: { unit: 's', valid: [120, 3600] },
    perKelvin: { unit: '1', valid: [-0.2, 0] },
    slurry: { unit: 'K', valid: [celsius(10), celsius(50)] },
    reference: { unit: 'K', valid: [celsius(0), celsius(60)] },
  },
  source: 'common practice; time your own bag',
  fitted: true,
  value: ({ bag, perKelvin, slurry, reference }) => bag * Math.exp(perKelvin * (slurry - reference)),
})

export const tooLateTime = formula({
  name: 'tooLateTime',
  title: 'Too late to be still working',
  says: 'the time the gloss goes, less the stillness wanted before it',
  unit: 's',
  inputs: { glossOff: TIME, still: TIME },
  source: 'common practice',
  value: ({ glossOff, still }) => glossOff - still,
})

export const tooEarlyTime = formula({
  name: 'tooEarlyTime',
  title: 'Too early to be still',
  says: 'a share of the time the gloss goes: left still sooner, water parts from the plaster and leaves trails',
  unit: 's',
  inputs: { glossOff: TIME, share: { unit: '1', valid: [0.5, 1] } },
  source: 'common practice: still at 8 to 8½ of 9 min is right, at 5 to 6 leaves trails',
  value: ({ glossOff, share }) => glossOff * share,
})

export const laterBy = formula({
  name: 'laterBy',
  title: 'Later moment',
  says: 'the earlier moment and the wait after it',
  unit: 's',
  inputs: { from: TIME, wait: TIME },
  source: 'a sum',
  value: ({ from, wait }) => from + wait,
})

export const waxSwelling = formula({
  name: 'waxSwelling',
  title: 'Swelling of the wax',
  says: 'growth of the wax for each degree, times how far the slurry is above 20 °C',
  unit: '1',
  inputs: { growth: { unit: '1', valid: [0, 1e-3] }, slurry: T },
  source: 'linear expansion; the growth is by the wax',
  holdsWhen: 'the wax has time to warm through before the mix sets, and is measured at 20 °C',
  fitted: true,
  value: ({ growth, slurry }) => growth * (slurry - celsius(20)),
})

export const lengthSwelling = formula({
  name: 'lengthSwelling',
  title: 'Growth of the seat',
  says: 'length of the seat times the swelling of the wax',
  unit: 'm',
  inputs: { length: { unit: 'm', valid: [0, 0.5] }, swelling: { unit: '1', valid: [-0.05, 0.05] } },
  source: 'linear expansion',
  value: ({ length, swelling }) => length * swelling,
})

export const collarHeight = formula({
  name: 'collarHeight',
  title: 'Collar above the rim',
  says: 'height of the flask, times the share by which a mix vacuumed once in the bowl still rises',
  unit: 'm',
  inputs: { height: { unit: 'm', valid: [0.01, 1] }, share: { unit: '1', valid: [0, 1] } },
  source: 'common practice',
  value: ({ height, share }) => height * share,
})

export const bowlVolume = formula({
  name: 'bowlVolume',
  title: 'Bowl, at least',
  says: 'slurry times how far it rises: it roughly doubles under vacuum, and wants a rim above that',
  unit: 'm3',
  inputs: { slurry: VOLUME, times: { unit: '1', valid: [1, 5] } },
  source: 'common practice',
  value: ({ slurry, times }) => slurry * times,
})

const PRESSURE = { unit: 'Pa', valid: [0, 110_000] } as const

export const pressureAtAltitude = formula({
  name: 'pressureAtAltitude',
  title: 'Air pressure in the shop',
  says: 'pressure of the standard atmosphere at this height, times what the weather makes of it',
  unit: 'Pa',
  inputs: { altitude: { unit: 'm', valid: [-430, 9000] }, weather: { unit: '1', valid: [0.95, 1.05] } },
  source: 'ISO 2533 standard atmosphere',
  holdsWhen: 'no barometer has been read; the weather moves it about 1.5 % either way',
  fitted: true,
  value: ({ altitude, weather }) =>
    weather * found(standardPressure(geopotentialHeight(altitude)), 'standard pressure'),
})

export const pressureFromWeather = formula({
  name: 'pressureFromWeather',
  title: 'Air pressure in the shop',
  says: 'the sea-level pressure of the weather report, brought up to this height by the standard atmosphere',
  unit: 'Pa',
  inputs: {
    seaLevel: { unit: 'Pa', valid: [85_000, 110_000] },
    altitude: { unit: 'm', valid: [-430, 9000] },
  },
  source: 'ISO 2533 standard atmosphere; altimeter setting as ICAO defines it',
  fitted: true,
  value: ({ seaLevel, altitude }) =>
    found(stationPressure(seaLevel, geopotentialHeight(altitude)), 'station pressure'),
})

export const vapourPressure = formula({
  name: 'vapourPressure',
  title: 'Pressure at which this water boils',
  says: 'saturation pressure of water at the temperature of the slurry',
  unit: 'Pa',
  inputs: { temperature: T },
  source: 'IAPWS-IF97, region 4 (release R7-97)',
  holdsWhen: 'what the powder dissolves lowers it by well under 1 %',
  fitted: true,
  value: ({ temperature }) => found(saturationPressure(temperature), 'vapour pressure'),
})

export const gaugeReading = formula({
  name: 'gaugeReading',
  title: 'Reading of the gauge',
  says: 'the pressure outside, less the pressure that is left inside',
  unit: 'Pa',
  inputs: { station: { unit: 'Pa', valid: [30_000, 110_000] }, left: PRESSURE },
  source: 'a vacuum gauge reads from outside pressure down',
  value: ({ station, left }) => station - left,
})

/** Pressure of water's triple point [Pa]: below it water freezes as it boils, so the answer stays at 0.01 °C. */
const TRIPLE_POINT_PRESSURE = 611.657

export const boilingTemperature = formula({
  name: 'boilingTemperature',
  title: 'Water boils at',
  says: 'temperature at which water boils under the pressure that is left; never below freezing',
  unit: 'K',
  inputs: { left: PRESSURE },
  source: 'IAPWS-IF97, region 4 (release R7-97)',
  fitted: true,
  value: ({ left }) =>
    found(saturationTemperature(Math.max(left, TRIPLE_POINT_PRESSURE)), 'boiling temperature'),
})
