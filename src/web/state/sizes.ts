import { MM_PER_INCH, type UnitChoice } from '../../engine/quantity/units.ts'

const FRACTIONS: Readonly<Record<number, string>> = { 0: '', 4: '¼', 8: '½', 12: '¾' }

/** A rack size: inches with a quarter's fraction where it is one, else decimal; millimetres whole. */
export const writeSize = (length_mm: number, length: UnitChoice['length']): string => {
  if (length === 'mm') return String(Math.round(length_mm))
  const sixteenths = (length_mm / MM_PER_INCH) * 16
  const whole = Math.round(sixteenths)
  const fraction = FRACTIONS[whole % 16]
  if (Math.abs(sixteenths - whole) > 0.1 || fraction === undefined)
    return String(Number((length_mm / MM_PER_INCH).toFixed(2)))
  const inches = Math.floor(whole / 16)
  return inches === 0 && fraction !== '' ? fraction : `${inches}${fraction}`
}

/** "3 × 3½", diameter by height. */
export const writeFlask = (
  flask: { insideDiameter_mm: number; insideHeight_mm: number },
  length: UnitChoice['length'],
): string => `${writeSize(flask.insideDiameter_mm, length)} × ${writeSize(flask.insideHeight_mm, length)}`
