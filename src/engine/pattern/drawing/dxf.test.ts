import { expect, it } from 'vitest'
import { readDrawing } from './index.ts'
import { joinEnds } from './join-ends.ts'

/** Group codes and values in turn, divided by spaces. */
const tags = (text: string): string => text.trim().split(/\s+/).join('\n')
const dxf = (entities: string, { header = '9 $INSUNITS 70 4', tables = '', blocks = '' } = {}): string =>
  tags(`0 SECTION 2 HEADER ${header} 0 ENDSEC 0 SECTION 2 TABLES ${tables} 0 ENDSEC
    0 SECTION 2 BLOCKS ${blocks} 0 ENDSEC 0 SECTION 2 ENTITIES ${entities} 0 ENDSEC 0 EOF`)
const read = (text: string, options: Parameters<typeof readDrawing>[2] = {}) =>
  readDrawing(new TextEncoder().encode(text), 'drawing.dxf', options)
const kinds = (drawing: ReturnType<typeof read>) =>
  drawing.problems.map(({ kind, level }) => `${kind} ${level}`)
const points = (drawing: ReturnType<typeof read>, mark = 0) =>
  [...(drawing.marks[mark]?.runs[0]?.points ?? [])].map((value) => Number(value.toFixed(6)) + 0)
const span = (drawing: ReturnType<typeof read>, mark = 0) => {
  const xs = points(drawing, mark).filter((_, i) => i % 2 === 0)
  const ys = points(drawing, mark).filter((_, i) => i % 2 === 1)
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}
const line = (handle: string, x0: number, y0: number, x1: number, y1: number): string =>
  `0 LINE 5 ${handle} 8 0 10 ${x0} 20 ${y0} 11 ${x1} 21 ${y1}`

it('joins separate lines and arcs into one closed outline named after the first', () => {
  const drawing = read(
    dxf(
      `${line('A', 0, 0, 10, 0)} 0 ARC 5 B 8 0 10 10 20 5 40 5 50 270 51 90 ${line('C', 0, 10, 10, 10)} ${line('D', 0, 0, 0, 10)}`,
    ),
  )
  expect(drawing.marks.map(({ id, runs }) => [id, runs[0]?.closed])).toEqual([['A', true]])
  expect(drawing.problems).toEqual([])
})

it('joins ends that lie apart by no more than was allowed, and says how far', () => {
  const entities = `${line('A', 0, 0, 10, 0)} ${line('B', 10, 0.04, 10, 10)} ${line('C', 10, 10, 0, 0)}`
  const drawing = read(dxf(entities))
  expect(drawing.marks.map(({ id, runs }) => [id, runs[0]?.closed])).toEqual([['A', true]])
  expect(kinds(drawing)).toEqual(['gaps-joined check'])
  expect(drawing.problems[0]?.what).toContain('0.04 mm')
  expect(read(dxf(entities), { join_mm: 0.01 }).marks[0]?.runs[0]?.closed).toBe(false)
})

it('chains lines that are shorter than the reach of a join', () => {
  const count = 400
  const at = (n: number) =>
    [Math.cos((2 * Math.PI * n) / count), Math.sin((2 * Math.PI * n) / count)] as const
  const ring = Array.from({ length: count }, (_, n) => line(`H${n}`, ...at(n), ...at(n + 1))).join(' ')
  const drawing = read(dxf(ring))
  expect(drawing.marks.map(({ id, runs }) => [id, runs[0]?.closed, runs[0]?.points.length])).toEqual([
    ['H0', true, 2 * count],
  ])
})

it('leaves ends alone where three lines meet', () => {
  const drawing = read(dxf(`${line('A', 0, 0, 10, 0)} ${line('B', 10, 0, 20, 0)} ${line('C', 10, 0, 10, 9)}`))
  expect(drawing.marks.map(({ id }) => id)).toEqual(['A', 'B', 'C'])
})

it('reads every kind of line it names', () => {
  const drawing = read(
    dxf(`0 LWPOLYLINE 5 A 8 0 90 3 70 1 10 0 20 0 10 4 20 0 10 4 20 4
      0 POLYLINE 5 B 8 0 66 1 70 1 0 VERTEX 8 0 10 10 20 0 42 1 0 VERTEX 8 0 10 14 20 0 42 1 0 SEQEND 8 0
      0 CIRCLE 5 C 8 0 10 20 20 0 40 2
      0 ELLIPSE 5 D 8 0 10 30 20 0 30 0 11 0 21 4 31 0 40 0.5 41 0 42 6.283185307179586
      0 SPLINE 5 E 8 0 70 8 71 2 72 6 73 3 74 0 40 0 40 0 40 0 40 1 40 1 40 1 10 40 20 0 10 42 20 4 10 44 20 0
      0 ARC 5 F 8 0 10 50 20 0 40 2 50 0 51 180`),
  )
  expect(drawing.problems).toEqual([])
  expect(drawing.marks.map(({ id, runs, fill, line }) => [id, runs[0]?.closed, fill, line])).toEqual([
    ['A', true, undefined, true],
    ['B', true, undefined, true],
    ['C', true, undefined, true],
    ['D', true, undefined, true],
    ['E', false, undefined, true],
    ['F', false, undefined, true],
  ])
  const want = [
    [0, 0, 4, 4],
    [10, -2, 14, 2],
    [18, -2, 22, 2],
    [28, -4, 32, 4],
    [40, 0, 44, 2],
    [48, 0, 52, 2],
  ]
  want.forEach((box, mark) => {
    span(drawing, mark).forEach((side, i) => {
      expect(Math.abs(side - (box[i] as number))).toBeLessThan(0.002)
    })
  })
})

it('gives a bulge below zero its arc to the other side', () => {
  const half = (bulge: number) =>
    span(read(dxf(`0 LWPOLYLINE 5 A 8 0 90 2 70 0 10 0 20 0 42 ${bulge} 10 4 20 0`)))
  expect(half(1)[1]).toBeCloseTo(-2, 2)
  expect(half(-1)[3]).toBeCloseTo(2, 2)
})

it('mirrors what faces down', () => {
  const drawing = read(dxf('0 ARC 5 A 8 0 10 10 20 0 40 2 50 0 51 90 210 0 220 0 230 -1'))
  // centre at (-10, 0) in the world, from (-12, 0) to (-10, 2)
  expect(points(drawing).slice(0, 2)).toEqual([-12, 0])
  expect(points(drawing).slice(-2)).toEqual([-10, 2])
  expect(drawing.problems).toEqual([])
})

it('says what is tilted out of the plane', () => {
  expect(kinds(read(dxf('0 CIRCLE 5 A 8 0 10 0 20 0 40 2 210 0 220 0.6 230 0.8')))).toEqual(['tilted check'])
})

it('draws blocks scaled, turned, in rows and columns, and inside one another', () => {
  const blocks = `0 BLOCK 8 0 2 DOT 10 1 20 1 0 CIRCLE 5 1A 8 0 10 1 20 1 40 1 0 ENDBLK
    0 BLOCK 8 0 2 PAIR 10 0 20 0 0 INSERT 5 1B 8 0 2 DOT 10 0 20 0 0 INSERT 5 1C 8 0 2 DOT 10 5 20 0 0 ENDBLK`
  const rows = read(dxf('0 INSERT 5 A 8 0 2 DOT 10 10 20 0 41 2 42 2 50 90 70 2 71 1 44 10 45 0', { blocks }))
  expect(rows.marks.map(({ id }) => id)).toEqual(['A.1-1.1A', 'A.1-2.1A'])
  expect(span(rows, 0).map(Math.round)).toEqual([8, -2, 12, 2])
  // the step of the array turns with the block and does not grow with it
  expect(span(rows, 1).map(Math.round)).toEqual([8, 8, 12, 12])
  const pair = read(dxf('0 INSERT 5 A 8 0 2 PAIR 10 0 20 0 41 -2 42 2', { blocks }))
  expect(pair.marks.map(({ id }) => id)).toEqual(['A.1B.1A', 'A.1C.1A'])
  expect(span(pair, 1).map(Math.round)).toEqual([-12, -2, -8, 2])
})

it('does not follow a block into itself or to where there is none', () => {
  const blocks = `0 BLOCK 8 0 2 LOOP 10 0 20 0 ${line('1', 0, 0, 1, 1)} 0 INSERT 5 2 8 0 2 LOOP 10 0 20 0 0 ENDBLK`
  expect(kinds(read(dxf('0 INSERT 5 A 8 0 2 LOOP 10 0 20 0', { blocks })))).toEqual([
    'circular-reference check',
  ])
  expect(kinds(read(dxf('0 INSERT 5 A 8 0 2 GONE 10 0 20 0')))).toContain('missing-reference check')
})

it('refuses a block repeated beyond all measure', () => {
  const blocks = `0 BLOCK 8 0 2 DOT 10 0 20 0 ${line('1', 0, 0, 1, 1)} 0 ENDBLK`
  const drawing = read(dxf('0 INSERT 5 A 8 0 2 DOT 10 0 20 0 70 30000 71 30000 44 1 45 1', { blocks }))
  expect(kinds(drawing)).toEqual(['too-many-nodes stop'])
})

it('asks for the unit where none is named, shows the size both ways, and takes what is said', () => {
  const circle = '0 CIRCLE 5 A 8 0 10 0 20 0 40 2'
  const bare = read(dxf(circle, { header: '' }))
  expect(bare.units).toEqual({ is: 'mm', said: false })
  expect(kinds(bare)).toEqual(['no-unit check'])
  expect(bare.problems[0]?.what).toContain('4 x 4 mm')
  expect(bare.problems[0]?.what).toContain('101.6 x 101.6 mm')
  expect(kinds(read(dxf(circle, { header: '9 $INSUNITS 70 0' })))).toEqual(['no-unit check'])
  const told = read(dxf(circle, { header: '' }), { units: 'in' })
  expect(told.problems).toEqual([])
  expect(span(told)[2]).toBeCloseTo(50.8, 6)
  expect(span(read(dxf(circle), { units: 'in' }))[2]).toBeCloseTo(2, 6)
})

it('asks about a unit in which no piece is drawn', () => {
  const drawing = read(dxf('0 CIRCLE 5 A 8 0 10 0 20 0 40 2', { header: '9 $INSUNITS 70 19' }))
  expect(kinds(drawing)).toEqual(['odd-unit check', 'no-unit check'])
})

it('leaves out layers that are off or frozen, paper space and what is hidden', () => {
  const tables = '0 TABLE 2 LAYER 0 LAYER 2 OFF 70 0 62 -7 0 LAYER 2 ICE 70 1 62 7 0 ENDTAB'
  const drawing = read(
    dxf(
      `0 CIRCLE 5 A 8 OFF 10 0 20 0 40 2 0 CIRCLE 5 B 8 Ice 10 0 20 0 40 2 0 CIRCLE 5 C 8 0 67 1 10 0 20 0 40 2
      0 CIRCLE 5 D 8 0 60 1 10 0 20 0 40 2 0 CIRCLE 5 E 8 0 10 0 20 0 40 2`,
      { tables },
    ),
  )
  expect(drawing.marks.map(({ id }) => id)).toEqual(['E'])
  expect(kinds(drawing)).toEqual(['hidden-layers note'])
})

it('lists what it does not read, and reads the rest', () => {
  const drawing = read(
    dxf(`0 HATCH 5 A 8 0 2 SOLID 0 HATCH 5 B 8 0 2 SOLID 0 TEXT 5 C 8 0 1 CLASP 0 CIRCLE 5 E 8 0 10 0 20 0 40 2
      0 SPLINE 5 F 8 0 70 8 71 3 72 0 73 0 74 3 11 0 21 0 11 5 21 5 11 9 21 0`),
  )
  expect(drawing.marks.map(({ id }) => id)).toEqual(['E'])
  expect(drawing.problems.map(({ what }) => what)).toEqual([
    expect.stringContaining('points it passes only'),
    '2 of HATCH are not read',
    'a TEXT is not read',
  ])
})

it.each([
  ['0 CIRCLE 5 A 8 0 10 0 20 0 40 -2'],
  ['0 CIRCLE 5 A 8 0 10 x 20 0 40 2'],
  ['0 LINE 5 A 8 0 10 0 20 0 11 1e999 21 0'],
  ['0 LWPOLYLINE 5 A 8 0 90 1 70 0 10 0 20 0'],
  ['0 ELLIPSE 5 A 8 0 10 0 20 0 11 0 21 0 40 0.5'],
  ['0 SPLINE 5 A 8 0 70 8 71 3 40 0 40 1 10 0 20 0 10 1 20 1'],
  ['0 SPLINE 5 A 8 0 70 8 71 1 40 0 40 0 40 1 40 1 41 1 41 -1 10 0 20 0 10 1 20 1'],
  ['0 POLYLINE 5 A 8 0 66 1 70 64 0 VERTEX 8 0 10 0 20 0 0 SEQEND'],
])('leaves out a broken entity and says so: %s', (entity) => {
  const drawing = read(dxf(`${entity} 0 CIRCLE 5 E 8 0 10 0 20 0 40 2`))
  expect(drawing.marks.map(({ id }) => id)).toEqual(['E'])
  expect(kinds(drawing)).toEqual(['broken-entity check'])
})

it('stops at a file that breaks off, has lost a line, or is binary', () => {
  const whole = dxf(line('A', 0, 0, 1, 1))
  for (const text of [
    whole.slice(0, -20),
    whole.split('\n').slice(0, 30).join('\n'),
    whole.replace('\nLINE', ''),
    whole.replace('\nENDSEC\n0\nEOF', '\nEOF'),
    tags('0 SECTION 2 ENTITIES 0 POLYLINE 8 0 0 VERTEX 10 0 20 0 0 ENDSEC 0 EOF'),
  ])
    expect(kinds(read(text))).toEqual(['broken-file stop'])
  expect(kinds(read('SomeCAD Binary DXF\r\n\x1a\0'))).toEqual(['binary-dxf stop'])
  expect(kinds(read('0\nSECTIO'))).toEqual(['unknown-format stop'])
  expect(kinds(read(dxf('')))).toEqual(['nothing-drawn stop'])
})

it('moves a drawing that lies far from its zero', () => {
  const drawing = read(dxf('0 CIRCLE 5 A 8 0 10 5000000 20 -7000 40 2'))
  expect(kinds(drawing)).toEqual(['moved note'])
  expect(span(drawing).map((value) => Number(value.toFixed(2)))).toEqual([0, 0, 4, 4])
})

it('names an entity without a handle after its layer', () => {
  const drawing = read(
    dxf('0 CIRCLE 8 SEAT 10 0 20 0 40 2 0 CIRCLE 8 SEAT 10 9 20 0 40 2 0 CIRCLE 8 RIM 10 0 20 0 40 4'),
  )
  expect(drawing.marks.map(({ id }) => id)).toEqual(['SEAT-1', 'SEAT-2', 'RIM-1'])
})

it('refuses an entity with a blank where a number should stand, and names its line', () => {
  const text = dxf(
    `${line('A', 0, 0, 10, 0)} 0 LWPOLYLINE 5 B 8 0 90 3 70 1 10 0 20 0 10 9 20 BLANK 10 9 20 9`,
  )
  const drawing = read(text.replace('BLANK', ''))
  expect(drawing.marks.map(({ id }) => id)).toEqual(['A'])
  expect(kinds(drawing)).toEqual(['broken-entity check'])
  expect(drawing.problems[0]?.where).toContain('LWPOLYLINE B, line')
})

it('finds a block whatever the case of its name', () => {
  const drawing = read(
    dxf('0 INSERT 5 I 8 0 2 LEAF 10 0 20 0', {
      blocks: `0 BLOCK 2 Leaf 10 0 20 0 ${line('A', 0, 0, 10, 0)} 0 ENDBLK`,
    }),
  )
  expect(drawing.marks).toHaveLength(1)
  expect(drawing.problems).toEqual([])
})

it('is not kept busy by a small file with a curve of high degree and far points', () => {
  const [degree, count] = [25, 40]
  const knots = Array.from({ length: count + degree + 1 }, (_, i) => `40 ${i}`).join(' ')
  const far = Array.from({ length: count }, (_, i) => `10 ${i % 2}e9 20 ${(i * 7) % 5}e9`).join(' ')
  const began = performance.now()
  const drawing = read(dxf(`0 SPLINE 5 A 8 0 71 ${degree} ${knots} ${far} `.repeat(3)))
  expect(performance.now() - began).toBeLessThan(5000)
  expect(kinds(drawing)).toContain('too-many-nodes stop')
})

it('chains very many lines into one', () => {
  const count = 150_000
  const at = (n: number) => {
    const turn = (2 * Math.PI * (n % count)) / count
    return [1000 * Math.cos(turn), 1000 * Math.sin(turn)] as const
  }
  const lines = Array.from({ length: count }, (_, n) => ({
    id: `H${n}`,
    line: true,
    runs: [{ points: Float64Array.of(...at(n), ...at(n + 1)), closed: false }],
  }))
  expect(joinEnds(lines, 0.01).marks.map(({ runs }) => runs[0]?.closed)).toEqual([true])
})
