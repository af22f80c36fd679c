import { expect, test } from 'vitest'
import { changed, placeOf } from './change.ts'

test('a number typed over a usual value moves its range along and drops the old source', () => {
  const shop = { finishing: { perFace_mm: { value: 0.1, low: 0.05, high: 0.18, source: 'common practice' } } }
  const next = changed(shop, '/finishing/perFace_mm', 0.2)
  expect(next.finishing.perFace_mm.value).toBe(0.2)
  expect(next.finishing.perFace_mm.low).toBeCloseTo(0.15, 12)
  expect(next.finishing.perFace_mm.high).toBeCloseTo(0.28, 12)
  expect(next.finishing.perFace_mm).not.toHaveProperty('source')
  expect(shop.finishing.perFace_mm.value).toBe(0.1)
})

test('a place holder gives way to the plain number typed', () => {
  const shop = { altitude_m: { value: 0, low: -30, high: 150, source: 'not yet set' } }
  expect(changed(shop, '/altitude_m', 2103)).toEqual({ altitude_m: 2103 })
})

test('a plain number and a text are replaced as they are', () => {
  expect(changed({ a: { b: 1 } }, '/a/b', 2)).toEqual({ a: { b: 2 } })
  expect(changed({ a: { b: 'x' } }, '/a/b', 'y')).toEqual({ a: { b: 'y' } })
})

test('a value that stands there already changes nothing, so that undo has no empty step', () => {
  const document = { a: { b: 1 } }
  expect(changed(document, '/a/b', 1)).toBe(document)
  expect(changed(document, '/a/c', undefined)).toBe(document)
})

test('a path says which document it stands in', () => {
  expect(placeOf('/shop/rules/wallClearance_mm')).toEqual({ in: 'shop', inside: '/rules/wallClearance_mm' })
  expect(placeOf('/pour/flask_C')).toEqual({ in: 'pour', inside: '/flask_C' })
})
