import type { Dimension } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import type { Pour } from '../../../../engine/documents/index.ts'

/** A length as it is shown, without its unit. */
export type Write = (length_mm: number) => string

/** What a distance is told by; two may lie between the same. */
export const endsOf = ({ between }: Dimension): string => between.join(' ')

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
  if (distance_mm < needed_mm && write(distance_mm) === write(needed_mm))
    return `${subject} is nearer to ${object} than the ${needed}, by less than can be told apart here`
  return `${subject} is ${write(distance_mm)} ${unit} from ${object}; ${needed}`
}
