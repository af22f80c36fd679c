import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { shapesOf } from '../../examples/shapes-of.ts'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { type ArrangementFacts, arrangementKey } from '../engine/arrangement-verdict.ts'
import { type Pour, pourFileSchema, readDocument, type Shop } from '../engine/documents/index.ts'
import { type Plan, planPour } from '../engine/plan.ts'
import { METRIC } from '../engine/quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../engine/sample-pour.ts'
import { loadSolids } from '../solids/manifold.ts'
import { printRunSheet, type RunSheetOptions } from './index.ts'
import { layPlaces } from './places.ts'
import { type PageRead, readBack } from './read-back.ts'

const print = async (plan: Plan, options: Partial<RunSheetOptions> = {}): Promise<PageRead[]> =>
  readBack(
    await printRunSheet(plan, {
      paper: 'a4',
      units: METRIC,
      printedAt: SAMPLE_NOW,
      compress: false,
      ...options,
    }),
  )

const withPlaces = (shop: Shop, pour: Pour, facts: ArrangementFacts): Plan => {
  const given = { now: SAMPLE_NOW, meshes: shapesOf(pour) }
  const key = arrangementKey(planPour(shop, pour, given))
  return planPour(shop, pour, { ...given, arrangements: { [key]: facts } })
}

const shop = sampleShop()
const pour = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('tag', 1.1)] })
let facts: ArrangementFacts
let plan: Plan
let arranged: NonNullable<Plan['arranged']>

beforeAll(async () => {
  facts = arrangePlan(planPour(shop, pour, { now: SAMPLE_NOW }), {}, await loadSolids()).facts
  plan = withPlaces(shop, pour, facts)
  if (plan.arranged === undefined) throw new Error('the sample pour can be placed')
  arranged = plan.arranged
})

describe('the side that says where each wax goes', () => {
  test('lists every sprue with the figures of its own bar', () => {
    const { rows } = layPlaces(plan, arranged, METRIC)
    expect(rows).toHaveLength(facts.measured?.views.sprues.length ?? -1)
    facts.measured?.views.sprues.forEach(({ from_mm, to_mm, diameter_mm }, at) => {
      const [x, y, z] = [0, 1, 2].map((k) => (from_mm[k] ?? 0) - (to_mm[k] ?? 0)) as [number, number, number]
      const row = rows[at]
      const round = ((Math.atan2(y, x) * 180) / Math.PI + 360) % 360
      expect(Number(row?.angle)).toBeCloseTo(round, -0.4)
      expect(Number(row?.tilt)).toBeCloseTo((Math.asin(z / Math.hypot(x, y, z)) * 180) / Math.PI, -0.4)
      expect(Number(row?.long)).toBeCloseTo(Math.hypot(x, y, z), 1)
      expect(Number(row?.across)).toBeCloseTo(diameter_mm, 1)
    })
    expect(rows.map(({ wax }) => wax.replace('\u00a0', ' ')).sort()).toEqual(
      expect.arrayContaining(['A 1', 'A 2', 'B']),
    )
  })

  test.each(['a4', 'letter'] as const)(
    'stands behind the sheet on %s paper, in either units',
    async (paper) => {
      for (const length of ['mm', 'in'] as const) {
        const units = { ...METRIC, length }
        const [without, pages] = [
          await print(plan, { paper, units, places: false }),
          await print(plan, { paper, units }),
        ]
        expect(pages).toHaveLength(without.length + 1)
        const last = pages.at(-1)
        expect(last?.text).toContain('Where each wax goes')
        expect(last?.text).toContain('true to size')
        for (const { long } of layPlaces(plan, arranged, units).rows) expect(last?.text).toContain(long)
        expect(Math.min(...(last?.written ?? []).map(({ size }) => size))).toBeGreaterThan(8)
        expect(Math.max(...(last?.written ?? []).map(({ x }) => x))).toBeLessThan(last?.width ?? 0)
        expect(pages[0]?.text).toContain('Waxes set by the side')
      }
    },
  )

  test('leaves the demo’s own sheet on its two sides', async () => {
    const file = new URL('../../examples/cloak-clasp.json', import.meta.url)
    const reading = readDocument(pourFileSchema, JSON.parse(readFileSync(file, 'utf8')))
    if (!reading.ok || reading.value.shop === undefined) throw new Error('the demo is a whole pour')
    const { shop: own, ...demo } = reading.value
    const flask = own.flasks.find(({ id }) => id === 'flask-3.5x4')
    if (flask === undefined) throw new Error('the demo’s rack has this flask')
    const size = { id: flask.id, diameter_mm: flask.insideDiameter_mm, height_mm: flask.insideHeight_mm }
    const placed = withPlaces(own, demo, { ...facts, flask: size })
    expect(placed.arranged).toBeDefined()
    for (const paper of ['a4', 'letter'] as const) expect(await print(placed, { paper })).toHaveLength(3)
  })

  test('goes on over the page when the table is long', async () => {
    const { measured } = facts
    const [sprue] = measured?.sprues ?? []
    const [bar] = measured?.views.sprues ?? []
    if (measured === undefined || sprue === undefined || bar === undefined) throw new Error('it has sprues')
    const many = Array.from({ length: 90 }, (_, at) => ({ ...sprue, number: at + 1 }))
    const views = { ...measured.views, sprues: many.map(() => bar) }
    const long = withPlaces(shop, pour, { ...facts, measured: { ...measured, sprues: many, views } })
    const [short, pages] = [await print(long, { places: false }), await print(long)]
    expect(pages.length).toBeGreaterThan(short.length + 1)
    expect(pages.at(-1)?.text).toContain('90')
  })
})
