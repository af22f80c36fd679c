import { type Quantity, reckon } from './quantity.ts'
import type { Unit } from './units.ts'

export interface FormulaInput {
  readonly symbol?: string
  readonly unit: Unit
  /** inclusive range in which the formula is known to hold */
  readonly valid: readonly [least: number, most: number]
}

/** A formula as a record: page, command line, sheet, reference page and tests all read this one entry. */
export interface FormulaRecord<I extends string> {
  /** the export's own name; a test holds them equal */
  readonly name: string
  readonly title: string
  readonly says: string
  readonly symbol?: string
  readonly unit: Unit
  readonly inputs: Readonly<Record<I, FormulaInput>>
  /** where it comes from, "common practice" or "from memory" */
  readonly source: string
  readonly holdsWhen?: string
  /** fitted or procedural: its body holds constants with hidden units, so the dimension test leaves it out */
  readonly fitted?: true
  readonly plainMass?: boolean
  readonly value: (inputs: Readonly<Record<I, number>>) => number
}

export interface Formula<I extends string> {
  (inputs: Readonly<Record<I, Quantity>>, as: { id: string; title?: string }): Quantity
  readonly record: FormulaRecord<I>
}

const rangeMark = (input: FormulaInput, name: string, given: Quantity): string =>
  `${given.title} is outside the range where this is known to hold (${input.valid[0]} to ${input.valid[1]} ${input.unit}, as ${name})`

/** Turns a record into something that can be applied to quantities. Outside its range it answers, marked. */
export const formula = <I extends string>(record: FormulaRecord<I>): Formula<I> => {
  const names = Object.keys(record.inputs) as I[]
  const apply = (inputs: Readonly<Record<I, Quantity>>, as: { id: string; title?: string }): Quantity => {
    const marks: string[] = []
    for (const name of names) {
      const given = inputs[name]
      const [least, most] = record.inputs[name].valid
      if (given.value < least || given.value > most) marks.push(rangeMark(record.inputs[name], name, given))
    }
    return reckon({
      id: as.id,
      title: as.title ?? record.title,
      unit: record.unit,
      says: record.says,
      source: record.source,
      holdsWhen: record.holdsWhen,
      inputs,
      marks,
      plainMass: record.plainMass,
      body: record.value,
    })
  }
  return Object.assign(apply, { record })
}
