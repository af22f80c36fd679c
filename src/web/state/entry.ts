import { keyUnitOf } from '../../engine/documents/roots.ts'
import {
  METRE_PER_FOOT,
  type Unit,
  type UnitChoice,
  type Writing,
  writingOf,
} from '../../engine/quantity/units.ts'

/** How a document's number is read and written on the page; worked out from its key unless said. */
export interface EntryForm {
  readonly unit?: Unit
  /** document value times this plus `offset` gives SI */
  readonly scale?: number
  readonly offset?: number
  readonly plainMass?: boolean
  /** a share may be read as parts of a hundred, or a chance as "1 in" so many */
  readonly as?: 'hundred' | 'thousand' | 'one in' | 'count'
  /** the path whose last key names the unit, where the number stands beneath it */
  readonly unitPath?: string
}

export interface EntryWriting {
  readonly label: string
  /** set before the figure: a currency's sign, "1 in" */
  readonly lead: string
  readonly decimals: number
  /** a price: written to the cent below a hundred */
  readonly price?: boolean
  toShown(value: number): number
  toDocument(shown: number): number
}

const SYMBOLS: Readonly<Record<string, string>> = { USD: '$', EUR: '€', GBP: '£' }

const decimalsOf = (unit: Unit, writing: Writing, path: string): number => {
  if (unit === 'K' || unit === 'ΔK' || unit === 'K/s' || unit === 'rad/s') return 0
  if (unit === 'm') return writing.label === 'mm' ? 2 : 3
  if (unit === 'kg') return writing.label === 'g' ? 2 : 4
  if (unit === 'Pa') return writing.label === 'mbar' ? 0 : 2
  if (unit === 's' || path.endsWith('_ppt')) return 2
  return 4
}

const even = (label: string, scale: number, decimals: number, lead = ''): EntryWriting => ({
  label,
  lead,
  decimals,
  toShown: (value) => value * scale,
  toDocument: (shown) => shown / scale,
})

const TIMES: Readonly<Record<string, string>> = { _min: 'min', _h: 'h', _s: 's' }

/**
 * How to show and take the number at a document path in the caster's units. Times keep the document's own
 * unit; a height above the sea is in metres or feet; everything else goes through SI.
 */
export const entryWriting = (path: string, choice: UnitChoice, form: EntryForm = {}): EntryWriting => {
  if (form.as === 'hundred') return even('of 100', 100, 2)
  if (form.as === 'thousand') return even('in 1000', 1000, 1)
  if (form.as === 'count') return even('', 1, 4)
  if (form.as === 'one in')
    return { label: '', lead: '1 in', decimals: 0, toShown: (share) => 1 / share, toDocument: (n) => 1 / n }
  const key = keyUnitOf(form.unitPath ?? path)
  const unit = form.unit ?? key.unit
  if (unit === 's' && form.unit === undefined) return even(TIMES[key.ending] ?? 's', 1, 2)
  if (key.ending === '_m' && form.unit === undefined)
    return choice.length === 'mm' ? even('m', 1, 0) : even('ft', 1 / METRE_PER_FOOT, 0)
  const scale = form.scale ?? (form.unit === undefined ? key.scale : 1)
  const offset = form.offset ?? (form.unit === undefined ? (key.offset ?? 0) : 0)
  const writing = writingOf(unit, choice, form.plainMass)
  const price = unit.startsWith('money')
  const [currency = '', ...per] = writing.label.split(' ')
  const symbol = price ? SYMBOLS[currency] : undefined
  return {
    label: symbol === undefined ? writing.label : per.join(' ').replace('per g', 'a gram'),
    lead: symbol ?? '',
    decimals: unit === 'money' ? 2 : decimalsOf(unit, writing, path),
    price,
    toShown: (value) => (value * scale + offset) * writing.scale + writing.offset,
    toDocument: (shown) => ((shown - writing.offset) / writing.scale - offset) / scale,
  }
}

/** A figure as a person would type it: no trailing noughts, no float dust. */
export const plainNumber = (shown: number, decimals: number): string => {
  const size = Math.abs(shown)
  const room = size > 0 && size < 0.1 ? decimals + 1 : decimals
  return String(Number(shown.toFixed(room)))
}

/** As many decimals as a scale shows: 4.2 on one that reads to 0.01 stands as 4.20. */
export const scaleDecimals = (resolution_g: number): number =>
  Math.max(0, Math.ceil(-Math.log10(resolution_g) - 1e-9))

const FRACTIONS: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375 }

/** A document's number as it stands on the page, without its unit. */
export const writeStanding = (writing: EntryWriting, value: number): string => {
  const shown = writing.toShown(value)
  const plain = plainNumber(shown, writing.decimals)
  const [, cents = ''] = plain.split('.')
  return writing.price === true && Math.abs(shown) < 100 && cents.length < 2 ? shown.toFixed(2) : plain
}

/** The same with its unit, as it stands in a sentence. */
export const writeStandingOut = (writing: EntryWriting, value: number): string => {
  const lead = writing.lead === '1 in' ? '1 in ' : writing.lead
  return `${lead}${writeStanding(writing, value)}${writing.label === '' ? '' : ` ${writing.label}`}`
}

/**
 * What was typed as a number: a comma or point for decimals, "3 1/2", "3½". Undefined when it is none.
 */
export const readTyped = (typed: string): number | undefined => {
  let text = typed.trim().replace(/\s+/g, ' ')
  for (const [sign, share] of Object.entries(FRACTIONS)) {
    if (!text.includes(sign)) continue
    const whole = text.replace(sign, '').trim()
    return whole === '' ? share : /^\d+$/.test(whole) ? Number(whole) + share : undefined
  }
  const fraction = /^(?:(\d+) )?(\d+)\/(\d+)$/.exec(text)
  if (fraction !== null) {
    const [, whole = '0', over = '0', under = '1'] = fraction
    return Number(under) === 0 ? undefined : Number(whole) + Number(over) / Number(under)
  }
  if (/^-?\d{1,3}(,\d{3})+(\.\d+)?$/.test(text)) text = text.replaceAll(',', '')
  else text = text.replace(',', '.')
  return /^-?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : undefined
}

/** The same digits with the point moved so that the value falls inside the limits, if one move does. */
export const likelyValue = (value: number, least: number, most: number): number | undefined => {
  for (const move of [0.1, 10, 0.01, 100, 0.001, 1000]) {
    const moved = Number((value * move).toPrecision(10))
    if (moved >= least && moved <= most) return moved
  }
  return undefined
}
