import { expect, test } from 'vitest'
import { heightsSchema } from '../../../../engine/documents/heights.ts'
import { TOOLS, type Tool, withTool } from './tools.ts'

const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })

test('each tool leaves a document that can be kept', () => {
  for (const tool of Object.keys(TOOLS) as Exclude<Tool, 'look'>[]) {
    const after = withTool(heights, tool, [1.23456, 2], [3, 4.98765])
    expect(heightsSchema.safeParse(after).success).toBe(true)
    expect(after).not.toEqual(heights)
  }
})

test('corrections are kept in the order they were made', () => {
  const once = withTool(heights, 'drop', [1, 2], [1, 2])
  const twice = withTool(once, 'join', [0, 0], [1, 0])
  expect(twice.corrections.map((one) => one.do)).toEqual(['drop', 'join'])
})

test('sections take the next free letter, also after one in the middle was taken out', () => {
  let many = heights
  for (let count = 0; count < 3; count += 1) many = withTool(many, 'section', [0, count], [9, count])
  const without = { ...many, sections: many.sections.filter(({ name }) => name !== 'B') }
  expect(withTool(without, 'section', [0, 5], [9, 5]).sections.map(({ name }) => name)).toEqual([
    'A',
    'C',
    'B',
  ])
})
