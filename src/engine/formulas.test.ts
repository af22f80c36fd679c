import { describe, expect, it } from 'vitest'
import type { Formula, FormulaRecord } from './quantity/index.ts'
import { UNITS } from './quantity/index.ts'

// Every formula record of every room and of the shared laws; a new formulas.ts is walked by itself.
const modules = import.meta.glob<Record<string, unknown>>(['./*/formulas.ts', './physics/*-formulas.ts'], {
  eager: true,
})

const isFormula = (value: unknown): value is Formula<string> =>
  typeof value === 'function' && 'record' in value

const records = Object.entries(modules).flatMap(([file, module]) =>
  Object.entries(module).flatMap(([exported, value]) =>
    isFormula(value) ? [{ file, exported, record: value.record as FormulaRecord<string> }] : [],
  ),
)

/** A number of each input's range, near its middle on a ratio scale where the range allows. */
const within = ([least, most]: readonly [number, number], share: number): number =>
  least > 0 && most / least > 10 ? least * (most / least) ** share : least + (most - least) * share

const numbers = (record: FormulaRecord<string>, share: (name: string) => number): Record<string, number> =>
  Object.fromEntries(
    Object.entries(record.inputs).map(([name, input]) => [name, within(input.valid, share(name))]),
  )

/** Scales of kilogram, metre, second, kelvin and money that share no simple ratio. */
const SCALES = [1.7, 0.6, 2.3, 1.3, 1.9] as const

const scaleOf = (unit: keyof typeof UNITS): number =>
  UNITS[unit].reduce<number>((product, power, index) => product * (SCALES[index] as number) ** power, 1)

describe('formula records', () => {
  it('are found in every room', () => {
    expect(records.length).toBeGreaterThan(60)
  })

  for (const { file, exported, record } of records) {
    describe(`${file} ${exported}`, () => {
      it('is exported under its own name, with words and a source', () => {
        expect(record.name).toBe(exported)
        expect(record.says.length).toBeGreaterThan(5)
        expect(record.source.length).toBeGreaterThan(4)
        expect(record.title.length).toBeGreaterThan(2)
      })

      it('gives a number at both ends of every range', () => {
        for (const end of [0, 1]) {
          const value = record.value(numbers(record, () => end))
          expect(Number.isNaN(value)).toBe(false)
        }
        for (const name of Object.keys(record.inputs))
          for (const end of [0, 1])
            expect(
              Number.isFinite(record.value(numbers(record, (other) => (other === name ? end : 0.5)))),
            ).toBe(true)
      })

      it('uses every input', () => {
        const names = Object.keys(record.inputs)
        for (const name of names) {
          // several places in the other inputs' ranges, since a limit may hide an input at one of them
          const moves = Array.from({ length: 24 }, (_, place) => {
            const elsewhere = (other: string): number =>
              ((names.indexOf(other) + 1) * 0.382 + place * 0.618) % 1
            const at = (share: number): number =>
              record.value(numbers(record, (other) => (other === name ? share : elsewhere(other))))
            return at(0.03) !== at(0.5) || at(0.5) !== at(0.97)
          })
          expect(moves.includes(true), `${name} moves nothing`).toBe(true)
        }
      })

      if (!record.fitted)
        it('scales as its unit says when kilogram, metre, second, kelvin and money are rescaled', () => {
          for (const share of [0.3, 0.5, 0.7]) {
            const given = numbers(record, () => share)
            const rescaled = Object.fromEntries(
              Object.entries(given).map(([name, value]) => [
                name,
                value * scaleOf((record.inputs[name] as { unit: keyof typeof UNITS }).unit),
              ]),
            )
            const expected = record.value(given) * scaleOf(record.unit)
            expect(record.value(rescaled)).toBeCloseTo(
              expected,
              -Math.floor(Math.log10(Math.abs(expected) || 1)) + 8,
            )
          }
        })
    })
  }
})
