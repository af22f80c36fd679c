import { expect, test } from 'vitest'
import type { Lot, Pour } from '../../engine/documents/index.ts'
import { planPour } from '../../engine/plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../../engine/sample-pour.ts'
import { clashesOf } from './clashes.ts'

const grain = (mass_g: number): Lot => ({
  id: 'grain',
  name: 'Grain',
  kind: 'returns',
  mass_g,
  composition: { Ag: 0.93, Cu: 0.07 },
  owner: 'shop',
})

const kilns = sampleShop().kilns.flatMap((kiln) => [kiln, { ...kiln, id: 'second', name: 'Second kiln' }])

const planned = (name: string, over: Partial<Pour>, mass_g: number) => ({
  id: name,
  name,
  plan: planPour(sampleShop({ kilns, lots: [grain(mass_g)] }), samplePour(over), { now: SAMPLE_NOW }),
})

const later = { castAt: '2030-11-18T15:30:00-07:00' }
const lotTaken = (mass_g: number): number =>
  (planned('alone', {}, mass_g).plan.charge.lines.find((line) => line.lot === 'grain')?.mass ?? 0) * 1000

test('a copy at the same moment wants the same kiln, and is told for how long', () => {
  const [clash, ...others] = clashesOf([planned('one', {}, 900), planned('copy', {}, 900)])
  expect(others).toEqual([])
  if (clash?.kind !== 'kiln') throw new Error('no clash over the kiln; expected one')
  expect(clash.pours.map(({ name }) => name)).toEqual(['one', 'copy'])
  expect(clash.to).toBe(Date.parse('2030-11-16T15:30:00-07:00'))
  expect(clash.from).toBeLessThan(clash.to)
})

test('another day, another kiln or a pour that is past is no clash', () => {
  const one = planned('one', {}, 900)
  expect(clashesOf([one, planned('later', later, 900)])).toEqual([])
  expect(clashesOf([one, planned('other kiln', { kiln: 'second' }, 900)])).toEqual([])
  expect(clashesOf([one, planned('past', { castAt: '2030-11-10T15:30:00-07:00' }, 900)])).toEqual([])
})

test('two pours that together want more of a lot than it holds are told, on whatever days', () => {
  const whole = lotTaken(900)
  expect(whole).toBeGreaterThan(5)
  const scarce = 1.5 * whole
  const clashes = clashesOf([planned('one', {}, scarce), planned('later', later, scarce)])
  expect(clashes.map(({ kind }) => kind)).toEqual(['metal'])
  expect(clashes[0]).toMatchObject({ lot: 'Grain', there: scarce / 1000 })
  expect(clashesOf([planned('one', {}, 2.5 * whole), planned('later', later, 2.5 * whole)])).toEqual([])
})
