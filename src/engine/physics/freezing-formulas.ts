import { formula } from '../quantity/index.ts'
import { freezingTimeOf, freezingTimeOfPlace } from './freezing-time.ts'

const inputs = {
  modulus: { symbol: 'M', unit: 'm', valid: [2e-4, 0.02] },
  heat: { symbol: 'ρL', unit: 'J/m3', valid: [4e8, 4e9] },
  drop: { symbol: 'ΔT', unit: 'ΔK', valid: [80, 1100] },
  conductivity: { symbol: 'k', unit: 'W/mK', valid: [0.2, 2] },
  capacity: { symbol: 'ρc', unit: 'J/m3K', valid: [5e5, 3e6] },
  law: { unit: '1', valid: [0.5, 2] },
} as const

/** A mould as hot as the metal never freezes it; the time is kept finite here [K], and the plan stops. */
const LEAST_DROP = 1

/**
 * Mould-limited freezing time [s] of a plate (0), a round bar (1) or a ball (2) of this modulus [m] and
 * radius [m] (ignored for a plate); heat [J/m3], drop [K], conductivity [W/mK], capacity [J/m3K].
 */
export const mouldLimitedTime = (
  modulus: number,
  shape: 0 | 1 | 2,
  radius: number,
  heat: number,
  drop: number,
  conductivity: number,
  capacity: number,
): number => {
  return freezingTimeOf(modulus, shape === 0 ? 0 : shape / radius, {
    heatPerVolume: heat,
    drop: Math.max(drop, LEAST_DROP),
    mouldConductivity: conductivity,
    mouldHeatCapacity: capacity,
  })
}

/** As above, of a place of this thickness and modulus [m], whatever its shape. */
export const placeTime = (
  thickness: number,
  modulus: number,
  heat: number,
  drop: number,
  conductivity: number,
  capacity: number,
): number =>
  freezingTimeOfPlace(thickness, modulus, {
    heatPerVolume: heat,
    drop: Math.max(drop, LEAST_DROP),
    mouldConductivity: conductivity,
    mouldHeatCapacity: capacity,
  })

const source = 'Adams and Taylor’s law of mould-limited freezing, foundry textbooks'

export const freezingTimeOfPlate = formula({
  name: 'freezingTimeOfPlate',
  title: 'Freezes in',
  says: 'π/4 times (modulus × heat to remove, over how far the mould is below freezing) squared, over the mould’s conductivity × heat capacity',
  symbol: 't',
  unit: 's',
  inputs,
  source,
  holdsWhen: 'the mould takes the heat slower than the metal gives it, and is thick beside the section',
  value: ({ modulus, heat, drop, conductivity, capacity, law }) =>
    law * mouldLimitedTime(modulus, 0, 1, heat, drop, conductivity, capacity),
})

export const freezingTimeOfBar = formula({
  name: 'freezingTimeOfBar',
  title: 'Freezes in',
  says: 'as a plate of equal modulus, shortened because a round section spreads its heat outward in the mould',
  symbol: 't',
  unit: 's',
  inputs,
  source,
  holdsWhen: 'the bar is long beside its thickness; a hot joint freezes later',
  value: ({ modulus, heat, drop, conductivity, capacity, law }) =>
    law * mouldLimitedTime(modulus, 1, 2 * modulus, heat, drop, conductivity, capacity),
})

export const freezingTimeOfWideBar = formula({
  name: 'freezingTimeOfWideBar',
  title: 'Freezes in',
  says: 'as a plate of equal modulus, shortened by the outward spread of heat of a round bar with the same outline round it; the wider the bar, the nearer a plate',
  symbol: 't',
  unit: 's',
  inputs: {
    ...inputs,
    thickness: { symbol: 'a', unit: 'm', valid: [2e-4, 0.1] },
    width: { symbol: 'b', unit: 'm', valid: [2e-4, 0.4] },
  },
  source,
  holdsWhen: 'the bar is long beside its width; a hot joint freezes later',
  // whatever the outline, it turns once round: the spread goes with one turn over the outline's length
  value: ({ modulus, heat, drop, conductivity, capacity, law, thickness, width }) =>
    law *
    mouldLimitedTime(
      modulus,
      1,
      (modulus * (thickness + width) ** 2) / (2 * thickness * width),
      heat,
      drop,
      conductivity,
      capacity,
    ),
})

export const freezingTimeOfThickPlace = formula({
  name: 'freezingTimeOfThickPlace',
  title: 'Freezes in',
  says: 'as a plate of equal modulus, shortened by the outward spread of heat; how far it is from a plate towards a bar and a ball is told by its thickness over its modulus',
  symbol: 't',
  unit: 's',
  inputs: { ...inputs, thickness: { symbol: 'a', unit: 'm', valid: [2e-4, 0.1] } },
  source,
  holdsWhen:
    'thinner metal beside the place freezes before it, and the mould is thick beside the section: a core shut in by metal takes less',
  value: ({ modulus, heat, drop, conductivity, capacity, law, thickness }) =>
    law * placeTime(thickness, modulus, heat, drop, conductivity, capacity),
})

export const freezingTimeOfBall = formula({
  name: 'freezingTimeOfBall',
  title: 'Freezes in',
  says: 'as a ball of equal modulus in the same mould',
  symbol: 't',
  unit: 's',
  inputs,
  source,
  holdsWhen: 'a chunky body such as a button; its open face is taken to cool like the rest',
  value: ({ modulus, heat, drop, conductivity, capacity, law }) =>
    law * mouldLimitedTime(modulus, 2, 3 * modulus, heat, drop, conductivity, capacity),
})

export const heatToFreeze = formula({
  name: 'heatToFreeze',
  title: 'Heat to remove until solid',
  says: 'heat of the metal from pouring to solid, times its liquid density',
  unit: 'J/m3',
  inputs: {
    heat: { unit: 'J/kg', valid: [3e4, 6e5] },
    density: { unit: 'kg/m3', valid: [2000, 20_000] },
  },
  source: 'a product',
  value: ({ heat, density }) => heat * density,
})

export const dropIntoMould = formula({
  name: 'dropIntoMould',
  title: 'Freezing metal above the mould',
  says: 'middle of the freezing range, less the flask’s casting temperature',
  unit: 'ΔK',
  inputs: {
    liquidus: { unit: 'K', valid: [700, 1900] },
    freezesBy: { unit: 'K', valid: [700, 1900] },
    mould: { unit: 'K', valid: [280, 1200] },
  },
  source: 'a difference',
  value: ({ liquidus, freezesBy, mould }) => (liquidus + freezesBy) / 2 - mould,
})

export const capacityOfMould = formula({
  name: 'capacityOfMould',
  title: 'Heat capacity of the mould',
  says: 'dry density of the burned-out investment, times its specific heat',
  unit: 'J/m3K',
  inputs: {
    density: { unit: 'kg/m3', valid: [800, 2500] },
    heat: { unit: 'J/kgK', valid: [400, 2000] },
  },
  source: 'a product',
  value: ({ density, heat }) => density * heat,
})
