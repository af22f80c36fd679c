import { celsius, formula } from '../quantity/index.ts'
import { STEEL_HEAT } from './steel.ts'

const T = { unit: 'K', valid: [celsius(-10), celsius(1600)] } as const
const SPECIFIC = { unit: 'J/kg', valid: [1e4, 2e6] } as const
const MASS = { unit: 'kg', valid: [0, 100] } as const

export const solidMetalHeat = formula({
  name: 'solidMetalHeat',
  title: 'Specific heat of the solid metal',
  says: 'heat from the room to the pour, less the heat from the pour to solid, over the degrees in between',
  unit: 'J/kgK',
  inputs: {
    toPour: SPECIFIC,
    freezing: SPECIFIC,
    solidAt: { unit: 'K', valid: [celsius(250), celsius(1600)] },
    room: { unit: 'K', valid: [celsius(-10), celsius(60)] },
  },
  source: 'heat balance on the alloy’s own row',
  value: ({ toPour, freezing, solidAt, room }) => (toPour - freezing) / (solidAt - room),
})

export const heatGiven = formula({
  name: 'heatGiven',
  title: 'Heat the metal gives up until solid',
  says: 'the heat of the alloy’s row, and specific heat for every degree poured hotter than that row',
  unit: 'J/kg',
  inputs: {
    freezing: SPECIFIC,
    heat: { unit: 'J/kgK', valid: [50, 1000] },
    pour: T,
    liquidus: T,
    superheat: { unit: 'ΔK', valid: [0, 300] },
  },
  source: 'heat balance; the liquid’s specific heat taken as the solid’s',
  value: ({ freezing, heat, pour, liquidus, superheat }) => freezing + heat * (pour - liquidus - superheat),
})

export const usualPour = formula({
  name: 'usualPour',
  title: 'Metal when it goes in',
  says: 'the liquidus and the usual superheat',
  unit: 'K',
  inputs: {
    liquidus: { unit: 'K', valid: [celsius(250), celsius(1600)] },
    superheat: { unit: 'ΔK', valid: [0, 300] },
  },
  source: 'a sum',
  value: ({ liquidus, superheat }) => liquidus + superheat,
})

export const bucketWater = formula({
  name: 'bucketWater',
  title: 'Water in the bucket, at least',
  says: 'what the flask’s heat warms by eight degrees, and never under ten litres',
  unit: 'm3 water',
  inputs: {
    dry: MASS,
    mouldHeat: { unit: 'J/kgK', valid: [400, 2000] },
    steel: MASS,
    metal: MASS,
    metalHeat: { unit: 'J/kgK', valid: [50, 1000] },
    at: T,
    least: { unit: 'm3 water', valid: [0, 1] },
  },
  source: 'heat balance; water 4186 J per kg K, a kilogram to the litre; steam left out',
  fitted: true,
  value: ({ dry, mouldHeat, steel, metal, metalHeat, at, least }) =>
    Math.max(
      least,
      ((dry * mouldHeat + steel * STEEL_HEAT + metal * metalHeat) * (at - celsius(20))) / (4186 * 8 * 1000),
    ),
})
