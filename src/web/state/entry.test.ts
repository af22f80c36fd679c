import { expect, test } from 'vitest'
import { METRIC } from '../../engine/quantity/units.ts'
import {
  entryWriting,
  likelyValue,
  plainNumber,
  readTyped,
  scaleDecimals,
  writeStandingOut,
} from './entry.ts'

const imperial = { ...METRIC, length: 'in', temperature: 'F', mass: 'dwt' } as const

test('a length in the document is shown in inches by the international inch', () => {
  const writing = entryWriting('/shop/rules/wallClearance_mm', imperial)
  expect(writing.label).toBe('in')
  expect(writing.toShown(6.35)).toBeCloseTo(0.25, 12)
  expect(writing.toDocument(0.25)).toBeCloseTo(6.35, 12)
})

test('a height above the sea is in feet or metres, never in inches', () => {
  const path = '/shop/place/pressure/altitude_m'
  expect(entryWriting(path, imperial).toShown(3048)).toBeCloseTo(10_000, 9)
  expect(entryWriting(path, METRIC).toShown(2103)).toBe(2103)
})

test('temperatures and differences of temperature convert differently', () => {
  expect(entryWriting('/pour/flask_C', imperial).toShown(100)).toBeCloseTo(212, 9)
  expect(entryWriting('/shop/kilns/0/readsHigh_K', imperial).toShown(10)).toBeCloseTo(18, 9)
})

test('a wax weight follows the metal unit and powder never does', () => {
  const path = '/pour/pieces/0/source/mass_g'
  expect(entryWriting(path, imperial).toShown(1.55517384)).toBeCloseTo(1, 12)
  expect(entryWriting(path, imperial, { plainMass: true }).toShown(480)).toBeCloseTo(480, 9)
})

test('a chance is read as one in so many and written back as a share', () => {
  const writing = entryWriting('/shop/rules/shortChance', METRIC, { as: 'one in' })
  expect(writing.toShown(0.02)).toBeCloseTo(50, 12)
  expect(writing.toDocument(80)).toBeCloseTo(0.0125, 12)
})

test.each([
  ['3.8', 3.8],
  ['3,8', 3.8],
  ['6,900', 6900],
  ['3 1/2', 3.5],
  ['3½', 3.5],
  ['.5', 0.5],
  ['-4', -4],
])('%s is read as %d', (typed, value) => {
  expect(readTyped(typed)).toBe(value)
})

test.each(['', 'abc', '3g8', '1/0', '--2', '1.2.3'])('"%s" is no number', (typed) => {
  expect(readTyped(typed)).toBeUndefined()
})

test('a slipped point is offered back inside the limits', () => {
  expect(likelyValue(38, 0.1, 10)).toBe(3.8)
  expect(likelyValue(0.012, 1, 10)).toBe(1.2)
  expect(likelyValue(5e9, 1, 10)).toBeUndefined()
})

test('a shown number carries no float dust', () => {
  expect(plainNumber(0.1 + 0.2, 2)).toBe('0.3')
  expect(plainNumber(105.0, 1)).toBe('105')
})

test('money below a hundred is written to the cent, and a price by weight carries its sign and says a gram', () => {
  const mould = entryWriting('/shop/prices/mould', METRIC, { unit: 'money' })
  expect(writeStandingOut(mould, 2.5)).toBe('$2.50')
  expect(writeStandingOut(mould, 120)).toBe('$120')
  const wax = entryWriting('/shop/prices/wax_g', METRIC, { unit: 'money/kg', scale: 1000 })
  expect(writeStandingOut(wax, 0.035)).toBe('$0.035 a gram')
  expect(writeStandingOut(wax, 1)).toBe('$1.00 a gram')
  const crowns = entryWriting('/shop/prices/wax_g', { ...METRIC, currency: 'SEK' }, { unit: 'money/kg' })
  expect(crowns.label).toBe('SEK per g')
})

test('a weight stands with the digits that its scale shows', () => {
  expect([1, 0.1, 0.05, 0.01, 10].map(scaleDecimals)).toEqual([0, 1, 2, 2, 0])
})
