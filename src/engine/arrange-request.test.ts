import { expect, test } from 'vitest'
import { arrangeRequest, stopsByPlaces } from './arrange-request.ts'
import type { Pour } from './documents/index.ts'
import { volumeOf } from './piece/mesh/index.ts'
import { planPour } from './plan.ts'
import { say } from './quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

const still = [1, 0, 0, 20, 0, 1, 0, 0, 0, 0, 1, 40, 0, 0, 0, 1]
const faultsOf = (...matrices: readonly (readonly number[])[]): (readonly [string, string])[] => {
  const pour = samplePour({})
  const [first] = pour.pieces
  if (first === undefined) throw new Error('the sample has a piece')
  const locked = matrices.map((matrix) => ({ piece: first.id, copy: 1, matrix: [...matrix] }))
  const plan = planPour(sampleShop({}), { ...pour, tree: { ...pour.tree, locked } }, { now: SAMPLE_NOW })
  return arrangeRequest(plan, {})
    .problems.filter(({ level }) => level === 'stop')
    .map(({ kind, where }) => [kind, where])
}

test('two locks for one wax, and a last row that no motion has, are told where they stand', () => {
  expect(faultsOf(still)).toEqual([])
  expect(faultsOf(still, still)).toEqual([['locked-twice', '/pour/tree/locked/1']])
  expect(faultsOf([...still.slice(0, 15), 2])).toEqual([['locked-not-rigid', '/pour/tree/locked/0']])
})

test('a pour without a piece says so', () => {
  const plan = planPour(sampleShop({}), { ...samplePour({}), pieces: [] }, { now: SAMPLE_NOW })
  expect(arrangeRequest(plan, {}).problems.map(({ kind }) => kind)).toEqual(['no-pieces'])
})

test('two pieces of one id, by which their waxes could not be told apart, are told', () => {
  const pour = samplePour({})
  const [first] = pour.pieces
  if (first === undefined) throw new Error('the sample has a piece')
  const faults = (ids: readonly string[]): string[] => {
    const pieces = ids.map((id) => ({ ...first, id }))
    const plan = planPour(sampleShop({}), { ...pour, pieces }, { now: SAMPLE_NOW })
    return arrangeRequest(plan, {}).problems.flatMap(({ kind, where }) =>
      kind === 'id-not-its-own' ? [where] : [],
    )
  }
  expect(faults(['a', 'b'])).toEqual([])
  expect(faults(['a', 'a'])).toEqual(['/pieces/1/id'])
  expect(faults(['a', 'sprue'])).toEqual(['/pieces/1/id'])
})

test('waxes are placed only in flasks that the casting machine takes, as long as it takes one', () => {
  const shop = sampleShop({})
  const flasksBy = (across: number): readonly string[] => {
    const machines = shop.machines.map((one) => ({ ...one, mostFlaskDiameter_mm: across }))
    const plan = planPour({ ...shop, machines }, samplePour({}), { now: SAMPLE_NOW })
    return arrangeRequest(plan, {}).request?.flasks.map(({ id }) => id) ?? []
  }
  const owned = shop.flasks.filter((flask) => flask.owned)
  const outside = owned.map(({ insideDiameter_mm, wall_mm }) => insideDiameter_mm + 2 * wall_mm)
  const widest = Math.max(...outside)
  expect(flasksBy(widest + 1)).toEqual(owned.map(({ id }) => id))
  expect(flasksBy(widest - 1)).toEqual(
    owned.filter((_, k) => (outside[k] ?? 0) < widest - 1).map(({ id }) => id),
  )
  expect(flasksBy(1)).toEqual(owned.map(({ id }) => id))
})

test('the largest flask that the machine takes goes by the wall of the rack’s largest, in whatever order it stands', () => {
  const shop = sampleShop({})
  const [flask] = shop.flasks
  if (flask === undefined) throw new Error('the sample shop has a flask')
  const small = { ...flask, id: 'small', owned: true, insideDiameter_mm: 40, wall_mm: 1.5 }
  const large = { ...flask, id: 'large', owned: true, insideDiameter_mm: 60, wall_mm: 8 }
  const machines = shop.machines.map((one) => ({ ...one, mostFlaskDiameter_mm: 90, mostFlaskHeight_mm: 120 }))
  for (const flasks of [
    [small, large],
    [large, small],
  ]) {
    const plan = planPour({ ...shop, machines, flasks }, samplePour({}), { now: SAMPLE_NOW })
    expect(arrangeRequest(plan, {}).request?.largest).toEqual({ diameter_mm: 74, height_mm: 120 })
  }
})

test('a wax as heavy as its outside box, as near as scale and calipers know, is that box', () => {
  const planOf = (mass_g: number) =>
    planPour(
      sampleShop({}),
      samplePour({
        pieces: [
          sampleWax('block', mass_g, {
            source: {
              from: 'weighed-wax',
              mass_g,
              wax: 'hard-carving',
              calipers: {
                length_mm: 30,
                width_mm: 14,
                height_mm: 3,
                thickest_mm: 3,
                thinnest_mm: 3,
                section: 'plate',
              },
            },
          }),
        ],
      }),
      { now: SAMPLE_NOW },
    )
  const box = 30 * 14 * 3
  const density = planOf(1).pieces.pieces[0]?.waxDensity?.value ?? Number.NaN
  const grams = (times: number): number => (times * box * 1e-9 * density * 1e3 * 1000) / 1000
  const volumes = [0.9, 1, 1.003].map((times) => {
    const mesh = arrangeRequest(planOf(grams(times)), {}).request?.pieces[0]?.mesh
    return mesh === undefined ? Number.NaN : volumeOf(mesh)
  })
  expect(volumes[0]).toBeCloseTo(0.9 * box, 0)
  expect(volumes[1]).toBeCloseTo(box, 6)
  expect(volumes[2]).toBeCloseTo(box, 6)
  const heavy = arrangeRequest(planOf(grams(1.3)), {})
  expect(heavy.request).toBeUndefined()
  expect(heavy.problems.map(({ kind }) => kind)).toContain('no-solid')
})

test('what the plan stops for, or asks, of pieces and freezing order goes with the request', () => {
  const told = (pour: Pour) =>
    arrangeRequest(planPour(sampleShop({}), pour, { now: SAMPLE_NOW }), {}).request?.told
  expect(told(samplePour({}))).toEqual([])
  const shallow = told(samplePour({ tree: { button: { depth_mm: 2 } } }))
  const stop = shallow?.find(({ kind }) => kind === 'freeze.button')
  expect(stop?.level).toBe('stop')
  expect(stop?.what).toMatch(/^the button (starves|most likely freezes first)/)
  expect(stop?.remedy).toMatch(/cone/)
})

test('of a plan’s stops those that follow where the waxes were placed are told with them, and only then', () => {
  const byPlaces = [
    'flask.end',
    'charge.cone',
    'melt.crucible',
    'spin.balance',
    'spin.capacity.charge',
    'mix.bag',
    'burnout.fits',
  ]
  const others = ['flask.arranged', 'charge.short', 'finish.seat', 'burnout.aim', 'problem.no-pieces']
  const stops = [...byPlaces, ...others].map((id) => ({
    id,
    part: 'flask' as const,
    verdict: 'stop' as const,
    title: say`${id}`,
    reason: say`It is so.`,
    remedy: say`mend it`,
    where: '/pour',
  }))
  const go = { stops, checks: [], accepted: [], passes: [] }
  const arranged = {} as NonNullable<Parameters<typeof stopsByPlaces>[0]['arranged']>
  expect(stopsByPlaces({ go, arranged }).map(({ kind }) => kind)).toEqual(byPlaces)
  expect(stopsByPlaces({ go, arranged: undefined })).toEqual([])
})
