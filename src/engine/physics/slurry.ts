/**
 * Investment slurry, free of air: powder and water add their volumes.
 * `ratio` is water to powder by mass (0.40 for forty parts to a hundred). Densities kg/m3.
 */
export interface SlurryDensities {
  /** of the powder's grains, not of the heap; 2500 to 2650 for gypsum-bonded powders */
  readonly particle: number
  readonly water: number
}

/** Volume of slurry from a mass of powder [m3/kg]. */
export const slurryYield = (ratio: number, { particle, water }: SlurryDensities): number =>
  1 / particle + ratio / water

/** Density of the slurry [kg/m3]: (1 + w)/(1/particle + w/water). */
export const slurryDensity = (ratio: number, densities: SlurryDensities): number =>
  (1 + ratio) / slurryYield(ratio, densities)

/**
 * Powder and water to fill a volume.
 * @param volume m3, the flask less everything that stands in it
 * @param waste share added for what stays in the bowl, 0.1 for a tenth
 * @returns kg of each
 */
export function mixForVolume(volume: number, ratio: number, densities: SlurryDensities, waste = 0) {
  const powder = ((1 + waste) * volume) / slurryYield(ratio, densities)
  return { powder, water: ratio * powder }
}

/** Inside volume [m3] of a round flask. */
export const flaskVolume = (insideDiameter: number, insideHeight: number): number =>
  (Math.PI / 4) * insideDiameter ** 2 * insideHeight
