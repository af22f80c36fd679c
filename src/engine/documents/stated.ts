import * as z from 'zod'

/**
 * A number in a document: either plain (taken as exact, said by the caster) or with its nine-in-ten
 * interval and where it comes from. The unit is in the key.
 */
export const statedIn = (least: number, most: number) => {
  const number = z.number().min(least).max(most)
  return z.union([
    number,
    z.strictObject({
      value: number,
      low: number.optional(),
      high: number.optional(),
      source: z.string().max(400).optional(),
      measured: z.string().max(40).optional(),
    }),
  ])
}

export type Stated =
  | number
  | { value: number; low?: number; high?: number; source?: string; measured?: string }

export interface StatedFacts {
  readonly value: number
  readonly low: number
  readonly high: number
  readonly source: string | undefined
  readonly measured: boolean
}

/** The one reading of a stated number. An interval that does not hold its value is widened to it. */
export const readStated = (stated: Stated): StatedFacts => {
  if (typeof stated === 'number')
    return { value: stated, low: stated, high: stated, source: undefined, measured: false }
  const { value } = stated
  return {
    value,
    low: Math.min(stated.low ?? value, value),
    high: Math.max(stated.high ?? value, value),
    source: stated.source,
    measured: stated.measured !== undefined,
  }
}

export const statedValue = (stated: Stated): number => (typeof stated === 'number' ? stated : stated.value)
