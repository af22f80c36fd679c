import type { Quantity } from '../quantity/index.ts'
import type { Burnout } from './burnout.ts'

/** A point of a chart of the burnout: seconds from switching on, and kelvin. */
export interface ChartPoint {
  readonly s: number
  readonly K: number
}

/** The kiln's own true temperature at the ends of its steps; empty while there is no program. */
export const setpointKnots = ({ program }: Pick<Burnout, 'program'>): readonly ChartPoint[] => {
  const [first] = program
  if (first === undefined) return []
  let s = 0
  return [
    { s, K: first.from.value },
    ...program.map((step) => {
      s += step.duration.value
      return { s, K: step.to.value }
    }),
  ]
}

/** Something that happens at the middle of the flask, as the curve has it. */
export interface CoreMark extends ChartPoint {
  readonly name: string
  readonly at: Quantity
}

/** What happens at the core, each where its curve is then, in the order in which it is told. */
export const coreMarks = ({ core }: Pick<Burnout, 'core'>): readonly CoreMark[] => {
  const curve = core?.curve ?? []
  const named = [
    ['sprue wax melts', core?.sprueMelted],
    ['core dry', core?.coreDry],
    ['wax melts', core?.waxMelted],
    ['carbon burns', core?.coreHot],
  ] as const
  return named.flatMap(([name, at]) => {
    const after = at === undefined ? -1 : curve.findIndex(({ s }) => s >= at.value)
    const [before, next] = [curve[Math.max(0, after - 1)], curve[after]]
    if (at === undefined || before === undefined || next === undefined) return []
    const share = next.s === before.s ? 0 : (at.value - before.s) / (next.s - before.s)
    return [{ name, at, s: at.value, K: before.K + share * (next.K - before.K) }]
  })
}
