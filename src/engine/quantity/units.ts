/**
 * Units: SI inside, the caster's units at the edge. This file is that edge.
 *
 * Exact factors by definition: international yard and pound (1959), the troy ounce as 480 grains of
 * 0.06479891 g, the conventional inch of mercury at 0 °C (NIST SP 811, appendix B).
 */
export const GRAM_PER_TROY_OUNCE = 31.1034768
export const GRAM_PER_PENNYWEIGHT = GRAM_PER_TROY_OUNCE / 20
export const GRAM_PER_AVOIRDUPOIS_OUNCE = 28.349523125
export const GRAM_PER_POUND = 453.59237
export const GRAM_PER_GRAIN = 0.06479891
export const MM_PER_INCH = 25.4
export const METRE_PER_FOOT = 0.3048
export const PASCAL_PER_INCH_OF_MERCURY = 3386.389
/** Standard gravity [m/s2] (3rd CGPM, 1901): a force is read as the weight that would pull as hard. */
const STANDARD_GRAVITY = 9.80665
export const ZERO_CELSIUS_IN_KELVIN = 273.15

/** Powers of kilogram, metre, second, kelvin and money in a unit; the dimension test reads it. */
export type Dimensions = readonly [kg: number, m: number, s: number, K: number, money: number]

/**
 * Every unit a quantity may have inside the engine. `K` is a temperature on the absolute scale, `ΔK` a
 * difference of temperatures: they convert differently at the edge. `ppt` is parts per thousand by mass.
 */
export const UNITS = {
  '1': [0, 0, 0, 0, 0],
  ppt: [0, 0, 0, 0, 0],
  kg: [1, 0, 0, 0, 0],
  m: [0, 1, 0, 0, 0],
  m2: [0, 2, 0, 0, 0],
  m3: [0, 3, 0, 0, 0],
  /** a room of water that is filled from a can or a tap */
  'm3 water': [0, 3, 0, 0, 0],
  s: [0, 0, 1, 0, 0],
  K: [0, 0, 0, 1, 0],
  ΔK: [0, 0, 0, 1, 0],
  'K/s': [0, 0, -1, 1, 0],
  Pa: [1, -1, -2, 0, 0],
  N: [1, 1, -2, 0, 0],
  'N/m': [1, 0, -2, 0, 0],
  J: [1, 2, -2, 0, 0],
  W: [1, 2, -3, 0, 0],
  'kg/m3': [1, -3, 0, 0, 0],
  'J/kg': [0, 2, -2, 0, 0],
  'J/m3': [1, -1, -2, 0, 0],
  'J/kgK': [0, 2, -2, -1, 0],
  'J/m3K': [1, -1, -2, -1, 0],
  'W/mK': [1, 1, -3, -1, 0],
  'W/m2K': [1, 0, -3, -1, 0],
  'm2/s': [0, 2, -1, 0, 0],
  'rad/s': [0, 0, -1, 0, 0],
  'm/s': [0, 1, -1, 0, 0],
  's/m2': [0, -2, 1, 0, 0],
  'kg m': [1, 1, 0, 0, 0],
  money: [0, 0, 0, 0, 1],
  'money/kg': [-1, 0, 0, 0, 1],
  'money/s': [0, 0, -1, 0, 1],
  'money/J': [-1, -2, 2, 0, 1],
  'money/m3': [0, -3, 0, 0, 1],
} as const satisfies Record<string, Dimensions>

/** A US gallon is 231 cubic inches (NIST SP 811, appendix B.8). */
const CUBIC_METRE_PER_GALLON = 231 * 0.0254 ** 3

export type Unit = keyof typeof UNITS

/** What the caster reads: switched at any time, never stored in a plan. */
export interface UnitChoice {
  readonly length: 'mm' | 'in'
  readonly temperature: 'C' | 'F'
  readonly mass: 'g' | 'dwt' | 'oz t'
  readonly pressure: 'inHg' | 'mbar' | 'kPa'
  /** ISO 4217 code */
  readonly currency: string
}

export const METRIC: UnitChoice = {
  length: 'mm',
  temperature: 'C',
  mass: 'g',
  pressure: 'inHg',
  currency: 'USD',
}

/** How a value of one unit is written: `shown = value * scale + offset`, followed by `label`. */
export interface Writing {
  readonly scale: number
  readonly offset: number
  readonly label: string
  /** true when the label stands close to the figure or before it */
  readonly lead?: boolean
}

const massWriting = (mass: UnitChoice['mass']): Writing =>
  mass === 'g'
    ? { scale: 1000, offset: 0, label: 'g' }
    : mass === 'dwt'
      ? { scale: 1000 / GRAM_PER_PENNYWEIGHT, offset: 0, label: 'dwt' }
      : { scale: 1000 / GRAM_PER_TROY_OUNCE, offset: 0, label: 'oz t' }

const pressureWriting = (pressure: UnitChoice['pressure']): Writing =>
  pressure === 'inHg'
    ? { scale: 1 / PASCAL_PER_INCH_OF_MERCURY, offset: 0, label: 'inHg' }
    : pressure === 'mbar'
      ? { scale: 0.01, offset: 0, label: 'mbar' }
      : { scale: 0.001, offset: 0, label: 'kPa' }

/** What a turning arm holds, as a weight let fall: joules say nothing beside a casting machine. */
const droppedWriting = (length: UnitChoice['length']): Writing =>
  length === 'mm'
    ? { scale: 1 / STANDARD_GRAVITY, offset: 0, label: 'kg dropped a metre' }
    : {
        scale: 1000 / (GRAM_PER_POUND * STANDARD_GRAVITY * METRE_PER_FOOT),
        offset: 0,
        label: 'lb dropped a foot',
      }

/** Heat of a kiln is read off a meter in kWh, of a melt in kJ, of a turning arm as a fall; these part the three. */
const A_MEGAJOULE = 1e6
const A_KILOJOULE = 1e3

/**
 * How a unit is written for this choice, at a value of this size. Powder and water keep grams whatever the metal is read in, so a
 * quantity may ask for `plain` mass.
 */
export const writingOf = (unit: Unit, choice: UnitChoice, plainMass = false, size = 0): Writing => {
  switch (unit) {
    case 'kg':
      return plainMass ? massWriting('g') : massWriting(choice.mass)
    case 'm':
      return choice.length === 'mm'
        ? { scale: 1000, offset: 0, label: 'mm' }
        : { scale: 1000 / MM_PER_INCH, offset: 0, label: 'in' }
    case 'm2':
      return choice.length === 'mm'
        ? { scale: 1e6, offset: 0, label: 'mm²' }
        : { scale: 1e6 / MM_PER_INCH ** 2, offset: 0, label: 'in²' }
    case 'm3':
      return { scale: 1e6, offset: 0, label: 'cm³' }
    case 'm3 water':
      return choice.length === 'mm'
        ? { scale: 1e3, offset: 0, label: 'litres' }
        : { scale: 1 / CUBIC_METRE_PER_GALLON, offset: 0, label: 'gallons' }
    case 'K':
      return choice.temperature === 'C'
        ? { scale: 1, offset: -ZERO_CELSIUS_IN_KELVIN, label: '°C' }
        : { scale: 1.8, offset: -459.67, label: '°F' }
    case 'ΔK':
      return choice.temperature === 'C'
        ? { scale: 1, offset: 0, label: '°C' }
        : { scale: 1.8, offset: 0, label: '°F' }
    case 'K/s':
      return choice.temperature === 'C'
        ? { scale: 3600, offset: 0, label: '°C an hour' }
        : { scale: 6480, offset: 0, label: '°F an hour' }
    case 'Pa':
      return pressureWriting(choice.pressure)
    case 'ppt':
      return { scale: 1, offset: 0, label: '' }
    case '1':
      return { scale: 1, offset: 0, label: '' }
    case 'J':
      return Math.abs(size) >= A_MEGAJOULE
        ? { scale: 1 / 3.6e6, offset: 0, label: 'kWh' }
        : Math.abs(size) < A_KILOJOULE
          ? droppedWriting(choice.length)
          : { scale: 1e-3, offset: 0, label: 'kJ' }
    case 'W':
      return { scale: 1e-3, offset: 0, label: 'kW' }
    case 'kg/m3':
      return { scale: 1e-3, offset: 0, label: 'g per cm³' }
    case 'J/kg':
      return { scale: 1e-3, offset: 0, label: 'kJ per kg' }
    case 'J/m3':
      return { scale: 1e-6, offset: 0, label: 'MJ per m³' }
    case 'J/kgK':
      return { scale: 1, offset: 0, label: 'J per kg K' }
    case 'J/m3K':
      return { scale: 1e-6, offset: 0, label: 'MJ per m³ K' }
    case 'W/mK':
      return { scale: 1, offset: 0, label: 'W per m K' }
    case 'W/m2K':
      return { scale: 1, offset: 0, label: 'W per m² K' }
    case 'm2/s':
      return { scale: 1e6, offset: 0, label: 'mm² per s' }
    case 'rad/s':
      return { scale: 30 / Math.PI, offset: 0, label: 'turns a minute' }
    case 'm/s':
      return choice.length === 'mm'
        ? { scale: 1, offset: 0, label: 'm per s' }
        : { scale: 1000 / (12 * MM_PER_INCH), offset: 0, label: 'ft per s' }
    case 's/m2':
      return { scale: 1e-6, offset: 0, label: 's per mm²' }
    case 'kg m':
      return { scale: 1e6, offset: 0, label: 'g mm' }
    case 'N':
      return choice.length === 'mm'
        ? { scale: 1 / STANDARD_GRAVITY, offset: 0, label: 'kg of pull' }
        : { scale: 1000 / (GRAM_PER_POUND * STANDARD_GRAVITY), offset: 0, label: 'lb of pull' }
    case 'N/m':
      return { scale: 1, offset: 0, label: 'N/m' }
    case 's':
      return { scale: 1, offset: 0, label: 's' }
    case 'money':
      return { scale: 1, offset: 0, label: choice.currency, lead: true }
    case 'money/kg':
      return { scale: 1e-3, offset: 0, label: `${choice.currency} per g` }
    case 'money/s':
      return { scale: 3600, offset: 0, label: `${choice.currency} an hour` }
    case 'money/J':
      return { scale: 3.6e6, offset: 0, label: `${choice.currency} per kWh` }
    case 'money/m3':
      return { scale: 1, offset: 0, label: `${choice.currency} per m³` }
  }
}

export const toUser = (value: number, unit: Unit, choice: UnitChoice, plainMass = false): number => {
  const writing = writingOf(unit, choice, plainMass, value)
  return value * writing.scale + writing.offset
}

export const fromUser = (shown: number, unit: Unit, choice: UnitChoice, plainMass = false): number => {
  const writing = writingOf(unit, choice, plainMass)
  return (shown - writing.offset) / writing.scale
}

export const celsius = (degrees: number): number => degrees + ZERO_CELSIUS_IN_KELVIN
export const toCelsius = (kelvin: number): number => kelvin - ZERO_CELSIUS_IN_KELVIN
export const fahrenheit = (degrees: number): number => (degrees - 32) / 1.8 + ZERO_CELSIUS_IN_KELVIN
export const toFahrenheit = (kelvin: number): number => (kelvin - ZERO_CELSIUS_IN_KELVIN) * 1.8 + 32
export const grams = (mass_g: number): number => mass_g / 1000
export const toGrams = (mass: number): number => mass * 1000
export const millimetres = (length_mm: number): number => length_mm / 1000
export const toMillimetres = (length: number): number => length * 1000
export const inches = (length_in: number): number => (length_in * MM_PER_INCH) / 1000
export const inchesOfMercury = (reading: number): number => reading * PASCAL_PER_INCH_OF_MERCURY
export const minutes = (time_min: number): number => time_min * 60
export const hours = (time_h: number): number => time_h * 3600
export const turnsPerMinute = (rpm: number): number => (rpm * Math.PI) / 30
