/** Specific heat of stainless steel [J/kgK], sheet for grade 304 at room temperature; about 580 when hot. */
export const STEEL_HEAT = 500

/** Density of stainless steel [kg/m3], sheet for grade 304. */
export const STEEL_DENSITY = 7900
