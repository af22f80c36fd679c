import { erfc } from './special-functions.ts'

/**
 * The normal distribution. Built on our own complementary error function because a shortfall's chance is
 * read far out in the tail, where the statistics library at hand returns 0 from -9 standard deviations on.
 */
/** Chance that a standard normal value is below z; leading digits kept down to about 1e-300. */
export const normalCdf = (z: number): number => erfc(-z / Math.SQRT2) / 2

const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)

/**
 * z below which a standard normal value falls with this chance. 0 gives -Infinity, 1 Infinity, outside NaN.
 * Halley's method on normalCdf from the tail's leading term; good to about 1e-13.
 */
export function normalQuantile(chance: number): number {
  if (!(chance >= 0 && chance <= 1)) return Number.NaN
  if (chance === 0) return Number.NEGATIVE_INFINITY
  if (chance === 1) return Number.POSITIVE_INFINITY
  if (chance > 0.5) return -normalQuantile(1 - chance)
  // Abramowitz and Stegun 1964, 26.2.22: within 3e-3, as a start only
  const t = Math.sqrt(-2 * Math.log(chance))
  let z = -(t - (2.30753 + 0.27061 * t) / (1 + t * (0.99229 + 0.04481 * t)))
  for (let step = 0; step < 4; step++) {
    const off = (normalCdf(z) - chance) / density(z)
    z -= off / (1 + (z * off) / 2)
  }
  return z
}
