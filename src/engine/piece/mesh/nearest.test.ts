import fc from 'fast-check'
import { expect, test } from 'vitest'
import { box, globe, type Shape, together, torus } from '../../../../fixtures/meshes/shapes.ts'
import { buildBoxTree } from './box-tree.ts'
import { nearestOn, placeOnTriangle, type SearchedMesh } from './nearest.ts'

const searched = ({ positions, corners }: Shape): SearchedMesh => {
  const mesh = { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
  return { mesh, tree: buildBoxTree(mesh), visits: 0 }
}

/** The slow twin: every triangle, without the tree. */
const leastOfAll = ({ mesh }: SearchedMesh, [x, y, z]: readonly [number, number, number]): number => {
  let least = Infinity
  for (let t = 0; t < mesh.corners.length / 3; t++)
    least = Math.min(least, placeOnTriangle(mesh, t, x, y, z, [0, 0, 0]))
  return Math.sqrt(least)
}

/** A triangle's nearest point by a search that knows no geometry: shares of the corners, ever finer. */
const leastByHalving = (corners: readonly number[][], point: readonly number[]): number => {
  const apart = (s: number, t: number): number =>
    Math.hypot(
      ...[0, 1, 2].map(
        (k) => (1 - s - t) * corners[0]![k]! + s * corners[1]![k]! + t * corners[2]![k]! - point[k]!,
      ),
    )
  const least = (from: number, to: number, at: (x: number) => number): number => {
    let [low, high] = [from, to]
    for (let k = 0; k < 80; k++) {
      const [a, b] = [low + (high - low) / 3, high - (high - low) / 3]
      if (at(a) < at(b)) high = b
      else low = a
    }
    return (low + high) / 2
  }
  // Distance is convex, so the least over t is convex in s.
  const overT = (s: number): number =>
    apart(
      s,
      least(0, 1 - s, (t) => apart(s, t)),
    )
  return overT(least(0, 1, overT))
}

const coordinate = fc.double({ min: -8, max: 8, noNaN: true })
const place = fc.tuple(coordinate, coordinate, coordinate)

test('the nearest point of one triangle agrees with a search over all its points', () => {
  fc.assert(
    fc.property(place, place, place, place, (a, b, c, p) => {
      const { mesh } = searched({ positions: [...a, ...b, ...c], corners: [0, 1, 2] })
      const found = Math.sqrt(placeOnTriangle(mesh, 0, ...p, [0, 0, 0]))
      expect(found).toBeCloseTo(leastByHalving([a, b, c], p), 5)
    }),
    { numRuns: 60 },
  )
})

test('a triangle without area counts as the line or the point it is', () => {
  const line = searched({ positions: [0, 0, 0, 1, 0, 0, 4, 0, 0], corners: [0, 1, 2] }).mesh
  expect(placeOnTriangle(line, 0, 3, 2, 0, [0, 0, 0])).toBeCloseTo(4, 12)
  expect(placeOnTriangle(line, 0, 7, 4, 0, [0, 0, 0])).toBeCloseTo(25, 12)
  const point = searched({ positions: [1, 1, 1, 1, 1, 1, 1, 1, 1], corners: [0, 1, 2] }).mesh
  expect(placeOnTriangle(point, 0, 1, 1, 4, [0, 0, 0])).toBeCloseTo(9, 12)
})

const scenes = {
  'a box': searched(box(5, 4, 1)),
  'a globe': searched(globe(5, 12, 24)),
  'a ring beside a box': searched(together(torus(4, 1, 40, 16), box(1, 1, 1, [5, 5, 0]))),
}

test.each(Object.entries(scenes))(
  'through the tree %s gives what trying every triangle gives',
  (_, scene) => {
    fc.assert(
      fc.property(place, (p) => {
        const least = leastOfAll(scene, p)
        const found = nearestOn(scene, p)!
        expect(found.distance).toBeCloseTo(least, 9)
        expect(Math.hypot(...found.at.map((v, k) => v - p[k]!))).toBeCloseTo(found.distance, 9)
        expect(nearestOn(scene, p, least * 0.999)).toBeNull()
        const loose = nearestOn(scene, p, Infinity, 0.05)!
        expect(loose.distance * 0.95).toBeLessThanOrEqual(least + 1e-9)
      }),
      { numRuns: 150 },
    )
  },
)

test('the tree spares most of the work', () => {
  const scene = searched(torus(4, 1, 200, 100))
  nearestOn(scene, [6, 1, 0.5])
  expect(scene.visits).toBeLessThan(1000)
})
