import { describe, expect, it } from 'vitest'
import { loadSolids } from '../solids/manifold.ts'
import { type Arrangement, type Clearance, metalBody, motionOf } from './arrange/index.ts'
import { move } from './arrange/vectors.ts'
import { arrangePlan } from './arrange-plan.ts'
import { type Pour, pourSchema } from './documents/index.ts'
import { holdsKept, keepArrangement, keepsArrangement, letGo } from './keep-arrangement.ts'
import { planPour } from './plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

const solids = await loadSolids()
const shop = sampleShop()
const pour = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('tag', 1.1)] })
const arranged = (of: Pour) => {
  const { request, arrangement } = arrangePlan(planPour(shop, of, { now: SAMPLE_NOW }), {})
  if (request === undefined || arrangement === undefined) throw new Error('the sample pour can be arranged')
  return { request, arrangement }
}
const found = arranged(pour)
const kept = keepArrangement(pour, found.arrangement, found.request)

const betweenWaxes = ({ clearances }: Arrangement): Record<string, number> =>
  Object.fromEntries(
    clearances
      .filter(({ between }: Clearance) => between.every((place) => !place.startsWith('sprue/')))
      .map(({ between, distance_mm }) => [between.join(' to '), distance_mm]),
  )

describe('a pour that keeps its arrangement', () => {
  it('locks every wax, takes the flask, and is still a pour', () => {
    expect(pourSchema.safeParse(JSON.parse(JSON.stringify(kept))).error).toBeUndefined()
    expect(keepsArrangement(pour)).toBe(false)
    expect(keepsArrangement(kept)).toBe(true)
    expect(kept.flask).toBe(found.arrangement.flask?.id)
    expect(kept.tree.sprues).toHaveLength(found.arrangement.sprues.length)
  })

  it('no longer does once a copy is added, or the flask is left open', () => {
    const [first, ...others] = kept.pieces
    if (first === undefined) throw new Error('the sample pour has pieces')
    expect(keepsArrangement({ ...kept, pieces: [{ ...first, quantity: 3 }, ...others] })).toBe(false)
    expect(keepsArrangement({ ...kept, flask: undefined })).toBe(false)
  })

  it('gives the same distances between waxes, wall and top when it is arranged again', () => {
    const again = arranged(JSON.parse(JSON.stringify(kept)))
    const [was, is] = [betweenWaxes(found.arrangement), betweenWaxes(again.arrangement)]
    expect(Object.keys(was).length).toBeGreaterThan(6)
    expect(Object.keys(is).sort()).toEqual(Object.keys(was).sort())
    for (const [place, distance] of Object.entries(was)) expect(is[place]).toBeCloseTo(distance, 9)
  })

  it('is told the same of its joints as before it was kept', () => {
    // a sprue twice as wide as the edge it joins
    const thin = samplePour({ pieces: [sampleWax('tag', 1.1, { gate: { diameter_mm: 12, count: 1 } })] })
    const before = arranged(thin)
    const after = arranged(
      JSON.parse(JSON.stringify(keepArrangement(thin, before.arrangement, before.request))),
    )
    const joints = ({ arrangement }: ReturnType<typeof arranged>) =>
      arrangement.problems.flatMap(({ kind, level }) => (kind === 'joint-over-edge' ? [level] : []))
    expect(joints(before)).toEqual(['note'])
    expect(joints(after)).toEqual(['note'])
  })

  it('gives the same sprues under the same numbers, the same clearances and as much metal', () => {
    const again = arranged(JSON.parse(JSON.stringify(kept)))
    const [was, is] = [found.arrangement, again.arrangement]
    expect(was.placements.map(({ piece, copy }) => `${piece}/${copy}`)).toEqual([
      'slide/1',
      'slide/2',
      'tag/1',
    ])
    const told = ({ sprues }: Arrangement) =>
      sprues.map(({ reason: _reason, byHand: _byHand, found: _found, ...sprue }) => sprue)
    told(was).forEach((sprue, at) => {
      for (const [key, value] of Object.entries(sprue)) {
        const other = told(is)[at]?.[key as keyof typeof sprue]
        if (typeof value === 'string') expect(other).toBe(value)
        else
          for (const [k, one] of [value].flat().entries())
            expect([other].flat()[k], key).toBeCloseTo(Number(one), 9)
      }
    })
    const distances = ({ clearances, stemClearances }: Arrangement): Map<string, number> =>
      new Map(
        [...clearances, ...stemClearances].map(({ between, distance_mm, byStem }) => [
          `${between.join(' to ')} ${byStem === true}`,
          distance_mm,
        ]),
      )
    expect([...distances(is).keys()].sort()).toEqual([...distances(was).keys()].sort())
    for (const [place, distance] of distances(was))
      expect(distances(is).get(place), place).toBeCloseTo(distance, 9)
    const metal = ({ request, arrangement }: typeof found): number => {
      const body = metalBody(request, arrangement, solids)
      return 'problem' in body ? Number.NaN : body.volume_mm3
    }
    expect(metal(again) / metal(found)).toBeCloseTo(1, 7)
    expect(is.problems.filter(({ kind }) => kind.startsWith('sprue-'))).toEqual([])
  })

  it('keeps how wide a taper was built at the main sprue', () => {
    const [first, ...others] = found.arrangement.sprues
    if (first === undefined) throw new Error('the sample has sprues')
    const tapered = {
      ...found.arrangement,
      sprues: [{ ...first, stemEnd_mm: first.diameter_mm + 1 }, ...others],
    }
    const rows = keepArrangement(pour, tapered, found.request).tree.sprues ?? []
    expect(rows.filter(({ stemEnd_mm }) => stemEnd_mm !== undefined)).toEqual([
      expect.objectContaining({ stemEnd_mm: first.diameter_mm + 1 }),
    ])
  })

  it('holds each sprue where it joins its wax, in the model’s own millimetres', () => {
    found.arrangement.sprues.forEach((sprue, at) => {
      const row = kept.tree.sprues?.find((one) => one.piece === sprue.piece && one.copy === sprue.copy)
      const lock = kept.tree.locked?.find((one) => one.piece === sprue.piece && one.copy === sprue.copy)
      if (row === undefined || lock === undefined) throw new Error(`sprue ${at + 1} is not kept`)
      const place = move(motionOf(lock.matrix), row.at_mm)
      place.forEach((value, k) => {
        expect(value).toBeCloseTo(sprue.from_mm[k] ?? Number.NaN, 9)
      })
      expect(row.axis_mm).toBe(sprue.axis_mm[2])
    })
  })

  it('of a drawn piece, turns the drawing’s own points and not those of its larger wax', () => {
    const request = { pieces: found.request.pieces.map(({ id }) => ({ id, over: 1.02 })) }
    const drawn = keepArrangement(pour, found.arrangement, request)
    const [sprue] = found.arrangement.sprues
    const row = drawn.tree.sprues?.[0]
    const lock = drawn.tree.locked?.find((one) => one.piece === row?.piece && one.copy === row.copy)
    if (sprue === undefined || row === undefined || lock === undefined) throw new Error('a sprue is kept')
    move(motionOf(lock.matrix), row.at_mm).forEach((value, k) => {
      expect(value).toBeCloseTo(sprue.from_mm[k] ?? Number.NaN, 9)
    })
    expect(Math.hypot(...[0, 4, 8].map((k) => lock.matrix[k] ?? 0))).toBeCloseTo(1.02, 9)
  })

  it('keeps what the caster asked of a sprue, and lets all of it go again', () => {
    const [piece] = found.arrangement.sprues
    if (piece === undefined) throw new Error('the sample has sprues')
    const asked = { piece: piece.piece, copy: piece.copy, at_mm: [1, 2, 1.5], diameter_mm: 4 } as const
    const by = { ...pour, tree: { sprues: [{ ...asked, at_mm: [1, 2, 1.5] as [number, number, number] }] } }
    const row = keepArrangement(by, found.arrangement, found.request).tree.sprues?.find(
      (one) => one.piece === piece.piece && one.copy === piece.copy,
    )
    expect(row).toMatchObject(asked)
    expect(letGo(kept)).toEqual(pour)
  })

  it('lets go what keeping wrote, and leaves the caster’s own flask, locks and sprues', () => {
    const [lock] = kept.tree.locked ?? []
    const [sprue] = found.arrangement.sprues
    const flask = found.arrangement.flask?.id
    if (lock === undefined || sprue === undefined) throw new Error('the sample is kept')
    const { kept: _mark, ...ownLock } = lock
    const ownSprue = { piece: sprue.piece, copy: sprue.copy, at_mm: [1, 2, 1.5] as [number, number, number] }
    const own: Pour = { ...pour, flask, tree: { ...pour.tree, locked: [ownLock], sprues: [ownSprue] } }
    const both = arranged(own)
    const keptToo = keepArrangement(own, both.arrangement, both.request)
    expect(keptToo.tree.locked?.length).toBe(3)
    expect(keptToo.tree.sprues?.every(({ axis_mm }) => axis_mm !== undefined)).toBe(true)
    expect(holdsKept(keptToo)).toBe(true)
    const again = keepArrangement(keptToo, both.arrangement, both.request)
    for (const one of [keptToo, again]) expect(letGo(one)).toEqual(own)
    expect(holdsKept(own)).toBe(false)
    expect(letGo(own)).toEqual(own)
    // a flask chosen after keeping is the caster's
    expect(letGo({ ...kept, flask: 'another' })).toEqual({ ...pour, flask: 'another' })
  })

  it('is left as it was by an arrangement that found no flask', () => {
    expect(keepArrangement(pour, { flask: null, placements: [], sprues: [] })).toBe(pour)
  })
})
