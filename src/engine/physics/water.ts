/**
 * Water: vapour pressure and boiling point (IAPWS-IF97 region 4, release R7-97), saturated liquid and vapour
 * density (IAPWS SR1-86, 1992), and the heat of vaporisation that follows from them. Outside the range each
 * function gives null: there is no such state, and the caller must say so.
 */
const CRITICAL_TEMPERATURE = 647.096 // K
const CRITICAL_DENSITY = 322 // kg/m3
const CRITICAL_PRESSURE = 22.064e6 // Pa
const LEAST_TEMPERATURE = 273.15 // K
const LEAST_PRESSURE = 611.213 // Pa, the vapour pressure there

// IAPWS R7-97 table 34, n1 to n10; pressure in MPa and temperature in K inside the equation
const N = [
  0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.1202082470247e5, -0.32325550322333e7,
  0.1491510861353e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
] as const

/**
 * Pressure at which water boils at T.
 * @param T K, 273.15 to 647.096
 * @returns Pa, or null outside the range
 */
export function saturationPressure(T: number): number | null {
  if (!(T >= LEAST_TEMPERATURE && T <= CRITICAL_TEMPERATURE)) return null
  const theta = T + N[8] / (T - N[9])
  const a = theta ** 2 + N[0] * theta + N[1]
  const b = N[2] * theta ** 2 + N[3] * theta + N[4]
  const c = N[5] * theta ** 2 + N[6] * theta + N[7]
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4
}

/**
 * Temperature at which water boils at p.
 * @param p Pa absolute, 611.213 to 22.064e6
 * @returns K, or null outside the range (below it water freezes or sublimes instead of boiling)
 */
export function saturationTemperature(p: number): number | null {
  if (!(p >= LEAST_PRESSURE && p <= CRITICAL_PRESSURE)) return null
  const beta = (p / 1e6) ** 0.25
  const e = beta ** 2 + N[2] * beta + N[5]
  const f = N[0] * beta ** 2 + N[3] * beta + N[6]
  const g = N[1] * beta ** 2 + N[4] * beta + N[7]
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g))
  return (N[9] + d - Math.sqrt((N[9] + d) ** 2 - 4 * (N[8] + N[9] * d))) / 2
}

const inRange = (T: number): boolean => T >= LEAST_TEMPERATURE && T < CRITICAL_TEMPERATURE

/** Density [kg/m3] of liquid water on its boiling line, which at 1 atm differs by less than 0.01 %. */
export function waterDensity(T: number): number | null {
  if (!inRange(T)) return null
  const s = (1 - T / CRITICAL_TEMPERATURE) ** (1 / 3)
  return (
    CRITICAL_DENSITY *
    (1 +
      1.99274064 * s +
      1.09965342 * s ** 2 -
      0.510839303 * s ** 5 -
      1.75493479 * s ** 16 -
      45.5170352 * s ** 43 -
      6.7469445e5 * s ** 110)
  )
}

/** Density [kg/m3] of water vapour on the boiling line. */
export function steamDensity(T: number): number | null {
  if (!inRange(T)) return null
  const s = (1 - T / CRITICAL_TEMPERATURE) ** (1 / 6)
  return (
    CRITICAL_DENSITY *
    Math.exp(
      -2.0315024 * s ** 2 -
        2.6830294 * s ** 4 -
        5.38626492 * s ** 8 -
        17.2991605 * s ** 18 -
        44.7586581 * s ** 37 -
        63.9201063 * s ** 71,
    )
  )
}

/** Heat of vaporisation [J/kg] at T [K]: Clapeyron's equation, T dp/dT (1/vapour - 1/liquid density). */
export function vaporisationHeat(T: number): number | null {
  const step = 0.01
  const [below, above] = [saturationPressure(T - step), saturationPressure(T + step)]
  const [liquid, vapour] = [waterDensity(T), steamDensity(T)]
  if (below === null || above === null || liquid === null || vapour === null) return null
  return ((T * (above - below)) / (2 * step)) * (1 / vapour - 1 / liquid)
}
