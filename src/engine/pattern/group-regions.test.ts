import { expect, test } from 'vitest'
import { heightsSchema } from '../documents/index.ts'
import type { Region } from './drawing.ts'
import { groupRegions } from './group-regions.ts'
import { heightOf } from './height-of.ts'

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
  const other = {
    ...heights,
    regions: { 'leaf-2': { role: 'raised', height_mm: 2 } },
  } as const
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
  expect(heightOf(heights, 'border')).toEqual({ role: 'raised', height_mm: 3 })
  expect(heightOf(heights, 'constructor')).toEqual({ role: 'raised', height_mm: 3 })
})

test('regions of one name are one row only when they are alike in size and in what lies round them', () => {
  const square = (id: string, x: number, side: number, holes: Float64Array[] = []): Region => ({
    ...region(id, side * side),
    outer: Float64Array.of(x, 0, x + side, 0, x + side, side, x, side),
    holes,
    at_mm: [x + side * 0.9, side * 0.9],
  })
  const keysOf = (regions: readonly Region[]): string[][] =>
    groupRegions(regions, heights).map((group) => group.regions.map(({ id }) => id))
  expect(keysOf([square('leaf-1', 0, 10), square('leaf-2', 20, 9.5), square('leaf-3', 40, 6)])).toEqual([
    ['leaf-1', 'leaf-2'],
    ['leaf-3'],
  ])
  const hole = Float64Array.of(1, 1, 1, 2, 2, 2, 2, 1)
  expect(keysOf([square('leaf-1', 0, 10, [hole]), square('leaf-2', 20, 9.9)])).toEqual([
    ['leaf-1'],
    ['leaf-2'],
  ])
})

test('a region that the caster named stands apart under that name, traced or not', () => {
  const faces = [region('trace-1', 400), region('trace-2', 20), region('trace-3', 20)]
  const before = groupRegions(faces, heights)
  expect(before.map(({ name, named }) => [name, named])).toEqual([
    ['Raised', false],
    ['Raised', false],
  ])
  const after = groupRegions(faces, { ...heights, names: { 'trace-3': 'Left leaf' } })
  expect(after.map(({ name, named, regions }) => [name, named, regions.length])).toEqual([
    ['Raised', false, 1],
    ['Raised', false, 1],
    ['Left leaf', true, 1],
  ])
})

test('an image is worked and called as the half that it was mirrored from', () => {
  const leaves = [region('leaf-1', 20), region('leaf-1-mirrored', 20)]
  const said = {
    ...heights,
    regions: { 'leaf-1': { role: 'raised', height_mm: 2 } },
    names: { 'leaf-1': 'Oak leaf' },
  } as const
  expect(heightOf(said, 'leaf-1-mirrored')).toEqual({ role: 'raised', height_mm: 2 })
  const rows = groupRegions(leaves, said)
  expect(rows.map(({ name, regions }) => [name, regions.length])).toEqual([['Oak leaf', 2]])
  const own = { ...said, regions: { ...said.regions, 'leaf-1-mirrored': { role: 'through' } } } as const
  expect(heightOf(own, 'leaf-1-mirrored')).toEqual({ role: 'through' })
})
