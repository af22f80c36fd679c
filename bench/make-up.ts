import type { ChargeRequest, LinearSolver, Lot } from '../src/engine/charge/make-up/index.ts'
import { makeUpCharge, makeUpFromFine } from '../src/engine/charge/make-up/index.ts'
import { exactly, lot, request, sterling } from '../src/engine/charge/make-up/sample.ts'
import { createHighsSolver } from '../src/solver/highs.ts'

// Times of the charge make-up: the bench rule (runs at each key press) and the solved one (after a pause).
// Goals: rule under 1 ms, 3 lots under 20 ms, 40 lots under 300 ms. Run: npx vite-node or any TypeScript runner.

const repeats = 15

const threeLots = request({
  alloy: sterling({ finenessTarget_ppt: 927, finenessLeast_ppt: 925 }),
  returnedMost: 0.5,
  lots: [
    lot('returns', 'returns', 925, { mass_kg: 0.06, price_per_kg: 500 }),
    lot('fine', 'fine', 999, { composition: { Ag: exactly(0.999) } }),
    lot('copper', 'alloying', 0, { price_per_kg: 10 }),
  ],
})

/** A full shelf, spread by fixed strides so that every run weighs the same. */
const shelf = (variant: number, withPieces: boolean): Lot[] =>
  Array.from({ length: 40 }, (_, index) => {
    const mix = index * 37 + variant * 101
    const fineness = index === 0 ? 999 : index === 1 ? 0 : 700 + (mix % 300)
    const kind = index === 0 ? 'fine' : index === 1 ? 'alloying' : index % 3 ? 'returns' : 'casting grain'
    const value = fineness / 1000
    const stock = 0.012 + ((index * 53 + variant * 17) % 40) / 1000
    const pieces = [0.3, 0.25, 0.2].map((part) => Number((stock * part).toFixed(4)))
    return lot(`lot ${index}`, kind, fineness, {
      mass_kg: stock,
      composition: {
        Ag: {
          value,
          low: Math.max(0, value - ((index * 7) % 5) / 1000),
          high: Math.min(1, value + 0.002),
        },
        Cu: exactly(1 - value),
      },
      price_per_kg: fineness * (0.8 + ((mix * 29) % 17) / 80),
      ...(index % 2 ? { leastUse_kg: 0.005 } : {}),
      ...(withPieces && index % 4 === 2 ? { wholePieces_kg: pieces } : {}),
    })
  })

const fortyLots = (variant: number, withPieces: boolean): ChargeRequest =>
  request({
    alloy: sterling({ finenessTarget_ppt: 925, finenessLeast_ppt: 924.5 }),
    returnedMost: 0.5,
    lots: shelf(variant, withPieces),
  })

const solver = createHighsSolver()
let solves = 0
const counting: LinearSolver = {
  solve: (model) => {
    solves += 1
    return solver.solve(model)
  },
}

const time = async (name: string, task: (round: number) => unknown): Promise<void> => {
  await task(0)
  solves = 0
  const times: number[] = []
  for (let round = 1; round <= repeats; round++) {
    const start = performance.now()
    await task(round)
    times.push(performance.now() - start)
  }
  times.sort((a, b) => a - b)
  const show = (ms: number | undefined) => (ms ?? Number.NaN).toFixed(2).padStart(9)
  const middle = times[Math.floor(times.length / 2)]
  console.log(
    `${name.padEnd(34)}${show(times[0])}${show(middle)}${show(times.at(-1))}   ${(solves / repeats).toFixed(1)}`,
  )
}

console.log(`${''.padEnd(34)}    least   middle     most   solves each (times in ms)`)
const start = performance.now()
await makeUpCharge(threeLots, solver)
console.log(
  `${'first answer, solver loaded'.padEnd(34)}${(performance.now() - start).toFixed(2).padStart(9)}`,
)
await time('rule, 3 lots', () => makeUpFromFine(threeLots))
await time('solved, 3 lots', () => makeUpCharge(threeLots, counting))
await time('solved, 40 lots, least amounts', (round) => makeUpCharge(fortyLots(round, false), counting))
await time('solved, 40 lots, whole pieces', (round) => makeUpCharge(fortyLots(round, true), counting))
await time('solved, 40 lots, at most 4', (round) =>
  makeUpCharge({ ...fortyLots(round, false), mostLots: 4 }, counting),
)
await time('refused, 40 lots, with why', (round) =>
  makeUpCharge({ ...fortyLots(round, false), alloy: sterling({ finenessLeast_ppt: 998 }) }, counting),
)
