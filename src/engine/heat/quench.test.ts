import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { openRoots, type Pour, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { celsius, METRIC, root, type Unit, writeWords } from '../quantity/index.ts'
import { FlaskCooling, type PouredFlask, planQuench, type Quench, type QuenchInput } from './index.ts'

const given = (id: string, unit: Unit, value: number, low = value, high = value) =>
  root({ id, title: id, unit, value, low, high, kind: 'asked', source: 'asked in this test' })

// the quench reads no key of a pour
const noPour = {} as Pour

const quenched = (
  change: { shop?: Readonly<Record<string, unknown>>; input?: Partial<QuenchInput> } = {},
): Quench => {
  let shop: Shop = usualShop()
  for (const [path, value] of Object.entries(change.shop ?? {})) shop = withPath(shop, path, value)
  return planQuench({
    roots: openRoots(shop, noPour),
    shop,
    pour: noPour,
    alloyIndex: 0,
    investmentIndex: 0,
    charge: given('charge', 'kg', 0.14),
    castingTemperature: given('casting', 'K', celsius(482), celsius(474), celsius(490)),
    pourTemperature: given('pour', 'K', celsius(980)),
    flaskInside: { diameter: given('d', 'm', 0.0762), height: given('h', 'm', 0.0889) },
    flaskSteel: given('steel', 'kg', 0.267),
    dryInvestment: given('dry', 'kg', 0.492),
    spinRun: given('spin', 's', 60),
    ...change.input,
  })
}

const minutes = (seconds = Number.NaN) => seconds / 60

describe('the quench window of a 3 × 3½ in flask cast at 482 °C', () => {
  test('opens some 5 to 8 min and closes near 30 min after the spin, as worked in the trade scenario', () => {
    const { opens, closes } = quenched()
    expect(minutes(opens?.low)).toBeLessThan(5)
    expect(minutes(opens?.high)).toBeGreaterThan(5)
    expect(minutes(opens?.high)).toBeLessThan(10)
    expect(minutes(closes?.low)).toBeGreaterThan(15)
    expect(minutes(closes?.value)).toBeGreaterThan(22)
    expect(minutes(closes?.value)).toBeLessThan(36)
  })

  test('the window given is the sure part, and the planned moment lies in it', () => {
    const { opens, closes, window, planned, answer } = quenched()
    expect(window?.from).toBe(opens?.high)
    expect(window?.to).toBe(closes?.low)
    expect(window?.sure).toBe(true)
    expect(planned).toBeGreaterThanOrEqual(window?.from ?? Number.POSITIVE_INFINITY)
    expect(planned).toBeLessThanOrEqual(window?.to ?? 0)
    expect(answer.verdicts.map(({ id, verdict }) => [id, verdict])).toEqual([['quench.window', 'pass']])
  })

  test('red outranks the clock, and the trade’s five minutes stand beside it', () => {
    const { redFirst, practice } = quenched()
    expect(writeWords(redFirst, METRIC)).toContain('any red, and it waits')
    expect(practice.wait).toBe(300)
  })

  test('a longer spin brings the window nearer by as much', () => {
    const short = quenched({ input: { spinRun: given('spin', 's', 30) } })
    const long = quenched({ input: { spinRun: given('spin', 's', 90) } })
    expect((short.closes?.value ?? 0) - (long.closes?.value ?? 0)).toBeCloseTo(60, 6)
  })

  test('limits so wide that no time is sure are a check that falls back on the glow', () => {
    const quench = quenched({
      shop: {
        '/finishing/quenchOpens_C': { value: 400, low: 250, high: 550 },
        '/finishing/quenchCloses_C': { value: 350, low: 150, high: 480 },
      },
    })
    expect(quench.window?.sure).toBe(false)
    expect(quench.planned).toBeUndefined()
    expect(quench.answer.verdicts[0]?.verdict).toBe('check')
  })

  test('what is missing is said, and the cautions stay', () => {
    const quench = quenched({ input: { charge: undefined, flaskInside: undefined } })
    expect(quench.window).toBeUndefined()
    expect(quench.answer.problems.map(({ kind }) => kind)).toEqual([
      'quench-needs-flask',
      'quench-needs-charge',
    ])
    expect(quench.answer.cautions.map(({ id }) => id)).toContain('quench.silica')
  })

  test('an alloy whose heats can’t both be true is a problem, not a window', () => {
    const quench = quenched({
      shop: { '/alloys/0/heatToPour_kJ_kg': 120, '/alloys/0/freezingHeat_kJ_kg': 150 },
    })
    expect(quench.window).toBeUndefined()
    expect(quench.answer.problems.map(({ kind }) => kind)).toEqual(['quench-heats-disagree'])
  })

  test('a bare hot flask and a cold heavy one still get numbers, for any heats and sizes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.double({ min: 15, max: 300, noNaN: true }),
        fc.double({ min: 15, max: 400, noNaN: true }),
        fc.double({ min: 0.002, max: 15, noNaN: true }),
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        (mould_C, diameter_mm, height_mm, charge, conductivity) => {
          const volume = (Math.PI / 4) * (diameter_mm / 1000) ** 2 * (height_mm / 1000)
          const quench = quenched({
            shop: { '/investments/0/dryConductivity_W_mK': conductivity },
            input: {
              castingTemperature: given('casting', 'K', celsius(mould_C)),
              flaskInside: {
                diameter: given('d', 'm', diameter_mm / 1000),
                height: given('h', 'm', height_mm / 1000),
              },
              dryInvestment: given('dry', 'kg', 1240 * volume),
              flaskSteel: given('steel', 'kg', 0.3),
              charge: given('charge', 'kg', charge),
            },
          })
          for (const each of [quench.opens, quench.closes]) {
            expect(Number.isFinite(each?.value)).toBe(true)
            expect(each?.low).toBeGreaterThanOrEqual(0)
          }
          expect(quench.closes?.value).toBeGreaterThanOrEqual(quench.opens?.value ?? 0)
          expect(quench.curve?.every(({ castings }) => Number.isFinite(castings))).toBe(true)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('the bucket takes the flask’s heat within eight degrees', () => {
    // by hand at 500 °C: (0.492 × 1000 + 0.267 × 500 + 0.14 × about 300) × 480 = 320 kJ; / (4186 × 8) = 9.6 kg
    expect((quenched().bucket?.value ?? 0) * 1000).toBeCloseTo(10, 0)
    expect(quenched({ input: { dryInvestment: given('dry', 'kg', 2) } }).bucket?.value).toBeGreaterThan(0.025)
  })

  test('a hotter mould, more metal and a less certain mould never open sooner or surer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 420, max: 600, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 0.05, max: 0.25, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        (mould_C, hotter, charge, doubt) => {
          const opens = (C: number, kg: number) =>
            quenched({
              input: {
                castingTemperature: given('casting', 'K', celsius(C)),
                charge: given('charge', 'kg', kg),
              },
            }).opens?.value ?? 0
          expect(opens(mould_C + hotter, charge)).toBeGreaterThanOrEqual(opens(mould_C, charge) - 1e-6)
          expect(opens(mould_C, charge * 1.2)).toBeGreaterThanOrEqual(opens(mould_C, charge) - 1e-6)
          const width = (half: number): number => {
            const castingTemperature = given(
              'casting',
              'K',
              celsius(500),
              celsius(500 - half),
              celsius(500 + half),
            )
            const { closes } = quenched({ input: { castingTemperature } })
            return (closes?.high ?? 0) - (closes?.low ?? 0)
          }
          expect(width(doubt + 5)).toBeGreaterThanOrEqual(width(doubt) - 1e-9)
        },
      ),
      { numRuns: 20 },
    )
  })
})

describe('two lumps that cool', () => {
  const flask: PouredFlask = {
    radius: 0.0381,
    height: 0.0889,
    dryInvestment: 0.492,
    steel: 0.267,
    metal: 0.14,
    mouldHeat: 1000,
    conductivity: 0.45,
    metalHeat: 290,
    freezingHeat: 150e3,
    solidAt: celsius(779),
    mould: celsius(482),
    air: celsius(20),
    airTakes: 10,
    emissivity: 0.8,
    reach: 0.33,
  }

  test('the metal’s heat warms the mould by about 60 °C on average, as worked by hand', () => {
    // 30 kJ into 0.49 kg of mould at 1 kJ/kgK is 61 °C, spread here over mould and steel after the metal cooled
    const { inner, outer } = new FlaskCooling(flask).start()
    const mould = 0.492 * 1000
    const mean = ((inner - celsius(482)) * (mould / 2) + (outer - celsius(482)) * (mould / 2)) / mould
    expect(mean).toBeGreaterThan(45)
    expect(mean).toBeLessThan(65)
  })

  test('without conduction limits and with air alone it is one lump that falls as an exponential', () => {
    // k large and no radiation: dT/dt = -hA(T-Ta)/C, so 482 to 200 °C takes C/(hA) ln(462/180)
    const lump = new FlaskCooling({ ...flask, conductivity: 60, emissivity: 0, metal: 1e-9, airTakes: 10 })
    const area = 2 * Math.PI * 0.0381 * 0.0889 + 2 * Math.PI * 0.0381 ** 2
    const expected = ((492 + 0.267 * 500) / (10 * area)) * Math.log(462 / 180)
    expect(lump.timeTo(celsius(200)) / expected).toBeCloseTo(1, 2)
  })

  test('half the step gives the same moment within a tenth of a per cent', () => {
    class Finer extends FlaskCooling {
      override stepLength(): number {
        return super.stepLength() / 8
      }
    }
    for (const level of [550, 500, 300, 200])
      expect(
        new FlaskCooling(flask).timeTo(celsius(level)) / new Finer(flask).timeTo(celsius(level)),
      ).toBeCloseTo(1, 2)
  })

  test('castings are still near 680 °C a minute and a half after the pour, well above the mould round them', () => {
    const { castings, inner } =
      new FlaskCooling(flask).curve(90, 90).at(-1) ?? new FlaskCooling(flask).start()
    expect(castings).toBeGreaterThan(celsius(630))
    expect(castings).toBeLessThan(celsius(720))
    expect(castings).toBeGreaterThan(inner + 40)
  })

  test('nothing cools below the air', () => {
    expect(new FlaskCooling(flask).timeTo(celsius(10))).toBe(Number.POSITIVE_INFINITY)
    const last = new FlaskCooling(flask).curve(24 * 3600).at(-1)
    expect(last?.castings).toBeGreaterThan(celsius(20) - 0.01)
    expect(last?.castings).toBeLessThan(celsius(25))
  })
})
