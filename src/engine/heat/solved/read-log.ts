import { celsius, fahrenheit, type Problem, say } from '../../quantity/index.ts'

export type LogTime = 's' | 'min' | 'h' | 'clock'
export type LogHeat = 'C' | 'F'

/** What a log does not say of itself, said by whoever brings it. */
export interface LogUnits {
  readonly time?: Exclude<LogTime, 'clock'>
  readonly heat?: LogHeat
}

export interface LogPoint {
  /** s from the first reading */
  readonly s: number
  /** core, and the kiln where a third column gives it [K] */
  readonly core: number
  readonly kiln?: number
}

export interface LogReading {
  readonly points: readonly LogPoint[]
  /** what keeps the log from being used; all at once */
  readonly problems: readonly Problem[]
  /** what was found and left as it is */
  readonly notes: readonly Problem[]
}

const ROW_LIMIT = 200_000
const CLOCK = /^(?:\d{4}-\d\d-\d\d[T ])?(\d{1,2}):(\d\d)(?::(\d\d(?:\.\d+)?))?/
const NUMBER = /^[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$/i

const timeOfHeader = (name: string): LogTime | undefined =>
  /(\b|_)(s|sec|secs|seconds?)(\b|_)/.test(name)
    ? 's'
    : /(\b|_)(min|mins|minutes?)(\b|_)/.test(name)
      ? 'min'
      : /(\b|_)(h|hours?)(\b|_)/.test(name)
        ? 'h'
        : undefined

const heatOfHeader = (name: string): LogHeat | undefined =>
  /°\s*f|(\b|_)(f|fahrenheit)(\b|_)/.test(name)
    ? 'F'
    : /°\s*c|(\b|_)(c|celsius)(\b|_)/.test(name)
      ? 'C'
      : undefined

const SECONDS = { s: 1, min: 60, h: 3600 } as const

const nothing = (problems: readonly Problem[]): LogReading => ({ points: [], problems, notes: [] })

const where = (row: number): string => `row ${row}`

/**
 * Reads a thermocouple log: rows of time and core temperature, with the kiln's in a third column if it was
 * logged too. Comma, semicolon or tab between; a header is read for its units and may be missing. Time counts
 * in seconds, minutes or hours, or is a clock that may pass midnight.
 */
export const readLog = (text: string, told: LogUnits = {}): LogReading => {
  const lines = text.split(/\r\n|\r|\n/).map((line, index) => ({ line: line.trim(), row: index + 1 }))
  const rows = lines.filter(({ line }) => line !== '' && !line.startsWith('#'))
  if (rows.length > ROW_LIMIT)
    return nothing([
      {
        kind: 'log-long',
        where: where(rows[ROW_LIMIT]?.row ?? ROW_LIMIT),
        what: say`The log has ${rows.length} rows; up to ${ROW_LIMIT} are read.`,
        remedy: say`Keep a reading a minute or so, and bring it again.`,
      },
    ])
  const [first] = rows
  if (first === undefined)
    return nothing([
      {
        kind: 'log-empty',
        where: 'row 1',
        what: say`The log has no readings.`,
        remedy: say`Save it as rows of time and temperature.`,
      },
    ])
  const between = first.line.includes('\t') ? '\t' : first.line.includes(';') ? ';' : ','
  const cut = (line: string): string[] => line.split(between).map((cell) => cell.trim().replace(/^"|"$/g, ''))
  const isReading = (cells: readonly string[]): boolean =>
    (NUMBER.test(cells[0] ?? '') || CLOCK.test(cells[0] ?? '')) && NUMBER.test(cells[1] ?? '')
  const header = isReading(cut(first.line)) ? undefined : cut(first.line.toLowerCase())
  const readings = header === undefined ? rows : rows.slice(1)
  const clock = CLOCK.test(cut(readings[0]?.line ?? '')[0] ?? '')
  const time: LogTime | undefined = clock ? 'clock' : (timeOfHeader(header?.[0] ?? '') ?? told.time)
  const heat = heatOfHeader(header?.[1] ?? '') ?? told.heat
  const unsaid: Problem[] = []
  if (time === undefined)
    unsaid.push({
      kind: 'log-time-unsaid',
      where: where(first.row),
      what: say`The log does not say whether its times are seconds, minutes or hours.`,
      remedy: say`Say it, or head the column time_s, time_min or time_h.`,
    })
  if (heat === undefined)
    unsaid.push({
      kind: 'log-heat-unsaid',
      where: where(first.row),
      what: say`The log does not say whether it is in Celsius or Fahrenheit.`,
      remedy: say`Say it, or head the column core_C or core_F.`,
    })
  if (time === undefined || heat === undefined) return nothing(unsaid)
  const number = (cell: string | undefined): number => Number((cell ?? '').replace(',', '.'))
  const kelvin = (value: number): number => (heat === 'C' ? celsius(value) : fahrenheit(value))
  const secondsOf = (cell: string): number => {
    if (time !== 'clock') return number(cell) * SECONDS[time]
    const [, h, min, s] = CLOCK.exec(cell) ?? []
    return Number(h) * 3600 + Number(min) * 60 + Number(s ?? 0)
  }
  const problems: Problem[] = []
  const found: LogPoint[] = []
  let days = 0
  let last: number | undefined
  for (const { line, row } of readings) {
    const cells = cut(line)
    if (!isReading(cells)) {
      problems.push({
        kind: 'log-row',
        where: where(row),
        what: say`"${line.slice(0, 60)}" is no time and temperature.`,
        remedy: say`Correct the row or take it out.`,
      })
      continue
    }
    let s = secondsOf(cells[0] ?? '') + days
    // a clock that falls back by more than half a day has passed midnight
    if (time === 'clock' && last !== undefined && last - s > 12 * 3600) {
      days += 24 * 3600
      s += 24 * 3600
    }
    if (last !== undefined && s <= last)
      problems.push({
        kind: 'log-clock-back',
        where: where(row),
        what:
          s === last
            ? say`The time stands still: two readings at one moment.`
            : say`The time goes back by ${Math.round(last - s)} s.`,
        remedy: say`If the logger's clock was set during the run, correct the times after it.`,
      })
    last = s
    const kiln = NUMBER.test(cells[2] ?? '') ? kelvin(number(cells[2])) : undefined
    found.push({ s, core: kelvin(number(cells[1])), kiln })
  }
  if (problems.length > 0) return nothing(cutShort(problems))
  const start = found[0]?.s ?? 0
  const points = found.map((point) => ({ ...point, s: point.s - start }))
  const misread = judgeHeats(points, heat)
  if (misread.length > 0) return nothing(misread)
  if (points.length < 12 || (points.at(-1)?.s ?? 0) < 3600)
    return nothing([
      {
        kind: 'log-short',
        where: where(first.row),
        what: say`${points.length} readings over ${Math.round((points.at(-1)?.s ?? 0) / 60)} min are too few to fit a burnout.`,
        remedy: say`Log the whole program, a reading a minute or so.`,
      },
    ])
  return { points, problems: [], notes: [...gapsOf(points), ...kilnCellsOf(points)] }
}

const MOST_TOLD = 20

/** A flood of the same is told by its first and its number. */
const cutShort = (problems: readonly Problem[]): Problem[] =>
  problems.length <= MOST_TOLD
    ? [...problems]
    : [
        ...problems.slice(0, MOST_TOLD),
        {
          kind: 'log-more',
          where: problems[MOST_TOLD]?.where ?? '',
          what: say`${problems.length - MOST_TOLD} more rows like these.`,
          remedy: say`Mend those that are named first.`,
        },
      ]

/** The kiln's column, where it is there at all, may have holes. */
const kilnCellsOf = (points: readonly LogPoint[]): Problem[] => {
  const without = points.filter(({ kiln }) => kiln === undefined).length
  if (without === 0 || without === points.length) return []
  return [
    {
      kind: 'log-kiln-cells',
      where: 'the kiln’s column',
      what: say`${without} of ${points.length} readings have no number for the kiln.`,
      remedy: say`The kiln is taken to run straight between those that have one; with fewer than half of them the planned program is taken instead.`,
    },
  ]
}

/** A flask begins near the room and never passes any burnout's heat. */
const judgeHeats = (points: readonly LogPoint[], heat: LogHeat): Problem[] => {
  const heats = points.map(({ core }) => core)
  const [first, most, least] = [heats[0] ?? Number.NaN, Math.max(...heats), Math.min(...heats)]
  if (heat === 'C' && (most > celsius(950) || first > celsius(55)))
    return [
      {
        kind: 'log-heat-units',
        where: 'row 1',
        what: say`Read as Celsius the core begins at ${Math.round(first - celsius(0))} °C and reaches ${Math.round(most - celsius(0))} °C: it looks like Fahrenheit.`,
        remedy: say`Say that it is Fahrenheit, or begin the log with the flask still cold.`,
      },
    ]
  if ((heat === 'F' && first < celsius(-2)) || least < celsius(-40))
    return [
      {
        kind: 'log-heat-units',
        where: 'row 1',
        what: say`Read as ${heat === 'F' ? 'Fahrenheit' : 'Celsius'} the core goes down to ${Math.round(least - celsius(0))} °C: it looks like ${heat === 'F' ? 'Celsius' : 'a broken wire'}.`,
        remedy: heat === 'F' ? say`Say that it is Celsius.` : say`Look at the thermocouple, and log again.`,
      },
    ]
  return []
}

/** Gaps five times the usual distance and over three minutes are told; the fit goes on across them. */
const gapsOf = (points: readonly LogPoint[]): Problem[] => {
  const steps = points.slice(1).map(({ s }, index) => s - (points[index]?.s ?? s))
  const usual = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0
  return steps.flatMap((step, index) =>
    step > Math.max(180, 5 * usual)
      ? [
          {
            kind: 'log-gap',
            where: `reading ${index + 2}`,
            what: say`No readings for ${Math.round(step / 60)} min from minute ${Math.round((points[index]?.s ?? 0) / 60)}.`,
            remedy: say`The fit goes on without them. If the clock jumped ahead there, correct the times.`,
          },
        ]
      : [],
  )
}
