import type { Moment } from '../../engine/documents/pour.ts'

const WEEKDAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'] as const

interface WallClock {
  readonly year: number
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
}

const formats = new Map<string, Intl.DateTimeFormat>()
const partsFormat = (zone: string): Intl.DateTimeFormat => {
  let format = formats.get(zone)
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-US', {
      timeZone: zone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
    })
    formats.set(zone, format)
  }
  return format
}

const wallClock = (at: number, zone: string): WallClock => {
  const found: Record<string, number> = {}
  for (const { type, value } of partsFormat(zone).formatToParts(at)) found[type] = Number(value)
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0 } = found
  return { year, month, day, hour, minute }
}

const asIfUtc = (clock: WallClock): number =>
  Date.UTC(clock.year, clock.month - 1, clock.day, clock.hour, clock.minute)

/** Minutes that the zone's clocks stand ahead of UTC at a moment. */
export const offsetAt = (at: number, zone: string): number =>
  Math.round((asIfUtc(wallClock(at, zone)) - Math.floor(at / 60_000) * 60_000) / 60_000)

/** The moment at which the zone's clocks show this wall time. */
export const momentOf = (clock: WallClock, zone: string): number => {
  const flat = asIfUtc(clock)
  const first = flat - offsetAt(flat, zone) * 60_000
  return flat - offsetAt(first, zone) * 60_000
}

const two = (value: number): string => String(Math.abs(value)).padStart(2, '0')

/** `2026-11-14T15:30`, as a date and time entry wants it. */
export const toEntry = (at: number, zone: string): string => {
  const { year, month, day, hour, minute } = wallClock(at, zone)
  return `${year}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}`
}

/** ISO 8601 with the zone's offset at that moment; undefined when the entry is no time. */
export const fromEntry = (typed: string, zone: string): string | undefined => {
  const match = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})/.exec(typed)
  if (match === null) return undefined
  const [year = 0, month = 1, day = 1, hour = 0, minute = 0] = match.slice(1).map(Number)
  const at = momentOf({ year, month, day, hour, minute }, zone)
  const offset = offsetAt(at, zone)
  const sign = offset < 0 ? '-' : '+'
  const away = `${two(Math.trunc(Math.abs(offset) / 60))}:${two(Math.abs(offset) % 60)}`
  return `${toEntry(at, zone)}:00${sign}${away}`
}

/** When the caster wants to cast, in milliseconds: the next such weekday and time, or the moment named. */
export const castMoment = (moment: Moment, zone: string, now: number): number => {
  if (typeof moment === 'string') return Date.parse(moment)
  const [hour = 0, minute = 0] = moment.time.split(':').map(Number)
  const today = wallClock(now, zone)
  const dayNow = new Date(asIfUtc(today)).getUTCDay()
  const ahead = (WEEKDAYS.indexOf(moment.weekday) - dayNow + 7) % 7
  const at = (days: number): number => {
    const date = new Date(asIfUtc(today) + days * 86_400_000)
    return momentOf(
      {
        year: date.getUTCFullYear(),
        month: date.getUTCMonth() + 1,
        day: date.getUTCDate(),
        hour,
        minute,
      },
      zone,
    )
  }
  const next = at(ahead)
  return next >= now ? next : at(ahead + 7)
}

/** Saturday of this week or the next, at half past three: room for an evening's mixing and a night's burnout. */
export const likelyCast = (now: number, zone: string): string => {
  const saturday = castMoment({ weekday: 'saturday', time: '15:30' }, zone, now)
  const enough = saturday - now > 30 * 3_600_000
  return fromEntry(toEntry(enough ? saturday : saturday + 7 * 86_400_000, zone), zone) ?? ''
}

const dayTime = (zone: string): Intl.DateTimeFormat =>
  new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    hour: 'numeric',
    minute: '2-digit',
  })

const piecesOf = (at: number, zone: string): Record<string, string> => {
  const found: Record<string, string> = {}
  for (const { type, value } of dayTime(zone).formatToParts(at)) found[type] = value
  return found
}

/** "Sat 14 Nov, 3:30 pm" */
export const writeMoment = (at: number, zone: string): string => {
  const { weekday, day, month, hour, minute, dayPeriod = '' } = piecesOf(at, zone)
  return `${weekday} ${day} ${month}, ${hour}:${minute} ${dayPeriod.toLowerCase()}`
}

/** "Sat 3:30 pm" */
export const writeDayTime = (at: number, zone: string): string => {
  const { weekday, hour, minute, dayPeriod = '' } = piecesOf(at, zone)
  return `${weekday} ${hour}:${minute} ${dayPeriod.toLowerCase()}`
}

/** "3:30 pm" */
export const writeTime = (at: number, zone: string): string => {
  const { hour, minute, dayPeriod = '' } = piecesOf(at, zone)
  return `${hour}:${minute} ${dayPeriod.toLowerCase()}`
}
