import { expect, test } from 'vitest'
import { planPour } from '../../engine/plan.ts'
import { PARTS } from '../../engine/quantity/answer.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../../engine/sample-pour.ts'
import { captionOf, pageOf, standingOf } from './captions.ts'
import { patternPiece, volumePiece } from './new-pour.ts'

const shop = sampleShop()
const units = { length: 'mm', temperature: 'C', mass: 'g', pressure: 'inHg', currency: 'USD' } as const

test('no part is ticked while it has no answer', () => {
  const plan = planPour(shop, samplePour({ pieces: [] }), { now: SAMPLE_NOW })
  for (const part of PARTS) expect([part, standingOf(part, plan)]).not.toEqual([part, 'settled'])
})

test('no order of freezing is ticked while a wax has no sprue in it', () => {
  const sized = sampleWax('clasp', 3.2)
  const { calipers: _sizes, ...weighed } = sized.source as Extract<
    typeof sized.source,
    { from: 'weighed-wax' }
  >
  const standing = (pieces: readonly (typeof sized)[]) => {
    const plan = planPour(shop, samplePour({ pieces: [...pieces] }), { now: SAMPLE_NOW })
    return [captionOf('freeze', plan, units).first, standingOf('freeze', plan)]
  }
  expect(standing([sized])).toEqual(['in order', 'settled'])
  expect(standing([sized, { ...sized, id: 'tag', source: weighed }])[0]).toBe('open')
  expect(standing([sized, { ...sized, id: 'tag', source: weighed }])[1]).not.toBe('settled')
})

test('a spin with its moment known and nothing worked out is open, even when nothing is said against it', () => {
  const plan = planPour(shop, samplePour(), { now: SAMPLE_NOW })
  const { balance: _balance, time: _time, ...spin } = plan.spin
  const quiet = { ...plan, spin, go: { stops: [], checks: [], accepted: [], passes: [] } }
  expect(standingOf('spin', quiet)).toBe('open')
  const finish = { ...plan.finish, finishedMass: undefined }
  expect(standingOf('finish', { ...quiet, finish })).toBe('open')
})

test('a pour worked out to its end is ticked where nothing is open', () => {
  const plan = planPour(shop, samplePour({ pieces: [sampleWax('clasp', 3.2)], flask: 'flask-3x3.5' }), {
    now: SAMPLE_NOW,
  })
  const quiet = { ...plan, go: { stops: [], checks: [], accepted: [], passes: [] } }
  for (const part of ['mix', 'burnout', 'spin', 'finish'] as const)
    expect(standingOf(part, quiet)).toBe('settled')
})

test('the mix is captioned by the moment it is started at the latest', () => {
  const plan = planPour(shop, samplePour({ flask: 'flask-3x3.5' }), { now: SAMPLE_NOW })
  expect(captionOf('mix', plan, units).first).toMatch(/^by [A-Z][a-z]{2} \d/)
})

const pieces = [
  patternPiece([], { name: 'Clasp', file: 'clasp.svg', sha256: 'a'.repeat(64) }),
  volumePiece([], { name: 'Tag', volume_cm3: 1 }),
]

test('what is wrong with a drawing is put right on the drawing’s own page', () => {
  for (const path of [
    '/pour/pieces/0/source',
    '/pour/pieces/0/source/carved_g',
    '/pour/pieces/0/source/heights/blank_mm',
  ])
    expect(pageOf(path, 'p', pieces)).toBe(`/pours/p/pattern/${pieces[0]?.id}`)
})

test('its wax, its sprue, and every other piece stay where they were', () => {
  expect(pageOf('/pour/pieces/0/source/wax', 'p', pieces)).toBe('/pours/p/pieces')
  expect(pageOf('/pour/pieces/0/gate/count', 'p', pieces)).toBe('/pours/p/freeze')
  expect(pageOf('/pour/pieces/1/source', 'p', pieces)).toBe('/pours/p/pieces')
  expect(pageOf('/pour/pieces/0/source', 'p')).toBe('/pours/p/pieces')
})
