import type { Dimension } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import type { Pour } from '../../../../engine/documents/index.ts'
import { entryWriting } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'

export type Write = (length_mm: number) => string

/** Lengths for the bench to the nearest tenth of a millimetre; distances finer, so that none looks rounded up. */
export const useWriting = (finer: boolean): Write => {
  const units = useUnits()
  const { toShown } = entryWriting('/x_mm', units)
  const decimals = (units.length === 'in' ? 2 : 1) + (finer ? 1 : 0)
  return (length_mm) => toShown(length_mm).toFixed(decimals)
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** "Clasp is 4.1 mm from the wall; 6.4 mm needed". */
export const brokenWords = (
  { between: [one, other], distance_mm, needed_mm }: Dimension,
  pieces: Pour['pieces'],
  write: Write,
  unit: string,
): string => {
  // the wax first, then what it comes too near
  const [wax, place] = ['wall', 'top', 'stem', 'base'].includes(one) ? [other, one] : [one, other]
  const [subject, object] = [capital(nameInFlask(wax, pieces)), nameInFlask(place, pieces)]
  const needed = `${write(needed_mm)} ${unit} needed`
  if (distance_mm < 0) return `${subject} goes ${write(-distance_mm)} ${unit} past ${object}; ${needed}`
  if (distance_mm === 0) return `${subject} meets ${object}; ${needed}`
  return `${subject} is ${write(distance_mm)} ${unit} from ${object}; ${needed}`
}
