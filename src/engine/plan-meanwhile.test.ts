import { expect, test } from 'vitest'
import { loadSolids } from '../solids/manifold.ts'
import { arrangePlan } from './arrange-plan.ts'
import { type ArrangementFacts, arrangementKey } from './arrangement-verdict.ts'
import type { Pour } from './documents/index.ts'
import { planPour } from './plan.ts'
import { planMeanwhile } from './plan-meanwhile.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

const shop = sampleShop()
const given = { now: SAMPLE_NOW }
const pourWith = (wax_g: number, over: Partial<Pour> = {}): Pour =>
  samplePour({ pieces: [sampleWax('slide', wax_g, { quantity: 2 }), sampleWax('tag', 1.1)], ...over })

const placesOf = async (pour: Pour): Promise<ArrangementFacts> =>
  arrangePlan(planPour(shop, pour, given), {}, await loadSolids()).facts

test('a heavier wax is reckoned with the places it had, and nothing is judged by them', async () => {
  const [light, heavy] = [pourWith(1.2), pourWith(1.25)]
  const before = await placesOf(light)
  const placed = planPour(shop, light, { ...given, arrangements: { [key(light)]: before } })
  const meanwhile = planMeanwhile(shop, heavy, given, before)
  expect(placed.arranged?.meanwhile).toBe(false)
  expect(meanwhile.arranged?.meanwhile).toBe(true)
  expect(meanwhile.flask?.flask.id).toBe(placed.flask?.flask.id)
  expect(meanwhile.spruesMetal?.value).toBeCloseTo(placed.spruesMetal?.value ?? 0, 12)
  expect(planPour(shop, heavy, given).spruesMetal?.value).not.toBeCloseTo(placed.spruesMetal?.value ?? 0, 6)
  // what is heavier is the wax alone
  expect(meanwhile.pieces.castMass?.value).toBeGreaterThan(placed.pieces.castMass?.value ?? 0)
  const judged = (plan: typeof placed) =>
    plan.verdicts.map(({ id }) => id).filter((id) => /^flask\.(arranged|end)/.test(id))
  expect(judged(placed)).toContain('flask.arranged')
  expect(judged(meanwhile)).toEqual([])
})

test('a tree with places of its own, and one of other waxes or another flask, takes none from before', async () => {
  const light = pourWith(1.2)
  const before = await placesOf(light)
  const own = planMeanwhile(shop, light, { ...given, arrangements: { [key(light)]: before } }, before)
  expect(own.arranged?.meanwhile).toBe(false)
  const more = pourWith(1.2, { pieces: [sampleWax('slide', 1.2, { quantity: 3 }), sampleWax('tag', 1.1)] })
  const others = pourWith(1.2, { pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('pin', 1.1)] })
  const other = shop.flasks.find(({ id }) => id !== before.flask?.id)
  const elsewhere = pourWith(1.2, { flask: other?.id })
  for (const pour of [more, others, elsewhere])
    expect(planMeanwhile(shop, pour, given, before).arranged).toBeUndefined()
  const wider = {
    ...shop,
    flasks: shop.flasks.map((flask) => ({ ...flask, insideDiameter_mm: flask.insideDiameter_mm + 1 })),
  }
  expect(planMeanwhile(wider, light, given, before).arranged).toBeUndefined()
})

const key = (pour: Pour): string => arrangementKey(planPour(shop, pour, given))
