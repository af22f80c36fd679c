/**
 * Arranging: time, and how good the flask found is, for sets like a shop's. The bound is the smallest flask of
 * a fine rack whose room, less the wall's and the top's clearances, holds the waxes' own volume and half the
 * gap round each, and in which each wax was placed by itself; aims: 1 s for a few pieces, 3 s for 12 rings, 10 s for 40 small ones, at most one size above
 * the bound. Also: distance queries a second, and growth with triangles.
 * Run: npx esbuild bench/arrange.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */
import { box, globe, type Shape, torus } from '../fixtures/meshes/shapes.ts'
import { slowLoaders } from '../src/cli/load.ts'
import { readPour } from '../src/cli/read-pour.ts'
import { type ArrangeRequest, arrange, type PieceToArrange } from '../src/engine/arrange/index.ts'
import { arrangeRequest } from '../src/engine/arrange-request.ts'
import { restsOnFile } from '../src/engine/documents/index.ts'
import { buildBallTree, distanceApart } from '../src/engine/piece/mesh/apart.ts'
import { areaOf, type TriangleMesh, volumeOf } from '../src/engine/piece/mesh/index.ts'
import { type MeshFacts, shapeKey } from '../src/engine/piece/mesh-facts.ts'
import { planPour } from '../src/engine/plan.ts'
import { readShape } from '../src/settle/index.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})
const piece = (id: string, copies: number, shape: Shape, sprue = 3): PieceToArrange => ({
  id,
  name: id,
  copies,
  mesh: meshOf(shape),
  standIn: false,
  sprue: { diameter_mm: sprue, count: 1, countAsked: true, because: 'of the bench' },
  keepClear: [],
  locked: new Map(),
})
const rack = [
  [50.8, 50.8],
  [50.8, 63.5],
  [63.5, 63.5],
  [63.5, 76.2],
  [76.2, 76.2],
  [76.2, 88.9],
  [88.9, 101.6],
  [101.6, 127],
].map(([diameter_mm = 0, height_mm = 0]) => ({
  id: `${diameter_mm}x${height_mm}`,
  diameter_mm,
  height_mm,
}))
const requestOf = (pieces: PieceToArrange[]): ArrangeRequest => ({
  pieces,
  flasks: rack,
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
  stem_mm: 6,
  button_mm: 8,
})

/** First flask that takes each wax by itself: no set can do with less. */
const aloneOf = ({ pieces, ...rest }: ArrangeRequest): number =>
  Math.max(
    ...pieces.map((one) => {
      const { flask } = arrange({ ...rest, pieces: [{ ...one, copies: 1 }] })
      return rack.findIndex((size) => size.id === flask?.id)
    }),
  )

/** First flask of the rack whose room the waxes with half the gap round them could fill without any loss. */
const boundOf = ({ pieces, rules, base }: ArrangeRequest): number => {
  const half = rules.gap_mm / 2
  const wanted = pieces.reduce(
    (sum, { mesh, copies }) => sum + copies * (volumeOf(mesh) + half * areaOf(mesh)),
    0,
  )
  return rack.findIndex(({ diameter_mm, height_mm }) => {
    const radius = diameter_mm / 2 - rules.wall_mm + half
    const top = height_mm - Math.max(rules.topLeast_mm, rules.topPerDiameter * diameter_mm)
    const tallest = top - base.depth_mm
    return radius > 0 && tallest > 0 && Math.PI * radius ** 2 * tallest >= wanted
  })
}

const ring = (triangles: number): Shape => {
  const section = Math.max(8, Math.round(Math.sqrt(triangles / 6)))
  return torus(10, 1.5, Math.round(triangles / 2 / section), section)
}
const sets: [string, PieceToArrange[]][] = [
  [
    '3 pieces',
    [
      piece('plate', 1, box(40, 30, 2.5), 6),
      piece('bar', 1, box(28, 8, 5), 5),
      piece('tag', 1, box(30, 12, 2), 5),
    ],
  ],
  ['1 ring', [piece('ring', 1, ring(1500))]],
  ['6 rings', [piece('ring', 6, ring(1500))]],
  ['12 rings', [piece('ring', 12, ring(1500))]],
  ['40 small', [piece('loop', 20, torus(3, 1, 32, 12), 2), piece('stud', 20, box(6, 4, 2), 2)]],
  ['6 rings, 10 k', [piece('ring', 6, ring(10_000))]],
  ['6 rings, 100 k', [piece('ring', 6, ring(100_000))]],
]
/** A ball with soft bumps on it, of about two million triangles. */
const blob = (): Shape => {
  const { positions, corners } = globe(9, 1000, 1000)
  const bumpy = [...positions]
  for (let at = 0; at < bumpy.length; at += 3) {
    const [x = 0, y = 0, z = 0] = bumpy.slice(at, at + 3)
    const out = 1 + 0.04 * Math.sin(0.9 * x) * Math.cos(0.8 * y) * Math.sin(0.7 * z)
    for (const [k, value] of [x, y, z].entries()) bumpy[at + k] = out * value
  }
  return { positions: bumpy, corners }
}
sets.push(['2 blobs, 2 M', [piece('blob', 2, blob())]])
for (const [name, pieces] of sets) {
  const request = requestOf(pieces)
  const start = performance.now()
  const { fits, flask, clearances } = arrange(request)
  const spent = performance.now() - start
  const found = rack.findIndex((one) => one.id === flask?.id)
  console.log(
    `${name.padEnd(16)} ${(spent / 1000).toFixed(2).padStart(7)} s  ${fits ? 'fits' : 'no fit'} ${flask?.id ?? '-'}  sizes above the bound: ${found < 0 ? '-' : found - Math.max(boundOf(request), aloneOf(request))}  least spare ${((clearances[0]?.distance_mm ?? 0) - (clearances[0]?.needed_mm ?? 0)).toFixed(2)} mm`,
  )
}

/** The demo's own pour with its models, as the page and `arrange` have it placed. */
const demo = async (): Promise<ArrangeRequest> => {
  const { shop, pour, readModel } = await readPour('examples/cloak-clasp.json', undefined)
  const facts: Record<string, MeshFacts> = {}
  const meshes: Record<string, TriangleMesh> = {}
  for (const { source } of pour.pieces) {
    const key = shapeKey(source)
    if (!restsOnFile(source) || key === undefined) continue
    const shape = await readShape(source, { readModel, ...slowLoaders })
    facts[key] = shape.facts
    if (shape.mesh !== undefined) meshes[key] = shape.mesh
  }
  const { request } = arrangeRequest(planPour(shop, pour, { now: 0, meshes: facts }), meshes)
  if (request === undefined) throw new Error('the demo has a solid for every piece')
  return request
}
{
  const request = await demo()
  const start = performance.now()
  const { flask } = arrange(request)
  console.log(
    `the demo         ${((performance.now() - start) / 1000).toFixed(2).padStart(7)} s  in ${flask?.id ?? '-'}`,
  )
}

for (const triangles of [1000, 10_000, 100_000]) {
  const tree = buildBallTree(meshOf(ring(triangles)))
  const count = 200
  const start = performance.now()
  let sum = 0
  for (let k = 0; k < count; k++) {
    const [c, s] = [Math.cos(k), Math.sin(k)]
    sum += distanceApart(tree, tree, [c, 0, -s, 0, 1, 0, s, 0, c, 30, 5 * s, 5 * c])
  }
  const each = (performance.now() - start) / count
  console.log(
    `${triangles} triangles: ${(1000 / each).toFixed(0)} exact distances a second (mean ${(sum / count).toFixed(2)} mm)`,
  )
}
