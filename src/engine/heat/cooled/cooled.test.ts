import { describe, expect, test } from 'vitest'
import { conduct, stateAt, withRegionsAt } from '../../physics/conduct/index.ts'
import { celsius } from '../../quantity/index.ts'
import { FlaskCooling } from '../cooling.ts'
import { coolDown } from './cool-down.ts'
import { cutFlask, type HotFlask } from './hot-flask.ts'
import { smallFlask } from './sample.ts'
import { type CoolingQuestion, coolingEvents, solveCooling } from './solve-cooling.ts'

const scaled = (share: number): HotFlask => ({
  ...smallFlask,
  radius: smallFlask.radius * share,
  height: smallFlask.height * share,
  dryInvestment: smallFlask.dryInvestment * share ** 3,
  steel: smallFlask.steel * share ** 2,
  charge: smallFlask.charge * share ** 3,
})

const question = (flask: HotFlask): CoolingQuestion => ({
  flask,
  spread: { conductivity: 0.09, metalAt: 0.07, airTakes: 3, mould: 5, mouldHeat: 60 },
  levels: { leaves: celsius(455), opens: celsius(500), closes: celsius(200) },
  levelSpread: { leaves: 0, opens: 24, closes: 27 },
  farthest: [
    [flask.radius - 0.00635, 0],
    [flask.radius - 0.00635, flask.height / 2 - 0.019],
  ],
})

describe('the metal in the solved flask', () => {
  test('has the volume and the heat of the charge, whatever the charge and where it stands', () => {
    for (const charge of [0.01, 0.14, 0.6, 1.2])
      for (const metalAt of [0.3, 0.5, 0.7]) {
        const flask = { ...smallFlask, charge, metalAt }
        const { poured, hollow } = cutFlask(flask, 8)
        const metal = poured.regions.findIndex(({ name }) => name === 'metal')
        const of = (region: number): number =>
          // the upper half is drawn, and stands for both
          2 * poured.volume.reduce((sum, each, cell) => sum + (poured.region[cell] === region ? each : 0), 0)
        expect(of(metal) * flask.metalDensity).toBeCloseTo(charge, 6)
        const mould = poured.regions.find(({ name }) => name === 'mould')
        expect(of(0) * (mould?.material.density ?? 0)).toBeCloseTo(flask.dryInvestment, 6)
        const wall = of(poured.regions.findIndex(({ name }) => name === 'wall'))
        expect(wall * 7900).toBeCloseTo(flask.steel, 6)
        // from the pouring heat to solid it gives what the alloy's row says, and the rest below
        const cold = withRegionsAt(poured, stateAt(hollow, flask.mould), { metal: flask.solidAt })
        const hot = withRegionsAt(poured, stateAt(hollow, flask.mould), { metal: flask.pour })
        const heat = poured.volume.reduce(
          (sum, each, cell) => sum + each * ((hot.enthalpy[cell] ?? 0) - (cold.enthalpy[cell] ?? 0)),
          0,
        )
        expect((2 * heat) / (charge * flask.freezingHeat)).toBeCloseTo(1, 6)
      }
  })

  test('shut in without loss keeps its heat to a millionth while it freezes', () => {
    const { poured, hollow } = cutFlask(smallFlask, 6)
    const start = withRegionsAt(poured, stateAt(hollow, smallFlask.mould), { metal: smallFlask.pour })
    const shut = { heatTransfer: 0, emissivity: 0, ambient: 300 }
    const { state } = conduct({ body: poured, start, surroundings: [shut, shut], times: [600], tolerance: 1 })
    const total = (one: typeof start): number =>
      poured.volume.reduce((sum, each, cell) => sum + each * (one.enthalpy[cell] ?? 0), 0)
    const given = (smallFlask.charge / 2) * smallFlask.freezingHeat
    expect(Math.abs(total(state) - total(start)) / given).toBeLessThan(1e-6)
  })

  test('moves the opening by a tenth at most, conduct it a tenth of what silver does or all of it', () => {
    const opens = (conductivity: number): number => {
      const { times, metal } = coolDown(smallFlask, { until: celsius(300), cells: 8, conductivity })
      const index = metal.findIndex((each) => each <= celsius(500))
      const [from, to] = [times[index - 1] ?? 0, times[index] ?? 0]
      const [hot, cold] = [metal[index - 1] ?? 0, metal[index] ?? 0]
      return from + ((to - from) * (hot - celsius(500))) / (hot - cold) - smallFlask.spin
    }
    const chosen = opens(100)
    expect(Math.abs(opens(33) / chosen - 1)).toBeLessThan(0.1)
    expect(Math.abs(opens(330) / chosen - 1)).toBeLessThan(0.1)
  })
})

describe('the solved way from the kiln', () => {
  test('keeps the middle long after the mould near the wall is too cool', () => {
    const { farthestLeaves, coreLeaves } = coolingEvents(question(smallFlask))
    expect(farthestLeaves).toBeGreaterThan(30)
    expect(farthestLeaves).toBeLessThan(120)
    expect(coreLeaves).toBeGreaterThan(4 * farthestLeaves)
  })
})

describe('the solved quench', () => {
  test('keeps all its heat, and holds to a twentieth on cells half as large', () => {
    const { energyError } = solveCooling(question(smallFlask))
    expect(energyError).toBeLessThan(1e-6)
    const moment = (cells: number): number => {
      const { times, metal } = coolDown(smallFlask, { until: celsius(180), cells })
      const index = metal.findIndex((each) => each <= celsius(200))
      return times[index] ?? Number.NaN
    }
    expect(Math.abs(moment(12) / moment(24) - 1)).toBeLessThan(0.05)
  })

  test('stays within a third of the two lumps of heat, for a small, a middling and a large flask', () => {
    for (const share of [1, 1.3, 1.7]) {
      const flask = scaled(share)
      const { opens, closes } = coolingEvents(question(flask))
      const two = new FlaskCooling({ ...flask, metal: flask.charge, reach: 0.33 })
      const rule = [500, 200].map((at) => two.timeTo(celsius(at)) - flask.spin)
      expect(opens).toBeGreaterThan(0)
      expect(closes).toBeGreaterThan(opens)
      expect(Math.abs(opens / (rule[0] ?? Number.NaN) - 1)).toBeLessThan(1 / 3)
      expect(Math.abs(closes / (rule[1] ?? Number.NaN) - 1)).toBeLessThan(1 / 3)
    }
  })

  test('has slopes that a flask solved anew confirms, to a quarter', () => {
    const asked = question(smallFlask)
    const { slopes, events } = solveCooling(asked)
    for (const [name, by] of [
      ['conductivity', 0.06],
      ['metalAt', 0.05],
      ['airTakes', 2],
      ['mould', 5],
    ] as const) {
      const anew = coolingEvents({ ...asked, flask: { ...smallFlask, [name]: smallFlask[name] + by } })
      const [told, found] = [(slopes.closes[name] ?? 0) * by, anew.closes - events.closes]
      expect(Math.sign(told)).toBe(Math.sign(found))
      expect(Math.abs(told - found)).toBeLessThan(0.25 * Math.abs(found) + 3)
    }
  })

  test('opens later for more metal, hotter metal, a hotter mould, a shorter spin and a slower mould', () => {
    const { opens } = coolingEvents(question(smallFlask))
    for (const other of [
      { charge: 0.2 },
      { pour: smallFlask.pour + 60 },
      { mould: smallFlask.mould + 30 },
      { spin: 20 },
      { conductivity: 0.36 },
    ])
      expect(coolingEvents(question({ ...smallFlask, ...other })).opens).toBeGreaterThan(opens)
  })
})
