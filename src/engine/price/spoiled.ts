import { type Quantity, reckon, root } from '../quantity/index.ts'
import { betaQuantile } from './beta-quantile.ts'

/** What the shop's own count of pours says of the next one. */
export interface SpoiledShare {
  readonly mean: number
  readonly low: number
  readonly high: number
  /** standard deviation */
  readonly u: number
}

/** A count that favours no answer: half a spoiled pour and half a good one, counted before the first. */
const BEFORE = 0.5

const believed = (pours: number, spoiled: number) => {
  const alpha = spoiled + BEFORE
  const beta = pours - spoiled + BEFORE
  const total = alpha + beta
  return { alpha, beta, mean: alpha / total, u: Math.sqrt((alpha * beta) / (total ** 2 * (total + 1))) }
}

/**
 * Chance of a spoiled pour from `spoiled` of `pours`: the posterior mean of a binomial share under the prior
 * of Jeffreys, Beta(1/2, 1/2), with its 5th and 95th percentile.
 * @param pours 1 or more; @param spoiled 0 to pours
 */
export const spoiledShare = (pours: number, spoiled: number): SpoiledShare => {
  const { alpha, beta, mean, u } = believed(pours, spoiled)
  return { mean, u, low: betaQuantile(0.05, alpha, beta), high: betaQuantile(0.95, alpha, beta) }
}

/**
 * The same as a quantity. Its interval is the posterior's own, uneven as it is; what rests on it takes the
 * posterior's standard deviation, through a root that says where in it the true chance may lie.
 */
export const chanceFromRecord = (pours: Quantity, spoiled: Quantity): Quantity => {
  const within = root({
    id: 'price.withinRecord',
    title: 'What so short a record leaves open',
    unit: '1',
    value: 0,
    u: 1,
    kind: 'usual',
    source: 'in standard deviations either way of the record',
  })
  const share = reckon({
    id: 'price.chance',
    title: 'Chance that this pour is spoiled',
    unit: '1',
    says: 'spoiled pours and a half, over all pours and one: what the record says, with no favour either way',
    source: 'Bayes on a binomial count with the prior of Jeffreys; statistics textbooks',
    holdsWhen: 'this pour is like those in the record',
    inputs: { pours, spoiled, within },
    body: (at) => {
      const { mean, u } = believed(at.pours, at.spoiled)
      return mean + at.within * u
    },
  })
  const { low, high } = spoiledShare(pours.value, spoiled.value)
  return { ...share, low, high }
}
