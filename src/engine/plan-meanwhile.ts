import { type ArrangementFacts, arrangementKey } from './arrangement-verdict.ts'
import type { Pour, Shop } from './documents/index.ts'
import { type Given, type Plan, planPour } from './plan.ts'

/** Whether these places hold each wax of this pour, in a flask that it may take. */
const holdsEvery = (facts: ArrangementFacts, shop: Shop, pour: Pour): boolean => {
  const { flask, measured } = facts
  const owned = shop.flasks.find(({ id }) => id === flask?.id)
  const waxes = pour.pieces.reduce((sum, { quantity }) => sum + quantity, 0)
  return (
    owned !== undefined &&
    owned.insideDiameter_mm === flask?.diameter_mm &&
    owned.insideHeight_mm === flask.height_mm &&
    (pour.flask === undefined || pour.flask === owned.id) &&
    measured?.boxes.length === waxes &&
    measured.boxes.every(({ piece, copy }) =>
      pour.pieces.some(({ id, quantity }) => id === piece && copy <= quantity),
    )
  )
}

/**
 * A plan whose waxes have no places yet, or that is only tried: it reckons with those that the same waxes had before
 * the change, marked as `arranged.meanwhile`. By outside boxes it would jump to other figures and back.
 * @param before  places that an earlier plan of this pour reckoned with
 */
export const planMeanwhile = (
  shop: Shop,
  pour: Pour,
  given: Given,
  before: ArrangementFacts | undefined,
): Plan => {
  const plan = planPour(shop, pour, given)
  if (before === undefined || !holdsEvery(before, shop, pour)) return plan
  const key = arrangementKey(plan)
  if (given.arrangements?.[key] !== undefined) return plan
  return planPour(shop, pour, { ...given, arrangements: { [key]: { ...before, meanwhile: true } } })
}
