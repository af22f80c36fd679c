import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { arrangementKey } from '../engine/arrangement-verdict.ts'
import { heightsSchema, type Pour } from '../engine/documents/index.ts'
import { keepArrangement, letGo } from '../engine/keep-arrangement.ts'
import { usualShop } from '../engine/materials/index.ts'
import { findCastable } from '../engine/pattern/castable/index.ts'
import { factsOfPattern, readPattern } from '../engine/pattern/index.ts'
import { buildRelief } from '../engine/pattern/relief/index.ts'
import { shapeKey } from '../engine/piece/index.ts'
import { planPour } from '../engine/plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../engine/sample-pour.ts'
import { loadSolids } from '../solids/manifold.ts'
import { loadReliefSolids } from '../solids/relief-solids.ts'
import { createHighsSolver } from '../solver/highs.ts'
import { somePour } from '../store/some-pour.ts'
import { type SlowWork, settlePlan } from './index.ts'

const file = 'clasp-drawing.svg'
const bytes = new Uint8Array(readFileSync(new URL(`../../examples/${file}`, import.meta.url)))
const heights = heightsSchema.parse(
  JSON.parse(readFileSync(new URL('../../examples/clasp-heights.json', import.meta.url), 'utf8')),
)
const now = Date.parse('2030-03-07T09:00:00Z')
const source: Pour['pieces'][number]['source'] = { from: 'pattern', file, heights }
const pour: Pour = somePour({ pieces: [{ id: 'clasp', name: 'Clasp', quantity: 1, source }] })
const workOn = (drawing: Uint8Array): SlowWork => ({
  readModel: async () => ({ bytes: drawing }),
  loadSolids: () => loadSolids(),
  loadReliefSolids: () => loadReliefSolids(),
  decodePicture: () => Promise.reject(new Error('no photo is read here')),
  loadSolver: async () => createHighsSolver(),
})

describe('a drawn piece on its way into the plan', () => {
  test('has the walls that the page measures, so a piece without calipers gets its charge and flask', async () => {
    const plan = await settlePlan(usualShop(), pour, now, workOn(bytes))
    const reading = readPattern({ bytes, name: file, heights })
    const relief = buildRelief(reading.regions.regions, heights, await loadReliefSolids())
    const walls = findCastable(relief, reading.regions.regions, heights)
    const shown = planPour(usualShop(), pour, {
      now,
      meshes: { [shapeKey(source) ?? '']: factsOfPattern(reading, relief, walls) },
    })
    expect(walls.thickness_mm?.usual).toBeGreaterThan(0)
    expect(plan.wanted).toEqual([])
    expect(JSON.stringify(plan.pieces)).toEqual(JSON.stringify(shown.pieces))
    expect(plan.charge.request).toBeDefined()
    expect(plan.flask).toBeDefined()
  })

  test('that breaks off is settled without a solid, and the reason stands in the plan', async () => {
    const plan = await settlePlan(usualShop(), pour, now, workOn(bytes.slice(0, 400)))
    expect(plan.wanted).toEqual([])
    expect(plan.charge.request).toBeUndefined()
  })
})

describe('a pour that keeps its places', () => {
  const shop = sampleShop()
  const free = samplePour({
    burnout: 'rule',
    pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('tag', 1.1)],
  })
  const work: SlowWork = {
    ...workOn(bytes),
    loadReliefSolids: () => Promise.reject(new Error('nothing is drawn here')),
  }

  test('is reckoned with them; one that lets go with the places found for it, unless outside boxes are asked for', async () => {
    const found = arrangePlan(planPour(shop, free, { now: SAMPLE_NOW }), {})
    if (found.arrangement === undefined) throw new Error('the sample can be arranged')
    const kept = keepArrangement(free, found.arrangement, found.request)
    const plan = await settlePlan(shop, kept, SAMPLE_NOW, work)
    expect(plan.wanted).toEqual([])
    expect(plan.verdicts.find(({ id }) => id === 'flask.arranged')).toBeDefined()
    expect(arrangementKey(plan)).toBe(arrangementKey(planPour(shop, kept, { now: SAMPLE_NOW })))
    const open = await settlePlan(shop, letGo(kept), SAMPLE_NOW, work)
    expect(open.arranged?.flask.id).toBe(found.arrangement.flask?.id)
    expect(open.wanted).toEqual([])
    const byBoxes = await settlePlan(shop, free, SAMPLE_NOW, work, { byBoxes: true })
    expect(byBoxes.arranged).toBeUndefined()
    expect(byBoxes.spruesBy).toBe('boxes')
  })
})
