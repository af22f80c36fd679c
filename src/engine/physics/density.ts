/** Densities: by mixing, by weighing in water, and by temperature. kg/m3 and kg unless said. */

/**
 * Density of an alloy if its metals kept their volumes: 1/sum(w/rho).
 * @param parts mass shares (summing to 1) with densities. Real alloys differ by up to about 1 %.
 */
export const mixedDensity = (
  parts: readonly { readonly share: number; readonly density: number }[],
): number => 1 / parts.reduce((sum, { share, density }) => sum + share / density, 0)

/**
 * Density by weighing in air and hung in water (Archimedes).
 * @param air density of air [kg/m3]; 0 leaves its buoyancy out, 1.2 is usual. Trapped bubbles lower the answer.
 */
export const densityByImmersion = (inAir: number, inWater: number, water: number, air = 0): number =>
  ((water - air) * inAir) / (inAir - inWater) + air

/** Mass of metal that fills the space of a pattern: m rho_metal/rho_pattern. */
export const metalForPattern = (pattern: number, patternDensity: number, metalDensity: number): number =>
  (pattern * metalDensity) / patternDensity

/**
 * Length of silver at t over its length at 0 C, less 1. Polynomial of a physical-property sheet for silver,
 * its misprinted middle exponent put right (only e-9 gives the sheet's own 0 to 500 C mean).
 * @param t degrees Celsius (the polynomial's own scale), 0 to 962
 */
export const silverGrowth = (t: number): number => 19.494e-6 * t + 1.0379e-9 * t ** 2 + 2.375e-12 * t ** 3

const SILVER_DENSITY = 10_490 // kg/m3 at 20 C, same sheet

/** Density of solid silver at t [Celsius], 0 to 962. */
export const silverSolidDensity = (t: number): number =>
  SILVER_DENSITY * ((1 + silverGrowth(20)) / (1 + silverGrowth(t))) ** 3

/**
 * Density of a liquid metal: falls in a straight line above the melting point.
 * @param atMelting kg/m3, @param slope kg/m3 per K (positive), @param above K over the melting point
 * Source of the silver, gold and copper rows: CRC Handbook, Density of molten elements.
 */
export const liquidDensity = (atMelting: number, slope: number, above: number): number =>
  atMelting - slope * above

/** Share of the liquid's volume lost on freezing. */
export const freezingShrinkage = (liquid: number, solid: number): number => 1 - liquid / solid

/**
 * Pattern length for a finished length: each step's change of length is undone.
 * @param changes linear, as shares: -0.0185 for metal that shrinks 1.85 %, +0.009 for a mould that grows
 */
export const patternLength = (finished: number, changes: readonly number[]): number =>
  changes.reduce((length, change) => length / (1 + change), finished)
