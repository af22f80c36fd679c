import type { Pour, Shop } from '../documents/index.ts'
import { plainMassOf, say, type Verdict } from '../quantity/index.ts'

/** Weights that this shop's wax scale cannot have shown: another scale, another unit, or a slip of the pen. */
export const judgeScaleLimits = (shop: Shop, pour: Pour): readonly Verdict[] => {
  const most_g = shop.scales.wax.most_g
  const over = (id: string, what: string, mass_g: number, where: string): Verdict[] =>
    mass_g <= most_g
      ? []
      : [
          {
            id,
            part: 'pieces',
            verdict: 'check',
            title: say`${what}: more than your scale can weigh`,
            reason: say`${plainMassOf(mass_g / 1000)} is entered; the wax scale takes ${plainMassOf(most_g / 1000)} at most, so this scale never showed it.`,
            remedy: say`look at the weight and its unit again, or enter the scale that weighed it under Shop`,
            where,
          },
        ]
  const { weighed } = pour.tree
  return [
    ...pour.pieces.flatMap((piece, index) =>
      piece.source.from === 'weighed-wax'
        ? over(
            `pieces.${piece.id}.scale`,
            piece.name,
            piece.source.mass_g,
            `/pour/pieces/${index}/source/mass_g`,
          )
        : [],
    ),
    ...(weighed === undefined
      ? []
      : over(
          'pieces.tree.scale',
          'The base with the tree',
          weighed.baseWithTree_g,
          '/pour/tree/weighed/baseWithTree_g',
        )),
  ]
}
