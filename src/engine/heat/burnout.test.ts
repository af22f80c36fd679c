import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { openRoots, type Pour, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { sayMoment, writeMoment } from '../physics/schedule.ts'
import {
  celsius,
  fahrenheit,
  METRIC,
  type Quantity,
  reworked,
  root,
  toCelsius,
  type Unit,
  writeWords,
} from '../quantity/index.ts'
import { type Burnout, type BurnoutInput, type BurnoutModel, planBurnout } from './index.ts'

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

const at = (iso: string): number => Date.parse(iso)

const inches = (diameter: number, height: number): NonNullable<BurnoutInput['flaskInside']> => ({
  diameter: given('flask.d', 'm', diameter * 0.0254),
  height: given('flask.h', 'm', height * 0.0254),
})

const burned = (
  change: {
    shop?: Readonly<Record<string, unknown>>
    pour?: Readonly<Record<string, unknown>>
    input?: Partial<BurnoutInput>
  } = {},
): Burnout => {
  let shop: Shop = usualShop()
  let pour = clasp
  for (const [path, value] of Object.entries(change.shop ?? {})) shop = withPath(shop, path, value)
  for (const [path, value] of Object.entries(change.pour ?? {})) pour = withPath(pour, path, value)
  return planBurnout({
    roots: openRoots(shop, pour),
    shop,
    pour,
    kilnIndex: 0,
    investmentIndex: 0,
    alloyIndex: 0,
    flaskInside: inches(3, 3.5),
    flaskWall: given('flask.wall', 'm', 0.0016),
    powder: given('powder', 'kg', 0.549),
    waxMelts: given('wax.melts', 'K', celsius(112), celsius(104), celsius(121)),
    sprueMelts: given('sprue.melts', 'K', celsius(60)),
    work: 'medium',
    castAt: at('2026-11-14T15:30:00-07:00'),
    now: at('2026-11-13T12:00:00-07:00'),
    timeZone: 'America/Denver',
    ...change.input,
  })
}

const verdict = (burnout: Burnout, id: string) => {
  const found = burnout.answer.verdicts.find((each) => each.id === id)
  if (found === undefined) throw new Error(`no verdict ${id}`)
  return { ...found, reads: writeWords([...found.reason, ' ', ...found.remedy], METRIC) }
}

const step = (burnout: Burnout, id: string) => {
  const found = burnout.program.find((each) => each.id === id)
  if (found === undefined) throw new Error(`no step ${id}`)
  return found
}

const HOUR = 3600

describe('the program', () => {
  test('a 3 × 3½ in flask holds its top for two and a half hours, between the published 2 h and 3 h', () => {
    const burnout = burned()
    expect(step(burnout, 'wax').duration.value).toBe(2 * HOUR)
    expect(step(burnout, 'middle').duration.value / HOUR).toBeCloseTo(1.5, 1)
    expect(step(burnout, 'top').duration.value / HOUR).toBeCloseTo(2.5, 1)
    expect(step(burnout, 'casting').duration.value).toBe(HOUR)
    expect(toCelsius(step(burnout, 'top').to.value)).toBeCloseTo(704.4, 6)
  })

  test('a fall from 1300 to 900 °F at 150 °F an hour takes 2.67 h, as worked by hand', () => {
    const burnout = burned({
      pour: { '/flask_C': toCelsius(fahrenheit(900)) },
      shop: {
        '/kilns/0/fall_C_h': 150 / 1.8,
        '/investments/0/topHold_C': toCelsius(fahrenheit(1300)),
      },
    })
    expect(step(burnout, 'casting-ramp').duration.value / HOUR).toBeCloseTo(400 / 150, 6)
    // climbs at 300 °F an hour: 300 to 700 °F in 1.333 h, 700 to 1300 °F in 2 h
    expect(step(burnout, 'middle-ramp').duration.value / HOUR).toBeCloseTo(4 / 3, 6)
    expect(step(burnout, 'top-ramp').duration.value / HOUR).toBeCloseTo(2, 6)
  })

  test('every moment stands on a whole minute, and mixing begins early enough to the minute', () => {
    const burnout = burned({ input: { mixToKiln: given('wait', 's', 5890) } })
    for (const each of burnout.program) {
      expect((each.start ?? 1) % 60_000).toBe(0)
      expect((each.end ?? 1) % 60_000).toBe(0)
    }
    expect((burnout.mixBy ?? 1) % 60_000).toBe(0)
    const wait = ((burnout.start ?? 0) - (burnout.mixBy ?? 0)) / 1000
    expect(wait).toBeGreaterThanOrEqual(5890)
    expect(wait).toBeLessThan(5890 + 60)
  })

  test('a mix that falls in the night is offered for the evening before, with what a kiln left alone asks', () => {
    const night = burned({ input: { mixToKiln: given('wait', 's', 5880) } })
    expect(writeMoment(night.mixBy ?? 0, 'America/Denver')).toMatch(/T0[0-5]:/)
    expect(writeMoment(night.eveningBefore?.mixAt ?? 0, 'America/Denver')).toBe('2026-11-13T20:00:00-07:00')
    const words = writeWords(
      [...(night.eveningBefore?.words ?? []), ...(night.eveningBefore?.mind ?? [])],
      METRIC,
    )
    for (const told of ['Common practice', 'bag it', 'delay', 'unattended', 'vented', 'local rules'])
      expect(words).toContain(told)
  })

  test.each([
    ['2026-11-14T23:30:00-07:00', undefined],
    ['2026-11-14T12:40:00-07:00', '2026-11-13T20:00:00-07:00'],
    ['2026-11-14T20:50:00-07:00', undefined],
  ])('cast at %s, the evening before is offered only for a mix at night', (castAt, mixAt) => {
    const burnout = burned({ input: { castAt: at(castAt), mixToKiln: given('wait', 's', 5880) } })
    const offered = burnout.eveningBefore?.mixAt
    expect(offered && writeMoment(offered, 'America/Denver')).toBe(mixAt)
  })

  test('an evening that has passed is not offered', () => {
    const burnout = burned({ input: { now: at('2026-11-13T21:00:00-07:00') } })
    expect(burnout.eveningBefore).toBeUndefined()
  })

  test('a kiln slower than the gentle climb sets the climbs', () => {
    const burnout = burned({ shop: { '/kilns/0/fastestRise_C_h': 100 } })
    expect(step(burnout, 'top-ramp').duration.value / HOUR).toBeCloseTo(
      (704.4 - toCelsius(fahrenheit(700))) / 100,
      6,
    )
  })

  test('a large flask takes its middle hold in two', () => {
    const burnout = burned({ input: { flaskInside: inches(4, 8) } })
    expect(burnout.program.filter(({ kind }) => kind === 'hold').map(({ id }) => id)).toEqual([
      'wax',
      'middle',
      'middle-2',
      'top',
      'casting',
    ])
    expect(step(burnout, 'middle').duration.value).toBeCloseTo(2 * HOUR, 6)
    expect(step(burnout, 'top').duration.value).toBeCloseTo(4 * HOUR, 6)
    expect(step(burnout, 'casting').duration.value).toBeCloseTo(2 * HOUR, 6)
  })

  test('a kiln that reads ten degrees high is set ten degrees higher', () => {
    const burnout = burned({ shop: { '/kilns/0/readsHigh_K': 10 } })
    const top = step(burnout, 'top')
    expect(top.setpoint - top.to.value).toBeCloseTo(10, 9)
  })

  test('the steps tile without gaps and end exactly at the cast moment, for any flask, heat and kiln', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.5, max: 5, noNaN: true }),
        fc.double({ min: 1.5, max: 9, noNaN: true }),
        fc.double({ min: 350, max: 700, noNaN: true }),
        fc.double({ min: 40, max: 600, noNaN: true }),
        fc.integer({ min: at('2026-01-01T00:00:00Z'), max: at('2027-01-01T00:00:00Z') }),
        (diameter, height, flask_C, rise, castAt) => {
          const burnout = burned({
            pour: { '/flask_C': flask_C },
            shop: { '/kilns/0/fastestRise_C_h': rise },
            input: { flaskInside: inches(diameter, height), castAt, timeZone: 'Europe/London' },
          })
          expect(burnout.program.at(-1)?.end).toBe(castAt)
          burnout.program.slice(1).forEach((each, index) => {
            expect(each.start).toBe(burnout.program[index]?.end)
            expect(each.from.value).toBe(burnout.program[index]?.to.value)
          })
          expect(burnout.program[0]?.start).toBe(burnout.start)
          // to the minute, as a clock is read
          const total = burnout.total?.value ?? 0
          expect(Math.abs((castAt - (burnout.start ?? 0)) / 1000 - total)).toBeLessThanOrEqual(30)
          const ceiling = celsius(732.2)
          for (const { to } of burnout.program) expect(to.value).toBeLessThanOrEqual(ceiling - 8)
        },
      ),
      { numRuns: 40 },
    )
  })

  test('a larger flask never holds for less', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.5, max: 5, noNaN: true }),
        fc.double({ min: 1.5, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (diameter, height, more) => {
          const hours = (d: number, h: number): number =>
            burned({ input: { flaskInside: inches(d, h) } })
              .program.filter(({ kind }) => kind === 'hold')
              .reduce((sum, { duration }) => sum + duration.value, 0)
          expect(hours(diameter + more, height + more)).toBeGreaterThanOrEqual(hours(diameter, height) - 1e-6)
        },
      ),
      { numRuns: 25 },
    )
  })

  test('the casting temperature is the one asked, or else the middle of what casters use for such work', () => {
    expect(toCelsius(burned({ pour: { '/flask_C': 527 } }).castingTemperature.value)).toBeCloseTo(527, 6)
    expect(toCelsius(burned({ input: { work: 'heavy' } }).castingTemperature.value)).toBeCloseTo(455, 6)
    expect(toCelsius(burned({ input: { work: 'light' } }).castingTemperature.value)).toBeCloseTo(565, 6)
  })
})

describe('odd shops', () => {
  test('get a program with numbers throughout, whatever their kiln, powder and flask', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.6, max: 15, noNaN: true }),
        fc.double({ min: 0.6, max: 20, noNaN: true }),
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.double({ min: 10, max: 3000, noNaN: true }),
        fc.double({ min: 400, max: 1400, noNaN: true }),
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        fc.double({ min: -80, max: 80, noNaN: true }),
        fc.double({ min: 31_000, max: 108_000, noNaN: true }),
        (diameter, height, flask_C, rise, ceiling, conductivity, readsHigh, pressure) => {
          const burnout = burned({
            pour: { '/flask_C': flask_C },
            shop: {
              '/kilns/0/fastestRise_C_h': rise,
              '/kilns/0/readsHigh_K': { value: readsHigh, low: -80, high: 80 },
              '/investments/0/ceiling_C': ceiling,
              '/investments/0/topHold_C': Math.min(ceiling, 1000),
              '/investments/0/dryConductivity_W_mK': conductivity,
            },
            input: { flaskInside: inches(diameter, height), pressure: given('p', 'Pa', pressure) },
          })
          for (const { duration, to, start } of burnout.program) {
            expect(
              Number.isFinite(duration.value) && Number.isFinite(to.value) && Number.isFinite(start),
            ).toBe(true)
            expect(duration.value).toBeGreaterThanOrEqual(0)
          }
          expect(burnout.core?.curve.every(({ K, low, high }) => low <= K && K <= high)).toBe(true)
          expect(Number.isFinite(burnout.energy?.value)).toBe(true)
        },
      ),
      { numRuns: 60 },
    )
  })
})

describe('times on the clock', () => {
  test('the kiln goes on and the mix begins backwards from the pour, across midnight', () => {
    const burnout = burned()
    const hours = (burnout.total?.value ?? 0) / HOUR
    expect(hours).toBeGreaterThan(12)
    expect(hours).toBeLessThan(14)
    expect(writeMoment(burnout.start ?? 0, 'America/Denver').slice(0, 13)).toBe('2026-11-14T02')
    // 8 min of handling and 90 min of standing by the usual clock
    expect((burnout.start ?? 0) - (burnout.mixBy ?? 0)).toBe(98 * 60_000)
  })

  test('the night the clocks go back the kiln goes on an hour later by the clock than the night before', () => {
    const elapsed = (castAt: string): string => {
      const burnout = burned({ input: { castAt: at(castAt), now: at('2026-10-01T00:00:00Z') } })
      return writeMoment(burnout.start ?? 0, 'America/Denver')
    }
    // the clocks of Denver go back at 02:00 on 1 November 2026
    const usual = elapsed('2026-10-31T08:00:00-06:00')
    const changed = elapsed('2026-11-01T08:00:00-07:00')
    const clock = (iso: string): number => Number(iso.slice(11, 13)) * 60 + Number(iso.slice(14, 16))
    expect(usual.slice(0, 10)).toBe('2026-10-30')
    expect(changed.slice(-6)).toBe('-06:00')
    expect(clock(changed) - clock(usual)).toBe(60)
  })

  test('a pour in the past and a mix that should be made are checks, a kiln that should be on is a stop', () => {
    const cases: [now: string, level: string, says: string][] = [
      ['2026-11-14T16:00:00-07:00', 'check', 'is past: the kiln would have had to be on at'],
      ['2026-11-14T08:00:00-07:00', 'stop', 'and the kiln to be on at'],
      ['2026-11-14T02:00:00-07:00', 'check', 'the mix had to be started by'],
    ]
    for (const [now, level, says] of cases) {
      const burnout = burned({ input: { now: at(now) } })
      const found = verdict(burnout, 'burnout.start')
      expect(found.verdict).toBe(level)
      expect(found.reads).toContain(says)
      const earliest = sayMoment(burnout.earliest ?? 0, 'America/Denver')
      expect(writeWords(found.remedy, METRIC)).toContain(earliest)
      const cured = burned({ input: { now: at(now), castAt: burnout.earliest } })
      expect(verdict(cured, 'burnout.start').verdict).toBe('pass')
    }
  })

  test('without a casting moment the program comes without times, and says so', () => {
    const burnout = burned({ input: { castAt: undefined } })
    expect(burnout.program[0]?.start).toBeUndefined()
    expect(burnout.total?.value).toBeGreaterThan(0)
    expect(burnout.answer.problems.map(({ kind }) => kind)).toEqual(['burnout-needs-moment'])
  })
})

describe('limits', () => {
  test('a kiln that overshoots or may be far off has its top hold set down, never over the ceiling', () => {
    const burnout = burned({
      shop: { '/kilns/0/overshoot_K': 20, '/kilns/0/readsHigh_K': { value: 0, low: -25, high: 25 } },
    })
    expect(toCelsius(burnout.top?.value ?? 0)).toBeCloseTo(732.2 - 45, 6)
    expect(verdict(burnout, 'burnout.ceiling').verdict).toBe('check')
  })

  test('a casting temperature above the top is a stop, and the program stays under it', () => {
    const burnout = burned({ pour: { '/flask_C': 760 } })
    expect(verdict(burnout, 'burnout.ceiling').verdict).toBe('stop')
    expect(verdict(burnout, 'burnout.ceiling').where).toBe('/pour/flask_C')
    expect(step(burnout, 'casting').to.value).toBeLessThanOrEqual(celsius(704.4))
  })

  test('a kiln with three steps stored is a check that names how many to set by hand', () => {
    const found = verdict(burned({ shop: { '/kilns/0/steps': 3 } }), 'burnout.steps')
    expect(found.verdict).toBe('check')
    expect(found.reads).toContain('last 1 by hand')
  })

  test('a flask too wide for the kiln is a stop, one without air round it a check', () => {
    expect(verdict(burned({ shop: { '/kilns/0/width_mm': 70 } }), 'burnout.fits').verdict).toBe('stop')
    expect(verdict(burned({ shop: { '/kilns/0/width_mm': 100 } }), 'burnout.fits').verdict).toBe('check')
    expect(verdict(burned(), 'burnout.fits').verdict).toBe('pass')
  })

  test('a weak kiln falls behind', () => {
    expect(verdict(burned(), 'burnout.power').verdict).toBe('pass')
    expect(verdict(burned({ shop: { '/kilns/0/power_kW': 0.08 } }), 'burnout.power').verdict).toBe('check')
  })
})

describe('the wax', () => {
  test('the first hold stands above a wax that melts late', () => {
    const waxMelts = given('wax.melts', 'K', celsius(150), celsius(145), celsius(155))
    const burnout = burned({ input: { waxMelts } })
    expect(step(burnout, 'wax').to.value).toBeGreaterThan(celsius(155))
  })

  test('a hard wax in a wet mould is not said to run out in the first hold', () => {
    const burnout = burned()
    expect(writeWords(step(burnout, 'wax').words, METRIC)).toContain('only as the mould dries')
    const melted = burnout.core?.waxMelted?.value ?? 0
    expect(melted).toBeGreaterThan(burnout.core?.coreDry?.value ?? Number.POSITIVE_INFINITY)
  })

  test('a wax that melts at the middle after the first hold is a check; a soft one passes', () => {
    expect(verdict(burned(), 'burnout.wax').verdict).toBe('check')
    expect(verdict(burned(), 'burnout.wax').reads).toContain('past that hold')
    const waxMelts = given('wax.melts', 'K', celsius(60), celsius(50), celsius(70))
    const soft = burned({ input: { waxMelts } })
    const firstHold = soft.program.slice(0, 2).reduce((sum, { duration }) => sum + duration.value, 0)
    expect(soft.core?.waxMelted?.value).toBeLessThan(firstHold)
    expect(verdict(soft, 'burnout.wax').verdict).toBe('pass')
  })

  test('a soft wax melts well before the mould is dry', () => {
    const waxMelts = given('wax.melts', 'K', celsius(60), celsius(50), celsius(70))
    const burnout = burned({ input: { waxMelts } })
    expect(writeWords(step(burnout, 'wax').words, METRIC)).toContain('wax runs out')
    expect(burnout.core?.waxMelted?.value).toBeLessThan(burnout.core?.coreDry?.value ?? 0)
  })

  test('a pattern without a melting point is never said to run out', () => {
    const burnout = burned({ input: { waxMelts: undefined } })
    expect(verdict(burnout, 'burnout.wax').verdict).toBe('check')
    expect(writeWords(step(burnout, 'wax').words, METRIC)).toContain('must burn away')
    expect(burnout.core?.waxMelted).toBeUndefined()
  })

  test('a sprue wax that melts after the pattern is a check', () => {
    const sprueMelts = given('sprue.melts', 'K', celsius(130))
    expect(verdict(burned({ input: { sprueMelts } }), 'burnout.wax').verdict).toBe('check')
  })
})

describe('the core by rule', () => {
  test('a 3 × 3½ in core trails a fall of 83 °C an hour by about 20 °C and settles in some 5 to 15 min', () => {
    // by hand: 0.02315 K/s / (0.36e-6 × (4/0.0381² + 8/0.0889²)) = 17 K inside, 5 K more at the face
    const burnout = burned({ shop: { '/kilns/0/fall_C_h': 150 / 1.8 }, pour: { '/flask_C': 482 } })
    expect(burnout.settle?.low).toBeLessThan(10 * 60)
    expect(burnout.settle?.high).toBeGreaterThan(5 * 60)
    expect(burnout.settle?.value).toBeLessThan(15 * 60)
    expect(verdict(burnout, 'burnout.settled').verdict).toBe('pass')
  })

  test('it passes 600 °C inside the range in which conduction, worked out point by point, says so', () => {
    const burnout = burned()
    const { core, program } = burnout
    const inputs = core?.coreHot?.inputs ?? {}
    const number = (name: string): number => inputs[name]?.value ?? Number.NaN
    const [k, density, heat] = [number('conductivity'), number('density'), number('heat')]
    const spread = k / (density * heat)
    // rings by layers, from the middle out and up; the mould stands at the middle hold when the climb begins
    const [rings, layers] = [12, 14]
    const [dr, dz] = [0.0381 / rings, 0.0889 / 2 / layers]
    const from = celsius((700 - 32) / 1.8)
    const to = step(burnout, 'top').to.value
    const climb = step(burnout, 'top-ramp').duration.value
    let field = Array.from({ length: rings }, () => new Array<number>(layers).fill(from))
    const dt = 2
    let s = 0
    for (; (field[0]?.[0] ?? 0) < celsius(600) && s < 4 * HOUR; s += dt) {
      const kiln = from + (to - from) * Math.min(1, s / climb)
      // grey flask in a hot box at nearly its own heat, 4 ε σ T³, and 8 W/m²K of air (Incropera, chapter 1)
      const face = 4 * 0.8 * 5.670374e-8 * kiln ** 3 + 8
      const toKiln = (half: number): number => 1 / (1 / face + half / k)
      const old = field
      field = old.map((column, i) =>
        column.map((K, j) => {
          const inner = i === 0 ? 0 : (k * i * dr * ((old[i - 1]?.[j] ?? K) - K)) / dr
          const outer =
            (i + 1) *
            dr *
            (i === rings - 1 ? toKiln(dr / 2) * (kiln - K) : (k * ((old[i + 1]?.[j] ?? K) - K)) / dr)
          const below = j === 0 ? 0 : (k * ((column[j - 1] ?? K) - K)) / dz
          const above = j === layers - 1 ? toKiln(dz / 2) * (kiln - K) : (k * ((column[j + 1] ?? K) - K)) / dz
          const gained = (inner + outer) / ((i + 0.5) * dr * dr) + (below + above) / dz
          return K + (dt * gained * spread) / k
        }),
      )
    }
    const before = program
      .slice(
        0,
        program.findIndex(({ id }) => id === 'top-ramp'),
      )
      .reduce((sum, { duration }) => sum + duration.value, 0)
    expect(core?.coreHot?.low).toBeLessThan(before + s)
    expect(core?.coreHot?.high).toBeGreaterThan(before + s)
    expect(Math.abs((core?.coreHot?.value ?? 0) - before - s)).toBeLessThan(3 * 60)
  })

  test('time above carbon-burning heat is never more than the kiln itself stands above it, and says what it counts', () => {
    const burnout = burned()
    const { reads } = verdict(burnout, 'burnout.clean')
    const [, h = '', min = ''] =
      reads.match(/for at least (\d+) h (\d+) min before the kiln comes down/) ?? []
    const said = Number(h) * HOUR + Number(min) * 60
    const top = step(burnout, 'top').duration.value
    const ramp = step(burnout, 'top-ramp')
    const above =
      (ramp.duration.value * (ramp.to.value - celsius(600))) / (ramp.to.value - ramp.from.value) + top
    expect(said).toBeLessThanOrEqual(above)
    expect(said).toBeGreaterThan(top)
    expect(reads).toContain('the end of the climb, and the whole top hold of 2 h 31 min')
  })

  test('the core waits at the boiling point of water, which is lower at altitude', () => {
    const waits = (pressure: number): number => {
      const burnout = burned({ input: { pressure: given('p', 'Pa', pressure) } })
      const wet = (burnout.core?.coreDry?.value ?? 0) * 0.95
      return toCelsius(burnout.core?.curve.filter(({ s }) => s < wet).at(-1)?.K ?? 0)
    }
    // 78.7 kPa, some 2100 m: water boils at 93.0 °C
    expect(waits(78_700)).toBeCloseTo(93, 0)
    expect(waits(101_325)).toBeCloseTo(100, 0)
  })

  test('more water means a later dry core, and a surer mould never a wider answer', () => {
    const dry = (waterRatio: number): number =>
      burned({ pour: { '/investment/waterRatio': waterRatio } }).core?.coreDry?.value ?? 0
    expect(dry(0.44)).toBeGreaterThan(dry(0.38))
    const width = (half: number): number => {
      const value = { value: 0.45, low: 0.45 - half, high: 0.45 + half }
      const { core } = burned({ shop: { '/investments/0/dryConductivity_W_mK': value } })
      return (core?.coreDry?.high ?? 0) - (core?.coreDry?.low ?? 0)
    }
    expect(width(0.15)).toBeGreaterThan(width(0.05))
    expect(width(0.05)).toBeGreaterThan(width(0))
  })

  test('a core that a short program can’t dry is a stop, not a guess', () => {
    const burnout = burned({
      input: { flaskInside: inches(5, 9), powder: given('powder', 'kg', 4) },
      shop: {
        '/investments/0/dryConductivity_W_mK': 0.1,
        '/rules/gentleRise_C_h': 600,
        '/kilns/0/fastestRise_C_h': 600,
      },
    })
    expect(verdict(burnout, 'burnout.clean').verdict).not.toBe('pass')
  })

  test('a model handed in is used, and one that has no answer yet leaves the rule and says so', () => {
    const waiting: BurnoutModel = { by: 'solver', follow: () => undefined }
    const meanwhile = burned({ input: { model: waiting } })
    expect(meanwhile.core?.by).toBe('rule')
    expect(meanwhile.byRuleMeanwhile).toBe(true)
    const ready: BurnoutModel = {
      by: 'solver',
      follow: ({ temperatures }) => ({
        by: 'solver',
        curve: [],
        coreAtCast: temperatures.at(-1) ?? given('c', 'K', 0),
      }),
    }
    expect(burned({ input: { model: ready } }).core?.by).toBe('solver')
    expect(burned({ input: { model: ready } }).byRuleMeanwhile).toBe(false)
  })
})

test('a powder bonded by phosphate is a check that sends to its maker’s sheet', () => {
  const found = verdict(burned({ shop: { '/investments/0/bond': 'phosphate' } }), 'burnout.bond')
  expect(found.verdict).toBe('check')
  expect(found.reads).toContain('sheet')
})

describe('energy', () => {
  test('six grams of wax take some 74 litres of air to burn, if none runs out', () => {
    // section 7 of the checks: 12.355 L of air for a gram of C31H64
    const { airForWax } = burned({ input: { waxMass: given('wax', 'kg', 0.006) } })
    expect((airForWax?.value ?? 0) * 1000).toBeCloseTo(6 * 12.355, 1)
  })

  test('a flask of 100 g of powder at 40 to 100 takes the heat of its water, its plaster and its warmth', () => {
    // by hand (section 7 of the checks): 77.67 + 21.68 kJ for the water, 98.14 g × 1 kJ/kgK × 684 K = 67.1 kJ
    const burnout = burned({
      pour: { '/investment/waterRatio': 0.4 },
      shop: { '/rules/wasteAllowance': 0, '/investments/0/dryHeat_J_kgK': 1000 },
      input: { powder: given('powder', 'kg', 0.1), flaskSteel: given('steel', 'kg', 0) },
    })
    const load = burnout.energy?.inputs.load?.value ?? 0
    expect(load / 1000).toBeCloseTo(77.67 + 21.68 + 67.13, 0)
  })

  test('a burnout costs its energy at the shop’s price', () => {
    const burnout = burned()
    const kilowattHours = (burnout.energy?.value ?? 0) / 3.6e6
    expect(kilowattHours).toBeGreaterThan(2)
    expect(kilowattHours).toBeLessThan(15)
    expect(burnout.cost?.value).toBeCloseTo(kilowattHours * 0.18, 9)
  })
})

/** The root of a quantity that stands at a path of the documents. */
const rootAt = (quantity: Quantity, path: string): Quantity | undefined =>
  quantity.path === path
    ? quantity
    : Object.values(quantity.inputs)
        .map((input) => rootAt(input, path))
        .find((found) => found !== undefined)

describe('explanations', () => {
  test('changing an input through the explanation gives what a fresh plan gives', () => {
    const before = burned()
    const changes: [path: string, value: number, si: number][] = [
      ['/shop/kilns/0/fall_C_h', 160, 160 / 3600],
      ['/shop/kilns/0/fastestRise_C_h', 120, 120 / 3600],
      ['/shop/investments/0/topHold_C', 690, celsius(690)],
      ['/shop/investments/0/dryConductivity_W_mK', 0.55, 0.55],
      ['/shop/investments/0/hemihydrateShare', 0.27, 0.27],
      ['/shop/kilns/0/power_kW', 2.4, 2400],
      ['/shop/alloys/0/flask_C/medium', 540, celsius(540)],
    ]
    for (const [path, value, si] of changes) {
      const after = burned({ shop: { [path.slice('/shop'.length)]: value } })
      const pairs: [Quantity | undefined, Quantity | undefined][] = [
        [before.total, after.total],
        [before.energy, after.energy],
        [before.settle, after.settle],
        [before.core?.coreDry, after.core?.coreDry],
        [before.core?.coreHot, after.core?.coreHot],
        [before.coreAtCast, after.coreAtCast],
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

  test('every quantity of the burnout has its own id', () => {
    const seen = new Map<string, Quantity>()
    const walk = (quantity: Quantity): void => {
      const other = seen.get(quantity.id)
      if (other === quantity) return
      if (other !== undefined) expect(quantity.value, quantity.id).toBe(other.value)
      seen.set(quantity.id, quantity)
      for (const input of Object.values(quantity.inputs)) walk(input)
    }
    const { total, energy, settle, coreAtCast, core, castingTemperature } = burned()
    for (const each of [
      total,
      energy,
      settle,
      coreAtCast,
      core?.coreDry,
      core?.waxMelted,
      castingTemperature,
    ])
      if (each !== undefined) walk(each)
    expect(seen.size).toBeGreaterThan(30)
  })
})

test('without a flask only the casting temperature comes out, with a problem', () => {
  const burnout = burned({ input: { flaskInside: undefined } })
  expect(burnout.program).toEqual([])
  expect(burnout.castingTemperature.value).toBeGreaterThan(600)
  expect(burnout.answer.problems.map(({ kind }) => kind)).toEqual(['burnout-needs-flask'])
})
