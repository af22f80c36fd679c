import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { samples } from '../../../../fixtures/meshes/samples.ts'
import {
  box,
  flipped,
  globe,
  icosahedron,
  mapped,
  type Shape,
  together,
  torus,
  without,
} from '../../../../fixtures/meshes/shapes.ts'
import { obj, ply, stlBinary } from '../../../../fixtures/meshes/write.ts'
import { areaOf, measureModel, readModel, type TriangleMesh, volumeOf } from './index.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const near = (got: number, want: number, relative: number): void =>
  expect(Math.abs(got - want), `${got} against ${want}`).toBeLessThanOrEqual(relative * Math.abs(want))

const side = fc.double({ min: 0.5, max: 60, noNaN: true })
const turn = fc.double({ min: -3, max: 3, noNaN: true })
const shift = fc.double({ min: -1000, max: 1000, noNaN: true })
const solid: fc.Arbitrary<Shape> = fc.oneof(
  fc.tuple(side, side, side).map(([a, b, c]) => box(a, b, c)),
  side.map((a) => icosahedron(a)),
  fc
    .tuple(side, fc.integer({ min: 4, max: 10 }), fc.integer({ min: 5, max: 14 }))
    .map(([r, n, m]) => globe(r, n, m)),
  fc
    .tuple(side, fc.double({ min: 0.1, max: 0.8, noNaN: true }))
    .map(([r, share]) => torus(r, r * share, 12, 7)),
)

/** A permutation of the triangles and of their three corners, and of the points, from a seed. */
function shuffled({ positions, corners }: Shape, seed: number): Shape {
  let state = seed >>> 0
  const next = (n: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * n)
  }
  const order = Array.from({ length: positions.length / 3 }, (_, i) => i)
  const triangles = Array.from({ length: corners.length / 3 }, (_, i) => i)
  for (const list of [order, triangles])
    for (let i = list.length - 1; i > 0; i--) {
      const j = next(i + 1)
      ;[list[i], list[j]] = [list[j]!, list[i]!]
    }
  const place = new Map(order.map((from, to) => [from, to]))
  return {
    positions: order.flatMap((p) => positions.slice(p * 3, p * 3 + 3)),
    corners: triangles.flatMap((t) => {
      const start = next(3)
      return [0, 1, 2].map((k) => place.get(corners[t * 3 + ((k + start) % 3)]!)!)
    }),
  }
}

describe('laws of volume and surface', () => {
  test('scaling by s takes volume by s cubed and surface by s squared', () => {
    fc.assert(
      fc.property(solid, fc.double({ min: 0.01, max: 100, noNaN: true }), (shape, s) => {
        const scaled = mapped(shape, (x, y, z) => [x * s, y * s, z * s])
        near(volumeOf(meshOf(scaled)), volumeOf(meshOf(shape)) * s ** 3, 1e-11)
        near(areaOf(meshOf(scaled)), areaOf(meshOf(shape)) * s ** 2, 1e-11)
      }),
    )
  })

  test('turning and carrying a solid leaves volume and surface as they were', () => {
    fc.assert(
      fc.property(solid, turn, turn, shift, shift, (shape, a, b, dx, dy) => {
        const moved = mapped(shape, (x, y, z) => {
          const x1 = x * Math.cos(a) - y * Math.sin(a)
          const y1 = x * Math.sin(a) + y * Math.cos(a)
          return [x1 * Math.cos(b) + z * Math.sin(b) + dx, y1 + dy, z * Math.cos(b) - x1 * Math.sin(b)]
        })
        // Carried a metre away a coordinate keeps 1e-13 mm; a small part's volume loses that over its size.
        near(volumeOf(meshOf(moved)), volumeOf(meshOf(shape)), 1e-10)
        near(areaOf(meshOf(moved)), areaOf(meshOf(shape)), 1e-10)
      }),
    )
  })

  test('mirroring or flipping changes the sign of the volume and nothing else', () => {
    fc.assert(
      fc.property(solid, (shape) => {
        const mirror = mapped(shape, (x, y, z) => [-x, y, z])
        near(volumeOf(meshOf(mirror)), -volumeOf(meshOf(shape)), 1e-12)
        near(volumeOf(meshOf(flipped(shape))), -volumeOf(meshOf(shape)), 1e-12)
      }),
    )
  })

  test('the order of triangles, corners and points does not matter to any answer', () => {
    fc.assert(
      fc.property(solid, fc.integer(), (shape, seed) => {
        const a = measureModel(ply(shape, 'little'), 'a.ply')
        const b = measureModel(ply(shuffled(shape, seed), 'little'), 'a.ply')
        expect([b.closed, b.shells, b.problems.map((p) => p.kind)]).toEqual([
          a.closed,
          a.shells,
          a.problems.map((p) => p.kind),
        ])
        expect(a.closed).toBe(true)
        near(b.volume_mm3!, a.volume_mm3!, 1e-12)
      }),
      { numRuns: 40 },
    )
  })

  test('two solids apart add up', () => {
    fc.assert(
      fc.property(solid, solid, (one, other) => {
        const apart = mapped(other, (x, y, z) => [x + 500, y, z])
        const both = measureModel(ply(together(one, apart), 'little'), 'a.ply')
        near(both.volume_mm3!, volumeOf(meshOf(one)) + volumeOf(meshOf(other)), 1e-9)
      }),
      { numRuns: 40 },
    )
  })

  test('a solid less any one triangle is open, and its mending gives the volume back', () => {
    fc.assert(
      fc.property(solid, fc.nat(), (shape, pick) => {
        const m = measureModel(ply(without(shape, pick % (shape.corners.length / 3)), 'little'), 'a.ply')
        expect(m).toMatchObject({ closed: false, volume_mm3: null })
        near(m.repair!.volume_mm3, volumeOf(meshOf(shape)), 1e-9)
      }),
      { numRuns: 40 },
    )
  })

  test('a solid with some triangles flipped is never measured as it stands', () => {
    fc.assert(
      fc.property(
        solid,
        fc.uniqueArray(fc.nat({ max: 7 }), { minLength: 1, maxLength: 4 }),
        (shape, picks) => {
          const turned = flipped(shape)
          const some = {
            ...shape,
            corners: shape.corners.map((c, i) =>
              picks.includes(Math.floor(i / 3)) ? turned.corners[i]! : c,
            ),
          }
          const m = measureModel(ply(some, 'little'), 'a.ply')
          expect(m.volume_mm3).toBeNull()
          near(m.repair!.volume_mm3, volumeOf(meshOf(shape)), 1e-9)
        },
      ),
      { numRuns: 40 },
    )
  })
})

describe('whatever the bytes, an answer and no wrong number', () => {
  const files = Object.entries(samples()).filter(([, bytes]) => bytes.length < 5000)

  test('files with bytes changed or cut off never throw, and a volume is always finite and positive', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: files.length - 1 }),
        fc.array(fc.tuple(fc.nat(), fc.nat({ max: 255 })), { maxLength: 6 }),
        fc.option(fc.nat()),
        (which, changes, cut) => {
          const [name, whole] = files[which]!
          const bytes = whole.slice(0, cut === null ? whole.length : cut % (whole.length + 1))
          for (const [at, value] of changes) if (bytes.length > 0) bytes[at % bytes.length] = value
          const m = measureModel(bytes, name, { limits: { triangles: 20_000 } })
          if (m.volume_mm3 === null) expect(m.problems.length).toBeGreaterThan(0)
          else expect(Number.isFinite(m.volume_mm3) && m.volume_mm3 > 0).toBe(true)
          if (m.triangles === 0) expect(m.problems.some((p) => p.level === 'stop')).toBe(true)
          for (const { what, where, remedy } of m.problems) expect(what && where && remedy).toBeTruthy()
        },
      ),
      { numRuns: 1500 },
    )
  })

  test('noise under any name is refused', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 600 }),
        fc.constantFrom('stl', 'obj', 'ply', '3mf', 'glb', 'dat'),
        (bytes, ending) => {
          expect(measureModel(bytes, `noise.${ending}`).volume_mm3).toBeNull()
        },
      ),
    )
  })
})

describe('fast answers beside plain ones', () => {
  test('numbers in text come back to the last bit', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e14, max: 1e14 }), {
          minLength: 9,
          maxLength: 9,
        }),
        (values) => {
          const { mesh } = readModel(obj({ positions: values, corners: [0, 1, 2] }), 'n.obj')
          expect([...mesh.positions]).toEqual(values.map((v) => v + 0)) // written out, -0 is 0
        },
      ),
    )
  })

  test('a binary STL keeps its 32-bit numbers', () => {
    fc.assert(
      fc.property(
        fc.array(fc.float({ noNaN: true, noDefaultInfinity: true }), { minLength: 9, maxLength: 9 }),
        (values) => {
          const { mesh } = readModel(stlBinary({ positions: values, corners: [0, 1, 2] }), 'n.stl')
          expect([...mesh.positions]).toEqual(values)
        },
      ),
    )
  })
})
