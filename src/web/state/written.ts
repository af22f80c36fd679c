import type { Quantity } from '../../engine/quantity/quantity.ts'
import { type UnitChoice, writingOf } from '../../engine/quantity/units.ts'
import { writeChance, writeQuantity } from '../../engine/quantity/words.ts'

export interface Written {
  readonly lead: string
  readonly value: string
  readonly label: string
  readonly low: string
  readonly high: string
  /** whether the range shows at the digits written */
  readonly ranged: boolean
}

const SYMBOLS: Readonly<Record<string, string>> = { USD: '$', EUR: '€', GBP: '£' }

/** Below this a chance is no headline: what people get wrong outweighs it. */
const SELDOM = 0.001

export type WrittenAs = 'chance' | 'hundred' | 'times' | 'count'

/** A quantity as it is set on the page: sign, figure, unit and range apart. */
export const written = (
  quantity: Pick<Quantity, 'value' | 'low' | 'high' | 'unit' | 'plainMass'>,
  units: UnitChoice,
  as?: WrittenAs,
): Written => {
  if (as === 'chance') {
    // beside a figure the caster reads a sentence of the trade; the sheet and the command line keep the statistician's
    const value =
      quantity.value < SELDOM ? 'hardly ever: a slip in weighing is likelier' : writeChance(quantity.value)
    return { lead: '', value, label: '', low: '', high: '', ranged: false }
  }
  if (as === 'count') {
    const value = String(Number(quantity.value.toFixed(2)))
    return { lead: '', value, label: '', low: '', high: '', ranged: false }
  }
  if (as === 'hundred') {
    const text = (share: number): string => {
      const shown = share * 100
      return Number(shown.toFixed(Math.abs(shown) < 10 ? 1 : 0)).toString()
    }
    const low = text(quantity.low)
    const high = text(quantity.high)
    return { lead: '', value: text(quantity.value), label: 'of 100', low, high, ranged: low !== high }
  }
  const { value, low, high, label } = writeQuantity(quantity, units)
  const money = writingOf(quantity.unit, units).lead === true
  return {
    lead: money ? (SYMBOLS[label] ?? '') : '',
    value,
    label: as === 'times' ? '×' : money && SYMBOLS[label] !== undefined ? '' : label,
    low,
    high,
    ranged: low !== high,
  }
}

/** Whole and in one line, for names and labels. */
export const writtenOut = (
  quantity: Pick<Quantity, 'value' | 'low' | 'high' | 'unit' | 'plainMass'>,
  units: UnitChoice,
  as?: WrittenAs,
): string => {
  const { lead, value, label } = written(quantity, units, as)
  return `${lead}${value}${label === '' ? '' : `\u00a0${label}`}`
}
