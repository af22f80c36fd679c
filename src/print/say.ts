import {
  type Quantity,
  temperatureOf,
  type UnitChoice,
  writeFigure,
  writeQuantity,
} from '../engine/quantity/index.ts'

type Written = Pick<Quantity, 'value' | 'low' | 'high' | 'unit' | 'plainMass'>

const joined = (number: string, label: string): string => (label === '' ? number : `${number}\u00a0${label}`)

/** The value with its unit, with no more digits than its range supports. */
export const write = (quantity: Written, units: UnitChoice): string => {
  const { value, label } = writeQuantity(quantity, units)
  return joined(value, label)
}

/** 111.0 to 113.6 g; just the value when nothing is spread. */
export const writeRange = (quantity: Written, units: UnitChoice): string => {
  const { low, high, label } = writeQuantity(quantity, units)
  return low === high ? joined(low, label) : `${low} to ${joined(high, label)}`
}

/** 927.5 (926.0 to 929.0): the value, and its range in brackets when it has one. */
export const writeWithRange = (quantity: Written, units: UnitChoice): string => {
  const { value, low, high, label } = writeQuantity(quantity, units)
  return low === high ? joined(value, label) : `${joined(value, label)} (${low} to ${joined(high, label)})`
}

/**
 * A mass to weigh, as finely as the scale reads: rounded further, the lots would no longer add up to the
 * charge. Other units than grams keep their own decimals.
 */
export const writeToWeigh = (kilograms: number, step_g: number, units: UnitChoice): string => {
  const decimals = units.mass === 'g' ? Math.max(0, Math.ceil(-Math.log10(step_g) - 1e-9)) : 3
  return writeFigure({ value: kilograms, unit: 'kg', decimals }, units)
}

/** 300 °F (149 °C): the caster's own scale first, the other in brackets. */
export const writeBothTemperatures = (kelvin: number, units: UnitChoice): string => {
  const other: UnitChoice = { ...units, temperature: units.temperature === 'C' ? 'F' : 'C' }
  const at = temperatureOf(kelvin)
  return `${writeFigure(at, units)} (${writeFigure(at, other)})`
}

/** Minutes and seconds as a clock beside the bowl shows them: 4:00. */
export const writeClockTime = (seconds: number): string => {
  const total = Math.round(seconds)
  return `${Math.floor(total / 60)}:${String(total % 60).padStart(2, '0')}`
}

/** 2 h, 2 h 30, 45 min: a hold of the kiln. */
export const writeHold = (seconds: number): string => {
  const minutes = Math.round(seconds / 60)
  if (minutes < 60) return `${minutes}\u00a0min`
  const rest = minutes % 60
  return rest === 0
    ? `${minutes / 60}\u00a0h`
    : `${Math.floor(minutes / 60)}\u00a0h\u00a0${String(rest).padStart(2, '0')}`
}

const QUARTERS: Readonly<Record<number, string>> = { 0: '', 1: '¼', 2: '½', 3: '¾' }

const writeSide = (metres: number, units: UnitChoice): string => {
  if (units.length === 'mm') return String(Number((metres * 1000).toFixed(1)))
  const inches = metres / 0.0254
  const quarters = Math.round(inches * 4)
  if (Math.abs(inches - quarters / 4) > 0.005) return inches.toFixed(2)
  const whole = Math.floor(quarters / 4)
  return `${whole === 0 && quarters % 4 > 0 ? '' : whole}${QUARTERS[quarters % 4]}`
}

/** A flask as it is called: 3 × 3½ in. */
export const writeFlask = (diameter: number, height: number, units: UnitChoice): string =>
  `${writeSide(diameter, units)} × ${writeSide(height, units)}\u00a0${units.length}`

/** A stone or a seat: 18.2 × 13.2 mm, or 0.717 × 0.520 in. */
export const writeSides = (units: UnitChoice, ...metres: readonly number[]): string => {
  const shown = metres.map((side) =>
    units.length === 'mm' ? (side * 1000).toFixed(1) : (side / 0.0254).toFixed(3),
  )
  return `${shown.join(' × ')}\u00a0${units.length}`
}

/** Stones are sold by the millimetre: on an inch sheet it stands beside, in brackets. */
export const besideInches = (units: UnitChoice, ...metres: readonly number[]): string =>
  units.length === 'mm' ? '' : ` (${writeSides({ ...units, length: 'mm' }, ...metres)})`

/** Only the first letter made small or large, for a name that stands in or begins a sentence. */
export const begin = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** Ends with a stop, and not with two. */
export const sentence = (words: string): string =>
  words === '' || /[.:;?!…]$/.test(words) ? words : `${words}.`
