import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { regionOf } from '../../../../fixtures/drawings/regions.ts'
import { loadReliefSolids } from '../../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema, type RegionEdge } from '../../documents/index.ts'
import { buildBoxTree } from '../../piece/mesh/box-tree.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import { nearestOn } from '../../piece/mesh/nearest.ts'
import { triangleArea } from '../../piece/mesh/volume.ts'
import type { Loop, Region } from '../drawing.ts'
import { isInside, turned } from '../loops.ts'
import type { ReliefSolids } from '../solids.ts'
import { buildRelief, type Relief } from './index.ts'
import { ellipse, rectangle } from './loops.ts'
import { depthAt } from './profile.ts'

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

const build = (regions: readonly Region[], heights: Partial<HeightsInput>): Relief => {
  const relief = buildRelief(
    regions,
    heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3, ...heights }),
    solids,
  )
  expect(relief.closed).toBe(true)
  return relief
}

/** A plate cut by upright lines into strips, each of which a wavy line cuts in two: neighbours on all sides. */
const strips = (count: number, waves: readonly number[]): Region[] => {
  const [width, low, high] = [40 / count, 0, 20]
  return Array.from({ length: count }, (_, i) => {
    const [left, right] = [i * width, (i + 1) * width]
    const line = Array.from({ length: 9 }, (_, k) => [
      left + (width * k) / 8,
      10 + (waves[i % waves.length] ?? 0) * Math.sin((Math.PI * k) / 8),
    ])
    const back = [...line].reverse()
    return [
      regionOf(`low-${i}`, Float64Array.from([left, low, right, low, ...back.flat()])),
      regionOf(`high-${i}`, Float64Array.from([...line.flat(), right, high, left, high])),
    ]
  }).flat()
}

const edge = fc.oneof(
  fc.constant<RegionEdge>({ shape: 'square' }),
  fc.record({
    shape: fc.constantFrom('bevelled' as const, 'rounded' as const, 'domed' as const),
    width_mm: fc.double({ min: 0.1, max: 4, noNaN: true }),
    height_mm: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  }),
)
const height = fc.double({ min: 1, max: 5, noNaN: true })
const RUNS = { numRuns: 40 }

describe('a relief of neighbours', () => {
  test('is one closed body without slivers, whatever its edges, and holds what its regions hold', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }),
        fc.array(fc.double({ min: -4, max: 4, noNaN: true }), { minLength: 1, maxLength: 4 }),
        fc.array(fc.tuple(height, edge), { minLength: 3, maxLength: 5 }),
        (count, waves, kinds) => {
          const regions = strips(count, waves)
          const heights = Object.fromEntries(
            regions.map(({ id }, i) => {
              const [height_mm, edge] = kinds[i % kinds.length] as [number, RegionEdge]
              return [id, { role: 'raised' as const, height_mm, edge }]
            }),
          )
          const whole = build(regions, { regions: heights })
          expect(whole.problems.filter(({ level }) => level !== 'note')).toEqual([])
          const apart = regions.map((region) => build([region], { regions: heights }).volume_mm3)
          expect(whole.volume_mm3).toBeCloseTo(
            apart.reduce((a, b) => a + b, 0),
            2,
          )
          expect(needlesOf(whole.mesh)).toBe(0)
        },
      ),
      RUNS,
    )
  })

  test('has no wall left between neighbours of one height', () => {
    const whole = build(strips(4, [3, -2]), { blank_mm: 2.5 })
    // a slit would add its two sides to the surface of the plain plate
    expect(whole.area_mm2).toBeCloseTo(2 * 40 * 20 + 2 * (40 + 20) * 2.5, 3)
  })

  test('gains area times rise when a region is raised', () => {
    fc.assert(
      fc.property(height, fc.double({ min: 0.01, max: 3, noNaN: true }), edge, (height_mm, rise, edge) => {
        const leaf = ellipse([20, 10], 14, 8, 60)
        const regions = [regionOf('ground', rectangle(0, 0, 40, 20), [turned(leaf)]), regionOf('leaf', leaf)]
        const at = (height_mm: number): number =>
          build(regions, { regions: { leaf: { role: 'raised', height_mm, edge } } }).volume_mm3
        const gained = at(height_mm + rise) - at(height_mm)
        expect(Math.abs(gained - (regions[1] as Region).area_mm2 * rise)).toBeLessThan(1e-3)
      }),
      RUNS,
    )
  })

  test('weighs the same mirrored', () => {
    fc.assert(
      fc.property(fc.array(height, { minLength: 2, maxLength: 6 }), edge, (tall, edge) => {
        const regions = strips(3, [3, -2, 1])
        const mirrored = regions.map(({ id, outer }) =>
          regionOf(id, turned(outer.map((v, i) => (i % 2 ? v : -v)))),
        )
        const heights = Object.fromEntries(
          regions.map(({ id }, i) => [
            id,
            { role: 'raised' as const, height_mm: tall[i % tall.length] as number, edge },
          ]),
        )
        const [one, other] = [regions, mirrored].map((of) => build(of, { regions: heights }))
        expect(Math.abs((one as Relief).volume_mm3 / (other as Relief).volume_mm3 - 1)).toBeLessThan(1e-5)
        expect((one as Relief).rimArea_mm2).toBeCloseTo((other as Relief).rimArea_mm2, 6)
      }),
      RUNS,
    )
  })
})

/** Triangles without area, or with a side too short to be one. */
const needlesOf = ({ positions, corners }: TriangleMesh): number => {
  let needles = 0
  for (let t = 0; t < corners.length; t += 3) {
    const area = triangleArea(positions, corners, t)
    const sides = [0, 1, 2].map((k) => {
      const [a, b] = [(corners[t + k] as number) * 3, (corners[t + ((k + 1) % 3)] as number) * 3]
      return Math.hypot(
        (positions[a] as number) - (positions[b] as number),
        (positions[a + 1] as number) - (positions[b + 1] as number),
        (positions[a + 2] as number) - (positions[b + 2] as number),
      )
    })
    if (Math.min(...sides) < 1e-5 || !(area > 0)) needles += 1
  }
  return needles
}

describe('an edge', () => {
  // a comb with inward corners, whose teeth run out before the width asked: distance is what decides. Where a
  // tooth's ridge lies between two rings it is cut off flat, which is most of what is allowed here.
  const comb = Float64Array.from([
    0, 0, 20, 0, 20, 10, 16, 10, 15, 4, 12, 4, 12, 10, 8, 10, 8, 4, 4, 4, 4, 10, 0, 10,
  ])

  test.each(['bevelled', 'rounded', 'domed'] as const)(
    'that is %s follows the true distance from the outline, summed on a fine grid',
    (shape) => {
      const edge = { shape, width_mm: 2.2, height_mm: 1.5 }
      const got = build([regionOf('comb', comb)], {
        regions: { comb: { role: 'raised', height_mm: 3, edge } },
      })
      expect(Math.abs(got.volume_mm3 / summed(comb, 3, edge) - 1)).toBeLessThan(2e-3)
    },
  )
})

const STEP = 0.04
const summed = (loop: Loop, height_mm: number, edge: RegionEdge): number => {
  let volume = 0
  for (let x = STEP / 2; x < 20; x += STEP)
    for (let y = STEP / 2; y < 10; y += STEP)
      if (isInside([loop], x, y)) volume += (height_mm - depthAt(edge, distanceFrom(loop, x, y))) * STEP ** 2
  return volume
}
const distanceFrom = (loop: Loop, x: number, y: number): number => {
  let least = Infinity
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length
    const [ax, ay] = [loop[i] as number, loop[i + 1] as number]
    const [dx, dy] = [(loop[j] as number) - ax, (loop[j + 1] as number) - ay]
    const along = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)))
    least = Math.min(least, Math.hypot(x - ax - along * dx, y - ay - along * dy))
  }
  return least
}

describe('a hollowed back', () => {
  const wall_mm = 1
  const leaf = ellipse([20, 12], 18, 12, 90)
  const regions = [regionOf('ground', rectangle(0, 0, 40, 24), [turned(leaf)]), regionOf('leaf', leaf)]
  const shapes: Record<string, RegionEdge> = {
    'stepped front': { shape: 'square' },
    'domed front': { shape: 'domed', width_mm: 5, height_mm: 1.5 },
    'bevelled front': { shape: 'bevelled', width_mm: 3, height_mm: 2 },
  }

  test.each(Object.entries(shapes))(
    'keeps its wall under a %s to within 0.1 below and 0.2 above',
    (_name, edge) => {
      const standing = {
        ground: { role: 'ground' as const, height_mm: 2.5 },
        leaf: { role: 'raised' as const, height_mm: 5, edge },
      }
      const whole = build(regions, { regions: standing })
      const hollow = build(regions, { regions: standing, back: { shape: 'hollow', wall_mm } })
      const front = withoutBack(whole.mesh)
      const surface = { mesh: front, tree: buildBoxTree(front), visits: 0 }
      const walls: number[] = []
      for (const place of middlesOf(hollow.mesh)) {
        const wall = nearestOn(surface, place)?.distance ?? 0
        if (wall > 0.3 * wall_mm && place[2] > 0.01) walls.push(wall)
      }
      expect(walls.length).toBeGreaterThan(50)
      expect(Math.min(...walls)).toBeGreaterThan(wall_mm - 0.1)
      walls.sort((a, b) => a - b)
      expect(walls[Math.floor(walls.length * 0.95)]).toBeLessThan(wall_mm + 0.2)
    },
  )
})

describe('a hollow', () => {
  const [R, h, w] = [12, 4, 1]
  const disc = [regionOf('disc', ellipse([0, 0], 2 * R, 2 * R, 240))]
  const edge = { shape: 'bevelled', width_mm: h, height_mm: h } as const
  const taken = (regions: readonly Region[], more: Partial<HeightsInput> = {}): number => {
    const back = { shape: 'hollow', wall_mm: w } as const
    return (
      build(regions, { blank_mm: h, ...more }).volume_mm3 -
      build(regions, { blank_mm: h, ...more, back }).volume_mm3
    )
  }

  // By hand: what lies w inside a block or a drum is a smaller one; inside a cone of 45 degrees, w times the root
  // of two nearer its axis at each height, cut off w below its top.
  test('takes the smaller block out of a block', () => {
    expect(Math.abs(taken([regionOf('block', rectangle(0, 0, 30, 20))]) / (28 * 18 * 3) - 1)).toBeLessThan(
      2e-3,
    )
  })

  test('takes the smaller drum out of a drum', () => {
    expect(Math.abs(taken(disc) / (Math.PI * (R - w) ** 2 * (h - w)) - 1)).toBeLessThan(5e-3)
  })

  test('takes the nearer cone out of a cone', () => {
    const [low, high] = [R - w * Math.SQRT2, R - w * Math.SQRT2 - (h - w)]
    const room = (Math.PI * (low ** 3 - high ** 3)) / 3
    const got = taken(disc, { regions: { disc: { role: 'raised', height_mm: h, edge } } })
    expect(Math.abs(got / room - 1)).toBeLessThan(1e-2)
  })
})

const withoutBack = ({ positions, corners }: TriangleMesh): TriangleMesh => {
  const kept: number[] = []
  for (let t = 0; t < corners.length; t += 3) {
    const own = [0, 1, 2].map((k) => corners[t + k] as number)
    if (own.some((point) => (positions[point * 3 + 2] as number) > 1e-6)) kept.push(...own)
  }
  return { positions, corners: Uint32Array.from(kept) }
}
const middlesOf = ({ positions, corners }: TriangleMesh): [number, number, number][] =>
  Array.from({ length: corners.length / 3 }, (_, t) => {
    const own = [0, 1, 2].map((k) => (corners[t * 3 + k] as number) * 3)
    return [0, 1, 2].map((axis) =>
      own.reduce((sum, at) => sum + (positions[at + axis] as number) / 3, 0),
    ) as [number, number, number]
  })
