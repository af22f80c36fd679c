import { STANDARD_PRESSURE } from '../physics/atmosphere.ts'
import { alloyEnthalpy, liquidus, solidus } from '../physics/silver-copper.ts'
import { formula } from '../quantity/index.ts'

const HEAT = { symbol: 'h', unit: 'J/kg', valid: [50_000, 1_500_000] } as const
const CHARGE = { symbol: 'm', unit: 'kg', valid: [0, 20] } as const

export const pouringHeat = formula({
  name: 'pouringHeat',
  title: 'Metal at release',
  says: 'the heat at which the alloy is wholly liquid, and the superheat that carries it into the mould',
  unit: 'K',
  inputs: {
    liquidus: { unit: 'K', valid: [473, 1900] },
    superheat: { unit: 'ΔK', valid: [0, 300] },
  },
  source: 'common practice',
  value: ({ liquidus, superheat }) => liquidus + superheat,
})

export const meltEnergy = formula({
  name: 'meltEnergy',
  title: 'Heat that the metal takes up',
  says: 'the charge, times the heat that a kilogram takes from the bench to pouring',
  symbol: 'Q',
  unit: 'J',
  inputs: { charge: CHARGE, heat: HEAT },
  source: 'conservation of energy',
  holdsWhen: 'the metal alone; crucible and room come on top, through the share of the flame',
  value: ({ charge, heat }) => charge * heat,
})

/** How much of its sea-level power a flame keeps that draws its air from the room. */
export const thinAir = formula({
  name: 'thinAir',
  title: 'Flame left in thin air',
  says: "the air's pressure here, over that at sea level",
  unit: '1',
  inputs: { pressure: { symbol: 'p', unit: 'Pa', valid: [30_000, 110_000] } },
  source: 'the oxygen in a volume of air follows its pressure at the same room temperature',
  holdsWhen: 'the jet and its air holes stay as they are',
  fitted: true,
  value: ({ pressure }) => pressure / STANDARD_PRESSURE,
})

export const heatIntoMetal = formula({
  name: 'heatIntoMetal',
  title: 'Flame that reaches the metal',
  says: "the flame's power, times the share that the metal takes, times what thin air leaves of it",
  symbol: 'P',
  unit: 'W',
  inputs: {
    power: { unit: 'W', valid: [200, 60_000] },
    share: { unit: '1', valid: [0.005, 0.6] },
    air: { unit: '1', valid: [0.3, 1.1] },
  },
  source: 'common practice; the share is the weakest number here: time a melt',
  value: ({ power, share, air }) => power * share * air,
})

export const meltTime = formula({
  name: 'meltTime',
  title: 'Time with the torch',
  says: 'the heat that the metal takes up, over the part of the flame that reaches it',
  symbol: 't',
  unit: 's',
  inputs: {
    energy: { unit: 'J', valid: [0, 2e7] },
    into: { unit: 'W', valid: [1, 40_000] },
  },
  source: 'conservation of energy',
  holdsWhen: 'the crucible is hot already; a cold one adds a minute or more',
  value: ({ energy, into }) => energy / into,
})

export const crucibleFill = formula({
  name: 'crucibleFill',
  title: 'How full the crucible is',
  says: 'the charge, over what the crucible holds',
  unit: '1',
  inputs: { charge: CHARGE, holds: { unit: 'kg', valid: [0.001, 20] } },
  source: 'common practice',
  value: ({ charge, holds }) => charge / holds,
})

/** Heat a kilogram takes by the assessed silver-copper system, from the separate metals at 25 °C. */
export const diagramHeat = formula({
  name: 'diagramHeat',
  title: 'Heat by the silver-copper diagram',
  says: 'the heat content of the alloy at pouring, over that of its two metals at 25 °C, from the assessed functions',
  unit: 'J/kg',
  inputs: {
    fineness: { symbol: 'f', unit: 'ppt', valid: [720, 1000] },
    pouring: { symbol: 'T', unit: 'K', valid: [1050, 1500] },
  },
  source: 'Hayes, Lukas, Effenberg and Petzow 1986 with the pure elements of Dinsdale 1991',
  holdsWhen: 'the alloy is silver and copper only',
  fitted: true,
  value: ({ fineness, pouring }) => alloyEnthalpy(1 - fineness / 1000, pouring),
})

/** Where a silver-copper alloy is wholly liquid, by its real fineness rather than its name. */
export const diagramLiquidus = formula({
  name: 'diagramLiquidus',
  title: 'Wholly liquid above, by the silver-copper diagram',
  says: 'where the liquid first gives up solid, solved from the assessed functions',
  unit: 'K',
  inputs: { fineness: { symbol: 'f', unit: 'ppt', valid: [720, 1000] } },
  source: 'Hayes, Lukas, Effenberg and Petzow 1986 with the pure elements of Dinsdale 1991',
  holdsWhen: 'the alloy is silver and copper only; within 1 K of a second assessment, 5 K of handbooks',
  fitted: true,
  value: ({ fineness }) => liquidus(1 - fineness / 1000),
})

/** Where a silver-copper alloy is wholly solid when it cools slowly enough to even out. */
export const diagramSolidus = formula({
  name: 'diagramSolidus',
  title: 'Wholly solid below, by the silver-copper diagram',
  says: 'where the last liquid would freeze if the solid evened out, solved from the assessed functions',
  unit: 'K',
  inputs: { fineness: { symbol: 'f', unit: 'ppt', valid: [720, 1000] } },
  source: 'Hayes, Lukas, Effenberg and Petzow 1986 with the pure elements of Dinsdale 1991',
  holdsWhen: 'slow cooling; in a flask the last of it freezes at the eutectic, 779 °C',
  fitted: true,
  value: ({ fineness }) => solidus(1 - fineness / 1000),
})
