import { studentQuantile } from './student.ts'

/** First-order uncertainty by the GUM (JCGM 100:2008): independent inputs, each with its slope. */
export interface UncertaintyPart {
  /** how much the answer moves per unit of this input; 1 where `standard` is already in the answer's unit */
  readonly slope?: number
  readonly standard: number
  /** degrees of freedom behind `standard`; Infinity when it is taken as known */
  readonly freedom?: number
}

export interface CombinedUncertainty {
  readonly standard: number
  /** effective, by the formula of Welch and Satterthwaite (JCGM 100 G.4.1); not yet truncated */
  readonly freedom: number
}

/** Root sum of squares, with its effective degrees of freedom. */
export function combineUncertainty(parts: readonly UncertaintyPart[]): CombinedUncertainty {
  const moved = parts.map(({ slope = 1, standard, freedom = Number.POSITIVE_INFINITY }) => ({
    by: Math.abs(slope * standard),
    freedom,
  }))
  const variance = moved.reduce((sum, { by }) => sum + by ** 2, 0)
  const weighed = moved.reduce((sum, { by, freedom }) => sum + by ** 4 / freedom, 0)
  return {
    standard: Math.sqrt(variance),
    freedom: weighed === 0 ? Number.POSITIVE_INFINITY : variance ** 2 / weighed,
  }
}

/** Factor that widens a standard uncertainty to hold this share of cases, on truncated degrees of freedom. */
export const coverageFactor = (coverage: number, freedom: number): number =>
  studentQuantile((1 + coverage) / 2, Number.isFinite(freedom) ? Math.floor(freedom) : freedom)
