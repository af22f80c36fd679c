import { type Layout, layouts, type ToPlace } from './layout.ts'
import { layoutRule, type TreeFeeds, type TreeInput, toPlace } from './plan-tree.ts'

const volumeOf = ({ sizes }: ToPlace): number => sizes.reduce((product, side) => product * side, 1)

/** The pieces dealt out to this many flasks one by one, the largest first, so that each gets its share of every kind. */
const dealOut = (pieces: readonly ToPlace[], count: number): ToPlace[][] => {
  const each = [...pieces]
    .sort((a, b) => volumeOf(b) - volumeOf(a))
    .flatMap((piece) => Array.from({ length: piece.copies }, () => piece))
  return Array.from({ length: count }, (_, flask) =>
    pieces
      .map((piece) => ({
        ...piece,
        copies: each.filter((one, index) => one === piece && index % count === flask).length,
      }))
      .filter(({ copies }) => copies > 0),
  )
}

/** The ways each flask's share may stand, the pieces dealt out to this many flasks; with the sprues of the whole tree. */
export const layoutsInFlasks = (input: TreeInput, tree: TreeFeeds, count: number): Layout[][] => {
  if (tree.stem === undefined) return []
  const rule = layoutRule(input.shop, tree.stem.diameter.value)
  return dealOut(toPlace(input.pieces, tree.gates), count).map((share) => layouts(share, rule))
}
