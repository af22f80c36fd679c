import type { Alloy, Pour, Shop, Lot as StockLot } from '../documents/index.ts'
import { readStated } from '../documents/index.ts'
import type { ChargeRequest, Lot } from './make-up/index.ts'
import { worthOfLot } from './worth-of-metal.ts'

const composition = (lot: StockLot): Lot['composition'] =>
  Object.fromEntries(
    Object.entries(lot.composition).flatMap(([element, stated]) => {
      if (stated === undefined) return []
      const { value, low, high } = readStated(stated)
      return [[element, { value, low, high }]]
    }),
  )

const PRINCIPAL = { silver: 'Ag', gold: 'Au', copper: 'Cu' } as const

/**
 * The make-up request for a charge, plain JSON so that its hash keys the answer. Without stock it is made
 * up by rule from fine and alloying metal, at the shop's prices.
 */
export const makeUpRequest = (shop: Shop, pour: Pour, alloy: Alloy, toWeigh: number): ChargeRequest => {
  const step = shop.scales.metal.resolution_g / 1000
  const wanted = pour.charge.lots
  const lots: Lot[] = pour.charge.fromStock
    ? shop.lots.map((lot) => ({
        id: lot.id,
        name: lot.name,
        kind: lot.kind,
        mass_kg: lot.mass_g / 1000,
        composition: composition(lot),
        price_per_kg: worthOfLot(shop.prices, lot) * 1000,
        wholePieces_kg: lot.wholePieces_g?.map((mass) => mass / 1000),
        generation: lot.generation,
        mayUse: wanted === undefined || wanted.includes(lot.id),
        owner: lot.owner,
      }))
    : []
  const limits = Object.fromEntries(
    Object.entries(alloy.composition).flatMap(([element, range]) =>
      range === undefined ? [] : [[element, range]],
    ),
  )
  return {
    target_kg: Math.round(toWeigh / step) * step,
    scaleStep_kg: step,
    alloy: {
      id: alloy.id,
      name: alloy.name,
      principal: PRINCIPAL[alloy.metal],
      limits,
      finenessTarget_ppt: pour.charge.fineness_ppt ?? alloy.fineness_ppt?.aim,
      finenessLeast_ppt: alloy.fineness_ppt?.least,
      forbidden: Object.fromEntries(
        Object.entries(alloy.forbidden ?? {}).flatMap(([element, most]) =>
          most === undefined ? [] : [[element, most]],
        ),
      ),
    },
    lots,
    returnedMost: shop.rules.returnedMost,
    preferOldReturns: true,
    clientMetal: pour.price.clientsMetal
      ? [...new Set(shop.lots.map((lot) => lot.owner).filter((owner) => owner !== 'shop'))]
      : undefined,
  }
}
