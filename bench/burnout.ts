/**
 * What a key press costs once the burnout is solved: one run of seven hours, the whole design with its
 * bands, and a fit to a log. Aim: a run under 50 ms, the design under 150 ms, aside from the page. Nothing is
 * asserted.
 * Run: npx esbuild bench/burnout.ts --bundle --platform=node --format=esm --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */

import { type DesignQuestion, designBurnout, fitLog, follow } from '../src/engine/heat/solved/index.ts'

const K = 273.15
const question = (radius: number, height: number, variant: 'gentle' | 'shortest'): DesignQuestion => ({
  variant,
  flask: {
    radius,
    height,
    wall: 0.0016,
    waxShare: 0.03,
    conductivity: 0.45,
    wetConductivity: 1,
    heat: 1000,
    hemihydrate: 0.3,
    ratio: 0.38,
    particle: 2550,
    waterDoubt: 1,
    boiling: 100 + K,
    film: 8,
    emissivity: 0.8,
  },
  spread: {
    conductivity: 0.076,
    wetConductivity: 0.12,
    heat: 76,
    hemihydrate: 0.03,
    particle: 46,
    waterDoubt: 0.09,
    film: 2.1,
    emissivity: 0.06,
  },
  melts: { pattern: { at: 112 + K, u: 5 }, sprue: { at: 60 + K, u: 6 } },
  kiln: {
    room: 20 + K,
    first: 149 + K,
    drying: 205 + K,
    top: 704 + K,
    casting: 480 + K,
    rise: 167 / 3600,
    fall: 110 / 3600,
  },
  ask: {
    wax: 7200,
    leastDrying: 1800,
    clean: { gentle: 7200, shortest: 3600 },
    leastSoak: { gentle: 3600, shortest: 1800 },
  },
})
const seven = {
  temperatures: [20, 149, 149, 704, 704].map((celsius) => celsius + K),
  durations: [2800, 5400, 12_000, 5000],
}

const least = (work: () => unknown, rounds = 10): string => {
  let [wall, processor] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let round = 0; round < rounds; round++) {
    const [from, used] = [performance.now(), process.cpuUsage().user]
    work()
    wall = Math.min(wall, performance.now() - from)
    processor = Math.min(processor, (process.cpuUsage().user - used) / 1000)
  }
  return `${wall.toFixed(1).padStart(7)} ms wall ${processor.toFixed(1).padStart(7)} ms cpu`
}

for (const [name, radius, height] of [
  ['51 x 51', 0.0254, 0.0508],
  ['76 x 89', 0.0381, 0.0889],
  ['102 x 203', 0.0508, 0.2032],
] as const) {
  const { flask } = question(radius, height, 'gentle')
  console.log(`${name.padEnd(10)} seven hours   ${least(() => follow(flask, seven, 20 + K))}`)
  for (const variant of ['gentle', 'shortest'] as const)
    console.log(
      `${name.padEnd(10)} ${variant.padEnd(13)} ${least(() => designBurnout(question(radius, height, variant)), 5)}`,
    )
}
const asked = question(0.0381, 0.0889, 'gentle')
const { times, core } = follow({ ...asked.flask, conductivity: 0.55 }, seven, 20 + K, { every: 120 })
const points = times.map((s, index) => ({ s, core: core[index] ?? Number.NaN }))
console.log(`76 x 89    fit to a log  ${least(() => fitLog(points, asked, seven, 0), 3)}`)
