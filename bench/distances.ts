/**
 * Exact distances between two meshes a second: ours by bounding balls against a general-purpose library of bounding
 * volumes (three-mesh-bvh), same meshes, same places, in one run; and how far apart the two say they are. A ring's own
 * twin beside it, and through it where they touch.
 * Run: npx esbuild bench/distances.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */
import { BufferAttribute, BufferGeometry, Matrix4 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { torus } from '../fixtures/meshes/shapes.ts'
import { buildBallTree, distanceApart } from '../src/engine/piece/mesh/apart.ts'
import type { Transform } from '../src/engine/piece/mesh/index.ts'

const ring = (triangles: number) => {
  const section = Math.max(8, Math.round(Math.sqrt(triangles / 6)))
  const { positions, corners } = torus(10, 1.5, Math.round(triangles / 2 / section), section)
  return { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
}

const MOST = 60
const motionOf = (k: number, away: number): Transform => {
  const [c, s] = [Math.cos(k), Math.sin(k)]
  return [c, 0, -s, 0, 1, 0, s, 0, c, away, 5 * s, 5 * c]
}
/** Columns as the library takes them. */
const matrixOf = ([a, b, c, d, e, f, g, h, i, x, y, z]: readonly number[]): Matrix4 =>
  new Matrix4().fromArray([a, b, c, 0, d, e, f, 0, g, h, i, 0, x, y, z, 1] as number[])

for (const triangles of [1000, 10_000, 100_000]) {
  const mesh = ring(triangles)
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3))
  geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.corners), 1))
  const began = performance.now()
  const tree = buildBallTree(mesh)
  const built = performance.now()
  const theirs = new MeshBVH(geometry)
  const builtToo = performance.now()
  geometry.boundsTree = theirs
  for (const away of [30, 23.5]) {
    const motions = Array.from({ length: MOST }, (_, k) => motionOf(k, away))
    const start = performance.now()
    const ours = motions.map((motion) => distanceApart(tree, tree, motion))
    const middle = performance.now()
    const others: number[] = []
    for (const motion of motions) {
      others.push(theirs.closestPointToGeometry(geometry, matrixOf(motion))?.distance ?? Number.NaN)
      // the slow side is cut off; the rates are by what was done
      if (performance.now() - middle > 20_000) break
    }
    const end = performance.now()
    const [rate, rateToo] = [(1000 * ours.length) / (middle - start), (1000 * others.length) / (end - middle)]
    const off = Math.max(...others.map((distance, k) => Math.abs(distance - (ours[k] ?? Number.NaN))))
    console.log(
      `${triangles} triangles, ${away} mm off: ours ${rate.toFixed(0)} a second, library ${rateToo.toFixed(1)}: ${(rate / rateToo).toFixed(1)} times; apart by ${off.toExponential(1)} mm; built in ${(built - began).toFixed(0)} and ${(builtToo - built).toFixed(0)} ms`,
    )
  }
}
