import { expect, test } from 'vitest'
import { planPour } from '../../engine/plan.ts'
import { PARTS } from '../../engine/quantity/answer.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../../engine/sample-pour.ts'
import { captionOf, standingOf } from './captions.ts'

const shop = sampleShop()
const units = { length: 'mm', temperature: 'C', mass: 'g', pressure: 'inHg', currency: 'USD' } as const

test('no part is ticked while it has no answer', () => {
  const plan = planPour(shop, samplePour({ pieces: [] }), { now: SAMPLE_NOW })
  for (const part of PARTS) expect([part, standingOf(part, plan)]).not.toEqual([part, 'settled'])
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
