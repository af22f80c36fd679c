import { type ArrangementFacts, arrangementKey } from './arrangement-verdict.ts'
import type { Pour, Shop } from './documents/index.ts'
import { type Given, type Plan, planPour } from './plan.ts'
import { keyOf } from './quantity/index.ts'

/** A plan that reckoned with places, and those places. */
export interface PlacedBefore {
  readonly plan: Plan
  readonly facts: ArrangementFacts
}

/** All that decides how much room a tree takes: its waxes' outside sizes, its base, what must stay clear. */
const roomKey = ({ shop, pour, pieces }: Plan): string =>
  keyOf({
    waxes: pieces.pieces.map(({ id, quantity, extents }) => ({
      id,
      quantity,
      sizes: extents ? [extents.length.value, extents.width.value, extents.height.value] : null,
    })),
    base: shop.bases.find(({ id }) => id === pour.tree.base) ?? shop.bases[0] ?? null,
    rules: shop.rules,
  })

/** Whether a pour may still be in the flask that these places are in. */
const mayTake = (shop: Shop, pour: Pour, { flask }: ArrangementFacts): boolean =>
  (pour.flask === undefined || pour.flask === flask?.id) &&
  shop.flasks.some(
    (one) =>
      one.owned &&
      one.id === flask?.id &&
      one.insideDiameter_mm === flask.diameter_mm &&
      one.insideHeight_mm === flask.height_mm,
  )

/**
 * A plan whose waxes have no places yet, or that is only tried: it reckons with those that waxes of the same outside
 * sizes had before the change, marked as `arranged.meanwhile`. By outside boxes it would jump to other figures and
 * back. Where anything changed that the tree's room rests on it stands by outside boxes, so that no stop is missed.
 * @param before  what an earlier plan of this pour reckoned with
 */
export const planMeanwhile = (
  shop: Shop,
  pour: Pour,
  given: Given,
  before: PlacedBefore | undefined,
): Plan => {
  const plan = planPour(shop, pour, given)
  if (before === undefined || !mayTake(shop, pour, before.facts)) return plan
  const key = arrangementKey(plan)
  if (given.arrangements?.[key] !== undefined || roomKey(plan) !== roomKey(before.plan)) return plan
  return planPour(shop, pour, { ...given, arrangements: { [key]: { ...before.facts, meanwhile: true } } })
}
