import type { Plan } from '../../engine/plan.ts'
import type { Outline } from '../scene/outline.tsx'

/** The two longest sides of each piece whose extents the plan knows, mm, by the piece's id. */
export const sizesOf = (plan: Plan): ReadonlyMap<string, Outline> =>
  new Map(
    plan.pieces.pieces.flatMap((piece): [string, Outline][] => {
      if (piece.extents === undefined) return []
      const { length, width, height } = piece.extents
      const [most = 0, next = 0] = [length, width, height]
        .map((side) => side.value * 1000)
        .toSorted((a, b) => b - a)
      return [[piece.id, { length: most, width: next, guessed: false }]]
    }),
  )
