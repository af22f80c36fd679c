import { entryWriting } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'
import type { Write } from './broken-words.ts'

/** Lengths for the bench to the nearest tenth of a millimetre; distances finer, so that none looks rounded up. */
export const useWriting = (finer: boolean): Write => {
  const units = useUnits()
  const { toShown } = entryWriting('/x_mm', units)
  const decimals = (units.length === 'in' ? 2 : 1) + (finer ? 1 : 0)
  return (length_mm) => toShown(length_mm).toFixed(decimals)
}
