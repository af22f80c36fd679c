import { expect, test } from 'vitest'
import { heightsSchema } from '../../../../engine/documents/heights.ts'
import { inRole, withSetting } from './groups.ts'

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
