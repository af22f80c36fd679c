import type { HeatMaterial } from '../physics/conduct/index.ts'

/** Specific heat of stainless steel [J/kgK], sheet for grade 304 at room temperature; about 580 when hot. */
export const STEEL_HEAT = 500

/** Density of stainless steel [kg/m3], sheet for grade 304. */
export const STEEL_DENSITY = 7900

/** Steel of a flask, grade 304: 15 W/mK cold, 21 at 500 °C, handbook. */
export const STEEL: HeatMaterial = { density: STEEL_DENSITY, conductivity: 20, specificHeat: STEEL_HEAT }
