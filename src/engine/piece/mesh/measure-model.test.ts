import { describe, expect, test } from 'vitest'
import {
  box,
  cube,
  flipped,
  mapped,
  oval,
  type Shape,
  together,
  torus,
  without,
} from '../../../../fixtures/meshes/shapes.ts'
import { ply, stlBinary, stlText } from '../../../../fixtures/meshes/write.ts'
import { loadSolids } from '../../../solids/manifold.ts'
import { measureModel } from './index.ts'

const solids = await loadSolids()
const measure = (shape: Shape, acceptRepair = false) =>
  measureModel(stlBinary(shape), 'part.stl', { solids, acceptRepair })
const kinds = (m: { problems: { kind: string }[] }): string[] => m.problems.map((p) => p.kind)
const stops = (m: { problems: { kind: string; level: string }[] }): string[] =>
  m.problems.filter((p) => p.level === 'stop').map((p) => p.kind)

describe('sound solids', () => {
  test('a cube of side 10 is 1000 mm3, closed, one shell, with only the unit to say', () => {
    const m = measure(cube(10))
    expect(m).toMatchObject({ closed: true, shells: 1, units: 'mm', unitsAssumed: true, triangles: 12 })
    expect(m.volume_mm3).toBeCloseTo(1000, 9)
    expect(m.area_mm2).toBeCloseTo(600, 9)
    expect(m.bounds_mm).toEqual({ min: [0, 0, 0], max: [10, 10, 10] })
    expect(m.modulus_mm).toBeCloseTo(10 / 6, 9)
    expect(kinds(m)).toEqual(['units-assumed'])
    expect(m.thickness_mm?.p05).toBeGreaterThan(9.5)
    expect(m.thickness_mm?.p95).toBeLessThan(10.1)
  })

  test('a plate 3 mm thick is found to be 3 mm thick all over, rim and all', () => {
    const m = measure(box(40, 60, 3))
    expect(m.thickness_mm?.p05).toBeCloseTo(3, 5)
    expect(m.thickness_mm?.p95).toBeCloseTo(3, 5)
  })

  test('text and binary give the same', () => {
    const shape = torus(20, 5, 48, 24)
    const text = measureModel(stlText(shape), 'a.stl', {})
    const binary = measureModel(stlBinary(shape), 'a.stl', {})
    expect(text.closed && binary.closed).toBe(true)
    expect(text.volume_mm3! / binary.volume_mm3!).toBeCloseTo(1, 6)
  })

  test('inches are taken where asked for', () => {
    const m = measureModel(stlBinary(cube(1)), 'a.stl', { units: 'in' })
    expect(m.volume_mm3).toBeCloseTo(25.4 ** 3, 6)
    expect(m).toMatchObject({ units: 'in', unitsAssumed: false, problems: [] })
  })
})

describe('faulty surfaces', () => {
  test('an open cube has no volume until the repair shown is accepted', () => {
    const open = measure(without(cube(10), 3))
    expect(open).toMatchObject({ closed: false, volume_mm3: null, area_mm2: null })
    expect(stops(open)).toEqual(['open'])
    expect(open.repair).toMatchObject({ accepted: false, flippedTriangles: 0 })
    expect(open.repair?.volume_mm3).toBeCloseTo(1000, 9)
    expect(open.repair?.patchArea_mm2).toBeCloseTo(50, 9)
    const mended = measure(without(cube(10), 3), true)
    expect(mended.volume_mm3).toBeCloseTo(1000, 9)
    expect(stops(mended)).toEqual([])
    expect(kinds(mended)).toContain('repaired')
  })

  test('a cube without two triangles of one face is closed by two flat triangles', () => {
    const m = measure(without(cube(10), 2, 3))
    expect(m.repair?.patch.corners.length).toBe(6)
    expect(m.repair?.volume_mm3).toBeCloseTo(1000, 9)
  })

  test('one flipped triangle is found and turned only with leave', () => {
    const one = cube(10)
    one.corners.splice(0, 3, one.corners[0]!, one.corners[2]!, one.corners[1]!)
    const m = measure(one)
    expect(m).toMatchObject({ closed: false, volume_mm3: null })
    expect(stops(m)).toEqual(['partly-flipped'])
    expect(m.repair).toMatchObject({ flippedTriangles: 1 })
    expect(measure(one, true).volume_mm3).toBeCloseTo(1000, 9)
  })

  test('a wholly inverted cube is measured, positive, and said to be so', () => {
    const m = measure(flipped(cube(10)))
    expect(m.closed).toBe(true)
    expect(m.volume_mm3).toBeCloseTo(1000, 9)
    expect(kinds(m)).toContain('inverted')
    expect(stops(m)).toEqual([])
  })

  test('a doubled triangle is dropped only with leave', () => {
    const doubled = cube(10)
    doubled.corners.push(...doubled.corners.slice(0, 3))
    const m = measure(doubled)
    expect(m.volume_mm3).toBeNull()
    expect(stops(m)).toEqual(['tangled-edges'])
    expect(m.repair?.volume_mm3).toBeCloseTo(1000, 9)
  })

  test('a lopsided bow-tie prism, whose walls pass through each other, is not measured', () => {
    const below = [
      [0, 0, 0],
      [10, 10, 0],
      [10, 2, 0],
      [0, 16, 0],
    ] as const
    const points = [...below, ...below.map(([x, y]) => [x, y, 5])].flat()
    const corners = [0, 1, 2, 3].flatMap((j) => {
      const k = (j + 1) % 4
      return [j, k, 4 + k, j, 4 + k, 4 + j]
    })
    corners.push(0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7)
    const m = measure({ positions: points, corners }, true)
    expect(m).toMatchObject({ closed: true, volume_mm3: null, repair: null })
    expect(stops(m)).toEqual(['self-crossing'])
  })

  test('a symmetric bow-tie prism, whose halves cancel, encloses nothing', () => {
    const below = [
      [0, 0, 0],
      [10, 10, 0],
      [10, 0, 0],
      [0, 10, 0],
    ] as const
    const points = [...below, ...below.map(([x, y]) => [x, y, 5])].flat()
    const corners = [0, 1, 2, 3].flatMap((j) => {
      const k = (j + 1) % 4
      return [j, k, 4 + k, j, 4 + k, 4 + j]
    })
    corners.push(0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7)
    expect(measure({ positions: points, corners }, true).volume_mm3).toBeNull()
  })

  test('a tube bent into a figure of eight passes through itself', () => {
    const eight = mapped(torus(20, 3, 96, 16), (x, y, z) => {
      const turn = Math.atan2(y, x)
      const out = Math.hypot(x, y) - 20
      const along = [-20 * Math.sin(turn), 24 * Math.cos(2 * turn)] as const
      const size = Math.hypot(...along)
      return [
        20 * Math.cos(turn) + (out * along[1]) / size,
        12 * Math.sin(2 * turn) - (out * along[0]) / size,
        z,
      ]
    })
    const m = measure(eight)
    expect(m).toMatchObject({ closed: true, volume_mm3: null })
    expect(stops(m)).toEqual(['self-crossing'])
  })

  test('a ring wound twice round itself, flush everywhere, is not weighed twice', () => {
    const twice = mapped(torus(20, 5, 48, 12), (x, y, z) => {
      const turn = 2 * Math.atan2(y, x)
      const out = Math.hypot(x, y)
      return [out * Math.cos(turn), out * Math.sin(turn), z].map((v) => Math.round(v * 1e6) / 1e6)
    })
    const once = measure(torus(20, 5, 24, 12)).volume_mm3!
    const m = measure(twice)
    expect(m.volume_mm3! / once).toBeCloseTo(1, 4)
    expect(kinds(m)).toContain('overlapping-shells')
  })

  test('a ring wound twice round with its stations staggered is found to enclose its metal twice', () => {
    const twice = mapped(torus(20, 5, 49, 12), (x, y, z) => {
      const turn = 2 * Math.atan2(y, x)
      const out = Math.hypot(x, y)
      return [out * Math.cos(turn), out * Math.sin(turn), z]
    })
    const m = measure(twice)
    expect(m).toMatchObject({ closed: true, volume_mm3: null })
    expect(stops(m)).toEqual(['self-crossing'])
  })

  test('a corner dragged through the far side is found', () => {
    const dented = cube(10)
    dented.positions.splice(21, 3, 4, 3, -4)
    expect(stops(measure(dented))).toEqual(['self-crossing'])
  })
})

describe('several shells', () => {
  test('two cubes overlapping at a corner are measured as their union', () => {
    const m = measure(together(cube(10), cube(10, [5, 5, 5])))
    expect(m.volume_mm3).toBeCloseTo(1875, 3)
    expect(kinds(m)).toContain('overlapping-shells')
    expect(m.closed).toBe(true)
  })

  test('two boxes that overlap with flush sides are measured as their union', () => {
    const m = measure(together(cube(10), cube(10, [5, 0, 0])))
    expect(m.volume_mm3).toBeCloseTo(1500, 3)
    expect(kinds(m)).toContain('overlapping-shells')
  })

  test('a body written twice counts once', () => {
    const m = measure(together(cube(10), cube(10)))
    expect(m.volume_mm3).toBeCloseTo(1000, 3)
    expect(kinds(m)).toContain('overlapping-shells')
  })

  test('without a solid modeller an overlap is said not to be measurable', () => {
    const m = measureModel(stlBinary(together(cube(10), cube(10, [5, 5, 5]))), 'a.stl')
    expect(m.volume_mm3).toBeNull()
    expect(stops(m)).toEqual(['overlapping-shells'])
  })

  test('separate bodies add up without remark', () => {
    const m = measure(together(cube(10), cube(5, [20, 0, 0])))
    expect(m.volume_mm3).toBeCloseTo(1125, 9)
    expect(kinds(m)).toEqual(['units-assumed'])
    expect(m.shells).toBe(2)
  })

  test('bodies that share a face or an edge are two bodies that touch', () => {
    for (const at of [
      [10, 0, 0],
      [10, 10, 0],
    ]) {
      const m = measure(together(cube(10), cube(10, at)))
      expect(m.volume_mm3).toBeCloseTo(2000, 3)
      expect(m.closed).toBe(true)
      expect(kinds(m)).toContain('edges-shared-by-many')
    }
  })

  test('bodies that overlap and share an edge come apart along it', () => {
    const m = measure(together(box(10, 10, 10), box(10, 5, 20)))
    expect(m.shells).toBe(2)
    expect(m.volume_mm3).toBeCloseTo(1500, 3)
  })

  test('a hollow is taken off and said', () => {
    const m = measure(together(cube(10), flipped(cube(4, [3, 3, 3]))))
    expect(m.volume_mm3).toBeCloseTo(1000 - 64, 9)
    expect(m.area_mm2).toBeCloseTo(600 + 96, 9)
    expect(kinds(m)).toContain('cavity')
  })

  test('a body within a body counts once', () => {
    const m = measure(together(cube(10), cube(4, [3, 3, 3])))
    expect(m.volume_mm3).toBeCloseTo(1000, 9)
    expect(m.area_mm2).toBeCloseTo(600, 9)
    expect(kinds(m)).toContain('overlapping-shells')
  })

  test('a loose ball within a hollow adds up again', () => {
    const m = measure(together(cube(10), flipped(cube(6, [2, 2, 2])), cube(2, [4, 4, 4])))
    expect(m.volume_mm3).toBeCloseTo(1000 - 216 + 8, 9)
  })

  test('a hollow part wholly inside out is turned with its hollow', () => {
    const m = measure(flipped(together(cube(10), flipped(cube(4, [3, 3, 3])))))
    expect(m.volume_mm3).toBeCloseTo(936, 9)
    expect(kinds(m)).toContain('inverted')
  })

  test('a hollow body that overlaps another keeps its hollow in the union', () => {
    const m = measure(together(cube(10), flipped(cube(2, [1, 1, 1])), cube(10, [5, 5, 5])))
    expect(m.volume_mm3).toBeCloseTo(1875 - 8, 3)
  })

  test('an inward shell that crosses an outward one is not guessed at', () => {
    const m = measure(together(cube(10), flipped(cube(10, [5, 5, 5]))))
    expect(m.volume_mm3).toBeNull()
    expect(stops(m)).toEqual(['overlapping-shells'])
  })
})

describe('sizes and nothing at all', () => {
  test('a part of one inch read as millimetres is doubted, so is one of a metre', () => {
    expect(kinds(measure(cube(1)))).toContain('size-doubtful')
    expect(kinds(measure(cube(1000)))).toContain('size-doubtful')
    expect(kinds(measure(cube(25)))).toEqual(['units-assumed'])
  })

  test('triangles that are all one point enclose nothing and are not closed', () => {
    const m = measureModel(stlBinary({ positions: [1, 1, 1], corners: [0, 0, 0, 0, 0, 0] }), 'a.stl')
    expect(m).toMatchObject({ closed: false, volume_mm3: null })
    expect(stops(m)).toEqual(['no-volume'])
  })

  test('a single triangle is open and cannot be mended into a solid', () => {
    const m = measure({ positions: [0, 0, 0, 10, 0, 0, 0, 10, 0], corners: [0, 1, 2] }, true)
    expect(m).toMatchObject({ closed: false, volume_mm3: null, repair: null })
  })

  test('corners apart by rounding are joined and said, within a millionth of the size', () => {
    const loose: Shape = { positions: [], corners: [] }
    const whole = cube(10)
    whole.corners.forEach((corner, i) => {
      const off = ((i * 7919) % 11) * 1e-7
      for (let axis = 0; axis < 3; axis++) loose.positions.push(whole.positions[corner * 3 + axis]! + off)
      loose.corners.push(i)
    })
    const m = measureModel(ply(loose, 'little'), 'a.ply')
    expect(m.closed).toBe(true)
    expect(m.volume_mm3).toBeCloseTo(1000, 3)
    expect(kinds(m)).toContain('corners-joined')
  })

  test('corners a thousandth apart are a repair to accept', () => {
    const loose: Shape = { positions: [], corners: [] }
    const whole = cube(10)
    whole.corners.forEach((corner, i) => {
      const off = ((i * 7919) % 11) * 1e-5
      for (let axis = 0; axis < 3; axis++) loose.positions.push(whole.positions[corner * 3 + axis]! + off)
      loose.corners.push(i)
    })
    const m = measureModel(ply(loose, 'little'), 'a.ply')
    expect(m).toMatchObject({ closed: false, volume_mm3: null })
    expect(m.repair?.joinedWithin_mm).toBeGreaterThan(1e-4)
    expect(m.repair?.volume_mm3).toBeCloseTo(1000, 1)
  })
})

describe('hostile sizes', () => {
  // The test runner's own limit of a minute is what these would run into, were something quadratic.
  test('a hundred thousand triangles round one point are measured, not waited for', () => {
    const n = 50_000
    const ring = oval(10, 10, 0, n)
    const positions = [...ring.flat(), 0, 0, 5, 0, 0, -5]
    const corners = Array.from({ length: n }, (_, j) => [j, (j + 1) % n, n, (j + 1) % n, j, n + 1]).flat()
    const m = measure({ positions, corners })
    expect(m.closed).toBe(true)
    expect(m.volume_mm3).toBeCloseTo((Math.PI * 100 * 10) / 3, 1)
  })

  test('twenty thousand separate shells add up, inward ones among them', () => {
    const shapes = Array.from({ length: 20_000 }, (_, i) => {
      const one = cube(1, [(i % 30) * 2, (Math.floor(i / 30) % 30) * 2, Math.floor(i / 900) * 2])
      return i % 2 ? flipped(one) : one
    })
    const m = measure(together(...shapes))
    expect(m.shells).toBe(20_000)
    expect(m.volume_mm3).toBeCloseTo(20_000, 6)
    expect(kinds(m)).toContain('inverted')
  })

  test('fifty thousand loose triangles are open, with no repair', () => {
    const positions: number[] = []
    const corners: number[] = []
    for (let i = 0; i < 50_000; i++) {
      positions.push(i % 100, 0, i / 100, (i % 100) + 0.5, 0, i / 100, i % 100, 1, i / 100)
      corners.push(i * 3, i * 3 + 1, i * 3 + 2)
    }
    const m = measure({ positions, corners })
    expect(m).toMatchObject({ closed: false, volume_mm3: null, repair: null })
  })
})
