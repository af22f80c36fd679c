import { readFileSync } from 'node:fs'
import { makeUpFromFine } from '../src/engine/charge/make-up/index.ts'
import { type Pour, pourFileSchema, type Shop } from '../src/engine/documents/index.ts'
import type { MeshFacts } from '../src/engine/piece/index.ts'
import { isShape, planPour } from '../src/engine/plan.ts'
import { samplePour, sampleShop, sampleWax } from '../src/engine/sample-pour.ts'

/**
 * What one key press costs: the whole plan, against one reading of the same documents as JSON in the same
 * run. Goal: under 16 ms, aim 2 ms. Printed as a table; nothing is asserted, since machines are noisy.
 */
const RUNS = 300

const middle = (times: number[]): number =>
  times.sort((a, b) => a - b)[Math.floor(times.length / 2)] as number

const timed = (work: (turn: number) => unknown): { middle: number; worst: number } => {
  const times: number[] = []
  let sink = 0
  for (let turn = 0; turn < RUNS; turn += 1) {
    const from = performance.now()
    if (work(turn) !== undefined) sink += 1
    times.push(performance.now() - from)
  }
  if (sink !== RUNS) throw new Error('a run gave nothing')
  const settled = times.slice(RUNS / 3)
  return { middle: middle(settled), worst: settled[Math.floor(settled.length * 0.95)] as number }
}

const facts: MeshFacts = {
  volume_mm3: 3960,
  area_mm2: 5200,
  bounds_mm: { min: [0, 0, 0], max: [58, 44, 4] },
  thickness_mm: { thinnest: 1.8, usual: 2.1, thickest: 2.6 },
  problems: [],
}

const report = (name: string, shop: Shop, pour: Pour): void => {
  const text = JSON.stringify({ shop, pour })
  const reading = timed(() => JSON.parse(text))
  const now = Date.parse('2030-11-15T08:00:00-07:00')
  const first = planPour(shop, pour, { now })
  const meshes = Object.fromEntries(first.wanted.filter(isShape).map(({ key }) => [key, facts]))
  const settled = planPour(shop, pour, { now, meshes })
  const request = settled.charge.request
  const makeUps = request && settled.charge.key ? { [settled.charge.key]: makeUpFromFine(request) } : {}
  // each turn is a key press: one document value changes, so nothing can be kept from the turn before
  const plan = timed((turn) =>
    planPour(
      shop,
      { ...pour, investment: { ...pour.investment, water_C: 20 + (turn % 7) } },
      { now, meshes, makeUps },
    ),
  )
  console.log(
    `${name.padEnd(28)} ${plan.middle.toFixed(2).padStart(8)} ms ${plan.worst.toFixed(2).padStart(8)} ms ${(plan.middle / reading.middle).toFixed(0).padStart(8)} ×`,
  )
}

console.log(
  `${'one key press'.padEnd(28)} ${'middle'.padStart(11)} ${'19 in 20'.padStart(11)} ${'of a JSON.parse'.padStart(10)}`,
)
const demo = pourFileSchema.parse(JSON.parse(readFileSync('examples/cloak-clasp.json', 'utf8')))
const { shop, ...pour } = demo
if (shop !== undefined) report('demo, three pieces', shop, pour)
report('one weighed wax', sampleShop(), samplePour())
for (const count of [6, 12, 24])
  report(
    `${count} kinds of piece`,
    sampleShop(),
    samplePour({
      pieces: Array.from({ length: count }, (_, index) => sampleWax(`wax-${index}`, 0.6 + index * 0.02)),
    }),
  )
