import { readStated, type Shop, type Lot as StockLot } from '../documents/index.ts'

/** What a gram of this metal is worth at the shop's own prices [money/g]; what has no price counts nothing. */
export const worthOfMetal = (prices: Shop['prices'], composition: StockLot['composition']): number =>
  Object.entries(composition).reduce((sum, [element, part]) => {
    const price = prices.metal_g[element as keyof typeof prices.metal_g]
    return part === undefined ? sum : sum + readStated(part).value * (price ?? 0)
  }, 0)

/** What a gram of a lot counts for: as the caster typed it, else by its metal, which follows fineness and prices. */
export const worthOfLot = (prices: Shop['prices'], lot: Pick<StockLot, 'price_g' | 'composition'>): number =>
  lot.price_g ?? worthOfMetal(prices, lot.composition)
