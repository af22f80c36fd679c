import { areaPathsD, differenceD, FillRule, type PathsD, unionD } from 'clipper2-ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Mark } from '../src/engine/pattern/drawing.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'

// Regions held against closed forms, and against a polygon library that has no part in finding them.

const COLOURS = ['black', 'red', 'white'] as const
type Points = readonly (readonly [number, number])[]
const run = (points: Points, closed = true) => ({ points: Float64Array.from(points.flat()), closed })
const fill = (id: string, colour: string, ...loops: Points[]): Mark => ({
  id,
  runs: loops.map((loop) => run(loop)),
  fill: { rule: 'nonzero', colour },
  line: false,
})
const line = (id: string, points: Points, closed = true): Mark => ({
  id,
  runs: [run(points, closed)],
  line: true,
})
const curve = (count: number, at: (angle: number) => readonly [number, number]): Points =>
  Array.from({ length: count }, (_, n) => at((2 * Math.PI * n) / count))
const circle = (x: number, y: number, r: number): Points =>
  curve(4000, (angle) => [x + r * Math.cos(angle), y + r * Math.sin(angle)])
const areas = (marks: readonly Mark[]): number[] =>
  findRegions(marks)
    .regions.map(({ area_mm2 }) => area_mm2)
    .sort((a, b) => b - a)
const total = (marks: readonly Mark[]): number => areas(marks).reduce((sum, area) => sum + area, 0)

describe('faces with areas in closed form', () => {
  it('divides two overlapping circles into two crescents and their lens', () => {
    // Two circles of radius r, middles d apart: 2 r^2 acos(d / 2r) - (d / 2) sqrt(4 r^2 - d^2); MathWorld, Lens.
    const [r, d] = [12, 15]
    const lens = 2 * r * r * Math.acos(d / (2 * r)) - (d / 2) * Math.sqrt(4 * r * r - d * d)
    const found = areas([line('a', circle(0, 0, r)), line('b', circle(d, 0, r))])
    const want = [Math.PI * r * r - lens, Math.PI * r * r - lens, lens]
    expect(found).toHaveLength(3)
    found.forEach((area, n) => {
      expect(Math.abs(area - (want[n] as number))).toBeLessThan(0.01)
    })
  })

  it('divides three circles through one another’s middles into seven faces with the constant-width triangle amid', () => {
    const r = 10
    const middles = [0, 1, 2].map((n) => [
      (r / Math.sqrt(3)) * Math.cos((2 * Math.PI * n) / 3),
      (r / Math.sqrt(3)) * Math.sin((2 * Math.PI * n) / 3),
    ]) as [number, number][]
    const found = findRegions(middles.map(([x, y], n) => line(`c${n}`, circle(x, y, r)))).regions
    expect(found).toHaveLength(7)
    // Reuleaux: (pi - sqrt 3) r^2 / 2 for the face that holds the common middle.
    const amid = found.find(({ at_mm: [x, y] }) => Math.hypot(x, y) < 1)
    expect(amid?.area_mm2).toBeCloseTo(((Math.PI - Math.sqrt(3)) * r * r) / 2, 2)
  })

  it.each([
    // MathWorld, Cardioid: r = 2 a (1 - cos t) has area 6 pi a^2 and length 16 a.
    [
      'a cardioid',
      (t: number) => [10 * (1 - Math.cos(t)) * Math.cos(t), 10 * (1 - Math.cos(t)) * Math.sin(t)],
      150 * Math.PI,
      80,
    ],
    // MathWorld, Astroid: x = a cos^3 t, y = a sin^3 t has area 3 pi a^2 / 8 and length 6 a.
    ['an astroid', (t: number) => [20 * Math.cos(t) ** 3, 20 * Math.sin(t) ** 3], 150 * Math.PI, 120],
  ] as const)('measures %s', (_, at, area, length) => {
    const [region] = findRegions([
      line(
        'a',
        curve(20_000, (t) => at(t) as [number, number]),
      ),
    ]).regions
    expect(Math.abs((region?.area_mm2 ?? Number.NaN) - area)).toBeLessThan(0.01)
    expect(Math.abs((region?.perimeter_mm ?? Number.NaN) - length)).toBeLessThan(0.05)
  })

  it('counts the faces of n lines across a circle as 1 + n + crossings (Steiner, 1826)', () => {
    const chords = 14
    const marks = Array.from({ length: chords }, (_, n): Mark => {
      // Each pair of these meets inside, no three in one place.
      const angle = (Math.PI * n) / chords
      const off = 1 + n * n * 0.05
      const [c, s] = [Math.cos(angle), Math.sin(angle)]
      return line(
        `l${n}`,
        [
          [-60 * c - off * s, -60 * s + off * c],
          [60 * c - off * s, 60 * s + off * c],
        ],
        false,
      )
    })
    const found = findRegions([line('rim', circle(0, 0, 50)), ...marks]).regions
    let crossings = 0
    marks.forEach((one, n) => {
      for (const other of marks.slice(n + 1)) if (meetInside(one, other)) crossings += 1
    })
    expect(found).toHaveLength(1 + chords + crossings)
  })
})

const meetInside = (a: Mark, b: Mark): boolean => {
  const [x1, y1, x2, y2] = [...(a.runs[0]?.points ?? [])] as unknown as [number, number, number, number]
  const [x3, y3, x4, y4] = [...(b.runs[0]?.points ?? [])] as unknown as [number, number, number, number]
  const below = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
  const t = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / below
  return Math.hypot(x1 + t * (x2 - x1), y1 + t * (y2 - y1)) < 50
}

const corner = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 400 }))
const loop = fc
  .array(corner, { minLength: 3, maxLength: 7 })
  .map((points): Points => points.map(([x, y]) => [x / 10, y / 10]))
const loops = fc.array(fc.tuple(loop, fc.constantFrom(...COLOURS)), { minLength: 1, maxLength: 8 })
const marksOf = (drawn: readonly (readonly [Points, string])[]): Mark[] =>
  drawn.map(([points, colour], n) => fill(`m${n}`, colour, points))
/** Each fill made to run anticlockwise by itself, so that two that run against one another do not cancel. */
const paths = (...all: readonly Points[]): PathsD =>
  all.flatMap((points) => unionD([points.map(([x, y]) => ({ x, y }))], [], FillRule.NonZero, 6))
/** Slivers are dropped one by one; a drawing of this size may lose some. */
const LOST_MM2 = 0.15

describe('laws', () => {
  it('adds the faces up to the union of all fills, as another library finds it', () => {
    fc.assert(
      fc.property(loops, (drawn) => {
        const union = unionD(paths(...drawn.map(([points]) => points)), [], FillRule.NonZero, 6)
        expect(Math.abs(total(marksOf(drawn)) - areaPathsD(union))).toBeLessThan(LOST_MM2)
      }),
      { numRuns: 150 },
    )
  })

  it('leaves of each fill what the later ones leave, as another library finds it', () => {
    fc.assert(
      fc.property(loops, (drawn) => {
        // A colour of its own for each keeps neighbours apart.
        const marks = drawn.map(([points], n) => fill(`m${n}`, `colour ${n}`, points))
        const { regions } = findRegions(marks)
        drawn.forEach(([points], n) => {
          const own = paths(points)
          const later = paths(...drawn.slice(n + 1).map(([one]) => one))
          const left = later.length === 0 ? own : differenceD(own, later, FillRule.NonZero, 6)
          const found = regions.filter(({ id }) => id === `m${n}` || id.startsWith(`m${n}/`))
          const sum = found.reduce((all, { area_mm2 }) => all + area_mm2, 0)
          expect(Math.abs(sum - areaPathsD(left))).toBeLessThan(LOST_MM2)
        })
      }),
      { numRuns: 100 },
    )
  })

  it('gives disjoint faces with each number in its own face and out of the others', () => {
    fc.assert(
      fc.property(loops, (drawn) => {
        const marks = drawn.map(
          ([points], n): Mark => ({ ...fill(`m${n}`, 'red', points), line: n % 2 === 0 }),
        )
        const { regions } = findRegions(marks)
        for (const { at_mm, id } of regions)
          for (const other of regions)
            expect(Math.abs(windingOf([other.outer, ...other.holes], at_mm))).toBe(other.id === id ? 1 : 0)
        expect(new Set(regions.map(({ id }) => id)).size).toBe(regions.length)
      }),
      { numRuns: 100 },
    )
  })

  it('keeps areas under a turn and a shift, and grows them by the square of the scale', () => {
    fc.assert(
      fc.property(
        loops,
        fc.double({ min: 0.3, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 7, noNaN: true }),
        fc.integer({ min: -900, max: 900 }),
        (drawn, scale, angle, away) => {
          const [c, s] = [scale * Math.cos(angle), scale * Math.sin(angle)]
          const turned = drawn.map(([points, colour]): readonly [Points, string] => [
            points.map(([x, y]) => [c * x - s * y + away, s * x + c * y - away]),
            colour,
          ])
          const lost = LOST_MM2 * Math.max(1, scale * scale)
          expect(Math.abs(total(marksOf(turned)) - scale * scale * total(marksOf(drawn)))).toBeLessThan(lost)
        },
      ),
      { numRuns: 100 },
    )
  })

  it('does not depend on where a loop begins or which way it runs', () => {
    fc.assert(
      fc.property(loops, fc.nat(6), (drawn, first) => {
        const other = drawn.map(([points, colour]): readonly [Points, string] => {
          const at = first % points.length
          return [[...points.slice(at), ...points.slice(0, at)].reverse(), colour]
        })
        const [a, b] = [findRegions(marksOf(drawn)), findRegions(marksOf(other))]
        expect(b.regions.map(({ id }) => id).sort()).toEqual(a.regions.map(({ id }) => id).sort())
        for (const { id, area_mm2 } of a.regions)
          expect(
            Math.abs((b.regions.find((one) => one.id === id)?.area_mm2 ?? Number.NaN) - area_mm2),
          ).toBeLessThan(0.01)
      }),
      { numRuns: 100 },
    )
  })
})

/** How often loops wind round a place, by the angle they sweep. */
const windingOf = (all: readonly Float64Array[], [x, y]: readonly [number, number]): number => {
  let swept = 0
  for (const points of all)
    for (let i = 0; i < points.length; i += 2) {
      const j = (i + 2) % points.length
      const [ax, ay] = [(points[i] ?? Number.NaN) - x, (points[i + 1] ?? Number.NaN) - y]
      const [bx, by] = [(points[j] ?? Number.NaN) - x, (points[j + 1] ?? Number.NaN) - y]
      swept += Math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    }
  return Math.round(swept / (2 * Math.PI))
}
