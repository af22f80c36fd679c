import type { Shop } from '../../engine/documents/shop.ts'
import { usualShop } from '../../engine/materials/usual-shop.ts'
import { canonical } from '../../engine/quantity/key.ts'

export type Entry = NonNullable<Shop['mine']>[number]

/** Which of the five entries are the caster's: they differ from the usual shop's, or were called theirs. */
export const enteredOf = (shop: Shop): readonly boolean[] => {
  const usual = usualShop()
  const differs = (...keys: readonly ('flasks' | 'scales' | 'machines' | 'crucibles' | 'kilns')[]): boolean =>
    keys.some((key) => canonical(shop[key]) !== canonical(usual[key]))
  const mine = (entry: Entry): boolean => shop.mine?.includes(entry) === true
  return [
    mine('place') || canonical(shop.place.pressure) !== canonical(usual.place.pressure),
    mine('flasks') || differs('flasks'),
    mine('scales') || differs('scales'),
    mine('machines') || differs('machines', 'crucibles'),
    mine('kilns') || differs('kilns'),
  ]
}
