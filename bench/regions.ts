/**
 * From an SVG of a thousand, ten thousand and a hundred thousand nodes to its regions: one long outline, circles
 * drawn as overlapping lines, and the same circles as fills that hide one another. Goal: a hundred thousand in
 * a couple of seconds, and about ten times the time for ten times the nodes.
 * Run: npx esbuild bench/regions.ts --bundle --platform=node --format=esm --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */
import { readDrawing } from '../src/engine/pattern/drawing/index.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'

const NODES = [1_000, 10_000, 100_000]
const ROUNDS = 3
const ROUND_NODES = 100

const polygon = (count: number, at: (angle: number) => readonly [number, number]): string =>
  Array.from({ length: count }, (_, n) =>
    at((2 * Math.PI * n) / count)
      .map((value) => value.toFixed(4))
      .join(' '),
  ).join('L')

/** Circles of 7 mm on a square net of 10 mm: each crosses its four neighbours. */
const circles = (nodes: number, paint: (n: number) => string): string => {
  const count = nodes / ROUND_NODES
  const side = Math.ceil(Math.sqrt(count))
  return Array.from({ length: count }, (_, n) => {
    const [x, y] = [10 * (n % side), 10 * Math.floor(n / side)]
    const ring = polygon(ROUND_NODES, (angle) => [x + 7 * Math.cos(angle), y + 7 * Math.sin(angle)])
    return `<path id="c${n}" d="M${ring}Z" ${paint(n)}/>`
  }).join('')
}

const kinds: Readonly<Record<string, (nodes: number) => string>> = {
  'one outline': (nodes) => {
    const wave = (angle: number): number => 50 + 5 * Math.sin(37 * angle)
    return `<path d="M${polygon(nodes, (angle) => [wave(angle) * Math.cos(angle), wave(angle) * Math.sin(angle)])}Z"/>`
  },
  'crossing lines': (nodes) => circles(nodes, () => 'fill="none" stroke="black"'),
  'hiding fills': (nodes) => circles(nodes, (n) => `fill="${n % 2 === 0 ? 'black' : 'white'}"`),
}

const rows: Record<string, Record<string, number>> = {}
for (const [kind, draw] of Object.entries(kinds)) {
  let before = Number.NaN
  for (const nodes of NODES) {
    const svg = `<svg width="400mm" height="400mm" viewBox="0 0 400 400">${draw(nodes)}</svg>`
    const bytes = new TextEncoder().encode(svg)
    const spent: { read: number; divide: number; regions: number }[] = []
    for (let round = 0; round < ROUNDS; round += 1) {
      const start = performance.now()
      const { marks } = readDrawing(bytes, 'bench.svg')
      const read = performance.now()
      const { regions } = findRegions(marks)
      spent.push({ read: read - start, divide: performance.now() - read, regions: regions.length })
    }
    const [best] = spent.sort((a, b) => a.read + a.divide - b.read - b.divide)
    if (best === undefined || best.regions === 0) throw new Error('there should be regions')
    const all = best.read + best.divide
    rows[`${kind}, ${nodes.toLocaleString('en-US')} nodes`] = {
      regions: best.regions,
      read_ms: Math.round(best.read),
      divide_ms: Math.round(best.divide),
      all_ms: Math.round(all),
      ...(Number.isNaN(before) ? {} : { 'times the row above': Number((all / before).toFixed(1)) }),
    }
    before = all
  }
}
console.log(`least of ${ROUNDS} rounds`)
console.table(rows)
