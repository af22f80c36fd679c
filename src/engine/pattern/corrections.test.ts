import { describe, expect, test } from 'vitest'
import type { Correction } from '../documents/heights.ts'
import { applyCorrections } from './corrections.ts'
import type { Mark, Place } from './drawing.ts'
import { findRegions } from './regions/index.ts'

const line = (id: string, points: readonly number[], closed = false): Mark => ({
  id,
  runs: [{ points: Float64Array.from(points), closed }],
  line: true,
})
const pointsOf = (mark: Mark | undefined): number[] => [...(mark?.runs[0]?.points ?? [])]
const areaOf = (points: readonly number[]): number => {
  let sum = 0
  for (let k = 0; k < points.length; k += 2) {
    const j = (k + 2) % points.length
    sum += (points[k] ?? 0) * (points[j + 1] ?? 0) - (points[j] ?? 0) * (points[k + 1] ?? 0)
  }
  return sum / 2
}
const correctedBy = (marks: readonly Mark[], ...corrections: Correction[]) =>
  applyCorrections(marks, corrections)

describe('dropping', () => {
  const marks = [line('outline', [0, 0, 30, 0, 30, 20, 0, 20], true), line('speck', [10, 10, 10.2, 10])]

  test('takes the line nearest the place and leaves the others as they were', () => {
    const { marks: left, problems } = correctedBy(marks, { do: 'drop', at_mm: [10.5, 10.4] })
    expect(left).toEqual([marks[0]])
    expect(problems).toEqual([])
  })

  test('far from everything changes nothing and says so, with its place in the list', () => {
    const { marks: left, problems } = correctedBy(
      marks,
      { do: 'drop', at_mm: [10, 10] },
      { do: 'drop', at_mm: [80, 80] },
    )
    expect(left).toHaveLength(1)
    expect(problems).toMatchObject([{ level: 'check', where: 'corrections/1', at_mm: [80, 80] }])
  })

  test('fills the hole of a filled shape when the hole is meant, and takes all of it when its rim is', () => {
    const square = (low: number, high: number) => ({
      points: Float64Array.of(low, low, high, low, high, high, low, high),
      closed: true,
    })
    const fill = { rule: 'evenodd', colour: 'ink' } as const
    const ring: Mark = { id: 'ring', runs: [square(0, 40), square(15, 25)], fill, line: false }
    expect(correctedBy([ring], { do: 'drop', at_mm: [15.2, 20] }).marks[0]?.runs).toHaveLength(1)
    expect(correctedBy([ring], { do: 'drop', at_mm: [0.3, 20] }).marks).toEqual([])
    expect(correctedBy([ring], { do: 'drop', at_mm: [7, 7] }).marks).toEqual([])
  })
})

describe('joining', () => {
  test('makes a vein that it meets a line like any other, and leaves other veins', () => {
    const veins = [
      { ...line('vein-1', [5, 5, 10, 5]), vein: true as const },
      { ...line('vein-2', [5, 15, 10, 15]), vein: true as const },
    ]
    const { marks } = correctedBy([line('side', [12, 0, 12, 20]), ...veins], {
      do: 'join',
      from_mm: [10, 5],
      to_mm: [12, 5],
    })
    expect(marks.map(({ id, vein }) => [id, vein])).toEqual([
      ['side', undefined],
      ['vein-1', undefined],
      ['vein-2', true],
      ['join-1', undefined],
    ])
  })

  test('reaches for the ends of the lines, to the bit', () => {
    const marks = [line('a', [0, 0, 10, 0.1]), line('b', [12, 0.3, 20, 0])]
    const { marks: joined } = correctedBy(marks, { do: 'join', from_mm: [9.7, 0.4], to_mm: [12.4, 0] })
    expect(joined.at(-1)).toEqual({ ...line('join-1', [10, 0.1, 12, 0.3]), joins: true })
  })

  test('meets the side of a line in a point that the line then has too', () => {
    const marks = [line('a', [0, 5, 10, 5]), line('side', [12, 0, 12, 20])]
    const { marks: joined } = correctedBy(marks, { do: 'join', from_mm: [10, 5], to_mm: [12.3, 5] })
    expect(pointsOf(joined[1])).toEqual([12, 0, 12, 5, 12, 20])
    expect(pointsOf(joined[2])).toEqual([10, 5, 12, 5])
  })
})

describe('moving', () => {
  test('takes the place itself all the way, half the reach by 9/16, and leaves what lies beyond', () => {
    const marks = [line('a', [0, 0, 4, 0, 8, 0, 20, 0])]
    const moved = pointsOf(
      correctedBy(marks, { do: 'move', from_mm: [0, 0], to_mm: [0, 1], reach_mm: 8 }).marks[0],
    )
    const at = (x: number): number =>
      moved[moved.findIndex((value, k) => k % 2 === 0 && value === x) + 1] ?? NaN
    expect(at(0)).toBe(1)
    // (1 - 0.25)^2
    expect(at(4)).toBeCloseTo(0.5625, 12)
    expect(at(8)).toBe(0)
    expect(at(20)).toBe(0)
  })

  test('bends a long straight line between its ends', () => {
    const bent = pointsOf(
      correctedBy([line('a', [-50, 0, 50, 0])], { do: 'move', from_mm: [0, 0], to_mm: [0, 2], reach_mm: 5 })
        .marks[0],
    )
    expect(Math.max(...bent.filter((_, k) => k % 2 === 1))).toBeCloseTo(2, 1)
    expect(bent.slice(0, 2)).toEqual([-50, 0])
  })

  test('keeps meeting ends together', () => {
    const { marks } = correctedBy([line('a', [0, 0, 5, 5]), line('b', [5, 5, 9, 0])], {
      do: 'move',
      from_mm: [5.2, 5.1],
      to_mm: [6, 6],
      reach_mm: 2,
    })
    expect(pointsOf(marks[0]).slice(-2)).toEqual(pointsOf(marks[1]).slice(0, 2))
  })
})

describe('mirroring the left half', () => {
  const up: { from_mm: [number, number]; to_mm: [number, number] } = { from_mm: [10, 0], to_mm: [10, 50] }

  test('turns half of a lopsided outline into a symmetric one with twice the left half’s area', () => {
    // left of x = 10 a trapezium: (10 + 8) / 2 high over 10 wide
    const outline = line('outline', [0, 0, 22, 0, 25, 12, 0, 8], true)
    const [mark] = correctedBy([outline], { do: 'mirror', ...up }).marks
    const cutHigh = 8 + (10 * 4) / 25
    expect(mark?.runs).toHaveLength(1)
    expect(mark?.runs[0]?.closed).toBe(true)
    expect(areaOf(pointsOf(mark))).toBeCloseTo(2 * ((8 + cutHigh) / 2) * 10, 9)
    const places = new Set<string>()
    const points = pointsOf(mark)
    for (let k = 0; k < points.length; k += 2)
      places.add(`${points[k]?.toFixed(6)},${points[k + 1]?.toFixed(6)}`)
    for (let k = 0; k < points.length; k += 2)
      expect(places).toContain(`${(20 - (points[k] ?? 0)).toFixed(6)},${points[k + 1]?.toFixed(6)}`)
  })

  test('copies what lies wholly to the left, drops what lies to the right, and keeps turning direction', () => {
    const leaf = line('leaf', [2, 2, 6, 2, 4, 6], true)
    const other = line('other', [14, 2, 18, 2, 16, 6], true)
    const { marks } = correctedBy([leaf, other], { do: 'mirror', ...up })
    expect(marks.map(({ id }) => id)).toEqual(['leaf', 'leaf-mirrored'])
    expect(areaOf(pointsOf(marks[1]))).toBeCloseTo(areaOf(pointsOf(leaf)), 12)
    expect(Math.min(...pointsOf(marks[1]).filter((_, k) => k % 2 === 0))).toBe(14)
  })

  test('of a half drawn up to the mirror line makes one outline, under the half’s own id', () => {
    // a plate of 10 by 8 with a notch of 2 by 2 in the side that lies on the line
    const half = line('plate', [0, 0, 10, 0, 10, 3, 8, 3, 8, 5, 10, 5, 10, 8, 0, 8], true)
    const { marks } = correctedBy([half], { do: 'mirror', ...up })
    expect(marks.map(({ id }) => id)).toEqual(['plate'])
    const areas = [...(marks[0]?.runs ?? [])].map(({ points, closed }) => {
      expect(closed).toBe(true)
      return Math.abs(areaOf([...points]))
    })
    // outside 20 by 8; the notch becomes an opening of 4 by 2
    expect(areas?.toSorted((a, b) => a - b)).toEqual([8, 160])
  })

  test('joins an open line to its image where it ends on the mirror line', () => {
    const { marks } = correctedBy([line('arch', [0, 0, 5, 8, 10, 10])], { do: 'mirror', ...up })
    expect(pointsOf(marks[0])).toEqual([0, 0, 5, 8, 10, 10, 15, 8, 20, 0])
  })

  test('keeps a line along the mirror line once', () => {
    const { marks } = correctedBy([line('rib', [10, 5, 10, 20])], { do: 'mirror', ...up })
    expect(marks).toEqual([line('rib', [10, 5, 10, 20])])
  })

  test('works about a slanting line', () => {
    const from: Place = [0, 0]
    const { marks } = correctedBy([line('dot', [0, 4, 0, 6])], {
      do: 'mirror',
      from_mm: [...from],
      to_mm: [3, 3],
    })
    const want = [6, 0, 4, 0]
    for (const [k, value] of pointsOf(marks[1]).entries()) expect(value).toBeCloseTo(want[k] ?? NaN, 12)
  })

  test('with nothing to the left changes nothing and says so', () => {
    const right = line('right', [12, 0, 14, 3])
    const { marks, problems } = correctedBy([right], { do: 'mirror', ...up })
    expect(marks).toEqual([right])
    expect(problems).toMatchObject([{ where: 'corrections/0' }])
  })
})

test('a region whose outline is closed by hand keeps its name', () => {
  const open = line('rim', [0, 0, 20, 0, 20, 10, 0, 10, 0, 1])
  const { marks } = correctedBy([open], { do: 'join', from_mm: [0, 1], to_mm: [0, 0] })
  expect(findRegions(marks).regions.map(({ id }) => id)).toEqual(['rim'])
})
