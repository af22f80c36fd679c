import { solveBetween } from './root-finding.ts'
import { erf, scaledErfc } from './special-functions.ts'

/**
 * Fronts of freezing, melting and drying that move away from a face: exact for a thick flat body (Neumann),
 * quasi-steady for a body frozen or dried to its centre (Plank). A front stands at X = 2 lambda sqrt(alpha t).
 * Source: Carslaw and Jaeger 1959, ch. 11; Crank 1984, eq. 3.14.
 */
/**
 * lambda of a front into a body already at its freezing point.
 * @param stefan heat capacity times drop over latent heat, above 0
 */
export const onePhaseFront = (stefan: number): number =>
  solveBetween(
    (z) => Math.sqrt(Math.PI) * z * Math.exp(z * z) * erf(z) - stefan,
    0,
    // lambda is below sqrt(St/2), and far below it where that is large
    Math.min(Math.sqrt(stefan / 2) + 1e-12, 6),
  )

export interface FrontPhase {
  readonly conductivity: number
  readonly diffusivity: number
}

/**
 * lambda, on the frozen phase's diffusivity, of a front into a warmer liquid. With `latent` 0 and the mushy
 * range as the `ahead` phase it gives the solidus front of an alloy whose latent heat is spread evenly.
 * @param latent J/m3
 * @param dropBehind K, freezing point less the face; @param dropAhead K, liquid far off less freezing point
 */
export function twoPhaseFront(
  behind: FrontPhase,
  ahead: FrontPhase,
  latent: number,
  dropBehind: number,
  dropAhead: number,
): number {
  const ratio = Math.sqrt(behind.diffusivity / ahead.diffusivity)
  // exp(-(r z)²)/erfc(r z) is 1/scaledErfc(r z), which stays finite
  const imbalance = (z: number) =>
    (behind.conductivity * dropBehind * Math.exp(-z * z)) / (Math.sqrt(behind.diffusivity) * erf(z)) -
    (ahead.conductivity * dropAhead) / (Math.sqrt(ahead.diffusivity) * scaledErfc(ratio * z)) -
    latent * z * Math.sqrt(Math.PI * behind.diffusivity)
  return solveBetween(imbalance, 1e-9, 5)
}

/** Depth of a front [m] after a time [s]. */
export const frontDepth = (lambda: number, diffusivity: number, time: number): number =>
  2 * lambda * Math.sqrt(diffusivity * time)

/** Time [s] for a front to reach a depth [m]. */
export const frontTime = (lambda: number, diffusivity: number, depth: number): number =>
  (depth / (2 * lambda)) ** 2 / diffusivity

const PLANK = { slab: 2, rod: 4, ball: 6 } as const

/**
 * Time [s] for a slow front to reach the centre: volume heat/dT * (R/(n h) + R²/(2 n k)), n 1, 2, 3 for slab,
 * rod, ball. Holds where the heat of the change dwarfs the sensible heat (drying investment, freezing food).
 * @param volumeHeat J/m3, @param length half thickness or radius [m], @param drop K, face to front
 * @param heatTransfer W/m2K; Infinity holds the face
 */
export function timeToCentre(
  shape: keyof typeof PLANK,
  volumeHeat: number,
  length: number,
  conductivity: number,
  drop: number,
  heatTransfer = Number.POSITIVE_INFINITY,
): number {
  const divisor = PLANK[shape]
  return (
    (volumeHeat / drop) * ((2 * length) / (divisor * heatTransfer) + length ** 2 / (divisor * conductivity))
  )
}
