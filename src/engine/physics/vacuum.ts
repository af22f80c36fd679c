/** What pumping does to the gas in a bell and in a slurry. Pressures absolute, Pa. */

/** How many times larger a bubble's volume grows: dry gas, temperature steady (Boyle). Vapour adds to it. */
export const bubbleVolumeGrowth = (before: number, after: number): number => before / after

/** How many times wider a bubble grows. */
export const bubbleDiameterGrowth = (before: number, after: number): number =>
  bubbleVolumeGrowth(before, after) ** (1 / 3)

/**
 * Shortest time [s] to pump a bell from `before` to `after`: V/S ln(p1/p2).
 * @param volume m3, everything the pump must empty
 * @param speed m3/s at the bell, taken as steady
 * A lower bound: no leak, no vapour from wet investment, no loss of speed at low pressure.
 */
export const pumpDownTime = (volume: number, speed: number, before: number, after: number): number =>
  (volume / speed) * Math.log(before / after)
