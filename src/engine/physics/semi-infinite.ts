import { erfc, scaledErfc } from './special-functions.ts'

/**
 * A body so thick that the far side does not yet feel the face. Shares of the face's change reached at a
 * depth: 0 untouched, 1 the full change. Source: Carslaw and Jaeger 1959, ch. 2.
 */
/** Share reached when the face jumps and stays. Depth m, diffusivity m2/s, time s. */
export const reachedFromHeldFace = (depth: number, diffusivity: number, time: number): number =>
  erfc(depth / (2 * Math.sqrt(diffusivity * time)))

/**
 * Share reached when a surrounding fluid heats the face.
 * @param heatTransfer W/m2K, @param conductivity W/mK
 */
export function reachedFromFluid(
  depth: number,
  diffusivity: number,
  time: number,
  heatTransfer: number,
  conductivity: number,
): number {
  const spread = Math.sqrt(diffusivity * time)
  const b = depth / (2 * spread)
  const a = (heatTransfer * spread) / conductivity
  // exp(2ab + a²) erfc(a + b), written so that the large factor and the small one are never formed apart
  return erfc(b) - Math.exp(-b * b) * scaledErfc(a + b)
}

/** Temperature where two thick bodies touch, each weighted by its sqrt(k rho c) [W s^0.5/m2K]. */
export const contactTemperature = (
  first: { readonly temperature: number; readonly heatDiffusivity: number },
  second: { readonly temperature: number; readonly heatDiffusivity: number },
): number =>
  (first.heatDiffusivity * first.temperature + second.heatDiffusivity * second.temperature) /
  (first.heatDiffusivity + second.heatDiffusivity)
