import { Document, NodeIO } from '@gltf-transform/core'
import Module from 'manifold-3d'
import type { BufferGeometry, Mesh } from 'three'
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js'
import { PLYLoader } from 'three/examples/jsm/loaders/PLYLoader.js'
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js'
import { describe, expect, test } from 'vitest'
import { box, globe, torus } from '../../../../fixtures/meshes/shapes.ts'
import { obj, ply, stlBinary, stlText } from '../../../../fixtures/meshes/write.ts'
import { buildBoxTree, visitMeetingPairs } from './box-tree.ts'
import { areaOf, boundsOf, measureModel, readModel, type TriangleMesh, volumeOf } from './index.ts'
import { castRay } from './rays.ts'

const shape = torus(20, 5, 24, 12)
const bufferOf = (bytes: Uint8Array): ArrayBuffer => Uint8Array.from(bytes).buffer

function trianglesOf(geometry: BufferGeometry): number[] {
  const flat = geometry.index ? geometry.toNonIndexed() : geometry
  return Array.from(flat.getAttribute('position').array, Math.fround)
}
const ourTriangles = ({ positions, corners }: TriangleMesh): number[] =>
  [...corners].flatMap((c) => [...positions.slice(c * 3, c * 3 + 3)].map(Math.fround))

describe('readers give the triangles that another library reads', () => {
  test('STL, binary and text (three 0.187)', () => {
    for (const bytes of [stlBinary(shape), stlBinary(shape, 'solid it is not'), stlText(shape)])
      expect(ourTriangles(readModel(bytes, 'a.stl').mesh)).toEqual(
        trianglesOf(new STLLoader().parse(bufferOf(bytes))),
      )
  })

  test('PLY, text and binary of both orders (three 0.187)', () => {
    for (const format of ['ascii', 'little', 'big'] as const) {
      const bytes = ply(shape, format)
      expect(ourTriangles(readModel(bytes, 'a.ply').mesh), format).toEqual(
        trianglesOf(new PLYLoader().parse(bufferOf(bytes))),
      )
    }
  })

  test('OBJ, in its forms of corner (three 0.187)', () => {
    for (const form of ['plain', 'negative', 'texture', 'normal', 'both'] as const) {
      const bytes = obj(shape, form)
      const group = new OBJLoader().parse(new TextDecoder().decode(bytes))
      expect(ourTriangles(readModel(bytes, 'a.obj').mesh), form).toEqual(
        trianglesOf((group.children[0] as Mesh).geometry),
      )
    }
  })

  test('GLB written with nested, turned, mirrored nodes and shared meshes (gltf-transform 4.5)', async () => {
    const document = new Document()
    const buffer = document.createBuffer()
    const part = box(0.01, 0.02, 0.003)
    const position = document
      .createAccessor()
      .setType('VEC3')
      .setArray(Float32Array.from(part.positions))
      .setBuffer(buffer)
    const indices = document
      .createAccessor()
      .setType('SCALAR')
      .setArray(Uint16Array.from(part.corners))
      .setBuffer(buffer)
    const mesh = document
      .createMesh()
      .addPrimitive(document.createPrimitive().setAttribute('POSITION', position).setIndices(indices))
    const half = Math.sin(0.35)
    const child = document
      .createNode()
      .setMesh(mesh)
      .setTranslation([0.03, -0.01, 0.02])
      .setRotation([half * 0.6, half * 0.8, 0, Math.cos(0.35)])
    const mirror = document.createNode().setMesh(mesh).setScale([-1.5, 1, 2]).setTranslation([-0.05, 0, 0])
    const parent = document
      .createNode()
      .addChild(child)
      .addChild(mirror)
      .setScale([2, 2, 2])
      .setRotation([0, 0, Math.SQRT1_2, Math.SQRT1_2])
    document.createScene().addChild(parent)
    const bytes = await new NodeIO().writeBinary(document)

    const points: number[][] = []
    const read = await new NodeIO().readBinary(bytes)
    for (const node of read.getRoot().listNodes()) {
      const m = node.getWorldMatrix()
      const at = node.getMesh()?.listPrimitives()[0]?.getAttribute('POSITION')
      for (let i = 0; at && i < at.getCount(); i++) {
        const [x = 0, y = 0, z = 0] = at.getElement(i, [])
        points.push([0, 1, 2].map((k) => m[k]! * x + m[4 + k]! * y + m[8 + k]! * z + m[12 + k]!))
      }
    }
    const measured = measureModel(bytes, 'a.glb')
    expect(points.length).toBe(16)
    for (let axis = 0; axis < 3; axis++) {
      const values = points.map((p) => p[axis]! * 1000)
      expect(measured.bounds_mm?.min[axis]).toBeCloseTo(Math.min(...values), 3)
      expect(measured.bounds_mm?.max[axis]).toBeCloseTo(Math.max(...values), 3)
    }
    // 10 x 20 x 3 mm, doubled: 4800; its mirror another 3 times that.
    expect(measured.volume_mm3).toBeCloseTo(4800 * 4, 0)
    expect(measured.problems.filter((p) => p.level === 'stop')).toEqual([])
  })
})

test('volume and surface of carved solids agree with a solid modeller (manifold 3.5)', async () => {
  const top = await Module()
  top.setup()
  for (let i = 0; i < 12; i++) {
    const plate = top.Manifold.cube([20, 14, 4], true)
    const tool = top.Manifold.cylinder(12, 1 + 0.2 * i, 2, 30, true).rotate([11 * i, 7 * i, 0])
    const ball = top.Manifold.sphere(3.3, 24 + i).translate([i * 0.7, 2, 1])
    const solid = plate.subtract(tool).add(ball)
    const { vertProperties, triVerts } = solid.getMesh()
    const mesh = { positions: Float64Array.from(vertProperties), corners: Uint32Array.from(triVerts) }
    expect(volumeOf(mesh) / solid.volume()).toBeCloseTo(1, 5)
    expect(areaOf(mesh) / solid.surfaceArea()).toBeCloseTo(1, 5)
    const box = solid.boundingBox()
    expect(boundsOf(mesh)?.min).toEqual(box.min.map((v) => expect.closeTo(v, 5)))
    for (const made of [plate, tool, ball, solid]) made.delete()
  }
})

describe('the tree of boxes finds what looking at everything finds', () => {
  const ball = globe(10, 14, 20)
  const mesh = { positions: Float64Array.from(ball.positions), corners: Uint32Array.from(ball.corners) }
  const count = mesh.corners.length / 3
  const boxOf = (t: number, axis: number): [number, number] => {
    const values = [0, 1, 2].map((k) => mesh.positions[mesh.corners[t * 3 + k]! * 3 + axis]!)
    return [Math.min(...values), Math.max(...values)]
  }

  test('every pair of meeting boxes, each once', () => {
    const plain = new Set<number>()
    for (let a = 0; a < count; a++)
      for (let b = a + 1; b < count; b++)
        if (
          [0, 1, 2].every((axis) => {
            const [aMin, aMax] = boxOf(a, axis)
            const [bMin, bMax] = boxOf(b, axis)
            return aMin <= bMax && bMin <= aMax
          })
        )
          plain.add(a * count + b)
    const fast: number[] = []
    const ended = visitMeetingPairs(buildBoxTree(mesh), 1e9, (a, b) => {
      fast.push(Math.min(a, b) * count + Math.max(a, b))
      return true
    })
    expect(ended).toBe(true)
    expect(fast.length).toBe(plain.size)
    expect(new Set(fast)).toEqual(plain)
  })

  test('a search that runs out of its budget says so', () => {
    expect(visitMeetingPairs(buildBoxTree(mesh), 1000, () => true)).toBe(false)
  })

  test('every ray through the ball enters once and leaves once', () => {
    const tree = buildBoxTree(mesh)
    for (let i = 0; i < 300; i++) {
      const [a, b] = [i * 2.399963, Math.acos(1 - (2 * (i + 0.5)) / 300)]
      const direction = [Math.sin(b) * Math.cos(a), Math.sin(b) * Math.sin(a), Math.cos(b)]
      const start = direction.map((v, k) => [0.31, 0.17, -0.23][k]! - 40 * v)
      const hits = castRay(mesh, tree, start, direction, 1e-9)
      if (!hits) continue // so near an edge that the ray declines to answer
      expect(hits.map((h) => h.way).sort()).toEqual([-1, 1])
    }
  })
})
