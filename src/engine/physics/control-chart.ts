/**
 * Charts that tell a drift from ordinary scatter in a record of single values.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.2 and 6.3.2.4; constants of ISO 7870-2.
 */
/** For ranges of two: mean and standard deviation of |difference| over sigma, and what follows. */
export const MEAN_RANGE_OF_TWO = 2 / Math.sqrt(Math.PI) // d2
export const RANGE_SPREAD_OF_TWO = Math.sqrt(2 - 4 / Math.PI) // d3
export const RANGE_LIMIT_OF_TWO = 1 + (3 * RANGE_SPREAD_OF_TWO) / MEAN_RANGE_OF_TWO // D4

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length

/**
 * Individuals and moving-range chart, at three sigma.
 * @param values in the order they happened; at least two, else NaN
 */
export function chartIndividuals(values: readonly number[], meanRangeOfTwo = MEAN_RANGE_OF_TWO) {
  const ranges = values.slice(1).map((value, index) => Math.abs(value - (values[index] as number)))
  const centre = mean(values)
  const meanRange = mean(ranges)
  const sigma = meanRange / meanRangeOfTwo
  return {
    centre,
    meanRange,
    sigma,
    upper: centre + 3 * sigma,
    lower: centre - 3 * sigma,
    rangeUpper: RANGE_LIMIT_OF_TWO * meanRange,
  }
}

/** Exponentially weighted moving average: each new value counts `weight`, the past the rest. */
export function movingAverage(values: readonly number[], weight: number, start: number): readonly number[] {
  let average = start
  return values.map((value) => {
    average = weight * value + (1 - weight) * average
    return average
  })
}

/**
 * Half-width of the band about the target for the moving average after `count` values (Infinity: settled).
 * @param sigma of one value, @param k how many standard deviations
 */
export const movingAverageLimit = (sigma: number, weight: number, k: number, count: number): number =>
  k * sigma * Math.sqrt((weight / (2 - weight)) * (1 - (1 - weight) ** (2 * count)))
