/** Middle of the nth of `count` equal chances of a normal spread, by bisection on the error function. */
const normalBelow = (z: number): number => {
  // Abramowitz and Stegun 7.1.26, error below 1.5e-7: finer than any dot
  const t = 1 / (1 + 0.3275911 * (Math.abs(z) / Math.SQRT2))
  const erf =
    1 -
    ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) *
      t *
      Math.exp((-z * z) / 2)
  return z >= 0 ? (1 + erf) / 2 : (1 - erf) / 2
}

const quantile = (share: number): number => {
  let [low, high] = [-6, 6]
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2
    if (normalBelow(middle) < share) low = middle
    else high = middle
  }
  return (low + high) / 2
}

export interface Grain {
  /** the value this grain stands for */
  readonly value: number
  /** the column's middle */
  readonly column: number
  /** from 0 at the foot */
  readonly row: number
}

/** One grain for each of `count` equal chances, piled in columns of `step`. */
export const pileOf = (value: number, u: number, count: number, step: number): readonly Grain[] => {
  const heights = new Map<number, number>()
  return Array.from({ length: count }, (_, index) => {
    const at = value + u * quantile((index + 0.5) / count)
    const place = Math.round(at / step)
    const row = heights.get(place) ?? 0
    heights.set(place, row + 1)
    return { value: at, column: place * step, row }
  })
}
