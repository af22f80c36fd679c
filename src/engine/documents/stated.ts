import * as z from 'zod'

const IN_ORDER = { remedy: 'put low, value and high in order' }

/**
 * A number in a document: either plain (taken as exact, said by the caster) or with its nine-in-ten
 * interval and where it comes from. The unit is in the key.
 */
export const statedIn = (least: number, most: number) => {
  const number = z.number().min(least).max(most)
  return z.union([
    number,
    z
      .strictObject({
        value: number,
        low: number.optional(),
        high: number.optional(),
        source: z.string().max(400).optional(),
        measured: z.string().max(40).optional(),
      })
      .refine((stated) => (stated.low ?? stated.value) <= stated.value, {
        path: ['low'],
        params: IN_ORDER,
        message: 'the low end is above the value',
      })
      .refine((stated) => (stated.high ?? stated.value) >= stated.value, {
        path: ['high'],
        params: IN_ORDER,
        message: 'the high end is below the value',
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

/** The one reading of a stated number; the schema has seen to it that the interval holds the value. */
export const readStated = (stated: Stated): StatedFacts => {
  if (typeof stated === 'number')
    return { value: stated, low: stated, high: stated, source: undefined, measured: false }
  const { value } = stated
  return {
    value,
    low: stated.low ?? value,
    high: stated.high ?? value,
    source: stated.source,
    measured: stated.measured !== undefined,
  }
}

export const statedValue = (stated: Stated): number => (typeof stated === 'number' ? stated : stated.value)
