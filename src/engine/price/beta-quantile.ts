/**
 * The beta distribution, for what a short record says of a share. Written out rather than fetched: the
 * statistics library at hand stops at the eighth digit and would be a tenth of the page's script for this
 * one function. The test takes it as one of two oracles instead.
 */

/** ln Γ(x) for x > 0: Stirling's series (Abramowitz and Stegun 1964, 6.1.41) after climbing to x >= 12. */
export const logGamma = (x: number): number => {
  let climbed = 0
  let at = x
  for (; at < 12; at += 1) climbed += Math.log(at)
  const inverse = 1 / (at * at)
  const series =
    (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / at
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series - climbed
}

/** Keeps a denominator off zero, where Lentz's method would divide by it. */
const guard = (number: number): number => (Math.abs(number) < 1e-300 ? 1e-300 : number)

/** The fraction of 26.5.8, from the front (Lentz's method); settles fast for x below (a + 1)/(a + b + 2). */
const fraction = (x: number, a: number, b: number): number => {
  let c = 1
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1))
  let value = d
  for (let n = 1; n <= 1000; n += 1) {
    const even = (n * (b - n) * x) / ((a + 2 * n - 1) * (a + 2 * n))
    d = 1 / guard(1 + even * d)
    c = guard(1 + even / c)
    value *= d * c
    const odd = (-(a + n) * (a + b + n) * x) / ((a + 2 * n) * (a + 2 * n + 1))
    d = 1 / guard(1 + odd * d)
    c = guard(1 + odd / c)
    const step = d * c
    value *= step
    if (Math.abs(step - 1) < 1e-15) break
  }
  return value
}

/** Share of Beta(a, b) below x: the regularised incomplete beta function, for a, b > 0 and 0 <= x <= 1. */
export const betaShare = (x: number, a: number, b: number): number => {
  if (!(x >= 0 && x <= 1 && a > 0 && b > 0)) return Number.NaN
  if (x === 0 || x === 1) return x
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x))
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(1 - x, b, a)) / b
}

/** The x below which this share of Beta(a, b) lies, by halving: 60 halvings reach the last bit near 1. */
export const betaQuantile = (share: number, a: number, b: number): number => {
  if (!(share >= 0 && share <= 1 && a > 0 && b > 0)) return Number.NaN
  let low = 0
  let high = 1
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2
    if (betaShare(middle, a, b) < share) low = middle
    else high = middle
  }
  return (low + high) / 2
}
