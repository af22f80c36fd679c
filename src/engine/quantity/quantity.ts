import type { Unit } from './units.ts'

/** Standard deviations from the middle to the 5th and 95th percentile of a normal spread. */
export const NINE_IN_TEN = 1.6448536269514722

/** asked: the caster chose it. weighed: measured here. usual: a default or a handbook value, with its source. */
export type RootKind = 'asked' | 'weighed' | 'usual'

/**
 * A number that explains itself. Roots (asked, weighed, usual) carry where they stand in the documents;
 * reckoned ones carry the formula's words, its inputs and its body.
 *
 * `low` and `high` are the 5th and 95th percentile, `value` the median. Spread is first-order (GUM, JCGM
 * 100): every quantity keeps its slope against each *root*, so a root used many times counts once.
 */
export interface Quantity {
  readonly id: string
  readonly title: string
  readonly unit: Unit
  readonly value: number
  readonly low: number
  readonly high: number
  /** standard uncertainty, same unit */
  readonly u: number
  readonly kind: RootKind | 'reckoned'
  readonly source: string
  /** a document path such as `/pour/pieces/0/source/mass_g`, on roots the caster can change */
  readonly path?: string
  /** value in the document's unit times this plus `documentOffset` gives SI; for roots with a path */
  readonly documentScale?: number
  readonly documentOffset?: number
  /** the formula in words, on reckoned quantities */
  readonly says?: string
  readonly holdsWhen?: string
  readonly inputs: Readonly<Record<string, Quantity>>
  /** slope of the value against each uncertain direct input; `slopeAgainst` gives any */
  readonly partials: Readonly<Record<string, number>>
  /** slope of the value against each uncertain root it rests on */
  readonly slopes: ReadonlyMap<Quantity, number>
  /** what stands outside its valid range, in plain words; empty when all is inside */
  readonly marks: readonly string[]
  /** true for powder, water, wax and flasks: always read in grams, never in troy units */
  readonly plainMass?: boolean
  readonly body?: (inputs: Readonly<Record<string, number>>) => number
}

export interface RootFacts {
  readonly id: string
  readonly title: string
  readonly unit: Unit
  readonly value: number
  /** either a nine-in-ten interval ... */
  readonly low?: number
  readonly high?: number
  /** ... or a standard uncertainty, such as a scale's step over the root of twelve */
  readonly u?: number
  readonly kind: RootKind
  readonly source: string
  readonly path?: string
  readonly documentScale?: number
  readonly documentOffset?: number
  readonly plainMass?: boolean
}

const NO_INPUTS: Readonly<Record<string, Quantity>> = Object.freeze({})
const NO_PARTIALS: Readonly<Record<string, number>> = Object.freeze({})
const NO_MARKS: readonly string[] = Object.freeze([])
const NO_SLOPES: ReadonlyMap<Quantity, number> = new Map()

/** A number the plan starts from. A value without an interval is taken as exact. */
export const root = (facts: RootFacts): Quantity => {
  const { value } = facts
  const low = facts.low ?? (facts.u === undefined ? value : value - NINE_IN_TEN * facts.u)
  const high = facts.high ?? (facts.u === undefined ? value : value + NINE_IN_TEN * facts.u)
  const slopes = new Map<Quantity, number>()
  // every key in one order, the same in `root`, `reckon` and `decide`, so that quantities share one hidden class
  const quantity: Quantity = {
    id: facts.id,
    title: facts.title,
    unit: facts.unit,
    value,
    low,
    high,
    u: facts.u ?? (high - low) / (2 * NINE_IN_TEN),
    kind: facts.kind,
    source: facts.source,
    path: facts.path,
    documentScale: facts.documentScale,
    documentOffset: facts.documentOffset,
    says: undefined,
    holdsWhen: undefined,
    inputs: NO_INPUTS,
    partials: NO_PARTIALS,
    slopes,
    marks: NO_MARKS,
    plainMass: facts.plainMass,
    body: undefined,
  }
  if (quantity.u > 0) slopes.set(quantity, 1)
  return quantity
}

export interface ReckonFacts<I extends string> {
  readonly id: string
  readonly title: string
  readonly unit: Unit
  readonly says: string
  readonly source: string
  readonly holdsWhen?: string
  readonly inputs: Readonly<Record<I, Quantity>>
  readonly marks?: readonly string[]
  readonly plainMass?: boolean
  readonly body: (inputs: Readonly<Record<I, number>>) => number
}

/** Relative step of the central difference: its own error, about 1e-8 of the value, is far below any spread here. */
const STEP = 1e-4

/** Above this relative spread a positive quantity's interval is taken as a ratio, so that it never crosses zero. */
const EVEN_UP_TO = 0.15

const interval = (value: number, u: number): [low: number, high: number] => {
  if (u === 0) return [value, value]
  if (value > 0 && u / value > EVEN_UP_TO) {
    const spread = NINE_IN_TEN * Math.sqrt(Math.log1p((u / value) ** 2))
    return [value * Math.exp(-spread), value * Math.exp(spread)]
  }
  return [value - NINE_IN_TEN * u, value + NINE_IN_TEN * u]
}

/** Central difference of a body against one of its inputs; the numbers are left as they were. */
const slopeAt = <I extends string>(
  body: (inputs: Readonly<Record<I, number>>) => number,
  numbers: Record<I, number>,
  name: I,
): number => {
  const at = numbers[name]
  const step = at === 0 ? STEP * STEP : Math.abs(at) * STEP
  numbers[name] = at + step
  const above = body(numbers)
  numbers[name] = at - step
  const below = body(numbers)
  numbers[name] = at
  const slope = (above - below) / (2 * step)
  return Number.isFinite(slope) ? slope : 0
}

/** How a reckoned quantity moves for a unit of one direct input, exact inputs included; 0 for roots and decisions. */
export const slopeAgainst = (quantity: Quantity, name: string): number => {
  const known = quantity.partials[name]
  if (known !== undefined || quantity.body === undefined) return known ?? 0
  const numbers = Object.fromEntries(
    Object.entries(quantity.inputs).map(([key, input]) => [key, input.value]),
  )
  return slopeAt(quantity.body, numbers, name)
}

/**
 * A number worked out from others. The body is run at the inputs' values, and twice more for each uncertain input
 * to find how the answer moves; those slopes carry the spread of every root through to the answer.
 *
 * @throws when the body gives NaN for finite inputs: a broken promise between our own parts
 */
export const reckon = <I extends string>(facts: ReckonFacts<I>): Quantity => {
  const { inputs, body } = facts
  const names = Object.keys(inputs) as I[]
  const numbers = {} as Record<I, number>
  for (const name of names) numbers[name] = inputs[name].value
  const value = body(numbers)
  if (Number.isNaN(value)) {
    const given = names.map((name) => `${name} ${numbers[name]}`).join(', ')
    throw new Error(`${facts.id} is not a number; expected one from ${given}`)
  }
  const partials = {} as Record<I, number>
  const slopes = new Map<Quantity, number>()
  for (const name of names) {
    const input = inputs[name]
    // an exact input moves nothing; what it would do is worked out when somebody asks, in `slopeAgainst`
    if (input.u === 0) continue
    const partial = slopeAt(body, numbers, name)
    partials[name] = partial
    if (partial === 0) continue
    for (const [from, inner] of input.slopes) slopes.set(from, (slopes.get(from) ?? 0) + partial * inner)
  }
  let variance = 0
  for (const [from, slope] of slopes) variance += (slope * from.u) ** 2
  const u = Math.sqrt(variance)
  const [low, high] = interval(value, u)
  return reckoned(facts, value, low, high, u, partials, slopes)
}

const reckoned = <I extends string>(
  facts: ReckonFacts<I>,
  value: number,
  low: number,
  high: number,
  u: number,
  partials: Readonly<Record<string, number>>,
  slopes: ReadonlyMap<Quantity, number>,
): Quantity => ({
  id: facts.id,
  title: facts.title,
  unit: facts.unit,
  value,
  low,
  high,
  u,
  kind: 'reckoned',
  source: facts.source,
  path: undefined,
  documentScale: undefined,
  documentOffset: undefined,
  says: facts.says,
  holdsWhen: facts.holdsWhen,
  inputs: facts.inputs,
  partials,
  slopes,
  marks: facts.marks ?? NO_MARKS,
  plainMass: facts.plainMass,
  body: facts.body as (inputs: Readonly<Record<string, number>>) => number,
})

/** The sum of any number of like quantities, for totals over the pieces of a pour. */
export const addUp = (
  facts: { id: string; title: string; says: string; source?: string; plainMass?: boolean; unit?: Unit },
  parts: readonly Quantity[],
): Quantity => {
  const inputs: Record<string, Quantity> = {}
  parts.forEach((part, index) => {
    inputs[`part${index + 1}`] = part
  })
  return reckon({
    ...facts,
    unit: facts.unit ?? parts[0]?.unit ?? '1',
    source: facts.source ?? 'a sum',
    inputs,
    body: (numbers) => Object.values(numbers).reduce((total, next) => total + next, 0),
  })
}

/**
 * A size taken by a rule from what is at hand: a flask of the rack, a sprue wax by the half millimetre. It
 * keeps its words and inputs, and its body is run again when an input changes; but it is a step, so it has no
 * slope and adds no spread of its own.
 */
export const decide = <I extends string>(facts: ReckonFacts<I>): Quantity => {
  const numbers = {} as Record<I, number>
  const partials = {} as Record<I, number>
  for (const name of Object.keys(facts.inputs) as I[]) {
    numbers[name] = facts.inputs[name].value
    partials[name] = 0
  }
  const value = facts.body(numbers)
  if (Number.isNaN(value)) throw new Error(`${facts.id} is not a number; expected one of the sizes at hand`)
  return reckoned(facts, value, value, value, 0, partials, NO_SLOPES)
}

/**
 * The quantity worked out afresh with some roots given other values, through the recorded bodies alone.
 * `values` is by root; roots not named keep theirs. Shared parts are worked out once.
 */
export const reworked = (
  quantity: Quantity,
  values: ReadonlyMap<Quantity, number>,
  done: Map<Quantity, number> = new Map(),
): number => {
  const known = done.get(quantity)
  if (known !== undefined) return known
  let value: number
  if (quantity.body === undefined) value = values.get(quantity) ?? quantity.value
  else {
    const numbers: Record<string, number> = {}
    for (const [name, input] of Object.entries(quantity.inputs)) numbers[name] = reworked(input, values, done)
    value = quantity.body(numbers)
  }
  done.set(quantity, value)
  return value
}
