import type { GuardRow } from './fineness-guard.ts'
import type { Limit } from './limits.ts'
import type { LinearModel, LinearRow, LinearVariable } from './linear-model.ts'
import type { CountedLot } from './lots.ts'

export type ChargeObjective = {
  direction: 'least' | 'most'
  /** Per scale step of each lot. */
  perStep: number[]
  /** For each lot used at all. */
  perUse?: number[]
}

export type ChargeQuestion = {
  lots: CountedLot[]
  /** Scale steps in the charge: one number twice where the charge is given. */
  sum: { low: number; high: number }
  limits: Limit[]
  guardRows: GuardRow[]
  mostLots?: number
  objective: ChargeObjective
}

export type ChargeModel = {
  model: LinearModel
  /** Counts of each lot, and which whole pieces, from the solver's values. */
  read: (values: number[]) => { counts: number[]; pieces: (number[] | undefined)[] }
  /** The same as fractions of steps, for a model solved with whole-number demands dropped. */
  amounts: (values: number[]) => number[]
}

/**
 * The charge as a linear model in scale steps, so that an answer is weighable as it stands.
 *
 * A lot is one whole-number variable, or one yes-or-no variable for each of its whole pieces. A lot also has
 * a yes-or-no "used" where something depends on that alone: a least amount, the number of lots, the
 * uncertainty of one more weighing.
 */
export const buildChargeModel = (question: ChargeQuestion): ChargeModel => {
  const { lots, sum, limits, guardRows, objective } = question
  const variables: LinearVariable[] = []
  const rows: LinearRow[] = []
  const add = (variable: LinearVariable): number => variables.push(variable) - 1

  // Terms that sum to a lot's count.
  const countTerms = lots.map(({ stock, pieces, must }, index): [number, number][] => {
    const price = objective.perStep[index] ?? 0
    if (pieces) {
      return pieces.map((piece) => [add({ cost: price * piece, low: 0, high: 1, kind: 'binary' }), piece])
    }
    const high = Math.max(must, Math.min(stock, sum.high))
    return [[add({ cost: price, low: must, high, kind: 'integer' }), 1]]
  })

  const times = (terms: [number, number][], factor: number): [number, number][] =>
    terms.map(([variable, coefficient]) => [variable, coefficient * factor])
  const weigh = (factors: number[]): [number, number][] =>
    countTerms.flatMap((terms, index) => times(terms, factors[index] ?? 0)).filter(([, value]) => value !== 0)

  const needsUsed = lots.map(
    (lot, index) =>
      lot.least > 0 ||
      question.mostLots !== undefined ||
      (objective.perUse?.[index] ?? 0) !== 0 ||
      guardRows.some((row) => (row.perUse[index] ?? 0) !== 0),
  )
  const used = lots.map((lot, index) => {
    if (!needsUsed[index]) return undefined
    const flag = add({
      cost: objective.perUse?.[index] ?? 0,
      low: lot.must > 0 ? 1 : 0,
      high: 1,
      kind: 'binary',
    })
    const terms = countTerms[index] ?? []
    // Each piece by itself gives the tighter relaxation.
    if (lot.pieces)
      for (const [piece] of terms)
        rows.push(
          atMost(
            [
              [piece, 1],
              [flag, -1],
            ],
            0,
          ),
        )
    else rows.push(atMost([...terms, [flag, -Math.min(lot.stock, sum.high)]], 0))
    if (lot.least > 0) rows.push(atLeast([...terms, [flag, -lot.least]], 0))
    return flag
  })
  const flags = (factors: number[]): [number, number][] =>
    used.flatMap((flag, index): [number, number][] => {
      const factor = factors[index] ?? 0
      return flag === undefined || factor === 0 ? [] : [[flag, factor]]
    })

  const all = lots.map(() => 1)
  rows.push({ ...sum, terms: weigh(all) })
  lots.forEach((lot, index) => {
    if (lot.pieces && lot.must > 0) rows.push(atLeast(countTerms[index] ?? [], lot.must))
  })
  for (const limit of limits) {
    const terms = weigh(lots.map((lot) => limit.of(lot) - limit.level))
    rows.push(limit.side === 'least' ? atLeast(terms, 0) : atMost(terms, 0))
  }
  for (const row of guardRows) rows.push(atLeast([...weigh(row.perStep), ...flags(row.perUse)], 0))
  if (question.mostLots !== undefined) rows.push(atMost(flags(all), question.mostLots))

  return {
    model: { direction: objective.direction, variables: scaleCosts(variables), rows: rows.map(scaleRow) },
    read: (values) => {
      const pieces = lots.map((lot, index) =>
        lot.pieces?.filter(
          (_, piece) => Math.round(values[countTerms[index]?.[piece]?.[0] ?? -1] ?? 0) === 1,
        ),
      )
      const counts = countTerms.map((terms) =>
        terms.reduce((count, [variable, steps]) => count + Math.round(values[variable] ?? 0) * steps, 0),
      )
      return { counts, pieces }
    },
    amounts: (values) =>
      countTerms.map((terms) =>
        terms.reduce((count, [variable, steps]) => count + (values[variable] ?? 0) * steps, 0),
      ),
  }
}

const atLeast = (terms: [number, number][], low: number): LinearRow => ({ low, high: Infinity, terms })
const atMost = (terms: [number, number][], high: number): LinearRow => ({ low: -Infinity, high, terms })

// The solver's tolerances are absolute: rows of parts in ten thousand (lead) and of whole steps must both
// be brought to the size of one for them to mean the same.
const scaleRow = ({ low, high, terms }: LinearRow): LinearRow => {
  const size = Math.max(...terms.map(([, coefficient]) => Math.abs(coefficient)), 0)
  if (!(size > 0)) return { low, high, terms }
  return {
    low: low / size,
    high: high / size,
    terms: terms.map(([variable, coefficient]) => [variable, coefficient / size]),
  }
}

const scaleCosts = (variables: LinearVariable[]): LinearVariable[] => {
  const size = Math.max(...variables.map((variable) => Math.abs(variable.cost)), 0)
  if (!(size > 0)) return variables
  return variables.map((variable) => ({ ...variable, cost: variable.cost / size }))
}
