import type { Quantity } from './quantity.ts'
import { toUser, type Unit, type UnitChoice, writingOf } from './units.ts'

/** A figure inside a sentence, kept in SI until somebody reads it. */
export interface Figure {
  readonly value: number
  readonly unit: Unit
  readonly plainMass?: boolean
  /** decimals in whatever unit it is shown; worked out from the size when left out */
  readonly decimals?: number
  /** the last digit shown is worth no more than this, SI, in whatever unit it is shown */
  readonly closeTo?: number
  /** never shown as less than it is */
  readonly atLeast?: boolean
  /** how it was written in millimetres, with the unit if it had one there: read in them, it is left as it stands */
  readonly inMm?: string
  /** the unit stands after a later number, as in 2.4 to 4.5 mm */
  readonly bare?: boolean
}

/** A sentence whose figures are still SI, so that a unit switch rewrites it. */
export type Words = readonly (string | Figure)[]

type Part = string | number | Figure | Quantity | Words

const isWords = (part: Part): part is Words => Array.isArray(part)

/** say`The clasp is ${gap} from the wall`: quantities and figures keep their units, numbers are written as they are. */
export const say = (strings: TemplateStringsArray, ...parts: readonly Part[]): Words => {
  const words: (string | Figure)[] = []
  strings.forEach((text, index) => {
    if (text !== '') words.push(text)
    const part = parts[index]
    if (part === undefined) return
    if (typeof part === 'string') words.push(part)
    else if (typeof part === 'number') words.push(String(part))
    else if (isWords(part)) words.push(...part)
    else words.push('id' in part ? figureOf(part) : part)
  })
  return words
}

/** A quantity as a figure in a sentence, with no more digits than its range supports. */
export const figureOf = (quantity: Quantity): Figure => ({
  value: quantity.value,
  unit: quantity.unit,
  plainMass: quantity.plainMass,
})

export const massOf = (value: number): Figure => ({ value, unit: 'kg' })
export const plainMassOf = (value: number): Figure => ({ value, unit: 'kg', plainMass: true })
export const lengthOf = (value: number): Figure => ({ value, unit: 'm' })
/** A length that something is to be made or bought by, so that what is shown is enough. */
export const leastLengthOf = (value: number): Figure => ({ ...lengthOf(value), atLeast: true })
/** A length shown with as many digits as tell it from another [m]. */
export const lengthBeside = (value: number, other: number): Figure => ({
  ...lengthOf(value),
  closeTo: Math.max(Math.abs(value - other), LEAST_APART),
})
const LEAST_APART = 1e-6
/** What a file or a reamer takes off at one go: a fit is read to this, whatever the size [m]. */
const A_FIT = 3e-5

/** A length that something must fit into, read to a few hundredths of a millimetre or a thousandth of an inch. */
export const fitOf = (length: Quantity): Figure => ({ ...figureOf(length), closeTo: A_FIT })
export const temperatureOf = (value: number): Figure => ({ value, unit: 'K', decimals: 0 })
export const timeOf = (value: number): Figure => ({ value, unit: 's' })
export const pressureOf = (value: number): Figure => ({ value, unit: 'Pa' })
export const moneyOf = (value: number): Figure => ({ value, unit: 'money' })

/** Decimals that a size deserves when no range says better. */
const decimalsFor = (unit: Unit, shown: number, choice: UnitChoice, plainMass = false): number => {
  const size = Math.abs(shown)
  switch (unit) {
    case 'K':
    case 'ΔK':
    case 'K/s':
      return 0
    case 'm':
      return choice.length === 'in' ? (size < 0.1 ? 3 : 2) : size < 10 ? 2 : 1
    case 'kg':
      return choice.mass === 'oz t' && !plainMass ? 3 : size >= 1000 ? 0 : size < 10 ? 2 : 1
    case 'ppt':
      return 1
    case 'money':
      return size >= 100 ? 0 : 2
    case 'Pa':
      return choice.pressure === 'mbar' ? 0 : 1
    default:
      return size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3
  }
}

/** The least figure with these decimals that is no less than this; the dust of a conversion is no less. */
export const roundedUp = (shown: number, decimals: number): number =>
  Math.ceil(shown * 10 ** decimals - 1e-6) / 10 ** decimals

const ordinary = (shown: number, decimals: number): string => {
  const fixed = shown.toFixed(decimals)
  const [whole = '', part] = fixed.split('.')
  const grouped = whole.replace(/\B(?=(\d{3})+(?!\d))/g, ',')
  const joined = part === undefined ? grouped : `${grouped}.${part}`
  return /^-[0.,]*$/.test(joined) ? joined.slice(1) : joined
}

/** A length of time as a person says it: 45 s, 8 min 10 s, 2 h 30 min. */
export const writeDuration = (seconds: number): string => {
  const total = Math.round(seconds)
  if (total < 120) return `${total} s`
  if (total < 5400) {
    const rest = total % 60
    return rest === 0 || total >= 1800
      ? `${Math.round(total / 60)} min`
      : `${Math.floor(total / 60)} min ${rest} s`
  }
  const inMinutes = Math.round(total / 60)
  const rest = inMinutes % 60
  return rest === 0 ? `${inMinutes / 60} h` : `${Math.floor(inMinutes / 60)} h ${rest} min`
}

const SYMBOLS: Readonly<Record<string, string>> = { USD: '$', EUR: '€', GBP: '£' }

/** The figure without its unit, at a given number of decimals or at what its size deserves. */
export const writeNumber = (figure: Figure, choice: UnitChoice): string => {
  const shown = toUser(figure.value, figure.unit, choice, figure.plainMass)
  const decimals = figure.decimals ?? closely(figure, shown, choice)
  return ordinary(figure.atLeast ? roundedUp(shown, decimals) : shown, decimals)
}

/** Decimals that its size deserves, and as many more as it is close to. */
const closely = (figure: Figure, shown: number, choice: UnitChoice): number => {
  const deserved = decimalsFor(figure.unit, shown, choice, figure.plainMass)
  if (figure.closeTo === undefined) return deserved
  const { scale } = writingOf(figure.unit, choice, figure.plainMass, figure.value)
  return Math.max(deserved, Math.ceil(-Math.log10(figure.closeTo * scale)))
}

/** The figure with its unit, as it stands in a sentence. */
export const writeFigure = (figure: Figure, choice: UnitChoice): string => {
  if (figure.unit === 's') return writeDuration(figure.value)
  if (figure.inMm !== undefined && choice.length === 'mm') return figure.inMm
  const writing = writingOf(figure.unit, choice, figure.plainMass, figure.value)
  const number = writeNumber(figure, choice)
  if (writing.lead) {
    const symbol = SYMBOLS[writing.label]
    return symbol === undefined ? `${number} ${writing.label}` : `${symbol}${number}`
  }
  return writing.label === '' || figure.bare ? number : `${number}\u00a0${writing.label}`
}

export const writeWords = (words: Words, choice: UnitChoice): string =>
  words.map((part) => (typeof part === 'string' ? part : writeFigure(part, choice))).join('')

/**
 * A quantity written with no more digits than its range supports: the last digit shown is about a tenth of
 * the half range. Exact quantities take what their size deserves.
 */
export const writeQuantity = (
  quantity: Pick<Quantity, 'value' | 'low' | 'high' | 'unit' | 'plainMass'>,
  choice: UnitChoice,
): { value: string; low: string; high: string; label: string } => {
  const { unit, plainMass } = quantity
  const writing = writingOf(unit, choice, plainMass, quantity.value)
  if (unit === 's')
    return {
      value: writeDuration(quantity.value),
      low: writeDuration(quantity.low),
      high: writeDuration(quantity.high),
      label: '',
    }
  const shown = toUser(quantity.value, unit, choice, plainMass)
  const half = (Math.abs(quantity.high - quantity.low) / 2) * writing.scale
  const deserved = decimalsFor(unit, shown, choice, plainMass)
  const supported = half > 0 ? Math.max(0, Math.ceil(-Math.log10(half / 2))) : deserved
  const decimals =
    unit === 'money'
      ? deserved
      : half > 0
        ? Math.min(Math.max(deserved - 1, supported), deserved + 1)
        : deserved
  const write = (value: number): string =>
    ordinary(value * writing.scale + writing.offset, unit === 'K' || unit === 'ΔK' ? 0 : decimals)
  return {
    value: write(quantity.value),
    low: write(quantity.low),
    high: write(quantity.high),
    label: writing.label,
  }
}

/** A chance as the caster says it: a count, never a percentage; very small ones say what really dominates. */
export const writeChance = (chance: number): string => {
  if (!(chance >= 0)) return 'not known'
  if (chance < 0.001) return 'very small; blunders dominate'
  if (chance > 0.995) return 'nearly always'
  if (chance >= 0.5) return `${Math.round(chance * 20)} in 20`
  if (chance >= 0.1) return `1 in ${Math.round(1 / chance)}`
  const one = 1 / chance
  const round = one < 20 ? 1 : one < 100 ? 5 : one < 400 ? 10 : 50
  return `1 in ${Math.round(one / round) * round}`
}
