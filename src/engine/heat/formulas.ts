import { airToBurn } from '../physics/combustion.ts'
import { setMould, waterRemovalHeat } from '../physics/gypsum.ts'
import { slurryYield } from '../physics/slurry.ts'
import { celsius, formula, hours } from '../quantity/index.ts'
import { STEEL_DENSITY, STEEL_HEAT } from './steel.ts'

export * from './quench-formulas.ts'

const T = { unit: 'K', valid: [celsius(-10), celsius(1200)] } as const
const LENGTH = { unit: 'm', valid: [0.01, 0.5] } as const
const TIME = { unit: 's', valid: [0, 400_000] } as const
const RATIO = { unit: '1', valid: [0.25, 0.7] } as const
const SHARE = { unit: '1', valid: [0.1, 0.6] } as const
const CONDUCTIVITY = { symbol: 'k', unit: 'W/mK', valid: [0.1, 3] } as const
const DENSITY = { symbol: 'ρ', unit: 'kg/m3', valid: [500, 3000] } as const
const HEAT = { symbol: 'c', unit: 'J/kgK', valid: [400, 2000] } as const
const TRANSFER = { symbol: 'h', unit: 'W/m2K', valid: [5, 500] } as const

/** First root of the Bessel function J0, squared: the slowest way heat leaves a long rod. */
const ROD = 2.404825557695773 ** 2

export const soakSize = formula({
  name: 'soakSize',
  title: 'How far heat must soak, squared',
  says: 'one over: 5.783 by the radius squared and π² by the height squared',
  unit: 'm2',
  inputs: { radius: LENGTH, height: LENGTH },
  source: 'slowest term of conduction in a cylinder, Carslaw and Jaeger',
  value: ({ radius, height }) => 1 / (ROD / radius ** 2 + (Math.PI / height) ** 2),
})

export const lagSize = formula({
  name: 'lagSize',
  title: 'How far the core stands from a steady climb, squared',
  says: 'one over: 4 by the radius squared and 8 by the height squared',
  unit: 'm2',
  inputs: { radius: LENGTH, height: LENGTH },
  source: 'steady climb of a long rod and of a slab, Carslaw and Jaeger, added as rates',
  value: ({ radius, height }) => 1 / (4 / radius ** 2 + 8 / height ** 2),
})

export const wallShare = formula({
  name: 'wallShare',
  title: 'Volume over surface of the mould',
  says: 'radius times height, over twice the radius and height together',
  unit: 'm',
  inputs: { radius: LENGTH, height: LENGTH },
  source: 'geometry of a cylinder with both ends bare',
  value: ({ radius, height }) => (radius * height) / (2 * (radius + height)),
})

export const dryDensity = formula({
  name: 'dryDensity',
  title: 'Density of the burned-out mould',
  says: 'what is left of the powder when all its water is gone, over the volume of slurry it made',
  unit: 'kg/m3',
  inputs: { hemihydrate: SHARE, ratio: RATIO, particle: DENSITY },
  source: 'stoichiometry of gypsum; setting expansion left out',
  fitted: true,
  value: ({ hemihydrate, ratio, particle }) =>
    setMould(hemihydrate, ratio).burntMass / slurryYield(ratio, { particle, water: WATER_DENSITY }),
})

/** Of the mixing water [kg/m3], 20 °C. */
const WATER_DENSITY = 998.2

/** Heat of vaporisation of water at 100 °C [J/kg], steam tables. */
const VAPORISATION = 2.257e6

const drying = (hemihydrate: number, ratio: number): number => {
  const heat = waterRemovalHeat(setMould(hemihydrate, ratio), VAPORISATION)
  return Math.max(0, heat.freeWater) + heat.boundWater
}

export const dryingHeat = formula({
  name: 'dryingHeat',
  title: 'Heat to drive the water out of a volume of mould',
  says: 'free water boiled off at 2257 kJ/kg and bound water driven from the gypsum, by volume',
  unit: 'J/m3',
  inputs: { hemihydrate: SHARE, ratio: RATIO, particle: DENSITY },
  source: 'stoichiometry of gypsum; formation enthalpies of the NBS tables, from memory',
  fitted: true,
  value: ({ hemihydrate, ratio, particle }) =>
    drying(hemihydrate, ratio) / slurryYield(ratio, { particle, water: WATER_DENSITY }),
})

export const dryInvestment = formula({
  name: 'dryInvestment',
  title: 'Investment once burned out',
  says: 'powder in the flask, less the water that its own plaster still held',
  unit: 'kg',
  plainMass: true,
  inputs: {
    powder: { unit: 'kg', valid: [0, 100] },
    allowance: { unit: '1', valid: [0, 1] },
    hemihydrate: SHARE,
  },
  source: 'stoichiometry of gypsum',
  holdsWhen: 'the share mixed over stays in the bowl',
  value: ({ powder, allowance, hemihydrate }) =>
    (powder / (1 + allowance)) * setMould(hemihydrate, 0.4).burntMass,
})

export const loadHeat = formula({
  name: 'loadHeat',
  title: 'Heat that the flask takes up',
  says: 'water driven out, and dry investment and steel (500 J per kg K) brought to the top',
  unit: 'J',
  inputs: {
    dry: { unit: 'kg', valid: [0, 100] },
    hemihydrate: SHARE,
    ratio: RATIO,
    heat: HEAT,
    steel: { unit: 'kg', valid: [0, 50] },
    room: T,
    top: T,
  },
  source: 'heat balance; steel from a stainless sheet',
  fitted: true,
  value: ({ dry, hemihydrate, ratio, heat, steel, room, top }) =>
    (dry / setMould(hemihydrate, ratio).burntMass) * drying(hemihydrate, ratio) +
    (dry * heat + steel * STEEL_HEAT) * (top - room),
})

export const flaskSteel = formula({
  name: 'flaskSteel',
  title: 'Steel of the flask',
  says: 'a tube of this wall, open at both ends, in stainless steel of 7.9 g per cm³',
  unit: 'kg',
  plainMass: true,
  inputs: { diameter: LENGTH, height: LENGTH, wall: { unit: 'm', valid: [0.0003, 0.02] } },
  source: 'geometry; stainless sheet for grade 304',
  fitted: true,
  value: ({ diameter, height, wall }) => Math.PI * (diameter + wall) * wall * height * STEEL_DENSITY,
})

export const diffusivity = formula({
  name: 'diffusivity',
  title: 'How fast heat spreads in the dry mould',
  says: 'conductivity, over density and specific heat',
  symbol: 'α',
  unit: 'm2/s',
  inputs: { conductivity: CONDUCTIVITY, density: DENSITY, heat: HEAT },
  source: 'definition of thermal diffusivity',
  value: ({ conductivity, density, heat }) => conductivity / (density * heat),
})

export const coreTime = formula({
  name: 'coreTime',
  title: 'Time in which the core closes most of a gap',
  says: 'the soak size over the diffusivity, and the heat of the mould over what its face passes',
  unit: 's',
  inputs: {
    size: { unit: 'm2', valid: [1e-6, 0.02] },
    diffusivity: { unit: 'm2/s', valid: [5e-8, 3e-6] },
    density: DENSITY,
    heat: HEAT,
    wallShare: { unit: 'm', valid: [0.001, 0.2] },
    transfer: TRANSFER,
  },
  source: 'slowest term of conduction; face and inside resistances added',
  holdsWhen: 'the mould is dry; a first estimate that leaves out the rest of the load',
  value: ({ size, diffusivity: spread, density, heat, wallShare: depth, transfer }) =>
    size / spread + (density * heat * depth) / transfer,
})

export const coreLag = formula({
  name: 'coreLag',
  title: 'Core behind the kiln as it cools',
  says: 'the kiln’s fall, times the core’s time behind a steady fall, until it has fallen that long',
  unit: 'ΔK',
  inputs: {
    rate: { unit: 'K/s', valid: [0, 1] },
    time: { unit: 's', valid: [10, 400_000] },
    fallTime: TIME,
  },
  source: 'steady climb or fall of a cylinder, Carslaw and Jaeger',
  value: ({ rate, time, fallTime }) => rate * time * (1 - Math.exp(-fallTime / time)),
})

export const settleTime = formula({
  name: 'settleTime',
  title: 'Soak until the core has settled',
  says: 'the core’s time, times the logarithm of its lag over ten degrees',
  unit: 's',
  inputs: {
    time: TIME,
    lag: { unit: 'ΔK', valid: [0, 500] },
    within: { unit: 'ΔK', valid: [0.1, 100] },
  },
  source: 'exponential approach, slowest term of conduction',
  value: ({ time, lag, within }) => time * Math.log(Math.max(1, lag / within)),
})

export const soakHold = formula({
  name: 'soakHold',
  title: 'Soak at casting heat',
  says: 'the trade’s soak for this size, or half as long again as the core needs, whichever is longer',
  unit: 's',
  inputs: { rule: TIME, settle: TIME },
  source: 'common practice, and conduction where that asks for more',
  value: ({ rule, settle }) => Math.max(rule, 1.5 * settle),
})

export const slowerOf = formula({
  name: 'slowerOf',
  title: 'Climb',
  says: 'the gentle climb, or the kiln’s fastest, whichever is slower',
  unit: 'K/s',
  inputs: {
    gentle: { unit: 'K/s', valid: [0.001, 0.5] },
    kiln: { unit: 'K/s', valid: [0.001, 1] },
  },
  source: 'common practice: 300 °F an hour',
  value: ({ gentle, kiln }) => Math.min(gentle, kiln),
})

export const rampTime = formula({
  name: 'rampTime',
  title: 'Time of the climb or fall',
  says: 'the difference of temperatures over the rate',
  unit: 's',
  inputs: { from: T, to: T, rate: { unit: 'K/s', valid: [0.0005, 1] } },
  source: 'definition of a rate',
  value: ({ from, to, rate }) => Math.abs(to - from) / rate,
})

export const topHeat = formula({
  name: 'topHeat',
  title: 'Top hold',
  says: 'the top of this investment, or its ceiling less the kiln’s overshoot and doubt, whichever is lower',
  unit: 'K',
  inputs: {
    top: T,
    ceiling: T,
    overshoot: { unit: 'ΔK', valid: [0, 60] },
    doubt: { unit: 'ΔK', valid: [0, 80] },
  },
  source: 'common practice for the top; sulphate and carbon give off sulphur above the ceiling',
  value: ({ top, ceiling, overshoot, doubt }) => Math.min(top, ceiling - overshoot - doubt),
})

export const castingHeat = formula({
  name: 'castingHeat',
  title: 'Mould when the metal goes in',
  says: 'the casting temperature aimed at, never above the top hold, as far as the kiln tells it',
  unit: 'K',
  inputs: { aim: T, top: T, doubt: { unit: 'ΔK', valid: [-80, 80] } },
  source: 'the kiln’s setting, and what is not known of its error',
  value: ({ aim, top, doubt }) => Math.min(aim, top) + doubt,
})

export const meltedOut = formula({
  name: 'meltedOut',
  title: 'First hold',
  says: 'the trade’s first hold, or a margin above the melting point of the wax, whichever is hotter',
  unit: 'K',
  inputs: { practice: T, melts: T, margin: { unit: 'ΔK', valid: [0, 60] } },
  source: 'common practice: 300 °F; wax drains only once it has melted',
  value: ({ practice, melts, margin }) => Math.max(practice, melts + margin),
})

/** Published holds by flask: 2½ × 2½, 3½ × 4 and 4 × 8 in, each by its soak size [m²]. */
const sizeOf = (diameter_in: number, height_in: number): number =>
  soakSize.record.value({ radius: (diameter_in * 0.0254) / 2, height: height_in * 0.0254 })
export const RULE_SIZES = { small: sizeOf(2.5, 2.5), medium: sizeOf(3.5, 4), large: sizeOf(4, 8) } as const

const between = (size: number, small: number, medium: number, large: number): number => {
  const { small: a, medium: b, large: c } = RULE_SIZES
  if (size <= a) return small
  if (size <= b) return small + ((medium - small) * (size - a)) / (b - a)
  if (size <= c) return medium + ((large - medium) * (size - b)) / (c - b)
  return (large * size) / c
}

const SIZE = { unit: 'm2', valid: [RULE_SIZES.small * 0.3, RULE_SIZES.large * 1.2] } as const
const TABLE = 'a published supplier’s schedule for flasks of 2½ × 2½, 3½ × 4 and 4 × 8 in'

export const middleHold = formula({
  name: 'middleHold',
  title: 'Middle hold',
  says: '1 h for a 2½ × 2½ in flask, 2 h for 3½ × 4, 4 h for 4 × 8, in between by how far heat must soak',
  unit: 's',
  inputs: { size: SIZE },
  source: TABLE,
  fitted: true,
  value: ({ size }) => between(size, hours(1), hours(2), hours(4)),
})

export const topHold = formula({
  name: 'topHold',
  title: 'Top hold',
  says: '2 h for a 2½ × 2½ in flask, 3 h for 3½ × 4, 4 h for 4 × 8, in between by how far heat must soak',
  unit: 's',
  inputs: { size: SIZE },
  source: TABLE,
  fitted: true,
  value: ({ size }) => between(size, hours(2), hours(3), hours(4)),
})

export const ruleSoak = formula({
  name: 'ruleSoak',
  title: 'Soak of the trade',
  says: '1 h up to a 3½ × 4 in flask, 2 h for 4 × 8, in between by how far heat must soak',
  unit: 's',
  inputs: { size: SIZE },
  source: TABLE,
  fitted: true,
  value: ({ size }) => between(size, hours(1), hours(1), hours(2)),
})

export const halfOf = formula({
  name: 'halfOf',
  title: 'Half of the middle hold',
  says: 'half of the middle hold, which a large flask takes in two',
  unit: 's',
  inputs: { whole: TIME },
  source: 'the same schedule',
  value: ({ whole }) => whole / 2,
})

export const kilnEnergy = formula({
  name: 'kilnEnergy',
  title: 'Electricity of the burnout',
  says: 'the kiln’s power, times its share at the top, for as long as all the program comes to at the top; and the flask’s own heat',
  unit: 'J',
  inputs: {
    power: { unit: 'W', valid: [100, 60_000] },
    share: { unit: '1', valid: [0, 1] },
    time: TIME,
    load: { unit: 'J', valid: [0, 1e9] },
  },
  source: 'heat balance with losses by the difference to the room; the share is a guess, read a meter',
  value: ({ power, share, time, load }) => power * share * time + load,
})

export const energyCost = formula({
  name: 'energyCost',
  title: 'Cost of the burnout',
  says: 'electricity times its price',
  unit: 'money',
  inputs: { energy: { unit: 'J', valid: [0, 1e10] }, price: { unit: 'money/J', valid: [0, 1e-3] } },
  source: 'a product',
  value: ({ energy, price }) => energy * price,
})

export const waxOfRoom = formula({
  name: 'waxOfRoom',
  title: 'Room taken by the wax',
  says: 'volume of all the wax over the inside of the flask, at most half',
  unit: '1',
  inputs: { wax: { unit: 'm3', valid: [0, 0.01] }, diameter: LENGTH, height: LENGTH },
  source: 'geometry of a cylinder',
  value: ({ wax, diameter, height }) => Math.min(0.5, wax / ((Math.PI / 4) * diameter ** 2 * height)),
})

export const ratioMixed = formula({
  name: 'ratioMixed',
  title: 'Water to powder as mixed',
  says: 'water over powder, by mass',
  unit: '1',
  inputs: { water: { unit: 'kg', valid: [0.001, 70] }, powder: { unit: 'kg', valid: [0.001, 100] } },
  source: 'a quotient',
  value: ({ water, powder }) => water / powder,
})

/** Air at 20 °C and one atmosphere [kg/m3], handbook. */
const AIR_DENSITY = 1.2041

export const waxAir = formula({
  name: 'waxAir',
  title: 'Air to burn all the wax, at most',
  says: 'wax taken as paraffin, C31H64, burned wholly: 14.9 g of air for a gram, 12.4 litres',
  unit: 'm3',
  inputs: { wax: { unit: 'kg', valid: [0, 20] } },
  source: 'stoichiometry; formula of a typical paraffin',
  holdsWhen: 'none of it runs out; what drains takes no air',
  fitted: true,
  value: ({ wax }) => (wax * airToBurn(31, 64)) / AIR_DENSITY,
})
