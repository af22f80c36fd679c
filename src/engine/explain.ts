import { NINE_IN_TEN, type Quantity, slopeAgainst } from './quantity/index.ts'

/** One input of an explanation, and how far its own range moves the answer. */
export interface ExplainedInput {
  readonly name: string
  readonly id: string
  readonly title: string
  readonly unit: Quantity['unit']
  readonly value: number
  readonly low: number
  readonly high: number
  readonly kind: Quantity['kind']
  readonly source: string
  readonly path?: string
  readonly plainMass?: boolean
  /** change of the answer for a unit of this input */
  readonly slope: number
  /** half the nine-in-ten range of the answer that comes from this input alone */
  readonly moves: number
}

/** Why this number: plain data, the same for page, command line and sheet. */
export interface Explanation {
  readonly id: string
  readonly title: string
  readonly unit: Quantity['unit']
  readonly value: number
  readonly low: number
  readonly high: number
  readonly kind: Quantity['kind']
  readonly says: string | null
  readonly source: string
  readonly holdsWhen: string | null
  readonly path?: string
  readonly plainMass?: boolean
  readonly marks: readonly string[]
  readonly inputs: readonly ExplainedInput[]
  /** the roots it rests on, the one that moves it most first */
  readonly rests: readonly ExplainedInput[]
}

const explainInput = (name: string, input: Quantity, slope: number): ExplainedInput => ({
  name,
  id: input.id,
  title: input.title,
  unit: input.unit,
  value: input.value,
  low: input.low,
  high: input.high,
  kind: input.kind,
  source: input.source,
  path: input.path,
  plainMass: input.plainMass,
  slope,
  moves: Math.abs(slope) * input.u * NINE_IN_TEN,
})

const mostFirst = (a: ExplainedInput, b: ExplainedInput): number =>
  b.moves - a.moves || (a.id < b.id ? -1 : 1)

export const explain = (quantity: Quantity): Explanation => ({
  id: quantity.id,
  title: quantity.title,
  unit: quantity.unit,
  value: quantity.value,
  low: quantity.low,
  high: quantity.high,
  kind: quantity.kind,
  says: quantity.says ?? null,
  source: quantity.source,
  holdsWhen: quantity.holdsWhen ?? null,
  path: quantity.path,
  plainMass: quantity.plainMass,
  marks: quantity.marks,
  inputs: Object.entries(quantity.inputs)
    .map(([name, input]) => explainInput(name, input, slopeAgainst(quantity, name)))
    .sort(mostFirst),
  rests:
    quantity.kind === 'reckoned'
      ? [...quantity.slopes].map(([from, slope]) => explainInput(from.id, from, slope)).sort(mostFirst)
      : [],
})

const isQuantity = (value: object): value is Quantity =>
  'slopes' in value && 'partials' in value && 'id' in value

/** Every quantity that stands anywhere in an answer, and all they rest on, by id. */
export const quantitiesOf = (answer: unknown): ReadonlyMap<string, Quantity> => {
  const found = new Map<string, Quantity>()
  const seen = new Set<object>()
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null || seen.has(value)) return
    seen.add(value)
    if (isQuantity(value)) {
      if (!found.has(value.id)) found.set(value.id, value)
      Object.values(value.inputs).forEach(visit)
      return
    }
    if (value instanceof Map) {
      value.forEach(visit)
      return
    }
    Object.values(value).forEach(visit)
  }
  visit(answer)
  return found
}
