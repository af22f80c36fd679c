import { expect, test } from 'vitest'
import type { Pour } from '../../engine/documents/pour.ts'
import { type Plan, planPour } from '../../engine/plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../../engine/sample-pour.ts'
import { inTurn, standOf } from './stand.ts'

const planned = (over: Partial<Pour>) => planPour(sampleShop(), samplePour(over), { now: SAMPLE_NOW })

/** As it is judged once places have been found. */
const withPlaces = (plan: Plan): Plan => ({
  ...plan,
  verdicts: [
    ...plan.verdicts,
    { id: 'flask.arranged', part: 'flask', verdict: 'pass', title: [], reason: [], remedy: [], where: '' },
  ],
})

test('a stop is told before any check, and by its name', () => {
  const plan = planned({ flask: 'flask-2x2', pieces: [{ ...sampleWax('tag', 1.2), quantity: 9 }] })
  const stand = standOf(plan)
  expect(stand.level).toBe('stop')
  expect(stand.words).toBe(plan.go.stops.length === 1 ? 'One stop' : `${plan.go.stops.length} stops`)
  expect(stand.first).toBe(plan.go.stops[0]?.title)
})

test('checks are counted, and it is a go when each is accepted', () => {
  const plan = planned({})
  expect(plan.go.stops).toEqual([])
  expect(standOf(plan)).toMatchObject({
    level: 'check',
    words: `${plan.go.checks.length} things to settle`,
  })
  const accepted = Object.fromEntries(plan.go.checks.map(({ id }) => [id, 'seen']))
  const placed = withPlaces(planned({ accepted }))
  const settled = { ...placed, wanted: [] }
  expect(standOf(settled)).toEqual({ level: 'pass', words: 'Go: nothing is open' })
  // a slow result that is still out may open something yet
  expect(standOf(placed)).toMatchObject({ level: 'check', words: 'Nothing is open so far' })
})

test('what stands by rule until the pour is opened is said', () => {
  expect(standOf(withPlaces(planned({}))).unsure).toBe('in part by rule until it is opened')
  const byBoxes = 'by outside boxes until it is opened, not by where its waxes stand'
  expect(standOf(planned({})).unsure).toBe(byBoxes)
  // a tree on the scale has its metal, and its flask is by outside boxes all the same
  const onScale = samplePour({}).tree
  expect(
    standOf(
      planned({ tree: { ...onScale, weighed: { base_g: 50, baseWithTree_g: 56, baseWeighed: 'today' } } }),
    ).unsure,
  ).toBe(byBoxes)
  expect(standOf({ ...planned({}), wanted: [] })).toMatchObject({ level: 'check', unsure: byBoxes })
  const source = { from: 'mesh' as const, file: 'ring.stl', wax: 'hard-carving' }
  const plan = planned({ pieces: [{ ...sampleWax('ring', 1), source } as Pour['pieces'][number]] })
  expect(standOf(plan).unsure).toBe('a model is not measured until it is opened')
})

test('work is done one piece at a time, and what was taken out is not done', async () => {
  const done: number[] = []
  const out = [1, 2, 3].map((number) => inTurn(() => done.push(number)))
  out[1]?.()
  await new Promise((settle) => inTurn(() => settle(undefined)))
  expect(done).toEqual([1, 3])
})
