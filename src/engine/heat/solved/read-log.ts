import { celsius, fahrenheit, type Problem, say, timeOf } from '../../quantity/index.ts'

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
/** No more than this is told one by one; how many more there are is said at the end. */
const TOLD = 20
const CLOCK = /^(?:\d{4}-\d\d-\d\d[T ])?(\d{1,2}):(\d\d)(?::(\d\d(?:\.\d+)?))?\s*([ap])?\.?m?/i
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
  const beyond = rows[ROW_LIMIT]
  if (beyond !== undefined)
    return nothing([
      {
        kind: 'log-too-long',
        where: where(beyond.row),
        what: say`The log has ${rows.length} rows; ${ROW_LIMIT} are read at most.`,
        remedy: say`Keep a reading a minute or so, and only this burnout.`,
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
  const kelvin = (value: number, as: LogHeat = heat): number =>
    as === 'C' ? celsius(value) : fahrenheit(value)
  // a kiln's display may speak another degree than the thermocouple
  const kilnHeat = heatOfHeader(header?.[2] ?? '') ?? heat
  const secondsOf = (cell: string): number => {
    if (time !== 'clock') return number(cell) * SECONDS[time]
    const [, h, min, s, half] = CLOCK.exec(cell) ?? []
    // 12 am is midnight and 12 pm noon
    const hour = half === undefined ? Number(h) : (Number(h) % 12) + (half.toLowerCase() === 'p' ? 12 : 0)
    return hour * 3600 + Number(min) * 60 + Number(s ?? 0)
  }
  const problems: Problem[] = []
  const found: LogPoint[] = []
  /** rows with a third cell that is no figure, and whether any of these cells says something */
  const withoutKiln: number[] = []
  let saysSomething = false
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
    const kiln = NUMBER.test(cells[2] ?? '') ? kelvin(number(cells[2]), kilnHeat) : undefined
    if (kiln === undefined && cells.length > 2) {
      withoutKiln.push(row)
      saysSomething ||= cells[2] !== ''
    }
    found.push({ s, core: kelvin(number(cells[1])), kiln })
  }
  if (problems.length > 0) return nothing(firstOf(problems))
  const start = found[0]?.s ?? 0
  const points = found.map((point) => ({ ...point, s: point.s - start }))
  const misread = judgeHeats(points, heat)
  if (misread.length > 0) return nothing(misread)
  const jumps = jumpsOf(points)
  if (jumps.length > 0) return nothing(firstOf(jumps))
  if (points.length < 12 || (points.at(-1)?.s ?? 0) < 3600)
    return nothing([
      {
        kind: 'log-short',
        where: where(first.row),
        what: say`${points.length} readings over ${Math.round((points.at(-1)?.s ?? 0) / 60)} min are too few to fit a burnout.`,
        remedy: say`Log the whole program, a reading a minute or so.`,
      },
    ])
  return {
    points,
    problems: [],
    notes: firstOf([
      ...(saysSomething || points.some(({ kiln }) => kiln !== undefined)
        ? kilnNotes(points, withoutKiln)
        : []),
      ...timesOf(points),
    ]),
  }
}

/** The first of many, and how many more there are. */
const firstOf = (all: readonly Problem[]): readonly Problem[] => {
  const rest = all.slice(TOLD)
  const [next] = rest
  return next === undefined
    ? all
    : [
        ...all.slice(0, TOLD),
        {
          kind: 'log-more',
          where: next.where,
          what: say`${rest.length} more like these, from here on.`,
          remedy: say`Mend these first, then read the log again.`,
        },
      ]
}

/** A column for the kiln that is not wholly figures. */
const kilnNotes = (points: readonly LogPoint[], without: readonly number[]): Problem[] => {
  const [first] = without
  if (first === undefined) return []
  return [
    {
      kind: 'log-kiln-words',
      where: where(first),
      what: say`${without.length} of ${points.length} readings have no figure for the kiln.`,
      remedy: say`The kiln's course goes straight across them.`,
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

/** s; what a jump is looked for in, and readings on either side that tell how fast the core was going. */
const LEAST_JUMP = 600
const BESIDE = 3
/** K that the core would have gone in such a gap, and the share of that under which it has not gone through it. */
const TELLING = { least: 25, share: 0.3 }

/** Gaps in which the core, rising or falling before and after, has hardly moved: the clock was set, no time went by. */
const jumpsOf = (points: readonly LogPoint[]): Problem[] =>
  points.slice(1).flatMap((point, index): Problem[] => {
    const last = points[index] as LogPoint
    const step = point.s - last.s
    const [back, on] = [points[index - BESIDE], points[index + 1 + BESIDE]]
    if (step < LEAST_JUMP || back === undefined || on === undefined) return []
    const before = (last.core - back.core) / (last.s - back.s)
    const after = (on.core - point.core) / (on.s - point.s)
    const gone = ((before + after) / 2) * step
    const isOne = before * after > 0 && Math.abs(gone) > TELLING.least
    if (!isOne || Math.abs(point.core - last.core) >= TELLING.share * Math.abs(gone)) return []
    return [
      {
        kind: 'log-clock-jump',
        where: `reading ${index + 2}`,
        what: say`The clock goes on by ${timeOf(step)} at minute ${Math.round(last.s / 60)}, and the core hardly moves, though it was changing fast before and after: the clock was set.`,
        remedy: say`Take that time off all that follows, or keep the part of the log before it.`,
      },
    ]
  })

/** A log is even when nine steps in ten are within a fifth of the usual one; then every other step tells. */
const EVEN = { share: 0.9, within: 0.2 }
/** s and share of the usual step by which one step of an even log must differ to be told. */
const LEAST_OFF = { s: 20, share: 0.4 }

/**
 * Gaps and clocks that were set. In an even log any step that is clearly longer or shorter is told; in another,
 * gaps five times the usual and over ten minutes. The fit goes on across them all.
 */
const timesOf = (points: readonly LogPoint[]): Problem[] => {
  const steps = points.slice(1).map(({ s }, index) => s - (points[index]?.s ?? s))
  const usual = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0
  const near = steps.filter((step) => Math.abs(step - usual) <= EVEN.within * usual)
  const even = near.length >= EVEN.share * steps.length
  const off = Math.max(LEAST_OFF.s, LEAST_OFF.share * usual)
  return steps.flatMap((step, index): Problem[] => {
    const at = `reading ${index + 2}`
    const from = Math.round((points[index]?.s ?? 0) / 60)
    if (even && step < usual - off)
      return [
        {
          kind: 'log-clock-set',
          where: at,
          what: say`One reading comes ${timeOf(usual - step)} early at minute ${from}: the clock may have been set back.`,
          remedy: say`If it was, correct the times after it; otherwise nothing needs doing.`,
        },
      ]
    return step > (even ? usual + off : Math.max(600, 5 * usual))
      ? [
          {
            kind: 'log-gap',
            where: at,
            what: say`No readings for ${timeOf(step)} from minute ${from}.`,
            remedy: say`The fit goes on without them. If the clock jumped ahead there, correct the times.`,
          },
        ]
      : []
  })
}
