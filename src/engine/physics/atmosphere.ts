/**
 * Pressure of the air at the shop. Three different numbers are called "the pressure": what a barometer in
 * the shop reads (station), what the weather service reports (reduced to sea level), and what the standard
 * atmosphere gives for a height. Each has its own function and they are never mixed.
 *
 * ISO 2533 standard atmosphere, lowest layer: -2000 to 11000 m geopotential; outside it null. Weather moves
 * the real pressure about 3 % either way from the standard one.
 */
export const STANDARD_PRESSURE = 101325 // Pa, ISO 2533
export const STANDARD_GRAVITY = 9.80665 // m/s2, ISO 2533
const STANDARD_TEMPERATURE = 288.15 // K, ISO 2533
const LAPSE = 0.0065 // K/m, ISO 2533
const AIR_GAS_CONSTANT = 287.05287 // J/kgK, ISO 2533
const EARTH_RADIUS = 6_356_766 // m, nominal, ISO 2533
const EXPONENT = STANDARD_GRAVITY / (AIR_GAS_CONSTANT * LAPSE)
const LOWEST = -2000 // m
const TOP = 11_000 // m

/** Geopotential height [m] of a place by its geometric height above the sea [m], as a map gives it. */
export const geopotentialHeight = (geometric: number): number =>
  (EARTH_RADIUS * geometric) / (EARTH_RADIUS + geometric)

/** Standard pressure [Pa] at a geopotential height [m], -2000 to 11000; outside it null. */
export function standardPressure(geopotential: number): number | null {
  if (!(geopotential >= LOWEST && geopotential <= TOP)) return null
  return STANDARD_PRESSURE * (1 - (LAPSE * geopotential) / STANDARD_TEMPERATURE) ** EXPONENT
}

/** Geopotential height [m] at which the standard pressure is p [Pa]; null outside -2000 to 11000 m. */
export function pressureHeight(p: number): number | null {
  const height = (STANDARD_TEMPERATURE / LAPSE) * (1 - (p / STANDARD_PRESSURE) ** (1 / EXPONENT))
  return height >= LOWEST && height <= TOP ? height : null
}

/**
 * Pressure [Pa] in the shop from the weather report's sea-level pressure (altimeter setting, QNH): both
 * stand the same standard-atmosphere distance apart as the shop and the sea.
 * @param seaLevel Pa, as reported for sea level; 85000 to 109000
 * @param geopotential m, the shop's height
 * Source: definition of the altimeter setting, ICAO Doc 7488 and WMO Guide No. 8; from memory.
 */
export function stationPressure(seaLevel: number, geopotential: number): number | null {
  const datum = pressureHeight(seaLevel)
  return datum === null ? null : standardPressure(datum + geopotential)
}

/** Absolute pressure [Pa] under a vacuum gauge that reads `gauge` [Pa] below the station pressure. */
export const absoluteFromGauge = (station: number, gauge: number): number => station - gauge

/** What a vacuum gauge reads [Pa below station] at an absolute pressure. The most it can read is `station`. */
export const gaugeFromAbsolute = (station: number, absolute: number): number => station - absolute
