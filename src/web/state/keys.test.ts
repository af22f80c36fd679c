import { expect, test } from 'vitest'
import { PARTS } from '../../engine/quantity/answer.ts'

const stubs = { matches: false, addEventListener: () => undefined }
Object.assign(globalThis, { matchMedia: () => stubs })
const { keyAction } = await import('./keys.ts')

const press = (key: string, more = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  shiftKey: false,
  ...more,
})

test('digits open the parts in the order of the day, nought the tenth', () => {
  const opened = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'].map((key) =>
    keyAction(press(key), undefined),
  )
  expect(opened).toEqual([...PARTS])
})

test('brackets step through the parts and stop at the ends', () => {
  expect(keyAction(press(']'), 'charge')).toBe('price')
  expect(keyAction(press('['), 'charge')).toBe('freeze')
  expect(keyAction(press(']'), 'finish')).toBe('finish')
  expect(keyAction(press('['), 'pieces')).toBe('pieces')
  expect(keyAction(press(']'), undefined)).toBe('pieces')
})

test('undo and redo need the control key; other keys with it mean nothing here', () => {
  expect(keyAction(press('z', { ctrlKey: true }), undefined)).toBe('undo')
  expect(keyAction(press('Z', { ctrlKey: true, shiftKey: true }), undefined)).toBe('redo')
  expect(keyAction(press('p', { ctrlKey: true }), undefined)).toBeUndefined()
  expect(keyAction(press('x'), undefined)).toBeUndefined()
})
