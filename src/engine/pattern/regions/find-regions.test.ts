import { expect, it } from 'vitest'
import type { Mark } from '../drawing.ts'
import { findRegions } from './index.ts'

const run = (closed: boolean, ...points: number[]) => ({ closed, points: Float64Array.from(points) })
const square = (x: number, y: number, size: number) =>
  run(true, x, y, x + size, y, x + size, y + size, x, y + size)
const filled = (id: string, colour: string, ...runs: Mark['runs'][number][]): Mark => ({
  id,
  runs,
  fill: { rule: 'nonzero', colour },
  line: false,
})
const lined = (id: string, ...runs: Mark['runs'][number][]): Mark => ({ id, runs, line: true })
const areas = (marks: Mark[]) =>
  Object.fromEntries(findRegions(marks).regions.map(({ id, area_mm2 }) => [id, Number(area_mm2.toFixed(6))]))
const kinds = (marks: Mark[], join_mm?: number) =>
  findRegions(marks, { join_mm }).problems.map(({ kind }) => kind)

it('takes from a fill what a later fill hides', () => {
  expect(areas([filled('a', 'red', square(0, 0, 10)), filled('b', 'blue', square(5, 5, 10))])).toEqual({
    a: 75,
    b: 100,
  })
})

it('makes one face of fills of one colour that touch or overlap', () => {
  expect(areas([filled('a', 'red', square(0, 0, 10)), filled('b', 'red', square(10, 0, 5))])).toEqual({
    a: 125,
  })
  expect(areas([filled('a', 'red', square(0, 0, 10)), filled('b', 'red', square(5, 5, 10))])).toEqual({
    b: 175,
  })
})

it('divides fills of one colour where a line shows between them', () => {
  const ringed = { ...filled('b', 'red', square(2, 2, 4)), line: true }
  expect(areas([filled('a', 'red', square(0, 0, 10)), ringed])).toEqual({ a: 84, b: 16 })
})

it('does not show lines that a later fill lies over', () => {
  const cross = lined('cross', run(false, 0, 5, 10, 5))
  expect(areas([cross, filled('a', 'red', square(0, 0, 10))])).toEqual({ a: 100 })
  expect(areas([filled('a', 'red', square(0, 0, 10)), cross])).toEqual({ a: 50, 'a/2': 50 })
})

it('counts a hole of bare paper only where a line encloses it', () => {
  const ring = {
    ...filled('ring', 'black', square(0, 0, 10), square(2, 2, 4)),
    fill: { rule: 'evenodd', colour: 'black' },
  } as const
  expect(areas([ring])).toEqual({ ring: 84 })
  expect(areas([ring, lined('frame', square(-5, -5, 20))])).toEqual({ frame: 300, 'frame/2': 16, ring: 84 })
  const bay = filled('bay', 'black', run(true, 0, 0, 10, 0, 10, 2, 2, 2, 2, 8, 10, 8, 10, 10, 0, 10))
  expect(areas([bay])).toEqual({ bay: 52 })
  expect(areas([bay, lined('lid', run(false, 9, 1, 9, 9))])).toMatchObject({ lid: 42 })
})

it('names a face after the line that encloses it most closely', () => {
  expect(areas([lined('inner', square(3, 3, 4)), lined('outer', square(0, 0, 10))])).toEqual({
    inner: 16,
    outer: 84,
  })
})

it('names a face that several lines enclose after the lines, whatever their order', () => {
  const sides = [
    lined('south', run(false, 0, 0, 10, 0)),
    lined('east', run(false, 10, 0, 10, 10)),
    lined('north', run(false, 10, 10, 0, 0)),
  ]
  expect(areas(sides)).toEqual({ 'east+north+south': 50 })
  expect(areas(sides.reverse())).toEqual({ 'east+north+south': 50 })
})

it('joins ends within reach, says so, and offers the wider gaps', () => {
  const open = lined('c', run(false, 0.04, 0, 10, 0, 10, 10, 0, 10, 0, 0))
  expect(kinds([open])).toEqual(['gaps-joined'])
  expect(findRegions([open]).regions[0]?.area_mm2).toBeCloseTo(100, 6)
  const wider = lined('c', run(false, 2, 0, 10, 0, 10, 10, 0, 10, 0, 0))
  const found = findRegions([wider])
  expect(found.problems.map(({ kind, level }) => [kind, level])).toEqual([
    ['open-outline', 'check'],
    ['no-region', 'stop'],
  ])
  expect(found.gapsToClose?.map(({ gap_mm }) => gap_mm)).toEqual([2])
  expect(findRegions([wider], { join_mm: 2 }).regions[0]?.area_mm2).toBeCloseTo(100, 6)
})

it('joins an end that stops short of another line', () => {
  const frame = lined('frame', square(0, 0, 10))
  const short = lined('short', run(false, 0.03, 5, 9.97, 5))
  expect(areas([frame, short])).toEqual({ frame: 50, 'frame/2': 50 })
})

it('joins more than two ends that nearly meet', () => {
  const spokes = [
    lined('a', run(false, 0, 0, 4.99, 5)),
    lined('b', run(false, 10, 0, 5.01, 5)),
    lined('c', run(false, 5, 10, 5, 5.01)),
  ]
  const found = findRegions([lined('frame', square(0, 0, 10)), ...spokes])
  expect(found.problems.map(({ kind }) => kind)).toEqual(['gaps-joined'])
  expect(found.regions).toHaveLength(3)
})

it('names a face within nearly closed lines after its outline, not after what lies in it', () => {
  const nearly = (x: number, size: number) =>
    run(false, x + 0.02, x, x + size, x, x + size, x + size, x, x + size, x, x)
  expect(Object.keys(areas([lined('outer', nearly(0, 10)), lined('inner', nearly(3, 4))])).sort()).toEqual([
    'inner',
    'outer',
  ])
})

it('offers to draw on a line that stops a little short of another', () => {
  const found = findRegions([lined('frame', square(0, 0, 10)), lined('bar', run(false, 0, 5, 9.6, 5))])
  expect(found.problems.map(({ kind }) => kind)).toEqual(['short-line'])
  expect(found.gapsToClose).toEqual([{ from_mm: [9.6, 5], to_mm: [10, 5], gap_mm: expect.closeTo(0.4, 6) }])
})

it('refuses more than two million nodes', () => {
  const found = findRegions([lined('a', { closed: true, points: new Float64Array(4_000_002) })])
  expect(found.problems.map(({ kind, level }) => [kind, level])).toEqual([['too-many-nodes', 'stop']])
})

it('says a line that ends freely inside, and still counts the face', () => {
  const found = findRegions([lined('frame', square(0, 0, 10)), lined('twig', run(false, 0, 5, 6, 5))])
  expect(found.problems.map(({ kind, at_mm }) => [kind, at_mm])).toEqual([['free-end', [6, 5]]])
  expect(found.regions).toHaveLength(1)
})

it('says where an outline crosses itself and where outlines cross, and counts every part', () => {
  const bow = lined('bow', run(true, 0, 0, 10, 10, 10, 0, 0, 10))
  const found = findRegions([bow])
  expect(found.problems.map(({ kind, at_mm }) => [kind, at_mm])).toEqual([['self-crossing', [5, 5]]])
  expect(found.regions.map(({ area_mm2 }) => area_mm2)).toEqual([25, 25])
  expect(kinds([lined('a', square(0, 0, 10)), lined('b', square(5, 5, 10))])).toEqual(['crossing-outlines'])
  expect(kinds([lined('a', square(0, 0, 10)), lined('b', square(10, 0, 10))])).toEqual([])
})

it('drops slivers and shapes without area, and says so', () => {
  expect(kinds([filled('a', 'red', square(0, 0, 10)), filled('b', 'blue', square(20, 0, 0.05))])).toEqual([
    'slivers-dropped',
  ])
  expect(
    kinds([filled('a', 'red', square(0, 0, 10)), filled('flat', 'blue', run(true, 0, 20, 5, 20))]),
  ).toEqual(['no-area'])
})

it('leaves out what is no number or absurdly far, and says so', () => {
  expect(kinds([filled('a', 'red', square(0, 0, 10)), lined('b', run(false, Number.NaN, 0, 1, 1))])).toEqual([
    'not-a-number',
  ])
  expect(kinds([filled('a', 'red', square(0, 0, 10)), lined('b', run(false, 1e9, 0, 1, 1))])).toEqual([
    'not-a-number',
  ])
})

it('asks about drawings smaller than a grain or larger than a door', () => {
  expect(kinds([filled('a', 'red', square(0, 0, 0.5))])).toEqual(['very-small'])
  expect(kinds([filled('a', 'red', square(0, 0, 2500))])).toEqual(['very-large'])
})

it('stops where nothing is enclosed', () => {
  expect(kinds([])).toEqual(['no-region'])
  expect(findRegions([lined('a', run(false, 0, 0, 10, 0))]).problems.map(({ level }) => level)).toContain(
    'stop',
  )
})

it('keeps ids when another element is drawn elsewhere', () => {
  const marks = [lined('a', square(0, 0, 10)), lined('bar', run(false, 0, 4, 10, 4))]
  const before = areas(marks)
  expect(before).toEqual({ a: 60, 'a/2': 40 })
  expect(areas([filled('far', 'red', square(50, 50, 3)), ...marks])).toEqual({ far: 9, ...before })
})

it('writes the number well inside, out of the holes', () => {
  const ring = findRegions([lined('outer', square(0, 0, 10)), lined('inner', square(1, 1, 6))])
  const [x, y] = ring.regions.find(({ id }) => id === 'outer')?.at_mm ?? [0, 0]
  // The widest circle touches the outer sides and the inner corner (7, 7): 10 - c = sqrt(2) (c - 7).
  const c = (10 + 7 * Math.SQRT2) / (1 + Math.SQRT2)
  expect(Math.hypot(x - c, y - c)).toBeLessThan(0.1)
})

it('stops at lines that cross more often than can be divided in good time', () => {
  const along = Array.from({ length: 200 }, (_, k) => k + 0.5)
  const began = performance.now()
  const grid = along.flatMap((at, k) => [
    lined(`a${k}`, run(false, at, 0, at, 200)),
    lined(`b${k}`, run(false, 0, at, 200, at)),
  ])
  expect(kinds(grid)).toContain('too-tangled')
  expect(performance.now() - began).toBeLessThan(10_000)
})
