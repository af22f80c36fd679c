import type { Heights } from '../../../../engine/documents/heights.ts'
import { sayLengths } from '../../../../engine/quantity/say-lengths.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { entryWriting, plainNumber } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'

export type ChangeHeights = (next: Heights, group?: string) => void

/** Changes the heights of the piece at an index; changes of one group in a row are undone together. */
export const useChangeHeights = (index: number): ChangeHeights => {
  const { change } = useDocuments()
  return (next, group) => change(`/pour/pieces/${index}/source/heights`, next, group)
}

export interface LengthWriting {
  readonly label: string
  /** the figure alone, to a tenth of a millimetre or a thousandth of an inch */
  write(length_mm: number): string
  /** a sentence of the engine in the reader's unit */
  say(sentence: string): string
}

export const useLengths = (): LengthWriting => {
  const units = useUnits()
  const writing = entryWriting('/x_mm', units)
  return {
    label: writing.label,
    write: (length_mm) => {
      const shown = writing.toShown(length_mm)
      return units.length === 'in' ? shown.toFixed(3) : plainNumber(shown, 1)
    },
    say: (sentence) => sayLengths(sentence, units.length),
  }
}
