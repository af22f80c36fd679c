/**
 * A photo of 12 million pixels to marks and to regions, stage by stage; aim 2 s for the whole.
 * Beside it the bound: one pass over the same pixels.
 * Run: npx esbuild bench/photo.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */
import { CARD, claspShot } from '../examples/clasp-photo.ts'
import { greyOf, type PhotoStage, tracePhoto } from '../src/engine/pattern/photo/index.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'

const ROUNDS = 5
const { picture, corners_px } = claspShot(4000, 3000)
const photo = {
  scale: { by: 'sheet' as const, corners_px, ...CARD },
  widest_line_mm: 1.6,
  join_mm: 0.8,
  speck_mm2: 0.5,
}

const times = new Map<string, number[]>()
const note = (name: string, took: number): void => {
  times.set(name, [...(times.get(name) ?? []), took])
}

let regions = 0
for (let round = 0; round < ROUNDS; round += 1) {
  const began = performance.now()
  let last = began
  const tick = (stage: PhotoStage): void => {
    const now = performance.now()
    note(stage, now - last)
    last = now
  }
  const { drawing } = tracePhoto(picture, photo, tick)
  note('marks', performance.now() - last)
  last = performance.now()
  regions = findRegions(drawing.marks).regions.length
  note('regions', performance.now() - last)
  note('whole', performance.now() - began)
  const start = performance.now()
  greyOf(picture)
  note('bound: one pass', performance.now() - start)
}

for (const [name, each] of times) {
  const sorted = each.sort((a, b) => a - b)
  const [least, middle] = [sorted[0] ?? 0, sorted[sorted.length >> 1] ?? 0]
  process.stdout.write(`${name.padEnd(16)} ${middle.toFixed(0).padStart(6)} ms, least ${least.toFixed(0)}\n`)
}
process.stdout.write(`${regions} regions\n`)
