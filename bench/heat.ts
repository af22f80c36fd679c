/**
 * A burnout of seven hours through a wet flask with a steel wall: time against cells, the core's error
 * against cells of 1 mm, how time grows, and the same cells stepped explicitly in the same run.
 * Aim: under 50 ms at under 0.5 % of the core's times; stretch 20 ms. Nothing is asserted.
 * Run: npx esbuild bench/heat.ts --bundle --platform=node --format=esm --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */

import { curvesOf } from '../src/engine/physics/conduct/curves.ts'
import { flowOf } from '../src/engine/physics/conduct/flow.ts'
import {
  type Body,
  conduct,
  gradedEdges,
  type HeatMaterial,
  roundBody,
  type Surroundings,
  stateAt,
  temperatureAt,
  withLayer,
} from '../src/engine/physics/conduct/index.ts'

const K = 273.15
const knots = (pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([at, value]) => [at + K, value] as const)
const wet: HeatMaterial = {
  density: 1766,
  conductivity: knots([
    [20, 1],
    [100, 1],
    [130, 0.45],
    [700, 0.5],
  ]),
  specificHeat: knots([
    [20, 1500],
    [100, 1500],
    [130, 650],
    [700, 800],
  ]),
  reactions: [
    { from: 96 + K, to: 104 + K, heat: 555e3, reversible: false },
    { from: 110 + K, to: 170 + K, heat: 120e3, reversible: false },
  ],
}
const steel: HeatMaterial = { density: 7900, conductivity: 20, specificHeat: 560 }
const [RADIUS, HALF, WALL, HOURS] = [0.036, 0.05, 0.002, 7]

const flask = (cells: number): Body => {
  const edges = (length: number) => gradedEdges(length, RADIUS / cells, 1)
  return roundBody(
    withLayer(edges(RADIUS), WALL, 1),
    edges(HALF),
    true,
    [
      { name: 'mould', material: wet },
      { name: 'wall', material: steel },
    ],
    (fromAxis) => (fromAxis > RADIUS ? 1 : 0),
  )
}

const kiln: Surroundings = {
  heatTransfer: 10,
  emissivity: 0.8,
  ambient: [
    [0, 20 + K],
    [5400, 150 + K],
    [12_600, 150 + K],
    [18_000, 700 + K],
    [HOURS * 3600, 700 + K],
  ],
}
const everyMinutes = (minutes: number): number[] =>
  Array.from({ length: (HOURS * 60) / minutes }, (_, index) => (index + 1) * minutes * 60)

const follow = (body: Body, tolerance: number, minutes: number) =>
  conduct({ body, start: 20 + K, surroundings: [kiln, kiln], times: everyMinutes(minutes), tolerance })

/** Minutes until the core passes each temperature [°C]. */
const coreTimes = (body: Body, { moments }: ReturnType<typeof conduct>): readonly number[] => {
  const core = moments.map((moment) => [moment.time / 60, temperatureAt(body, moment, [0, 0]) - K] as const)
  return [90, 170, 400, 680].map((level) => {
    const index = core.findIndex(([, celsius]) => celsius > level)
    const [after, before] = [core[index], core[index - 1]]
    if (after === undefined || before === undefined) return Number.NaN
    return before[0] + ((after[0] - before[0]) * (level - before[1])) / (after[1] - before[1])
  })
}

const ROUNDS = 12
const timed = <T>(work: () => T, rounds = ROUNDS): { result: T; wall: number; processor: number } => {
  let result = work()
  let [wall, processor] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let round = 0; round < rounds; round++) {
    const [from, used] = [performance.now(), process.cpuUsage().user]
    result = work()
    wall = Math.min(wall, performance.now() - from)
    processor = Math.min(processor, (process.cpuUsage().user - used) / 1000)
  }
  return { result, wall, processor }
}

const fine = flask(36)
const reference = coreTimes(fine, follow(fine, 0.1, 1))
console.log(`core past 90, 170, 400, 680 C at 1 mm: ${reference.map((one) => one.toFixed(2)).join(', ')} min`)
console.log('cells    tol K  every min   steps  stages   wall ms   cpu ms   worst core time %')
const measured: { cells: number; processor: number }[] = []
for (const [cells, tolerance, minutes] of [
  [6, 3, 5],
  [8, 3, 5],
  [8, 3, 1],
  [12, 3, 5],
  [18, 3, 5],
  [27, 3, 5],
] as const) {
  const body = flask(cells)
  const { result, wall, processor } = timed(() => follow(body, tolerance, minutes))
  const worst = Math.max(
    ...coreTimes(body, result).map((one, index) => Math.abs(one / (reference[index] ?? Number.NaN) - 1)),
  )
  if (minutes === 5) measured.push({ cells: body.volume.length, processor })
  console.log(
    `${String(body.volume.length).padStart(5)} ${tolerance.toFixed(1).padStart(8)} ${String(minutes).padStart(10)} ${String(result.steps).padStart(7)} ${String(result.stages).padStart(7)} ${wall.toFixed(1).padStart(9)} ${processor.toFixed(1).padStart(8)} ${(100 * worst).toFixed(3).padStart(10)}`,
  )
}
const [smallest, largest] = [measured[0], measured.at(-1)]
if (smallest !== undefined && largest !== undefined)
  console.log(
    `time grows as cells to the power ${(Math.log(largest.processor / smallest.processor) / Math.log(largest.cells / smallest.cells)).toFixed(2)}`,
  )

/** The plain way: one stage a step, each as long as it may be. */
const explicitly = (body: Body): { steps: number; core: number } => {
  const state = stateAt(body, 20 + K)
  const flow = flowOf(body, curvesOf([wet, steel]), [kiln, kiln], state)
  const now = Float64Array.from(state.enthalpy)
  const rate = new Float64Array(now.length)
  let steps = 0
  const bends = [5400, 12_600, 18_000, HOURS * 3600]
  let time = 0
  for (const bend of bends) {
    flow.look(time, bend)
    while (time < bend) {
      flow.rates(now, time, rate)
      const step = Math.min(bend - time, 0.9 / flow.stiffness())
      for (let cell = 0; cell < now.length; cell++) now[cell] = (now[cell] ?? 0) + step * (rate[cell] ?? 0)
      flow.remember(now)
      time += step
      steps++
    }
  }
  return { steps, core: (flow.temperatures[0] ?? Number.NaN) - K }
}
for (const cells of [8, 18]) {
  const body = flask(cells)
  const plain = timed(() => explicitly(body), 2)
  const ours = timed(() => follow(body, 3, 5))
  console.log(
    `${body.volume.length} cells stepped explicitly: ${plain.result.steps} steps, ${plain.processor.toFixed(0)} ms cpu, ${(plain.processor / ours.processor).toFixed(1)} times ours`,
  )
}
