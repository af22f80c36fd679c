import { DateTime, IANAZone } from 'luxon'
import type { Moment } from '../documents/index.ts'
import { type Problem, say, type Words } from '../quantity/index.ts'

const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const

/** A wall time found on the clock of a place, or why it can't be. */
export type ResolvedMoment =
  | {
      readonly ok: true
      /** milliseconds since 1970-01-01T00:00Z */
      readonly at: number
      /** said when the clocks change round this time and one of two readings had to be taken */
      readonly note?: Words
    }
  | { readonly ok: false; readonly problem: Problem }

const failed = (where: string, what: Words, remedy: Words): ResolvedMoment => ({
  ok: false,
  problem: { kind: 'moment-unreadable', where, what, remedy },
})

const MINUTE = 60_000
const DAY = 86_400_000

/**
 * The moment at which the clocks of a zone show a wall time. Wall times that a change of clocks skips give
 * the later reading (as many minutes after the change as they were written after it began); wall times shown
 * twice give the first. `wall` is the wall time as if it were UTC, in ms.
 */
const atWallTime = (wall: number, zone: IANAZone): { at: number; skipped: boolean; twice: boolean } => {
  const before = zone.offset(wall - DAY) * MINUTE
  const after = zone.offset(wall + DAY) * MINUTE
  const shown = [wall - before, wall - after].filter((at) => zone.offset(at) * MINUTE === wall - at)
  const first = shown.length > 0 ? Math.min(...shown) : wall - before
  return { at: first, skipped: shown.length === 0, twice: new Set(shown).size > 1 }
}

/**
 * The moment meant by a weekday and a time (the next one at or after now), or by an ISO 8601 time with its
 * offset. Weekdays and times are read on the clocks of the time zone (IANA name, such as Europe/London).
 */
export const resolveMoment = (
  moment: Moment,
  now: number,
  timeZone: string,
  where = '/pour/castAt',
): ResolvedMoment => {
  if (typeof moment === 'string') {
    const read = DateTime.fromISO(moment, { setZone: true })
    return read.isValid
      ? { ok: true, at: read.toMillis() }
      : failed(
          where,
          say`"${moment}" is not a time that can be read`,
          say`Write it as 2030-11-14T15:30:00-07:00.`,
        )
  }
  const zone = IANAZone.create(timeZone)
  if (!zone.isValid)
    return failed(
      '/shop/timeZone',
      say`No clocks are known for the time zone "${timeZone}"`,
      say`Give the zone by its usual name, such as Europe/London or America/Denver.`,
    )
  const here = DateTime.fromMillis(now, { zone })
  const [hour = 0, minute = 0] = moment.time.split(':').map(Number)
  const ahead = (WEEKDAYS.indexOf(moment.weekday) + 1 - here.weekday + 7) % 7
  const wallFor = (days: number): number => Date.UTC(here.year, here.month - 1, here.day + days, hour, minute)
  const today = atWallTime(wallFor(ahead), zone)
  const found = today.at >= now ? today : atWallTime(wallFor(ahead + 7), zone)
  if (found.skipped)
    return {
      ok: true,
      at: found.at,
      note: say`The clocks go forward over ${moment.time} on that day, so ${sayClock(found.at, timeZone)} is taken.`,
    }
  if (found.twice)
    return {
      ok: true,
      at: found.at,
      note: say`The clocks go back on that day and show ${moment.time} twice; the first is taken.`,
    }
  return { ok: true, at: found.at }
}

/** A moment as ISO 8601 with the offset of the place at that moment, to the second. */
export const writeMoment = (at: number, timeZone: string): string =>
  DateTime.fromMillis(Math.round(at / 1000) * 1000, { zone: timeZone }).toISO({
    suppressMilliseconds: true,
    includeOffset: true,
  }) ?? new Date(at).toISOString()

const clockOf = (here: DateTime): string =>
  `${here.hour % 12 === 0 ? 12 : here.hour % 12}:${String(here.minute).padStart(2, '0')} ${here.hour < 12 ? 'am' : 'pm'}`

/** The moment on the nearest whole minute, or the first before or after: rounded once, so every face reads one clock. */
export const toMinute = (at: number, round: (minutes: number) => number = Math.round): number =>
  round(at / MINUTE) * MINUTE

/** To the nearest minute, as a clock is read. */
const read = (at: number, timeZone: string): DateTime =>
  DateTime.fromMillis(toMinute(at), { zone: timeZone, locale: 'en-GB' })

/** 3:30 pm */
export const sayClock = (at: number, timeZone: string): string => clockOf(read(at, timeZone))

/** Saturday 14 November, 3:30 pm */
export const sayMoment = (at: number, timeZone: string): string => {
  const here = read(at, timeZone)
  return `${here.toFormat('cccc d LLLL')}, ${clockOf(here)}`
}

export interface Stretch {
  readonly from: number
  readonly to: number
}

/**
 * Steps laid end to end backwards from the moment the last one ends. Durations [s] are elapsed time, so a
 * change of clocks in between moves the wall times, never the lengths. Each step begins where the one before
 * it ends.
 */
export const layBackwards = (end: number, durations: readonly number[]): Stretch[] => {
  const laid: Stretch[] = []
  let to = end
  for (const duration of [...durations].reverse()) {
    const from = to - duration * 1000
    laid.unshift({ from, to })
    to = from
  }
  return laid
}

/** The hour of the day [0 to 24) that the clocks of a zone show at a moment. */
export const hourOfDay = (at: number, timeZone: string): number => {
  const here = read(at, timeZone)
  return here.hour + here.minute / 60
}

/** The last moment at or before this one at which the clocks of a zone show that hour. */
export const lastHour = (at: number, hour: number, timeZone: string): number => {
  const here = read(at, timeZone)
  const today = here.set({ hour, minute: 0 })
  return (today.toMillis() <= at ? today : today.minus({ days: 1 })).toMillis()
}
