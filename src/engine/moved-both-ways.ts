import { quantitiesOf } from './explain.ts'
import { type Quantity, reworked } from './quantity/index.ts'

/**
 * For tests: every root that a number rests on, moved a little, once through its recorded bodies and once by
 * planning afresh from the changed document.
 */
export const movedBothWays = (
  target: Quantity,
  afresh: (path: string, documentValue: number) => Quantity | undefined,
): [through: number, fresh: number, path: string][] =>
  [...quantitiesOf(target).values()].flatMap((from) => {
    if (from.path === undefined) return []
    const scale = from.documentScale ?? 1
    const offset = from.documentOffset ?? 0
    const after = ((from.value - offset) / scale) * 1.01 + 0.001
    const through = reworked(target, new Map([[from, after * scale + offset]]))
    return [[through, afresh(from.path, after)?.value ?? Number.NaN, from.path]]
  })
