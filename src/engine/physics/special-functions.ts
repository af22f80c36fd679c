/**
 * The few special functions that heat conduction and the normal distribution need, written from their
 * defining series so that no fitted coefficient has to be believed. Each is good to about 1e-14.
 * Source: Abramowitz and Stegun 1964, 7.1.6 (error function), 7.1.14 (its continued fraction), 9.1.18
 * (Bessel functions as the mean of a cosine).
 */
const ROOT_PI = Math.sqrt(Math.PI)

/** 2/sqrt(pi) times the integral of exp(-t²) from 0 to x. */
export function erf(x: number): number {
  if (Number.isNaN(x)) return Number.NaN
  if (Math.abs(x) > 2.5) return x > 0 ? 1 - erfc(x) : erfc(-x) - 1
  // every term positive, so nothing cancels
  let term = x
  let sum = x
  for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum); n++) {
    term *= (2 * x * x) / (2 * n + 1)
    sum += term
  }
  return (2 / ROOT_PI) * Math.exp(-x * x) * sum
}

/** 1 - erf(x), keeping its leading digits far out, where 1 - erf would give nothing. */
export function erfc(x: number): number {
  return x > 2 ? Math.exp(-x * x) * scaledErfc(x) : 1 - erf(x)
}

/** exp(x²) erfc(x): stays finite where each factor alone would over- or underflow. */
export function scaledErfc(x: number): number {
  if (Number.isNaN(x)) return Number.NaN
  if (x <= 2) return Math.exp(x * x) * (1 - erf(x))
  // x + (1/2)/(x + 1/(x + (3/2)/(x + ...))), from the back; 120 steps settle it at x = 2
  let tail = x
  for (let n = 120; n >= 1; n--) tail = x + n / 2 / tail
  return 1 / (ROOT_PI * tail)
}

/**
 * Bessel function of the first kind, order 0 or 1, for 0 <= x <= 1000: the mean of cos(order*t - x sin t)
 * over half a turn. Equally spaced points make that mean exact but for J of order 2N, which is nothing once
 * 2N is well past x.
 */
export function besselJ(order: 0 | 1, x: number): number {
  const points = Math.ceil(Math.abs(x) / 2 + 4 * Math.cbrt(Math.abs(x))) + 24
  // ends of the half turn count half each
  let sum = (1 + (order === 1 ? -1 : 1)) / 2
  for (let n = 1; n < points; n++) {
    const turn = (Math.PI * n) / points
    sum += Math.cos(order * turn - x * Math.sin(turn))
  }
  return sum / points
}
