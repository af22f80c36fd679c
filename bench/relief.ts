/**
 * From regions and heights to the solid, as a height or an edge is dragged. Goal: 100 ms per change for a pattern
 * like the demo's (a border, a ground, twelve domed leaves, a seat with its wall), outlines true to 0.01 mm.
 * Between two builds of the same regions the lines' shared points, each region's triangulated outline and its
 * worked edges are kept, so the bound for a change is building everything anew.
 * Run: npx esbuild bench/relief.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */

import { regionOf } from '../fixtures/drawings/regions.ts'
import { type HeightsInput, heightsSchema } from '../src/engine/documents/index.ts'
import { findCastable } from '../src/engine/pattern/castable/index.ts'
import type { Loop, Region } from '../src/engine/pattern/drawing.ts'
import { turned } from '../src/engine/pattern/loops.ts'
import { buildRelief } from '../src/engine/pattern/relief/index.ts'
import { ellipse, placed } from '../src/engine/pattern/relief/loops.ts'
import { loadReliefSolids } from '../src/solids/relief-solids.ts'

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
const least = (work: (round: number) => number): number => {
  let best = Infinity
  for (let round = 0; round < ROUNDS; round++) {
    const start = performance.now()
    sink += work(round)
    best = Math.min(best, performance.now() - start)
  }
  return best
}

const once = (
  regions: readonly Region[],
  ...rest: [{ leaf?: number; width?: number }?, Partial<HeightsInput>?]
): number => {
  const { volume_mm3, closed } = buildRelief(regions, heightsOf(regions, ...rest), solids)
  if (!closed) throw new Error('the pattern should be closed')
  return volume_mm3
}

const row = (name: string, ms: number, whole: number): void =>
  console.log(`  ${name.padEnd(34)}${ms.toFixed(0).padStart(6)} ms${(ms / whole).toFixed(2).padStart(8)}`)

console.log(`least of ${ROUNDS} rounds; ratio to building everything anew`)
for (const fine of [1, 2, 4]) {
  const regions = pattern(fine)
  const nodes = regions.reduce((sum, { outer }) => sum + outer.length / 2, 0)
  const { mesh } = buildRelief(regions, heightsOf(regions), solids)
  console.log(`${nodes} nodes, ${regions.length} regions, ${mesh.corners.length / 3} triangles`)
  // a new array of regions has nothing kept
  const whole = least(() => once(pattern(fine)))
  row('everything anew', whole, whole)
  row(
    'one height',
    least((round) => once(regions, { leaf: 2.5 + round / 20 })),
    whole,
  )
  row(
    'one edge',
    least((round) => once(regions, { width: 1.5 + round / 20 })),
    whole,
  )
  if (fine > 1) continue
  const bent = { back: { shape: 'curved', radius_mm: 60 } } as const
  row(
    'one height, back bent',
    least((round) => once(regions, { leaf: 2.5 + round / 20 }, bent)),
    whole,
  )
  const hollow = { back: { shape: 'hollow', wall_mm: 1 } } as const
  row(
    'one height, back hollow',
    least((round) => once(regions, { leaf: 2.5 + round / 20 }, hollow)),
    whole,
  )
  const relief = buildRelief(regions, heightsOf(regions), solids)
  row(
    'where it is hard to cast',
    least(() => findCastable(relief, regions, heightsOf(regions)).spots.length),
    whole,
  )
}
if (!Number.isFinite(sink)) throw new Error('a volume was no number')
