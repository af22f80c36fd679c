import type { Loop } from './drawing.ts'
import type { AddedLine, WaxLines } from './template/index.ts'

/** Marks lines of a template that are no part of its drawing, so that reading it again leaves them out. */
export const BESIDE = 'data-beside-drawing'

/** How the same is said in a DXF's extended data, before the line's own id. */
export const BESIDE_DXF = 'beside drawing: '

/**
 * Hardware and stones at the size of the wax, each line under an id of its own: a loop and its bar, or a pocket,
 * its well and its wall, share one.
 */
export const atWaxSize = (
  added: readonly AddedLine[],
  { scale }: Pick<WaxLines, 'scale'>,
): { readonly id: string; readonly loop: Loop; readonly hidden: boolean }[] => {
  const seen = new Map<string, number>()
  return added.map(({ id, loop, hidden }) => {
    const count = (seen.get(id) ?? 0) + 1
    seen.set(id, count)
    return { id: count === 1 ? id : `${id}-${count}`, loop: loop.map((value) => value * scale), hidden }
  })
}
