import { STANDARD_GRAVITY } from './atmosphere.ts'

/** Metal running down sprues and through gates, without friction unless a coefficient is given. */

/** Speed [m/s] after a fall: sqrt(2 g h) (Torricelli). */
export const fallSpeed = (head: number, gravity = STANDARD_GRAVITY): number => Math.sqrt(2 * gravity * head)

/** Time [s] to fill a cavity through a sprue's narrowest area under a steady head. */
export const sprueFillTime = (
  volume: number,
  area: number,
  head: number,
  gravity = STANDARD_GRAVITY,
): number => volume / (area * fallSpeed(head, gravity))

/** Area lower down a sprue over area higher up, so that falling metal just fills it: sqrt(h1/h2). */
export const sprueTaper = (upperHead: number, lowerHead: number): number => Math.sqrt(upperHead / lowerHead)

export interface Choke {
  readonly mass: number
  readonly density: number
  readonly time: number
  readonly head: number
  /** share of the frictionless flow that really passes, 0.7 to 0.9 */
  readonly discharge: number
  readonly gravity?: number
}

/** Narrowest area [m2] that passes a mass in a time: m/(rho t C sqrt(2 g h)). */
export const chokeArea = ({ mass, density, time, head, discharge, gravity }: Choke): number =>
  mass / (density * time * discharge * fallSpeed(head, gravity))

/** Time [s] to fill a prism from below to `height`, the head over the gate shrinking as it fills. */
export function bottomFillTime(
  mouldArea: number,
  gateArea: number,
  head: number,
  height: number,
  gravity = STANDARD_GRAVITY,
): number {
  if (height > head) return Number.POSITIVE_INFINITY
  return (
    ((2 * mouldArea) / (gateArea * Math.sqrt(2 * gravity))) * (Math.sqrt(head) - Math.sqrt(head - height))
  )
}

/** Height [m] of metal that presses as hard as a pressure does. */
export const metalHead = (pressure: number, density: number, gravity = STANDARD_GRAVITY): number =>
  pressure / (density * gravity)

/**
 * Pressure [Pa] to push metal into a passage that it does not wet.
 * @param tension N/m; silver 0.90 to 0.97, less where oxygen is dissolved
 * @param radius m, of a round passage; a slot takes half: use its gap as `radius`
 */
export const entryPressure = (tension: number, radius: number): number => (2 * tension) / radius
