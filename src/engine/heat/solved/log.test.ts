import { describe, expect, test } from 'vitest'
import { celsius, METRIC, type Problem, toCelsius, toFahrenheit, writeWords } from '../../quantity/index.ts'
import { fitLog, follow, type KilnFlask, readLog } from './index.ts'

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

describe('what a fit tells beside its values', () => {
  const points = logged({ conductivity: 0.55 })

  test('the core at each reading, logged, before and after', () => {
    const { curve, used, before, left } = fitLog(points, { flask, spread }, course, 0)
    expect(curve).toHaveLength(used)
    const apart = (of: 'before' | 'after'): number =>
      Math.sqrt(curve.reduce((sum, one) => sum + (one.measured - one[of]) ** 2, 0) / used)
    expect(apart('before')).toBeCloseTo(before, 6)
    expect(apart('after')).toBeCloseTo(left, 6)
  })

  test('that the planned program stood in for a kiln that was not logged, and not for one that was', () => {
    const kinds = (some: typeof points) =>
      fitLog(some, { flask, spread }, course, 0).notes.map(({ kind }) => kind)
    expect(kinds(points)).toEqual(['log-course-planned'])
    let from = 0
    const knots = course.temperatures.map((K, index) => {
      const s = from
      from += course.durations[index] ?? 0
      return { s, K }
    })
    const kilnAt = (s: number): number => {
      const next = knots.findIndex((knot) => knot.s >= s)
      const [a, b] = [knots[Math.max(0, next - 1)], knots[next]]
      if (a === undefined || b === undefined) return Number.NaN
      return b.s === a.s ? b.K : a.K + ((b.K - a.K) * (s - a.s)) / (b.s - a.s)
    }
    expect(kinds(points.map((point) => ({ ...point, kiln: kilnAt(point.s) })))).toEqual([])
  })

  test('readings after the end of the program', () => {
    const last = points.at(-1)
    if (last === undefined) throw new Error('a log has readings')
    const on = [600, 1200].map((s) => ({ s: last.s + s, core: last.core }))
    const { notes, used } = fitLog([...points, ...on], { flask, spread }, course, 0)
    expect(notes.map(({ what }) => writeWords(what, METRIC)).join(' ')).toContain('2 readings after the end')
    expect(used).toBeLessThanOrEqual(points.length)
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

  test('a gap is told and left', () => {
    const { points, notes } = readLog(write(rows.filter(([minute]) => minute < 30 || minute > 55)))
    expect(points.length).toBe(64)
    expect(told(notes)).toEqual(['log-gap at reading 31'])
    expect(notes.map(({ what }) => writeWords(what, METRIC))[0]).toContain('27 min')
  })

  test('more rows than are read are told, and none is cut off in silence', () => {
    const long = Array.from({ length: 200_001 }, (_, index) => `${index},20`).join('\n')
    expect(told(readLog(`time_s,core_C\n${long}`).problems)).toEqual(['log-long at row 200001'])
  })

  test('a flood of broken rows is told by its first and their number', () => {
    const broken = write(rows).replaceAll(/\n[5-8]\d,/g, '\n?,')
    const { problems } = readLog(broken)
    expect(problems).toHaveLength(21)
    expect(problems.map(({ what }) => writeWords(what, METRIC)).at(-1)).toContain('20 more rows')
  })

  test('holes in the kiln’s column are told with their number', () => {
    const three = rows.map(([minute, heat]) => `${minute},${heat},${minute % 10 === 0 ? 'open' : heat + 30}`)
    const { points, notes } = readLog(['time_min,core_C,kiln_C', ...three].join('\n'))
    expect(points).toHaveLength(90)
    expect(notes.map(({ what }) => writeWords(what, METRIC))).toEqual([
      '9 of 90 readings have no number for the kiln.',
    ])
  })

  test('a clock that jumps by five minutes in a log of one a minute is told as a gap', () => {
    const jumped = rows.map(([minute, heat]) => [minute < 45 ? minute : minute + 5, heat] as const)
    expect(told(readLog(write(jumped)).notes)).toEqual(['log-gap at reading 46'])
  })

  test.each([
    ['', 'log-empty at row 1'],
    [write(rows.slice(0, 5)), 'log-short at row 1'],
    [write([[0, Number.NaN], ...rows.slice(1)]), 'log-row at row 2'],
  ])('nothing, or too little, is told: %#', (text, problem) => {
    expect(told(readLog(text).problems)).toContain(problem)
  })
})
