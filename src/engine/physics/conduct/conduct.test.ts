import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seriesTerms, shareLeft } from '../conduction.ts'
import {
  conduct,
  gradedEdges,
  type HeatMaterial,
  lineBody,
  meanOf,
  roundBody,
  type Surroundings,
  stateAt,
  temperatureAt,
  withLayer,
  withRegionsAt,
} from './index.ts'

const mould: HeatMaterial = { density: 1240, conductivity: 0.45, specificHeat: 1000 }
const steel: HeatMaterial = { density: 7900, conductivity: 20, specificHeat: 550 }
const wet: HeatMaterial = {
  density: 1700,
  conductivity: [
    [373, 1],
    [403, 0.45],
  ],
  specificHeat: [
    [373, 1500],
    [403, 700],
  ],
  reactions: [
    { from: 370, to: 378, heat: 500e3, reversible: false },
    { from: 483, to: 533, heat: 12e3 },
  ],
}

const evenly = (length: number, cells: number): number[] =>
  Array.from({ length: cells + 1 }, (_, index) => (length * index) / cells)

const slab = (material: HeatMaterial, length: number, cells: number) =>
  lineBody('slab', evenly(length, cells), [{ name: 'slab', material }], () => 0)

const flask = (material: HeatMaterial, cells = 10) => {
  const outward = withLayer(evenly(0.036, cells), 0.002, 1)
  return roundBody(
    outward,
    evenly(0.05, cells + 3),
    true,
    [
      { name: 'mould', material },
      { name: 'wall', material: steel },
    ],
    (fromAxis) => (fromAxis > 0.036 ? 1 : 0),
  )
}

const kiln: Surroundings = {
  heatTransfer: 10,
  emissivity: 0.8,
  ambient: [
    [0, 293],
    [9000, 900],
  ],
}
const room: Surroundings = { heatTransfer: 8, emissivity: 0.8, ambient: 293 }

/** Slope of log error against log size by least squares. */
const orderOf = (sizes: readonly number[], errors: readonly number[]): number => {
  const x = sizes.map(Math.log)
  const y = errors.map(Math.log)
  const mean = (of: readonly number[]) => of.reduce((sum, one) => sum + one, 0) / of.length
  const [mx, my] = [mean(x), mean(y)]
  const product = x.reduce((sum, one, index) => sum + (one - mx) * ((y[index] ?? Number.NaN) - my), 0)
  return product / x.reduce((sum, one) => sum + (one - mx) ** 2, 0)
}

describe('how fast the error falls', () => {
  test.each(['slab', 'rod', 'ball'] as const)('with the cells of a %s: to second order', (shape) => {
    const [length, biot] = [0.03, 3]
    const alpha = 0.45 / 1.24e6
    const fouriers = [0.2, 0.5, 1]
    const terms = seriesTerms(shape, biot)
    const sizes = [8, 16, 32]
    const errors = sizes.map((cells) => {
      const body = lineBody(shape, evenly(length, cells), [{ name: 'it', material: mould }], () => 0)
      const { moments } = conduct({
        body,
        start: 0,
        surroundings: [{ heatTransfer: (biot * 0.45) / length, emissivity: 0, ambient: 1000 }],
        times: fouriers.map((fourier) => (fourier * length ** 2) / alpha),
        tolerance: 1e-4,
      })
      const misses = moments.flatMap((moment, time) =>
        [0, 0.5, 1].map(
          (place) =>
            temperatureAt(body, moment, [place * length]) -
            1000 * (1 - shareLeft(shape, terms, fouriers[time] ?? Number.NaN, place)),
        ),
      )
      return Math.hypot(...misses)
    })
    const order = orderOf(
      sizes.map((cells) => 1 / cells),
      errors,
    )
    expect(order).toBeGreaterThan(1.8)
    expect(order).toBeLessThan(2.6)
  })

  test('with the tolerance: a hundredth of it leaves under a tenth of the error in time', () => {
    const body = slab(mould, 0.03, 20)
    const at = (tolerance: number): readonly number[] => {
      const { moments } = conduct({
        body,
        start: 293,
        surroundings: [kiln],
        times: [3000, 9000, 12_000],
        tolerance,
      })
      return moments.map((moment) => temperatureAt(body, moment, [0]))
    }
    const fine = at(1e-5)
    const miss = (tolerance: number) =>
      Math.hypot(...at(tolerance).map((kelvins, index) => kelvins - (fine[index] ?? Number.NaN)))
    expect(miss(0.1)).toBeLessThan(0.5)
    expect(miss(0.001)).toBeLessThan(miss(0.1) / 10)
  })
})

describe('heat is kept', () => {
  test.each([
    ['dry flask in the kiln and back in the room', mould],
    ['wet flask in the kiln and back in the room', wet],
  ])('in a %s, to a millionth of what passed', (_, material) => {
    const body = flask(material)
    const up = conduct({ body, start: 293, surroundings: [kiln, kiln], times: [9000], tolerance: 1 })
    const down = conduct({ body, start: up.state, surroundings: [room, room], times: [5000], tolerance: 1 })
    for (const { energyError, exchanged } of [up, down]) {
      expect(exchanged).toBeGreaterThan(1e4)
      expect(energyError).toBeLessThan(1e-10)
    }
  })

  test('and so is what the temperatures say: enthalpy read anew from them agrees', () => {
    const body = flask(mould)
    const { moments, stored } = conduct({
      body,
      start: 293,
      surroundings: [kiln, kiln],
      times: [4000],
      tolerance: 1,
    })
    const [moment] = moments
    if (moment === undefined) throw new Error('the moment asked for comes out')
    // constant properties: what is stored is mass times heat times the mean rise
    const byMeans = [mould, steel].map(({ density, specificHeat }, index) => {
      const volume = body.volume.reduce((sum, one, cell) => sum + (body.region[cell] === index ? one : 0), 0)
      const rise = meanOf(body, moment, index === 0 ? 'mould' : 'wall') - 293
      return volume * density * (specificHeat as number) * rise
    })
    expect((byMeans[0] ?? Number.NaN) + (byMeans[1] ?? Number.NaN)).toBeCloseTo(stored, 4)
  })

  test('an insulated body in balance stays as it is, and its energy error is nothing', () => {
    const shut: Surroundings = { heatTransfer: 0, emissivity: 0, ambient: 900 }
    const { moments, energyError } = conduct({
      body: slab(wet, 0.02, 10),
      start: 350,
      surroundings: [shut],
      times: [1e5],
      tolerance: 0.1,
    })
    expect(moments[0]?.cells.every((kelvins) => Math.abs(kelvins - 350) < 1e-9)).toBe(true)
    expect(energyError).toBeLessThan(1e-9)
  })
})

describe('a reaction', () => {
  const reacting = (reversible: boolean): HeatMaterial => ({
    ...mould,
    reactions: [{ from: 400, to: 420, heat: 300e3, reversible }],
  })
  const held = (kelvins: number): Surroundings => ({ held: kelvins })
  const course = (reversible: boolean) => {
    const body = slab(reacting(reversible), 0.01, 20)
    const heat = conduct({ body, start: 300, surroundings: [held(600)], times: [3000], tolerance: 0.5 })
    const cool = conduct({
      body,
      start: heat.state,
      surroundings: [held(300)],
      times: [3000],
      tolerance: 0.5,
    })
    const again = conduct({
      body,
      start: cool.state,
      surroundings: [held(600)],
      times: [3000],
      tolerance: 0.5,
    })
    return { heat, cool, again }
  }
  const capacity = 1240 * 1000 * 0.01 * 300
  const reaction = 1240 * 300e3 * 0.01

  test('that reverses gives back on cooling what it took', () => {
    const { heat, cool } = course(true)
    expect(heat.stored / (capacity + reaction)).toBeCloseTo(1, 4)
    expect(-cool.stored / (capacity + reaction)).toBeCloseTo(1, 4)
  })

  test('that does not reverse takes its heat once: cooling and a second heating are dry', () => {
    const { heat, cool, again } = course(false)
    expect(heat.stored / (capacity + reaction)).toBeCloseTo(1, 4)
    expect(-cool.stored / capacity).toBeCloseTo(1, 4)
    expect(again.stored / capacity).toBeCloseTo(1, 4)
  })

  test('stopped half way goes on from there', () => {
    const body = slab(reacting(false), 0.01, 4)
    const part = conduct({ body, start: 300, surroundings: [held(410)], times: [2e5], tolerance: 0.1 })
    const cool = conduct({ body, start: part.state, surroundings: [held(300)], times: [2e5], tolerance: 0.1 })
    const rest = conduct({ body, start: cool.state, surroundings: [held(600)], times: [2e5], tolerance: 0.1 })
    expect(part.stored).toBeCloseTo(1240 * 1000 * 0.01 * 110 + reaction / 2, -1)
    expect(rest.stored).toBeCloseTo(capacity + reaction / 2, -1)
  })

  test('does not care about its width once it is narrow', () => {
    const at = (width: number): number => {
      const body = slab(
        { ...mould, reactions: [{ from: 400 - width / 2, to: 400 + width / 2, heat: 300e3 }] },
        0.02,
        80,
      )
      const { moments } = conduct({
        body,
        start: 300,
        surroundings: [held(700)],
        times: [900],
        tolerance: 0.2,
      })
      return moments[0] === undefined ? Number.NaN : temperatureAt(body, moments[0], [0.015])
    }
    expect(Math.abs(at(0.01) - at(1))).toBeLessThan(2)
  })
})

describe('a state goes on', () => {
  test('a course cut in two is the same course', () => {
    const body = flask(wet, 6)
    const whole = conduct({
      body,
      start: 293,
      surroundings: [kiln, kiln],
      times: [5000, 9000],
      tolerance: 0.2,
    })
    const first = conduct({ body, start: 293, surroundings: [kiln, kiln], times: [5000], tolerance: 0.2 })
    const second = conduct({
      body,
      start: first.state,
      from: 5000,
      surroundings: [kiln, kiln],
      times: [9000],
      tolerance: 0.2,
    })
    const [one, other] = [whole.moments[1], second.moments[0]]
    for (const [cell, kelvins] of (one?.cells ?? []).entries())
      expect(Math.abs(kelvins - (other?.cells[cell] ?? Number.NaN))).toBeLessThan(0.5)
    expect(first.throughSides + second.throughSides).toBeCloseTo(whole.throughSides, -2)
  })

  test('metal put into a hot mould keeps the mould as it was', () => {
    const body = roundBody(
      evenly(0.02, 10),
      evenly(0.02, 10),
      true,
      [
        { name: 'metal', material: { density: 9300, conductivity: 350, specificHeat: 290 } },
        { name: 'mould', material: mould },
      ],
      (fromAxis, height) => (fromAxis < 0.006 && height < 0.01 ? 0 : 1),
    )
    const poured = withRegionsAt(body, stateAt(body, 800), { metal: 1250 })
    const { moments, stored } = conduct({
      body,
      start: poured,
      surroundings: body.sides.map(() => ({ heatTransfer: 0, emissivity: 0, ambient: 300 })),
      times: [1, 4000],
      tolerance: 0.1,
    })
    const [soon, late] = moments
    if (soon === undefined || late === undefined) throw new Error('both moments come out')
    expect(meanOf(body, soon, 'metal')).toBeGreaterThan(1200)
    expect(Math.abs(stored)).toBeLessThan(1e-6)
    // by the mixing rule: 9300*290 over the metal's share, 1240*1000 over the rest
    const share = (0.006 ** 2 * 0.01) / (0.02 ** 2 * 0.02)
    const [metal, rest] = [9300 * 290 * share, 1240 * 1000 * (1 - share)]
    expect(meanOf(body, late, 'mould')).toBeCloseTo((metal * 1250 + rest * 800) / (metal + rest), 1)
  })
})

describe('laws', () => {
  const some = { numRuns: 25, seed: 5 }
  const kelvins = fc.double({ min: 280, max: 1100, noNaN: true })

  test('nothing gets hotter than its hottest or colder than its coldest neighbour in time', () => {
    fc.assert(
      fc.property(
        kelvins,
        kelvins,
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom(mould, wet),
        (start, ambient, heatTransfer, emissivity, material) => {
          const body = slab(material, 0.02, 12)
          const { moments } = conduct({
            body,
            start,
            surroundings: [{ heatTransfer, emissivity, ambient }],
            times: [10, 100, 1000, 10_000],
            tolerance: 0.05,
          })
          const [low, high] = [Math.min(start, ambient) - 0.5, Math.max(start, ambient) + 0.5]
          return moments.every((moment) =>
            [...moment.cells, ...moment.faces].every((one) => one > low && one < high),
          )
        },
      ),
      some,
    )
  })

  test('with constant properties and no radiation, twice the difference gives twice the rise', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 300, noNaN: true }),
        fc.integer({ min: 1, max: 200 }),
        (rise, heatTransfer) => {
          const at = (difference: number): number => {
            const body = slab(mould, 0.02, 10)
            const { moments } = conduct({
              body,
              start: 300,
              surroundings: [{ heatTransfer, emissivity: 0, ambient: 300 + difference }],
              times: [800],
              tolerance: difference * 1e-4,
            })
            return (moments[0]?.cells[0] ?? Number.NaN) - 300
          }
          return Math.abs(at(2 * rise) - 2 * at(rise)) < 1e-6 * rise
        },
      ),
      some,
    )
  })

  test('a body of two regions of the same stuff is a body of one', () => {
    const two = lineBody(
      'ball',
      evenly(0.02, 12),
      [
        { name: 'inside', material: mould },
        { name: 'outside', material: mould },
      ],
      (distance) => (distance < 0.011 ? 0 : 1),
    )
    const one = lineBody('ball', evenly(0.02, 12), [{ name: 'all', material: mould }], () => 0)
    const run = (body: typeof one) =>
      conduct({ body, start: 293, surroundings: [kiln], times: [500, 5000], tolerance: 0.1 }).moments
    expect(run(two)).toEqual(run(one))
  })

  test('a round body solved whole is its upper half mirrored', () => {
    const regions = [{ name: 'mould', material: mould }]
    const half = roundBody(evenly(0.03, 12), evenly(0.04, 16), true, regions, () => 0)
    const whole = roundBody(evenly(0.03, 12), evenly(0.08, 32), false, regions, () => 0)
    const run = (body: typeof half) =>
      conduct({
        body,
        start: 293,
        surroundings: body.sides.map(() => kiln),
        times: [3000],
        tolerance: 0.01,
      }).moments[0]
    const [upper, both] = [run(half), run(whole)]
    if (upper === undefined || both === undefined) throw new Error('both moments come out')
    for (const [fromAxis, height] of [
      [0, 0],
      [0.02, 0.01],
      [0.03, 0.04],
      [0.03, 0],
    ] as const) {
      const there = temperatureAt(half, upper, [fromAxis, height])
      expect(Math.abs(there - temperatureAt(whole, both, [fromAxis, 0.04 + height]))).toBeLessThan(0.5)
      expect(Math.abs(there - temperatureAt(whole, both, [fromAxis, 0.04 - height]))).toBeLessThan(0.5)
    }
  })
})

describe('cells', () => {
  test('grow inward from the face, fill the length and are never larger there than asked', () => {
    const edges = gradedEdges(0.03, 0.0005, 1.08)
    expect([edges[0], edges.at(-1)]).toEqual([0, 0.03])
    const widths = edges.slice(1).map((edge, index) => edge - (edges[index] ?? Number.NaN))
    expect(widths.at(-1)).toBeLessThanOrEqual(0.0005)
    for (const [index, width] of widths.slice(1).entries()) expect(width).toBeLessThan(widths[index] ?? 0)
  })

  test('of a body add up to its volume', () => {
    const ball = lineBody('ball', gradedEdges(0.02, 0.001, 1.1), [{ name: 'it', material: mould }], () => 0)
    expect(ball.volume.reduce((sum, one) => sum + one, 0)).toBeCloseTo((4 / 3) * Math.PI * 0.02 ** 3, 12)
    const half = flask(mould).volume.reduce((sum, one) => sum + one, 0)
    expect(half).toBeCloseTo(Math.PI * 0.038 ** 2 * 0.05, 12)
  })
})

test('work that would never end stops where it was told to', () => {
  const { moments } = conduct({
    body: slab(steel, 0.0001, 50),
    start: 293,
    surroundings: [kiln],
    times: [1e6, 2e6],
    tolerance: 1e-6,
    mostWork: 1e6,
  })
  expect(moments.length).toBeLessThan(2)
})
