import { expect, test } from 'vitest'
import { keyed } from './keyed.ts'

const keys = (names: readonly string[]): string[] => keyed(names, (name) => name).map(({ key }) => key)

test('each row has a key of its own, those called alike too', () => {
  const all = keys(['wall', 'top', 'wall', 'wall'])
  expect(new Set(all).size).toBe(4)
  expect(keyed(['a', 'b'], (name) => name).map(({ row, index }) => [row, index])).toEqual([
    ['a', 0],
    ['b', 1],
  ])
})

test('a row keeps its key when another comes before it', () => {
  expect(keys(['top', 'wall', 'base']).slice(1)).toEqual(keys(['wall', 'base']))
})
