import fc from 'fast-check'
import { expect, test } from 'vitest'
import { openRoots, type Pour, pourSchema, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { movedBothWays } from '../moved-both-ways.ts'
import { METRIC, type Quantity, root, type Unit, writeWords } from '../quantity/index.ts'
import { planSpin, type SpinInput } from './index.ts'

const given = (id: string, unit: Unit, value: number, low = value, high = value): Quantity =>
  root({ id, title: id, unit, value, low, high, kind: 'weighed', source: 'given for this test' })

const pourWith = (spin: Pour['spin'] = {}): Pour =>
  pourSchema.parse({
    kind: 'pour',
    version: 1,
    name: 'Cloak clasp set',
    alloy: 'sterling',
    pieces: [],
    tree: {},
    investment: { id: 'gypsum-bonded', water_C: 21 },
    kiln: 'kiln',
    machine: 'spring-arm',
    crucible: 'crucible',
    torch: 'torch',
    castAt: { weekday: 'saturday', time: '15:30' },
    charge: {},
    spin,
    price: { labour_h: {} },
  })

/** The arm of the worked scenarios: the flask's middle lies 165 mm out when it is 88.9 mm tall. */
const shopWith = (machine: Partial<Shop['machines'][number]> = {}): Shop => {
  const shop = usualShop()
  const [arm] = shop.machines
  if (arm === undefined) throw new Error('the usual shop has no machine; expected one')
  return { ...shop, machines: [{ ...arm, flaskEnd_mm: 120.55, ...machine }] }
}

const spin = (over: Partial<SpinInput> = {}, pour = pourWith(), shop = shopWith()) =>
  planSpin({
    roots: openRoots(shop, pour),
    shop,
    pour,
    machineIndex: 0,
    flaskSteel: given('steel', 'kg', 0.267),
    dryInvestment: given('dry', 'kg', 0.492),
    wetFlask: given('wet', 'kg', 0.965),
    charge: given('charge', 'kg', 0.14),
    flaskInside: { diameter: given('d', 'm', 0.0762), height: given('h', 'm', 0.0889) },
    gateDepth: given('depth', 'm', 0.0588),
    metalCentroid: given('centroid', 'm', 0.02945),
    liquidDensity: given('density', 'kg/m3', 9200),
    freezing: {
      feeds: [given('sprues to the clasp', 's', 58, 48, 68)],
      button: given('button', 's', 78, 66, 90),
    },
    ...over,
  })

const verdictOf = (answer: ReturnType<typeof spin>, id: string) =>
  answer.answer.verdicts.find((verdict) => verdict.id === id)?.verdict

test('the arm balances as worked by hand, with the metal in crucible, half-way and in the flask', () => {
  const { balance } = spin()
  // 759 x 165 + 620 x 95 + 140 x 95 = 125 235 + 58 900 + 13 300 = 197 435 g mm; over 1350 g: 146.25 mm
  expect(balance?.moments.start.value).toBeCloseTo(0.197435, 9)
  expect(balance?.counterweightSpan.start.value).toBeCloseTo(0.14625, 5)
  // the metal moves out to 150 mm: 140 x 55 = 7700 g mm more, half of it half-way: 201 285 / 1350 = 149.1 mm
  expect((balance?.moments.end.value ?? 0) - (balance?.moments.start.value ?? 0)).toBeCloseTo(0.0077, 9)
  expect(balance?.counterweightAt.value).toBeCloseTo(0.1491, 5)
  // set with the wet flask: (965 - 759) x 165 = 33 990 g mm, at 300 turns a minute x 986.96 /s2
  expect(balance?.pull.ifWet?.value).toBeCloseTo(0.03399 * 986.96, 2)
})

test('the stand-in of a lighter flask and 105 g of metal is 815 g', () => {
  const { balance } = spin({ dryInvestment: given('dry', 'kg', 0.47), charge: given('charge', 'kg', 0.105) })
  // 737 + 105 x 122.5 / 165 = 737 + 77.95
  expect(balance?.standIn.value).toBeCloseTo(0.81495, 5)
  expect(balance?.metalPart.value).toBeCloseTo(0.07795, 5)
  // 105 x 27.5 = 2887.5 g mm; x 986.96 = 2.85 N, 0.64 lb, as the shot starts and as it ends
  expect(balance?.pull.start.value).toBeCloseTo(2.8498, 3)
  expect(balance?.pull.end.value).toBeCloseTo(2.8498, 3)
})

test('the stand-in pulls on the pivot exactly as the hot flask and the metal half-way out do', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.2, max: 1.5, noNaN: true }),
      fc.double({ min: 0.02, max: 0.2, noNaN: true }),
      fc.double({ min: 0.01, max: 0.05, noNaN: true }),
      (dry, charge, centroid) => {
        const { balance } = spin({
          dryInvestment: given('dry', 'kg', dry),
          charge: given('charge', 'kg', charge),
          metalCentroid: given('centroid', 'm', centroid),
        })
        if (balance === undefined) throw new Error('no balance; expected one')
        const cold = balance.standIn.value * balance.flaskAt.value + 0.62 * 0.095
        expect(cold).toBeCloseTo(balance.moments.halfWay.value, 9)
        // and the counterweight, where it is set, balances that
        expect(1.35 * balance.counterweightAt.value).toBeCloseTo(cold, 9)
      },
    ),
    { numRuns: 50 },
  )
})

test('the pressure stands as a column of metal, and nothing is told in newtons, joules or gravities', () => {
  const answer = spin()
  const density = answer.head?.inputs.density?.value ?? Number.NaN
  // hydrostatics: p = ρ g h
  expect(answer.head?.value).toBeCloseTo((answer.pressure?.value ?? 0) / (density * 9.80665), 6)
  expect(answer.headLeft?.value).toBeLessThan(answer.head?.value ?? 0)
  const told = [
    ...answer.answer.verdicts.flatMap(({ reason, remedy }) => [reason, remedy]),
    ...answer.answer.cautions.map(({ words }) => words),
  ].map((words) => writeWords(words, METRIC))
  for (const words of told) expect(words).not.toMatch(/\d\s(N|J)\b|gravities/)
  expect(told.join(' ')).toContain('times its own weight')
  expect(told.join(' ')).toContain('kg dropped a metre')
  expect(told.join(' ')).toContain('kg of pull')
})

test('a turn more on three, with one of preload, gives five fourths of the speed and 25/16 of the pressure', () => {
  const usual = spin()
  const more = spin({}, pourWith({ turns: 4 }))
  expect(more.speed.value / usual.speed.value).toBeCloseTo(5 / 4, 9)
  expect((more.pressure?.value ?? 0) / (usual.pressure?.value ?? 1)).toBeCloseTo(25 / 16, 9)
})

test('pressure at the far edge is about 80 kPa and a tenth of it is left after 90 s', () => {
  const { pressure, pressureLeft, time, series } = spin()
  // 0.5 x 9200 x 31.416^2 x (0.17935^2 - 0.12055^2) = 80.06 kPa
  expect(pressure?.value).toBeCloseTo(80063, -2)
  expect(time?.run.value).toBe(90)
  // speed falls by e^2 over 150 s, pressure by e^4: exp(-4 x 90 / 150) = 0.0907
  expect((pressureLeft?.value ?? 0) / (pressure?.value ?? 1)).toBeCloseTo(Math.exp(-2.4), 6)
  expect(series[0]?.pressure_Pa).toBe(pressure?.value)
  expect(series.find((point) => point.time_s === 90)?.pressure_Pa).toBeCloseTo(pressureLeft?.value ?? 0, 6)
})

test('300 turns a minute on metal from 100 to 180 mm press with about an atmosphere', () => {
  // the trade's own figure, one atmosphere: 0.5 x 9200 x 31.416^2 x (0.18^2 - 0.10^2) = 101.7 kPa
  const { pressure } = spin(
    { gateDepth: given('depth', 'm', 0.08) },
    pourWith(),
    shopWith({ flaskEnd_mm: 100 }),
  )
  expect(pressure?.value).toBeCloseTo(101696, -2)
  expect(Math.abs((pressure?.value ?? 0) / 101325 - 1)).toBeLessThan(0.02)
})

test('the run covers the upper end of the slowest part, and a short asked run is stopped with its reason', () => {
  expect(verdictOf(spin(), 'spin.run')).toBe('pass')
  expect(verdictOf(spin({}, pourWith({ run_s: 25 })), 'spin.run')).toBe('stop')
  expect(verdictOf(spin({}, pourWith({ run_s: 75 })), 'spin.run')).toBe('check')
  expect(verdictOf(spin({}, pourWith({ run_s: 95 })), 'spin.run')).toBe('pass')
})

test('an arm that has stopped before the metal is solid is a stop', () => {
  const bronze = { feeds: [given('sprue', 's', 193, 160, 230)] }
  expect(verdictOf(spin({ freezing: bronze }), 'spin.coast')).toBe('stop')
})

test('a counterweight that has to stand beyond its slide is a stop that says the weight to use', () => {
  const answer = spin({}, pourWith(), shopWith({ counterweight_g: 700 }))
  expect(verdictOf(answer, 'spin.balance')).toBe('stop')
  // 201 285 g mm over 260 mm = 774 g
  const words = answer.answer.verdicts.find((verdict) => verdict.id === 'spin.balance')?.remedy
  const weight = words?.find((part) => typeof part !== 'string' && part.unit === 'kg')
  expect(typeof weight === 'object' && weight.value).toBeCloseTo(0.7742, 4)
})

test('each limit of the machine that is passed is named by itself', () => {
  const answer = spin(
    { charge: given('charge', 'kg', 0.25) },
    pourWith(),
    shopWith({ mostFlaskHeight_mm: 80 }),
  )
  expect(verdictOf(answer, 'spin.capacity.charge')).toBe('stop')
  expect(verdictOf(answer, 'spin.capacity.height')).toBe('stop')
  expect(verdictOf(answer, 'spin.capacity')).toBeUndefined()
})

test('what is not known stays open and is said, and the rest still comes out', () => {
  const answer = spin({ charge: undefined, freezing: undefined, gateDepth: undefined })
  expect(answer.balance).toBeUndefined()
  expect(answer.time).toBeUndefined()
  expect(answer.speed.value).toBeGreaterThan(0)
  expect(answer.answer.problems.map((problem) => problem.kind)).toEqual([
    'charge-missing',
    'depth-missing',
    'freezing-missing',
  ])
})

test('a vaguer weight of the flask never gives a surer place for the counterweight', () => {
  const width = (spread: number): number => {
    const { balance } = spin({ flaskSteel: given('steel', 'kg', 0.267, 0.267 - spread, 0.267 + spread) })
    return (balance?.counterweightAt.high ?? 0) - (balance?.counterweightAt.low ?? 0)
  }
  expect(width(0.05)).toBeGreaterThan(width(0.01))
})

test('the danger of flying metal stands at its step whatever the plan says', () => {
  const cautions = spin({ charge: undefined }).answer.cautions
  expect(cautions.find((caution) => caution.id === 'spin.metal-flies')?.level).toBe('danger')
})

test('counterweight, stand-in and pressure are the same through their explanation as when planned afresh', () => {
  const shop = shopWith()
  const numbers = [
    (answer: ReturnType<typeof spin>) => answer.balance?.counterweightAt,
    (answer: ReturnType<typeof spin>) => answer.balance?.standIn,
    (answer: ReturnType<typeof spin>) => answer.pressureLeft,
    (answer: ReturnType<typeof spin>) => answer.holding,
    (answer: ReturnType<typeof spin>) => answer.balance?.energy,
  ]
  for (const number of numbers) {
    const target = number(spin())
    if (target === undefined) throw new Error('no number; expected one')
    const moved = movedBothWays(target, (path, value) =>
      number(spin({}, pourWith(), withPath(shop, path.replace(/^\/shop/, ''), value))),
    )
    expect(moved.length).toBeGreaterThan(1)
    for (const [through, fresh, path] of moved) expect(through, path).toBeCloseTo(fresh, 9)
  }
})
