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
  const meanwhile = planMeanwhile(shop, heavy, given, { plan: placed, facts: before })
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

test('whatever changes the room of a tree takes it back to outside boxes, with their stops', async () => {
  const light = pourWith(1.2)
  const facts = await placesOf(light)
  const plan = planPour(shop, light, { ...given, arrangements: { [key(light)]: facts } })
  const before = { plan, facts }
  const own = planMeanwhile(shop, light, { ...given, arrangements: { [key(light)]: facts } }, before)
  expect(own.arranged?.meanwhile).toBe(false)
  const slide = (over: object) => ({ ...sampleWax('slide', 1.2, { quantity: 2 }), ...over })
  const pieces = (first: Pour['pieces'][number]) => pourWith(1.2, { pieces: [first, sampleWax('tag', 1.1)] })
  const { source } = sampleWax('slide', 1.2)
  const long = 'calipers' in source ? { ...source, calipers: { ...source.calipers, length_mm: 120 } } : source
  const isStopped = ({ go }: typeof plan): boolean => go.stops.some(({ id }) => id === 'flask.rack')
  expect(isStopped(plan)).toBe(false)
  const longer = planMeanwhile(shop, pieces(slide({ source: long })), given, before)
  expect(longer.arranged).toBeUndefined()
  expect(isStopped(longer)).toBe(true)
  const other = shop.flasks.find(({ id }) => id !== facts.flask?.id)
  for (const pour of [
    pieces(slide({ quantity: 3 })),
    pieces(slide({ id: 'pin' })),
    pourWith(1.2, { flask: other?.id }),
  ])
    expect(planMeanwhile(shop, pour, given, before).arranged).toBeUndefined()
  const flasks = (over: (flask: (typeof shop.flasks)[number]) => object) => ({
    ...shop,
    flasks: shop.flasks.map((flask) => ({ ...flask, ...over(flask) })),
  })
  for (const changed of [
    flasks(({ insideDiameter_mm }) => ({ insideDiameter_mm: insideDiameter_mm + 1 })),
    flasks(({ insideHeight_mm }) => ({ insideHeight_mm: insideHeight_mm + 1 })),
    flasks(({ id }) => ({ owned: id !== facts.flask?.id })),
    { ...shop, bases: shop.bases.map((base) => ({ ...base, depth_mm: base.depth_mm + 1 })) },
    { ...shop, rules: { ...shop.rules, wallClearance_mm: 9 } },
  ])
    expect(planMeanwhile(changed, light, given, before).arranged).toBeUndefined()
})

const key = (pour: Pour): string => arrangementKey(planPour(shop, pour, given))
