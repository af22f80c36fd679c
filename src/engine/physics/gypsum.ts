/**
 * The chemistry of gypsum in a mould: what water it binds on setting, what it gives off in burnout, and the
 * heat that takes. Stoichiometry of CaSO4.2H2O -> CaSO4.0.5H2O -> CaSO4 with molar masses Ca 40.078,
 * S 32.06, O 15.999, H 1.008; heats from the NBS tables of formation enthalpies at 25 C (from memory; a
 * measurement on impure gypsum agrees within its purity, see the checks).
 */
const WATER = 2 * 1.008 + 15.999 // g/mol
const ANHYDRITE = 40.078 + 32.06 + 4 * 15.999
const HEMIHYDRATE = ANHYDRITE + WATER / 2
const GYPSUM = ANHYDRITE + 2 * WATER

// formation enthalpies, kJ/mol at 25 C, NBS tables; hemihydrate of the beta form
const FORMATION = { gypsum: -2022.63, hemihydrate: -1574.65, anhydrite: -1434.11, steam: -241.826 } as const

/** Share of its mass that each material loses on heating. */
export const MASS_LOSS = {
  gypsumToHemihydrate: (1.5 * WATER) / GYPSUM,
  gypsumToAnhydrite: (2 * WATER) / GYPSUM,
  hemihydrateToAnhydrite: (0.5 * WATER) / HEMIHYDRATE,
} as const

/** Heat [J/kg of gypsum] to drive its water off as steam: three-quarters of it, then all of it. */
export const DEHYDRATION_HEAT = {
  gypsumToHemihydrate: ((FORMATION.hemihydrate + 1.5 * FORMATION.steam - FORMATION.gypsum) * 1e6) / GYPSUM,
  gypsumToAnhydrite: ((FORMATION.anhydrite + 2 * FORMATION.steam - FORMATION.gypsum) * 1e6) / GYPSUM,
} as const

/** Heat [J/mol of gypsum] of the same two steps. */
export const MOLAR_DEHYDRATION_HEAT = {
  gypsumToHemihydrate: DEHYDRATION_HEAT.gypsumToHemihydrate * (GYPSUM / 1000),
  gypsumToAnhydrite: DEHYDRATION_HEAT.gypsumToAnhydrite * (GYPSUM / 1000),
} as const

/** Water [kg per kg hemihydrate] bound when it sets to gypsum. */
export const WATER_BOUND_BY_SETTING = (1.5 * WATER) / HEMIHYDRATE

export interface SetMould {
  /** kg, per kg of powder throughout */
  readonly boundWater: number
  readonly freeWater: number
  readonly gypsum: number
  /** kg left when all water is gone */
  readonly burntMass: number
}

/**
 * What stands in the flask once set, per kilogram of powder.
 * @param hemihydrate its share of the powder by mass, 0.25 to 0.35 in common powders
 * @param ratio water to powder by mass. Below what setting binds, free water comes out negative: too dry.
 */
export function setMould(hemihydrate: number, ratio: number): SetMould {
  const boundWater = hemihydrate * WATER_BOUND_BY_SETTING
  return {
    boundWater,
    freeWater: ratio - boundWater,
    gypsum: hemihydrate + boundWater,
    burntMass: 1 - hemihydrate * MASS_LOSS.hemihydrateToAnhydrite,
  }
}

/**
 * Heat [J per kg of powder] to boil off a set mould's free water and then drive off its bound water.
 * @param vaporisationHeat J/kg, of water where it boils
 */
export function waterRemovalHeat(mould: SetMould, vaporisationHeat: number) {
  return {
    freeWater: mould.freeWater * vaporisationHeat,
    boundWater: mould.gypsum * DEHYDRATION_HEAT.gypsumToAnhydrite,
  }
}
