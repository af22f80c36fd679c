import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { openRoots, type Pour, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import {
  celsius,
  METRIC,
  type Quantity,
  reworked,
  root,
  toCelsius,
  type Unit,
  writeWords,
} from '../quantity/index.ts'
import { type Mix, type MixInput, planMix, stationPressure } from './index.ts'

const given = (id: string, unit: Unit, value: number, low = value, high = value) =>
  root({ id, title: id, unit, value, low, high, kind: 'asked', source: 'asked in this test' })

const clasp: Pour = {
  kind: 'pour',
  version: 1,
  name: 'Cloak clasp set',
  alloy: 'sterling',
  pieces: [],
  tree: {},
  investment: { id: 'gypsum-bonded', work: 'heavy', water_C: 21 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: { weekday: 'saturday', time: '15:30' },
  charge: { fromStock: true },
  spin: {},
  price: { labour_h: {}, clientsMetal: false },
}

/** Flask 3 x 3½ in unless said; volumes in cm³. */
const flask = (diameter_mm = 76.2, height_mm = 88.9): NonNullable<MixInput['flaskInside']> => ({
  diameter: given('flask.d', 'm', diameter_mm / 1000),
  height: given('flask.h', 'm', height_mm / 1000),
  volume: given('flask.v', 'm3', ((Math.PI / 4) * diameter_mm ** 2 * height_mm) / 1e9),
})

const mixed = (
  change: {
    shop?: Readonly<Record<string, unknown>>
    pour?: Readonly<Record<string, unknown>>
    input?: Partial<MixInput>
    wax_cm3?: number
    dome_cm3?: number
  } = {},
): Mix => {
  let shop: Shop = usualShop()
  let pour = clasp
  for (const [path, value] of Object.entries(change.shop ?? {})) shop = withPath(shop, path, value)
  for (const [path, value] of Object.entries(change.pour ?? {})) pour = withPath(pour, path, value)
  const roots = openRoots(shop, pour)
  return planMix({
    roots,
    shop,
    pour,
    investmentIndex: 0,
    flaskInside: flask(),
    waxVolume: given('wax.v', 'm3', (change.wax_cm3 ?? 9.6) / 1e6),
    domeVolume: given('dome.v', 'm3', (change.dome_cm3 ?? 10) / 1e6),
    pressure: stationPressure({ roots, shop }),
    ...change.input,
  })
}

const verdict = (mix: Mix, id: string) => {
  const found = mix.answer.verdicts.find((each) => each.id === id)
  if (found === undefined) throw new Error(`no verdict ${id}`)
  return { ...found, reads: writeWords([...found.reason, ' ', ...found.remedy], METRIC) }
}

const toGrams = (kilograms = Number.NaN) => kilograms * 1000

describe('powder and water', () => {
  test('a 3 × 3½ in flask at 38 to 100 takes about 549 g of powder and 209 g of water', () => {
    // by hand: (405.41 - 9.6 - 10) × 1.10 = 424.4 cm³; 100/77.284 = 1.2939 g of powder each; 549.1 and 208.7 g
    const mix = mixed()
    expect(toGrams(mix.powder?.value)).toBeCloseTo(549.1, 0)
    expect(toGrams(mix.water?.value)).toBeCloseTo(208.7, 0)
    expect(mix.slurryVolume?.value).toBeCloseTo(424.4e-6, 7)
  })

  test('a 2 × 3½ in flask at 40 to 100 and 15 in 100 over takes 247 g and 99 g', () => {
    // by hand: (180.19 - 4.1 - 6) × 1.15 = 195.6 cm³ × 1.2612 = 246.7 g; × 0.40 = 98.7 g
    const mix = mixed({
      pour: { '/investment/work': 'fine' },
      shop: { '/rules/wasteAllowance': 0.15 },
      wax_cm3: 4.1,
      dome_cm3: 6,
      input: { flaskInside: flask(50.8, 88.9) },
    })
    expect(toGrams(mix.powder?.value)).toBeCloseTo(246.7, 0)
    expect(toGrams(mix.water?.value)).toBeCloseTo(98.7, 0)
  })

  test('a 3½ × 8 in flask at 38 to 100 and 8 in 100 over takes 1708 g and 649 g', () => {
    // by hand: (1261.3 - 24.8 - 14) × 1.08 = 1320 cm³ × 1.2939 = 1708 g
    const mix = mixed({
      shop: { '/rules/wasteAllowance': 0.08 },
      wax_cm3: 24.8,
      dome_cm3: 14,
      input: { flaskInside: flask(88.9, 203.2) },
    })
    expect(toGrams(mix.powder?.value)).toBeCloseTo(1708, -1)
    expect(toGrams(mix.water?.value)).toBeCloseTo(649, 0)
  })

  test('the bag is charged for the powder, and a bag that is too small stops the plan', () => {
    const mix = mixed({ shop: { '/investments/0/inStock_kg': 2 } })
    expect(toGrams(mix.bagLeft?.value)).toBeCloseTo(2000 - 549.1, 0)
    expect(mix.cost?.value).toBeCloseTo(0.5491 * 3.2, 2)
    const short = mixed({ shop: { '/investments/0/inStock_kg': 0.5 } })
    expect(verdict(short, 'mix.bag').verdict).toBe('stop')
    expect(verdict(short, 'mix.bag').where).toBe('/shop/investments/0/inStock_kg')
  })

  test('powder and water together weigh what the slurry weighs, for any flask, wax and ratio', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 110, noNaN: true }),
        fc.double({ min: 40, max: 220, noNaN: true }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 0.3, max: 0.6, noNaN: true }),
        (diameter, height, wax, ratio) => {
          const mix = mixed({
            wax_cm3: wax,
            dome_cm3: 8,
            pour: { '/investment/waterRatio': ratio },
            input: { flaskInside: flask(diameter, height) },
          })
          const powder = mix.powder?.value ?? 0
          const water = mix.water?.value ?? 0
          // volumes add: grains of 2550 kg/m³ and water of 998 kg/m³ at 21 °C
          expect((powder / 2550 + water / 998) / (mix.slurryVolume?.value ?? 0)).toBeCloseTo(1, 4)
          expect(water).toBeCloseTo(powder * ratio, 9)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('more wax means less slurry, and a less certain wax never a more certain powder', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (wax, more, spread, wider) => {
          const less = mixed({ wax_cm3: wax + more }).slurryVolume?.value ?? 0
          expect(less).toBeLessThan(mixed({ wax_cm3: wax }).slurryVolume?.value ?? 0)
          const width = (half: number): number => {
            const waxVolume = given('wax.v', 'm3', wax / 1e6, (wax - half) / 1e6, (wax + half) / 1e6)
            const { powder } = mixed({ input: { waxVolume } })
            return (powder?.high ?? 0) - (powder?.low ?? 0)
          }
          expect(width(spread + wider)).toBeGreaterThanOrEqual(width(spread) - 1e-12)
        },
      ),
      { numRuns: 40 },
    )
  })

  test('without a flask or a wax the masses are left out with a problem, and the rest still comes', () => {
    const mix = mixed({ input: { flaskInside: undefined, waxVolume: undefined } })
    expect(mix.powder).toBeUndefined()
    expect(mix.answer.problems.map(({ kind }) => kind)).toEqual(['mix-needs-flask', 'mix-needs-wax'])
    expect(mix.vacuum.boilGauge.value).toBeGreaterThan(0)
    expect(mix.allStill.value).toBeGreaterThan(0)
  })

  test('a wax larger than its flask is a problem, never a negative mass', () => {
    const mix = mixed({ wax_cm3: 600 })
    expect(mix.powder).toBeUndefined()
    expect(mix.answer.problems.map(({ kind }) => kind)).toEqual(['mix-no-room'])
  })

  test('a ratio two parts off the bag’s own is a check, one part is not', () => {
    expect(verdict(mixed({ pour: { '/investment/waterRatio': 0.4 } }), 'mix.ratio').verdict).toBe('check')
    expect(verdict(mixed({ pour: { '/investment/waterRatio': 0.39 } }), 'mix.ratio').verdict).toBe('pass')
  })
})

describe('working time', () => {
  test('the usual steps end at 8:00, inside the sure part of a nine-minute bag', () => {
    // 4 + 1.5 + 1 + 1.5 min; at 22 °C the bag goes at 9 min, so still from 7:30 and by 8:36 - 0:30
    const mix = mixed({ pour: { '/investment/water_C': 22 } })
    expect(mix.allStill.value).toBe(480)
    expect(mix.notBefore_s).toBeCloseTo(450, 6)
    expect(mix.stopBy_s).toBeGreaterThan(480)
    expect(mix.stopBy_s).toBeLessThan(510)
    expect(verdict(mix, 'mix.time').verdict).toBe('pass')
    expect(mix.steps.map(({ from_s }) => from_s)).toEqual([0, 240, 330, 390, 480])
    expect(mix.steps.slice(1).every((step, index) => step.from_s === mix.steps[index]?.to_s)).toBe(true)
  })

  test('done at five minutes is too early, at ten too late, and each remedy lifts its check', () => {
    const early = mixed({ shop: { '/clock/mix_min': 1 }, pour: { '/investment/water_C': 22 } })
    expect(verdict(early, 'mix.time').verdict).toBe('check')
    expect(verdict(early, 'mix.time').reads).toContain('leaves trails')
    const late = mixed({ shop: { '/clock/mix_min': 6 }, pour: { '/investment/water_C': 22 } })
    expect(verdict(late, 'mix.time').verdict).toBe('stop')
    const shorter = 6 - (late.allStill.value - late.stopBy_s) / 60
    const cured = mixed({ shop: { '/clock/mix_min': shorter - 0.001 }, pour: { '/investment/water_C': 22 } })
    expect(verdict(cured, 'mix.time').verdict).toBe('pass')
  })

  test('the cooler mix that the remedy names gives the same work its time', () => {
    const late = mixed({ shop: { '/clock/mix_min': 4.6 }, pour: { '/investment/water_C': 24 } })
    expect(verdict(late, 'mix.time').verdict).not.toBe('pass')
    const named = late.answer.verdicts
      .find(({ id }) => id === 'mix.time')
      ?.remedy.find((part) => typeof part === 'object' && part.unit === 'K')
    if (typeof named !== 'object') throw new Error('no temperature named')
    const cured = mixed({
      shop: { '/clock/mix_min': 4.6 },
      pour: { '/investment/water_C': toCelsius(named.value) },
    })
    expect(cured.allStill.value).toBeLessThanOrEqual(cured.stopBy_s)
  })

  test('a warmer slurry loses its gloss sooner, at 38 °C after some five minutes', () => {
    // trade scenario: about 5.5 min at 38 °C with a bag of 9 min at 22 °C
    const { glossOff } = mixed({ pour: { '/investment/water_C': 38 } })
    expect(glossOff.low).toBeLessThan(5.5 * 60)
    expect(glossOff.high).toBeGreaterThan(5.5 * 60)
  })

  test('the clock gives moments when its start is known', () => {
    const startAt = Date.parse('2026-11-13T19:40:00-07:00')
    const { moments } = mixed({ input: { startAt } })
    expect(moments?.allStill).toBe(startAt + 480_000)
    expect(moments?.intoKiln).toBe(startAt + 480_000 + 90 * 60_000)
  })

  test('cool powder makes a cooler slurry than its water', () => {
    // by hand at 38 to 100: (0.38×4182×40 + 800×20)/(0.38×4182 + 800) = 79567.. /2389.2 = 33.30 °C
    const mix = mixed({ pour: { '/investment/water_C': 40, '/investment/powder_C': 20 } })
    expect(toCelsius(mix.slurryTemperature.value)).toBeCloseTo(33.3, 1)
  })
})

describe('warm mixes', () => {
  const growth = given('growth', '1', 0.00025, 0.00015, 0.00035)
  test('at 38 °C the wax swells 0.45 %, and a 18 mm seat by 0.08 mm', () => {
    const mix = mixed({
      pour: { '/investment/water_C': 38 },
      input: { waxGrowth: growth, seatLength: given('seat', 'm', 0.018) },
    })
    expect(mix.waxSwelling?.value).toBeCloseTo(0.0045, 5)
    expect((mix.seatGrowth?.value ?? 0) * 1000).toBeCloseTo(0.081, 3)
    expect(verdict(mix, 'mix.warm').verdict).toBe('check')
  })
  test('at 21 °C nothing is said against it', () => {
    expect(verdict(mixed({ input: { waxGrowth: growth } }), 'mix.warm').verdict).toBe('pass')
  })
})

describe('explanations', () => {
  const rootAt = (quantity: Quantity, path: string): Quantity | undefined =>
    quantity.path === path
      ? quantity
      : Object.values(quantity.inputs)
          .map((input) => rootAt(input, path))
          .find((found) => found !== undefined)

  test('changing an input through the explanation gives what a fresh plan gives', () => {
    const before = mixed()
    const changes: [path: string, change: Parameters<typeof mixed>[0], si: number][] = [
      ['/pour/investment/water_C', { pour: { '/investment/water_C': 30 } }, celsius(30)],
      ['/shop/rules/wasteAllowance', { shop: { '/rules/wasteAllowance': 0.05 } }, 0.05],
      ['/shop/investments/0/waterRatio/heavy', { shop: { '/investments/0/waterRatio/heavy': 0.41 } }, 0.41],
      ['/shop/place/pressure/altitude_m', { shop: { '/place/pressure/altitude_m': 2100 } }, 2100],
      ['/shop/clock/mix_min', { shop: { '/clock/mix_min': 3 } }, 180],
      ['/shop/vacuumLeaves_hPa', { shop: { '/vacuumLeaves_hPa': 45 } }, 4500],
    ]
    for (const [path, change, si] of changes) {
      const after = mixed(change)
      const pairs: [Quantity | undefined, Quantity | undefined][] = [
        [before.powder, after.powder],
        [before.water, after.water],
        [before.cost, after.cost],
        [before.glossOff, after.glossOff],
        [before.intoKiln, after.intoKiln],
        [before.vacuum.boilGauge, after.vacuum.boilGauge],
        [before.vacuum.boilsAt, after.vacuum.boilsAt],
      ]
      let met = 0
      for (const [old, fresh] of pairs) {
        if (old === undefined || fresh === undefined) throw new Error('a quantity is missing')
        const from = rootAt(old, path)
        if (from === undefined) continue
        met += 1
        expect(reworked(old, new Map([[from, si]])) / fresh.value, `${old.id} by ${path}`).toBeCloseTo(1, 9)
      }
      expect(met, path).toBeGreaterThan(0)
    }
  })
})
