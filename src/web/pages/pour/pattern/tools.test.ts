import { expect, test } from 'vitest'
import { heightsSchema } from '../../../../engine/documents/heights.ts'
import { TOOLS, type Tool, withTool } from './tools.ts'

const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })

const post = { kind: 'post', turned_deg: 0, diameter_mm: 3, length_mm: 5, strap_thickness_mm: 3 } as const
const withPost = { ...heights, hardware: [{ ...post, at_mm: [5, 5] as [number, number] }] }

test('hardware is stood where it is pressed, and the others stay', () => {
  const two = {
    ...withPost,
    hardware: [...withPost.hardware, { ...post, at_mm: [9, 9] as [number, number] }],
  }
  const moved = withTool(two, 'hardware', [1.23456, 2], [1.23456, 2], 1)
  expect(moved.hardware.map(({ at_mm }) => at_mm)).toEqual([
    [5, 5],
    [1.235, 2],
  ])
})

test('each tool leaves a document that can be kept', () => {
  for (const tool of Object.keys(TOOLS) as Exclude<Tool, 'look'>[]) {
    const after = withTool(withPost, tool, [1.23456, 2], [3, 4.98765])
    expect(heightsSchema.safeParse(after).success).toBe(true)
    expect(after).not.toEqual(withPost)
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
