import { readStated, type Lot as StockLot } from '../documents/index.ts'
import { isRestUnknown } from './make-up/index.ts'

/** Whether so much of this lot is unsaid that it is left aside: metal used before may hold what harms. */
export const restUnknown = (lot: Pick<StockLot, 'kind' | 'composition'>): boolean =>
  isRestUnknown(
    lot.kind,
    Object.values(lot.composition).map((part) => readStated(part).value),
  )
