import { expect, test } from 'vitest'
import { heightsSchema } from '../../../../engine/documents/heights.ts'
import type { Region } from '../../../../engine/pattern/drawing.ts'
import { groupRegions, inRole, settingOf, withSetting } from './groups.ts'

const region = (id: string, area_mm2: number): Region => ({
  id,
  outer: Float64Array.of(0, 0, 1, 0, 0, 1),
  holes: [],
  area_mm2,
  perimeter_mm: 4,
  at_mm: [0.2, 0.2],
})

const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })
const clasp = [region('leaf-1', 20), region('border', 400), region('leaf-2', 21), region('ground', 900)]

test('regions of one name stand in one row, and rows go from the largest down', () => {
  const rows = groupRegions(clasp, heights)
  expect(rows.map(({ name, number, regions }) => [number, name, regions.length])).toEqual([
    [1, 'Ground', 1],
    [2, 'Border', 1],
    [3, 'Leaf', 2],
  ])
})

test('a second face of one mark stands with the first only when it is as large', () => {
  const faces = [region('rim', 400), region('rim/2', 90), region('petal', 20), region('petal/2', 19)]
  expect(groupRegions(faces, heights).map(({ regions }) => regions.map(({ id }) => id))).toEqual([
    ['rim'],
    ['rim/2'],
    ['petal', 'petal/2'],
  ])
})

test('one leaf worked differently gets a row of its own', () => {
  const other = withSetting(heights, ['leaf-2'], { role: 'raised', height_mm: 2 })
  expect(groupRegions(clasp, other).map(({ regions }) => regions.map(({ id }) => id))).toEqual([
    ['ground'],
    ['border'],
    ['leaf-2'],
    ['leaf-1'],
  ])
})

test('traced lines have no names, so that likeness of size makes a row', () => {
  const traced = [region('trace-3', 20), region('trace-9', 21), region('trace-1+trace-2', 300)]
  expect(groupRegions(traced, heights).map(({ regions }) => regions.length)).toEqual([1, 2])
})

test('a region without an entry keeps the blank’s thickness', () => {
  expect(settingOf(heights, 'border')).toEqual({ role: 'raised', height_mm: 3 })
})

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
