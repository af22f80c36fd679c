import { BufferAttribute, BufferGeometry, Matrix4 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { describe, expect, test } from 'vitest'
import { box, globe, type Shape, torus } from '../fixtures/meshes/shapes.ts'
import { buildBallTree, distanceApart } from '../src/engine/piece/mesh/apart.ts'
import type { Transform } from '../src/engine/piece/mesh/index.ts'

// Distances between meshes against a general-purpose library of bounding volumes (three-mesh-bvh), which keeps its
// corners in single precision: 1e-5 mm on pieces of a few centimetres.

const SHAPES: Readonly<Record<string, Shape>> = {
  ring: torus(10, 1.5, 24, 12),
  plate: box(40, 30, 2.5),
  ball: globe(6, 16, 16),
}

const made = (shape: Shape) => {
  const positions = Float32Array.from(shape.positions)
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(positions, 3))
  geometry.setIndex(new BufferAttribute(Uint32Array.from(shape.corners), 1))
  const bvh = new MeshBVH(geometry)
  geometry.boundsTree = bvh
  const mesh = { positions: Float64Array.from(positions), corners: Uint32Array.from(shape.corners) }
  return { tree: buildBallTree(mesh), geometry, bvh }
}

/** Turned about two axes and moved aside: a plain rule, so that any failure can be found again. */
const motionOf = (k: number): Transform => {
  const [a, b] = [0.7 * k, 1.3 * k]
  const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)]
  return [
    ca,
    sa * cb,
    sa * sb,
    -sa,
    ca * cb,
    ca * sb,
    0,
    -sb,
    cb,
    26 + 6 * Math.sin(k),
    7 * Math.cos(2 * k),
    9 * Math.sin(3 * k),
  ]
}

describe('the distance between two meshes is that of the library', () => {
  test.each([
    ['ring', 'ring'],
    ['ring', 'plate'],
    ['plate', 'ball'],
    ['plate', 'plate'],
  ])('%s to %s, in twelve places', (one, other) => {
    const [a, b] = [made(SHAPES[one] as Shape), made(SHAPES[other] as Shape)]
    for (let k = 0; k < 12; k += 1) {
      const motion = motionOf(k)
      const [m0, m1, m2, m3, m4, m5, m6, m7, m8, x, y, z] = motion
      const matrix = new Matrix4().set(
        ...([m0, m3, m6, x, m1, m4, m7, y, m2, m5, m8, z, 0, 0, 0, 1] as Parameters<Matrix4['set']>),
      )
      const theirs = a.bvh.closestPointToGeometry(b.geometry, matrix)?.distance ?? Number.NaN
      expect(Math.abs(distanceApart(a.tree, b.tree, motion) - theirs)).toBeLessThan(1e-5)
    }
  })
})
