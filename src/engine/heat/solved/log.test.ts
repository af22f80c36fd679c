import { describe, expect, test } from 'vitest'
import { readDocument, readStated, shopSchema } from '../../documents/index.ts'
import { usualShop } from '../../materials/index.ts'
import { celsius, METRIC, type Problem, toCelsius, toFahrenheit, writeWords } from '../../quantity/index.ts'
import { fitLog, follow, type KilnFlask, keepFit, readLog, withFit } from './index.ts'

const flask: KilnFlask = {
  radius: 0.0381,
  height: 0.0889,
  wall: 0.0016,
  waxShare: 0.03,
  conductivity: 0.45,
  wetConductivity: 1,
  heat: 1000,
  hemihydrate: 0.3,
  ratio: 0.38,
  particle: 2550,
  waterDoubt: 1,
  boiling: celsius(100),
  film: 8,
  emissivity: 0.8,
}
const spread = { conductivity: 0.076, film: 2.1, waterDoubt: 0.09 }
const course = {
  temperatures: [20, 149, 149, 371, 371, 704, 704, 480, 480].map(celsius),
  durations: [2800, 7200, 4800, 5400, 7200, 7200, 7300, 3600],
}

/** A made-up flask, logged every two minutes with a thermocouple that is up to three degrees off. */
const logged = (own: Partial<KilnFlask>) => {
  const { times, core } = follow({ ...flask, ...own }, course, celsius(20), { cells: 14, every: 120 })
  let state = 7
  const noise = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648
    return 6 * (state / 2147483648 - 0.5)
  }
  return times.map((s, index) => ({ s, core: (core[index] ?? Number.NaN) + noise() }))
}

const told = (problems: readonly Problem[]): string[] =>
  problems.map(({ kind, where }) => `${kind} at ${where}`)

describe('fitting a log', () => {
  test.each([
    [0.55, 11],
    [0.38, 6],
  ])('finds the conductivity %d and film %d of the flask it was made with', (conductivity, film) => {
    const fit = fitLog(logged({ conductivity, film }), { flask, spread }, course, 0)
    expect(fit.problems).toEqual([])
    expect(fit.left).toBeLessThan(fit.before / 2)
    expect(Math.abs(fit.values.conductivity.value / conductivity - 1)).toBeLessThan(0.08)
    expect(Math.abs(fit.values.film.value / film - 1)).toBeLessThan(0.15)
    const { low, high } = fit.values.conductivity
    expect(low).toBeLessThan(conductivity)
    expect(high).toBeGreaterThan(conductivity)
    expect(high - low).toBeLessThan(2 * 1.645 * spread.conductivity)
  })

  test('says more water than thought within its interval, which is wider for it', () => {
    const sure = fitLog(logged({}), { flask, spread: { ...spread, waterDoubt: 0 } }, course, 0)
    const unsure = fitLog(logged({}), { flask, spread }, course, 0)
    const width = ({ values }: typeof sure): number => values.film.high - values.film.low
    expect(width(unsure)).toBeGreaterThan(1.5 * width(sure))
    const wetter = fitLog(logged({ waterDoubt: 1.06 }), { flask, spread }, course, 0)
    for (const name of ['conductivity', 'film'] as const) {
      expect(wetter.values[name].low).toBeLessThan(flask[name])
      expect(wetter.values[name].high).toBeGreaterThan(flask[name])
    }
  })

  test('a log of another flask’s program is not fitted but told', () => {
    const elsewhere = logged({}).map(({ s, core }) => ({ s, core: celsius(20) + (core - celsius(20)) * 0.4 }))
    expect(told(fitLog(elsewhere, { flask, spread }, course, 0).problems)).toContain(
      'log-does-not-fit at /log',
    )
  })
})

describe('what a fit says of the log', () => {
  test('keeps what was measured beside what was reckoned before and after', () => {
    const points = logged({ conductivity: 0.55 })
    const { curve, used, left, before } = fitLog(points, { flask, spread }, course, 0)
    expect(curve.length).toBe(used)
    const off = (which: 'before' | 'after'): number =>
      Math.sqrt(curve.reduce((sum, one) => sum + (one.measured - one[which]) ** 2, 0) / curve.length)
    expect(off('before')).toBeCloseTo(before, 9)
    expect(off('after')).toBeCloseTo(left, 9)
    expect(curve[0]?.measured).toBe(points[0]?.core)
  })

  test('says that the planned program stands in for a kiln that was not logged, or hardly', () => {
    const points = logged({})
    expect(told(fitLog(points, { flask, spread }, course, 0).notes)).toEqual(['log-kiln-planned at /log'])
    const few = points.map((one, index) => (index % 3 === 0 ? { ...one, kiln: celsius(500) } : one))
    const { notes } = fitLog(few, { flask, spread }, course, 0)
    expect(notes.map(({ what }) => writeWords(what, METRIC))[0]).toMatch(/^Only \d+ of \d+ readings/)
  })

  test('says how many readings come after the course ends', () => {
    const points = logged({})
    const end = points.at(-1)?.s ?? 0
    const longer = [...points, ...[1, 2, 3].map((step) => ({ s: end + 300 * step, core: celsius(300) }))]
    const { notes } = fitLog(longer, { flask, spread }, course, 0)
    expect(told(notes)).toContain('log-past-end at /log')
    expect(notes.map(({ what }) => writeWords(what, METRIC)).at(-1)).toContain('3 readings')
  })

  test('is kept in the shop under the ids of its powder and its kiln', () => {
    const fit = fitLog(logged({ conductivity: 0.55 }), { flask, spread }, course, 0)
    const shop = usualShop()
    const [powder, kiln] = [shop.investments[0], shop.kilns[0]]
    const ids = { investment: powder?.id ?? '', kiln: kiln?.id ?? '' }
    const kept = withFit(shop, keepFit(fit, ids, '2030-03-07'))
    expect(readDocument(shopSchema, JSON.parse(JSON.stringify(kept))).ok).toBe(true)
    expect(readStated(kept.investments[0]?.dryConductivity_W_mK ?? 0).value).toBeCloseTo(
      fit.values.conductivity.value,
      3,
    )
    expect(kept.investments[0]).toMatchObject({ id: powder?.id, glossOff_min: powder?.glossOff_min })
    expect(kept.investments.slice(1)).toEqual(shop.investments.slice(1))
    expect(JSON.stringify(kept.kilns[0])).toContain('2030-03-07')
  })
})

describe('reading a log', () => {
  const rows = Array.from({ length: 90 }, (_, index) => [index, 20 + 5 * index] as const)
  const write = (list: readonly (readonly [number | string, number])[], header = 'time_min,core_C'): string =>
    [header, ...list.map((row) => row.join(','))].join('\n')

  test('seconds, minutes, hours and a clock past midnight are the same log, in either degrees', () => {
    const clock = (minute: number): string => {
      const at = (23 * 60 + 30 + minute) % 1440
      return `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}:00`
    }
    for (const text of [
      write(rows),
      write(
        rows.map(([minute, heat]) => [minute * 60, heat]),
        'elapsed (s), temperature (°C)',
      ),
      write(
        rows.map(([minute, heat]) => [minute / 60, heat]),
        'time_h,core_C',
      ),
      write(rows.map(([minute, heat]) => [clock(minute), heat])),
      write(
        rows.map(([minute, heat]) => [minute, toFahrenheit(celsius(heat))]),
        'time_min,core_F',
      ),
      write(rows).replaceAll(',', ';'),
    ]) {
      const { points, problems, notes } = readLog(text)
      expect([problems, notes]).toEqual([[], []])
      expect(points.length).toBe(90)
      expect(points.at(-1)?.s).toBeCloseTo(89 * 60, 3)
      expect(toCelsius(points.at(-1)?.core ?? 0)).toBeCloseTo(465, 6)
    }
  })

  test('a clock that was set on by an hour while the core climbed keeps the log from being used', () => {
    const jumped = rows.map(([minute, heat]) => [minute < 45 ? minute : minute + 60, heat] as const)
    expect(told(readLog(write(jumped)).problems)).toEqual(['log-clock-jump at reading 46'])
    // an hour without readings, in which the core went on, is only a gap
    const missed = rows.map(
      ([minute, heat]) => [minute < 45 ? minute : minute + 60, minute < 45 ? heat : heat + 300] as const,
    )
    expect(readLog(write(missed)).problems).toEqual([])
  })

  test('a clock in halves of the day is read, noon and midnight too', () => {
    const half = (minute: number): string => {
      const at = 23 * 60 + 30 + minute
      const hour = Math.floor(at / 60) % 24
      return `${hour % 12 === 0 ? 12 : hour % 12}:${String(at % 60).padStart(2, '0')} ${hour < 12 ? 'AM' : 'PM'}`
    }
    const { points, problems } = readLog(write(rows.map(([minute, heat]) => [half(minute), heat])))
    expect(problems).toEqual([])
    expect(points.at(-1)?.s).toBeCloseTo(89 * 60, 6)
  })

  test('a kiln in other degrees than the core is read in its own', () => {
    const both = rows.map(([minute, heat]) => `${minute},${heat},${toFahrenheit(celsius(heat + 30))}`)
    const { points } = readLog(['time_min,core_C,kiln_F', ...both].join('\n'))
    for (const { core, kiln } of points) expect((kiln ?? Number.NaN) - core).toBeCloseTo(30, 6)
  })

  test('units that are not said are asked for, both at once, and may be told', () => {
    const bare = rows.map((row) => row.join(',')).join('\n')
    expect(told(readLog(bare).problems)).toEqual(['log-time-unsaid at row 1', 'log-heat-unsaid at row 1'])
    expect(readLog(bare, { time: 'min', heat: 'C' }).points.length).toBe(90)
  })

  test('Fahrenheit that is called Celsius is found, and Celsius that is called Fahrenheit', () => {
    const hot = rows.map(
      ([minute, heat]) => [minute, toFahrenheit(celsius(heat + 250 * (minute / 89)))] as const,
    )
    expect(told(readLog(write(hot)).problems)).toEqual(['log-heat-units at row 1'])
    expect(told(readLog(write(rows, 'time_min,core_F')).problems)).toEqual(['log-heat-units at row 1'])
  })

  test('a clock set back, a row of words and a standing clock are each told with their row', () => {
    const broken = write(rows)
      .replace('\n40,', '\n30,')
      .replace('\n60,', '\nhello,')
      .replace('\n71,', '\n70,')
    expect(told(readLog(broken).problems)).toEqual([
      'log-clock-back at row 42',
      'log-row at row 62',
      'log-clock-back at row 73',
    ])
  })

  test('a clock set by less than ten minutes is told, either way', () => {
    const set = (by: number) =>
      write(rows.map(([minute, heat]) => [minute < 40 ? minute : minute + by, heat] as const))
    const notesOf = (by: number): string[] => told(readLog(set(by)).notes)
    expect(notesOf(4)).toEqual(['log-gap at reading 41'])
    expect(notesOf(0.6)).toEqual(['log-gap at reading 41'])
    expect(notesOf(-0.6)).toEqual(['log-clock-set at reading 41'])
    expect(notesOf(0)).toEqual([])
  })

  test('a log that is uneven by nature is not taken for one whose clock was set', () => {
    const uneven = rows.map(([minute, heat]) => [minute + 0.4 * Math.sin(7 * minute), heat] as const)
    expect(readLog(write(uneven)).notes).toEqual([])
  })

  test('words and blanks in the kiln’s column are counted, and a column that is not there is not missed', () => {
    const with3 = (kiln: (minute: number) => string) =>
      ['time_min,core_C,kiln_C', ...rows.map(([minute, heat]) => `${minute},${heat},${kiln(minute)}`)].join(
        '\n',
      )
    const some = readLog(with3((minute) => (minute % 10 === 3 ? 'err' : minute % 10 === 4 ? '' : '200')))
    expect(told(some.notes)).toEqual(['log-kiln-words at row 5'])
    expect(some.notes.map(({ what }) => writeWords(what, METRIC))[0]).toContain('18 of 90')
    expect(readLog(with3(() => '')).notes).toEqual([])
    expect(readLog(with3(() => '200')).notes).toEqual([])
  })

  test('more rows than can be read are refused, and more troubles than twenty are counted', () => {
    const many = Array.from({ length: 200_001 }, (_, index) => `${index},20`)
    expect(told(readLog(['time_s,core_C', ...many].join('\n')).problems)).toEqual([
      'log-too-long at row 200001',
    ])
    const words = rows.map(([minute, heat]) => (minute < 50 ? 'no reading' : `${minute},${heat}`))
    const { problems } = readLog(['time_min,core_C', ...words].join('\n'))
    expect(problems.length).toBe(21)
    expect(problems.at(-1)?.kind).toBe('log-more')
    expect(writeWords(problems.at(-1)?.what ?? [], METRIC)).toMatch(/^30 more/)
  })

  test('a gap is told and left', () => {
    const { points, notes } = readLog(write(rows.filter(([minute]) => minute < 30 || minute > 55)))
    expect(points.length).toBe(64)
    expect(told(notes)).toEqual(['log-gap at reading 31'])
    expect(notes.map(({ what }) => writeWords(what, METRIC))[0]).toContain('27 min')
  })

  test.each([
    ['', 'log-empty at row 1'],
    [write(rows.slice(0, 5)), 'log-short at row 1'],
    [write([[0, Number.NaN], ...rows.slice(1)]), 'log-row at row 2'],
  ])('nothing, or too little, is told: %#', (text, problem) => {
    expect(told(readLog(text).problems)).toContain(problem)
  })
})
