import { describe, expect, test } from 'vitest'
import { MeshBuilder, type TriangleMesh } from '../../piece/mesh/index.ts'
import type { Loop } from '../drawing.ts'
import { hatch, sectionOf, stepsOf } from './index.ts'

const area = (loop: Loop): number => {
  let twice = 0
  for (let i = 0, n = loop.length; i < n; i += 2) {
    const j = (i + 2) % n
    twice += (loop[i] ?? 0) * (loop[j + 1] ?? 0) - (loop[j] ?? 0) * (loop[i + 1] ?? 0)
  }
  return twice / 2
}
const areaOf = (loops: readonly Loop[]): number => loops.reduce((sum, loop) => sum + area(loop), 0)

/** A ball about 0, 0, 0 with a pole up; corners of one latitude share points. */
const ball = (radius: number, rows = 128, columns = 256): TriangleMesh => {
  const mesh = new MeshBuilder()
  mesh.addPoint(0, 0, radius)
  for (let row = 1; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1) {
      const [down, round] = [(Math.PI * row) / rows, (2 * Math.PI * column) / columns]
      mesh.addPoint(
        radius * Math.sin(down) * Math.cos(round),
        radius * Math.sin(down) * Math.sin(round),
        radius * Math.cos(down),
      )
    }
  mesh.addPoint(0, 0, -radius)
  const at = (row: number, column: number): number => 1 + (row - 1) * columns + (column % columns)
  const foot = 1 + (rows - 1) * columns
  for (let column = 0; column < columns; column += 1) {
    mesh.addTriangle(0, at(1, column), at(1, column + 1))
    mesh.addTriangle(foot, at(rows - 1, column + 1), at(rows - 1, column))
    for (let row = 1; row < rows - 1; row += 1) {
      mesh.addTriangle(at(row, column), at(row + 1, column), at(row + 1, column + 1))
      mesh.addTriangle(at(row, column), at(row + 1, column + 1), at(row, column + 1))
    }
  }
  return mesh.finish()
}

/** A loop in x and z, anticlockwise, drawn out from y = near to y = far. */
const bar = (loop: readonly (readonly [number, number])[], near: number, far: number): TriangleMesh => {
  const mesh = new MeshBuilder()
  const n = loop.length
  for (const y of [near, far]) for (const [x, z] of loop) mesh.addPoint(x, y, z)
  for (let i = 0; i < n; i += 1) {
    const j = (i + 1) % n
    mesh.addTriangle(i, j, n + j)
    mesh.addTriangle(i, n + j, n + i)
  }
  for (let i = 1; i + 1 < n; i += 1) {
    mesh.addTriangle(0, i + 1, i)
    mesh.addTriangle(n, n + i, n + i + 1)
  }
  return mesh.finish()
}

/** Fans from its first corner stay inside: a plate 20 long and 2 high. */
const plate = bar(
  [
    [0, 0],
    [20, 0],
    [20, 2],
    [0, 2],
  ],
  -5,
  5,
)

describe('a cut', () => {
  test('of a plate across it is the plate’s rectangle, solid to the left of the line', () => {
    const { loops, problems } = sectionOf(plate, [-3, 1], [30, 1])
    expect(problems).toEqual([])
    expect(loops).toHaveLength(1)
    expect(areaOf(loops)).toBeCloseTo(40, 6)
    expect(Math.min(...(loops[0] ?? []).filter((_, i) => i % 2 === 0))).toBeCloseTo(3, 6)
  })

  test('ends where the line ends', () => {
    expect(areaOf(sectionOf(plate, [5, 0], [12, 0]).loops)).toBeCloseTo(14, 6)
  })

  test('at 45 degrees is longer by the root of two', () => {
    const { loops } = sectionOf(plate, [0, -10], [20, 10])
    // the line enters at y = -5 and leaves at y = 5: 10 across, 10 root 2 along
    expect(areaOf(loops)).toBeCloseTo(2 * 10 * Math.SQRT2, 4)
  })

  test.each([0, 3, 4.5])(
    'of a ball %s mm from its middle has the area of that circle to 0.3 percent',
    (off) => {
      const { loops } = sectionOf(ball(5), [-9, off], [9, off])
      const circle = Math.PI * (25 - off * off)
      expect(Math.abs(areaOf(loops) / circle - 1)).toBeLessThan(0.003)
    },
  )

  test('through corners of the mesh closes as any other', () => {
    // both poles and a whole meridian lie in this plane
    const { loops, problems } = sectionOf(ball(5), [-9, 0], [9, 0])
    expect(problems).toEqual([])
    expect(loops).toHaveLength(1)
  })

  test('of an open mesh says so', () => {
    const open = { ...plate, corners: plate.corners.slice(3) }
    const cuts = [-4.9, -2, 0, 2, 4.9].map((y) => sectionOf(open, [-3, y], [30, y]))
    expect(cuts.flatMap(({ problems }) => problems.map(({ kind }) => kind))).toContain('section-open')
  })

  test('beside the piece, or without length, says so', () => {
    expect(sectionOf(plate, [-3, 50], [30, 50]).problems[0]?.kind).toBe('section-empty')
    expect(sectionOf(plate, [1, 1], [1, 1]).problems[0]?.kind).toBe('section-without-length')
  })
})

describe('hatching', () => {
  test('covers its area: length of line times the distance apart is the area to 2 %', () => {
    const ring = [
      Float64Array.of(0, 0, 60, 0, 60, 30, 0, 30),
      Float64Array.of(20, 10, 20, 20, 40, 20, 40, 10),
    ]
    const lines = hatch(ring, 0.5)
    const long = lines.reduce(
      (sum, [ax = 0, ay = 0, bx = 0, by = 0]) => sum + Math.hypot(bx - ax, by - ay),
      0,
    )
    expect(Math.abs((long * 0.5) / (60 * 30 - 20 * 10) - 1)).toBeLessThan(0.02)
    for (const [ax = 0, ay = 0, bx = 0, by = 0] of lines) expect(by - ay).toBeCloseTo(bx - ax, 9)
  })
})

describe('heights worth writing', () => {
  test('of a stepped cut are its flats from left to right', () => {
    const stepped = Float64Array.of(0, 0, 20, 0, 20, 2.9, 16, 2.9, 16, 1.6, 4, 1.6, 4, 2.9, 0, 2.9)
    expect(stepsOf([stepped], 1).map(({ height_mm }) => height_mm)).toEqual([2.9, 1.6, 2.9])
  })

  test('of a dome is its summit', () => {
    const arch = Array.from({ length: 41 }, (_, i): [number, number] => [
      10 + 6 * Math.cos((Math.PI * i) / 40),
      1 + 1.5 * Math.sin((Math.PI * i) / 40),
    ])
    const cut = Float64Array.from([0, 0, 20, 0, 20, 1, ...arch.flat(), 0, 1])
    expect(stepsOf([cut], 1).map(({ height_mm }) => Number(height_mm.toFixed(2)))).toEqual([1, 2.5, 1])
  })

  test('leave out a floor that something hangs over', () => {
    const hook = Float64Array.of(0, 0, 20, 0, 20, 1, 10, 1, 10, 3, 20, 3, 20, 4, 0, 4)
    expect(stepsOf([hook], 1).map(({ height_mm }) => height_mm)).toEqual([4])
  })
})
