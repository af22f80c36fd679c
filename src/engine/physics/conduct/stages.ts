/**
 * Super-time-stepping of second order by shifted Legendre polynomials: `count` cheap explicit stages carry a
 * diffusion problem over about count²/4 explicit steps, stably, with no equation system to solve.
 * Source: Meyer, Balsara and Aslam 2014, J. Comput. Phys. 257, eqs 15-22 (from memory; its order and stable
 * length are measured in stages.test.ts).
 */
export interface Stages {
  readonly count: number
  /**
   * weights of stage j, as growth since the start: on the stage before and the one before that, and on the
   * rates, times the step, at the stage before and at the start
   */
  readonly before: Float64Array
  readonly secondBefore: Float64Array
  readonly rateBefore: Float64Array
  readonly rateStart: Float64Array
  /** share of the step that stage j stands at */
  readonly time: Float64Array
}

/** Steps of the explicit limit that so many stages span. */
export const spanOf = (count: number): number => (count ** 2 + count - 2) / 4

const weight = (j: number): number => (j < 3 ? 1 / 3 : (j * j + j - 2) / (2 * j * (j + 1)))

/** The stages of one step; at least 3 (an odd count damps best). */
export const stagesOf = (count: number): Stages => {
  const numbers = () => new Float64Array(count + 1)
  const stages: Stages = {
    count,
    before: numbers(),
    secondBefore: numbers(),
    rateBefore: numbers(),
    rateStart: numbers(),
    time: numbers(),
  }
  const width = 4 / (count * count + count - 2)
  stages.before[1] = 1
  stages.rateBefore[1] = weight(1) * width
  stages.time[1] = weight(1) * width
  for (let j = 2; j <= count; j++) {
    const before = ((2 * j - 1) / j) * (weight(j) / weight(j - 1))
    const secondBefore = (-(j - 1) / j) * (weight(j) / weight(j - 2))
    stages.before[j] = before
    stages.secondBefore[j] = secondBefore
    stages.rateBefore[j] = before * width
    stages.rateStart[j] = -(1 - weight(j - 1)) * before * width
    // the same recursion applied to y' = 1
    stages.time[j] =
      before * (stages.time[j - 1] ?? 0) +
      secondBefore * (stages.time[j - 2] ?? 0) +
      (stages.rateBefore[j] ?? 0) +
      (stages.rateStart[j] ?? 0)
  }
  return stages
}

/** Fewest stages, odd, that span so many explicit steps. */
export const fewestStages = (span: number): number => {
  const count = Math.max(3, Math.ceil((Math.sqrt(9 + 16 * span) - 1) / 2))
  return count % 2 === 1 ? count : count + 1
}
