/**
 * From regions and heights to the solid, as a height or an edge is dragged. Goal: 100 ms per change for a pattern
 * like the demo's (a border, a ground, twelve domed leaves, a seat with its wall), outlines true to 0.01 mm: with
 * the lines that the page draws and the copy that goes over to it.
 * Between two builds of the same regions the lines' shared points, each region's triangulated outline and its
 * worked edges are kept, so the bound for a change is building everything anew.
 * Run: npx esbuild bench/relief.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */

import { regionOf } from '../fixtures/drawings/regions.ts'
import { type HeightsInput, heightsSchema } from '../src/engine/documents/index.ts'
import { findCastable, measureThickness } from '../src/engine/pattern/castable/index.ts'
import type { Loop, Region } from '../src/engine/pattern/drawing.ts'
import { turned } from '../src/engine/pattern/loops.ts'
import { buildRelief } from '../src/engine/pattern/relief/index.ts'
import { ellipse, placed } from '../src/engine/pattern/relief/loops.ts'
import { loadReliefSolids } from '../src/solids/relief-solids.ts'
import { edgesOf } from '../src/web/scene/relief-edges.ts'

const ROUNDS = 7
const LEAVES = 12
const CENTRE = [32, 24] as const

const solids = await loadReliefSolids()

/** A pointed leaf of so many nodes on each side, lying along x from the origin. */
const leaf = (nodes: number): Loop => {
  const side = Array.from({ length: nodes }, (_, k) => k / nodes)
  const width = (share: number): number => 2.2 * Math.sin(Math.PI * share) * (1 - 0.35 * share)
  return Float64Array.from([
    ...side.flatMap((share) => [9 * share, -width(share)]),
    ...side.flatMap((share) => [9 * (1 - share), width(1 - share)]),
  ])
}

/** Drawn with `fine` times the nodes that a chord error of 0.01 mm asks for. */
const pattern = (fine: number): Region[] => {
  const round = (width: number, height: number): Loop =>
    ellipse([...CENTRE], width, height, Math.round(120 * fine))
  const [outline, within, seat] = [round(64, 48), round(58, 42), round(18, 14)]
  const leaves = Array.from({ length: LEAVES }, (_, k) => {
    const turn = (360 * k) / LEAVES
    const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
    return placed(leaf(Math.round(24 * fine)), [CENTRE[0] + 15 * c, CENTRE[1] + 10.6 * s], turn)
  })
  return [
    regionOf('border', outline, [turned(within)]),
    regionOf('ground', within, [...leaves.map(turned), turned(seat)]),
    ...leaves.map((loop, k) => regionOf(`leaf-${k}`, loop)),
    regionOf('seat', seat),
  ]
}

const heightsOf = (
  regions: readonly Region[],
  change: { leaf?: number; width?: number } = {},
  more: Partial<HeightsInput> = {},
) =>
  heightsSchema.parse({
    kind: 'heights',
    version: 1,
    blank_mm: 4,
    regions: Object.fromEntries(
      regions.map(({ id }, k) => {
        if (id === 'border')
          return [
            id,
            { role: 'raised', height_mm: 3.5, edge: { shape: 'rounded', width_mm: 0.6, height_mm: 0.6 } },
          ]
        if (id === 'ground') return [id, { role: 'ground', height_mm: 1.5 }]
        if (id === 'seat')
          return [
            id,
            {
              role: 'seat',
              height_mm: 2,
              stone: {
                shape: 'oval',
                length_mm: 14,
                width_mm: 10,
                gap_mm: 0.1,
                bearer_mm: 1,
                well_mm: 2,
                wall: { thickness_mm: 0.8, height_mm: 1.6 },
              },
            },
          ]
        const first = k === 2
        return [
          id,
          {
            role: 'raised',
            height_mm: first ? (change.leaf ?? 3) : 3,
            edge: { shape: 'domed', width_mm: first ? (change.width ?? 2) : 2, height_mm: 1 },
          },
        ]
      }),
    ),
    ...more,
  })

/** Kept so that no measured work can be optimised away. */
let sink = 0
const median = (work: (round: number) => number): number => {
  const spent = Array.from({ length: ROUNDS }, (_, round) => {
    const start = performance.now()
    sink += work(round)
    return performance.now() - start
  })
  return spent.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] ?? Number.NaN
}

const once = (
  regions: readonly Region[],
  ...rest: [{ leaf?: number; width?: number }?, Partial<HeightsInput>?]
): number => {
  const { volume_mm3, closed } = buildRelief(regions, heightsOf(regions, ...rest), solids)
  if (!closed) throw new Error('the pattern should be closed')
  return volume_mm3
}

/** All that stands between a moved height and the page that has it. */
const toPage = (regions: readonly Region[], change: { leaf?: number }): number => {
  const relief = buildRelief(regions, heightsOf(regions, change), solids)
  const edges = edgesOf(relief.mesh)
  const { ends, one, other, crease } = edges
  const transfer = [ends, one, other, crease].map(({ buffer }) => buffer as ArrayBuffer)
  return structuredClone({ relief, edges }, { transfer }).relief.volume_mm3
}

const row = (name: string, ms: number, whole: number): void =>
  console.log(`  ${name.padEnd(40)}${ms.toFixed(1).padStart(8)} ms${(ms / whole).toFixed(2).padStart(8)}`)

console.log(`median of ${ROUNDS} rounds; ratio to building everything anew unless another is said`)
let before: { nodes: number; height: number; whole: number } | undefined
for (const fine of [1, 2, 4]) {
  const regions = pattern(fine)
  const nodes = regions.reduce((sum, { outer }) => sum + outer.length / 2, 0)
  const relief = buildRelief(regions, heightsOf(regions), solids)
  const triangles = relief.mesh.corners.length / 3
  console.log(`${nodes} nodes, ${regions.length} regions, ${triangles} triangles`)
  // a new array of regions has nothing kept
  const whole = median(() => once(pattern(fine)))
  row('everything anew', whole, whole)
  const height = median((round) => once(regions, { leaf: 2.5 + round / 20 }))
  row('one height', height, whole)
  row(
    'one height, its lines, over to the page',
    median((round) => toPage(regions, { leaf: 2.5 + round / 20 })),
    whole,
  )
  row(
    'one edge',
    median((round) => once(regions, { width: 1.5 + round / 20 })),
    whole,
  )
  if (before !== undefined) {
    const grown = (ms: number, was: number): string => (ms / was).toFixed(1)
    console.log(
      `  for ${grown(nodes, before.nodes)} times the nodes: anew ${grown(whole, before.whole)}, one height ${grown(height, before.height)} times the time`,
    )
  }
  before = { nodes, height, whole }
  const castable = median(() => findCastable(relief, regions, heightsOf(regions)).spots.length)
  row('where it is hard to cast', castable, whole)
  console.log(`    by 1000 triangles ${((1000 * castable) / triangles).toFixed(1)} ms`)
  const thickness = median(() => measureThickness(relief)?.usual ?? Number.NaN)
  row('only how thick it is, to that search', thickness, castable)
  if (fine > 1) continue
  const bent = { back: { shape: 'curved', radius_mm: 60 } } as const
  row(
    'back bent, to one height on a flat back',
    median((round) => once(regions, { leaf: 2.5 + round / 20 }, bent)),
    height,
  )
  const hollow = { back: { shape: 'hollow', wall_mm: 1 } } as const
  row(
    'back hollow, to one height on a flat back',
    median((round) => once(regions, { leaf: 2.5 + round / 20 }, hollow)),
    height,
  )
}
if (!Number.isFinite(sink)) throw new Error('a volume was no number')
