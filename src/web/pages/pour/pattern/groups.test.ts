import { expect, test } from 'vitest'
import { heightsSchema } from '../../../../engine/documents/heights.ts'
import { inRole, withName, withSetting } from './groups.ts'

const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })

test('another role keeps the height and drops what means nothing there', () => {
  const raised = {
    role: 'raised',
    height_mm: 2,
    edge: { shape: 'rounded', width_mm: 1, height_mm: 0.5 },
  } as const
  expect(inRole(raised, 'ground', 3)).toEqual({ ...raised, role: 'ground' })
  expect(inRole(raised, 'seat', 3)).toEqual({ role: 'seat', height_mm: 2 })
  expect(inRole({ role: 'through' }, 'raised', 3)).toEqual({ role: 'raised', height_mm: 3 })
  for (const role of ['raised', 'ground', 'through', 'seat'] as const)
    expect(heightsSchema.safeParse(withSetting(heights, ['border'], inRole(raised, role, 3))).success).toBe(
      true,
    )
})

test('a name is kept for all its regions, and taken away without a trace', () => {
  const called = withName(heights, ['trace-1', 'trace-2'], 'Rim')
  expect(called.names).toEqual({ 'trace-1': 'Rim', 'trace-2': 'Rim' })
  expect(heightsSchema.safeParse(called).success).toBe(true)
  expect(withName(called, ['trace-1', 'trace-2'], 'Rim')).toBe(called)
  expect(withName(called, ['trace-2'], '').names).toEqual({ 'trace-1': 'Rim' })
  expect(withName(called, ['trace-1', 'trace-2'], '')).toEqual(heights)
})
