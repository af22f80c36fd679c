/** Heat by radiation between a grey body and large, black surroundings. Temperatures in kelvin. */
export const STEFAN_BOLTZMANN = 5.670374419e-8 // W/m2K4, CODATA 2018

/** Net heat leaving a surface [W/m2]. */
export const radiantFlux = (emissivity: number, body: number, surrounding: number): number =>
  emissivity * STEFAN_BOLTZMANN * (body ** 4 - surrounding ** 4)

/** Coefficient [W/m2K] that gives the same flux as radiation: eps sigma (T1² + T2²)(T1 + T2). */
export const radiationCoefficient = (emissivity: number, one: number, other: number): number =>
  emissivity * STEFAN_BOLTZMANN * (one ** 2 + other ** 2) * (one + other)

/**
 * Time [s] for a body, even throughout, to go from one temperature to another by radiation alone.
 * @param heatCapacity J/K of the whole body
 * @param emittingArea emissivity times area [m2]
 * @returns NaN where `to` lies beyond the surrounding temperature, which is never reached
 * Source: exact integral, Incropera eq. 5.18; from memory, checked by quadrature.
 */
export function radiationTime(
  heatCapacity: number,
  emittingArea: number,
  from: number,
  to: number,
  surrounding: number,
): number {
  const primitive = (T: number) =>
    Math.log(Math.abs((surrounding + T) / (surrounding - T))) + 2 * Math.atan(T / surrounding)
  if ((to - surrounding) * (from - surrounding) <= 0) return Number.NaN
  return (
    (heatCapacity * (primitive(to) - primitive(from))) /
    (4 * emittingArea * STEFAN_BOLTZMANN * surrounding ** 3)
  )
}
