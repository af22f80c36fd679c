import { normalCdf, normalQuantile } from './normal.ts'
import { solveBetween } from './root-finding.ts'

/**
 * Student's t for whole degrees of freedom, as finite sums (Abramowitz and Stegun 1964, 26.7.3 and 26.7.4).
 * Uncertainty work truncates effective degrees of freedom to a whole number (JCGM 100 G.4.2), so no other
 * kind is needed. Infinity, or more than 10000, is the normal distribution.
 */
const LARGE = 10_000

/** Chance that t lies between -limit and limit. */
function chanceWithin(limit: number, freedom: number): number {
  if (freedom > LARGE) return normalCdf(limit) - normalCdf(-limit)
  const angle = Math.atan(limit / Math.sqrt(freedom))
  const cosine = Math.cos(angle)
  const odd = freedom % 2 === 1
  let term = odd ? cosine : 1
  let sum = freedom === 1 ? 0 : term
  for (let n = odd ? 2 : 1; n <= freedom - 3; n += 2) {
    term *= (n / (n + 1)) * cosine ** 2
    sum += term
  }
  return odd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum
}

/**
 * t below which a value falls with this chance.
 * @param freedom whole number from 1, or Infinity; others give NaN
 */
export function studentQuantile(chance: number, freedom: number): number {
  if (freedom > LARGE) return normalQuantile(chance)
  if (!(Number.isInteger(freedom) && freedom >= 1 && chance > 0 && chance < 1)) return Number.NaN
  if (chance === 0.5) return 0
  if (chance < 0.5) return -studentQuantile(1 - chance, freedom)
  const within = 2 * chance - 1
  let far = 2
  while (chanceWithin(far, freedom) < within && far < 1e12) far *= 2
  return solveBetween((limit) => chanceWithin(limit, freedom) - within, 0, far)
}
