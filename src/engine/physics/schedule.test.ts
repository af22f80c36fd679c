import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { layBackwards, resolveMoment, sayMoment, writeMoment } from './schedule.ts'

const at = (iso: string): number => Date.parse(iso)
const written = (weekday: 'saturday' | 'sunday' | 'monday', time: string, now: string, zone: string) => {
  const found = resolveMoment({ weekday, time }, at(now), zone)
  if (!found.ok) throw new Error('no moment')
  return { iso: writeMoment(found.at, zone), note: found.note?.join('') ?? '' }
}

describe('the moment a weekday and a time mean', () => {
  test('a Saturday afternoon asked on the Friday is the next day, with its offset', () => {
    // 2026-11-13 is a Friday; Denver is at -07:00 in November
    expect(written('saturday', '15:30', '2026-11-13T19:40:00-07:00', 'America/Denver').iso).toBe(
      '2026-11-14T15:30:00-07:00',
    )
  })

  test('a time already gone today means the same weekday next week', () => {
    expect(written('saturday', '15:30', '2026-11-14T15:31:00-07:00', 'America/Denver').iso).toBe(
      '2026-11-21T15:30:00-07:00',
    )
    expect(written('saturday', '15:30', '2026-11-14T15:30:00-07:00', 'America/Denver').iso).toBe(
      '2026-11-14T15:30:00-07:00',
    )
  })

  test('a time that the spring change skips is read after the change, and said', () => {
    // clocks in the United Kingdom go from 01:00 to 02:00 on Sunday 29 March 2026
    const spring = written('sunday', '01:30', '2026-03-28T12:00:00Z', 'Europe/London')
    expect(spring.iso).toBe('2026-03-29T02:30:00+01:00')
    expect(spring.note).toContain('go forward over 01:30')
    expect(spring.note).toContain('2:30 am')
  })

  test('a time that the autumn change shows twice is the first of the two, and said', () => {
    // United States: 02:00 back to 01:00 on Sunday 1 November 2026
    const autumn = written('sunday', '01:30', '2026-10-31T12:00:00-06:00', 'America/Denver')
    expect(autumn.iso).toBe('2026-11-01T01:30:00-06:00')
    expect(autumn.note).toContain('twice')
  })

  test('south of the equator the clocks go forward in October and back in April', () => {
    expect(written('sunday', '02:30', '2026-10-03T12:00:00+10:00', 'Australia/Sydney').iso).toBe(
      '2026-10-04T03:30:00+11:00',
    )
    expect(written('sunday', '02:30', '2026-04-04T12:00:00+11:00', 'Australia/Sydney').iso).toBe(
      '2026-04-05T02:30:00+11:00',
    )
  })

  test('a half-hour change and an offset of quarters are kept', () => {
    // Lord Howe Island moves by half an hour; Chatham stands at +12:45 and +13:45
    expect(written('sunday', '02:15', '2026-10-03T12:00:00+10:30', 'Australia/Lord_Howe').iso).toBe(
      '2026-10-04T02:45:00+11:00',
    )
    expect(written('monday', '09:00', '2026-06-07T00:00:00Z', 'Pacific/Chatham').iso).toBe(
      '2026-06-08T09:00:00+12:45',
    )
  })

  test('an unknown zone and an unreadable time are said with a remedy', () => {
    const zone = resolveMoment({ weekday: 'monday', time: '09:00' }, 0, 'Atlantis/Centre')
    expect(zone.ok ? '' : zone.problem.where).toBe('/shop/timeZone')
    const time = resolveMoment('2026-13-45T00:00:00Z', 0, 'UTC')
    expect(time.ok ? '' : time.problem.where).toBe('/pour/castAt')
  })

  test('for every zone and wall time the moment found shows that time, unless it is said not to', () => {
    const zones = ['Europe/London', 'America/Denver', 'Australia/Sydney', 'Pacific/Auckland', 'Asia/Kolkata']
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: at('2024-01-01T00:00:00Z'), max: at('2030-01-01T00:00:00Z') }),
        fc.constantFrom('saturday', 'sunday', 'monday'),
        fc.integer({ min: 0, max: 1439 }),
        (zone, now, weekday, minute) => {
          const time = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`
          const found = resolveMoment({ weekday: weekday as 'sunday', time }, now, zone)
          if (!found.ok) throw new Error('no moment')
          expect(found.at).toBeGreaterThanOrEqual(now)
          expect(found.at - now).toBeLessThanOrEqual(8 * 86_400_000)
          const shown = writeMoment(found.at, zone).slice(11, 16)
          if (found.note?.join('').includes('forward') !== true) expect(shown).toBe(time)
        },
      ),
      { numRuns: 300 },
    )
  })
})

describe('steps laid backwards', () => {
  test('twelve hours before a pour at 03:30 on the day the clocks go back start at 16:30 the day before', () => {
    // Denver, 1 November 2026: 03:30 MST is 12 h after 16:30 MDT
    const end = at('2026-11-01T03:30:00-07:00')
    const [step] = layBackwards(end, [12 * 3600])
    expect(writeMoment(step?.from ?? 0, 'America/Denver')).toBe('2026-10-31T16:30:00-06:00')
  })

  test('across the spring change the same twelve hours start at 14:30 by the clock', () => {
    const end = at('2026-03-08T03:30:00-06:00')
    const [step] = layBackwards(end, [12 * 3600])
    expect(writeMoment(step?.from ?? 0, 'America/Denver')).toBe('2026-03-07T14:30:00-07:00')
  })

  test('steps touch end to end and finish exactly at the moment asked', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 50_000 }), { minLength: 1, maxLength: 12 }),
        (durations) => {
          const end = at('2026-03-29T06:00:00Z')
          const laid = layBackwards(end, durations)
          expect(laid.at(-1)?.to).toBe(end)
          laid.slice(1).forEach((step, index) => {
            expect(step.from).toBe(laid[index]?.to)
          })
          expect(end - (laid[0]?.from ?? 0)).toBe(durations.reduce((sum, next) => sum + next, 0) * 1000)
        },
      ),
      { numRuns: 100 },
    )
  })
})

describe('moments in plain words', () => {
  test('weekday, day, month and a twelve-hour clock', () => {
    expect(sayMoment(at('2026-11-14T15:30:00-07:00'), 'America/Denver')).toBe('Saturday 14 November, 3:30 pm')
    expect(sayMoment(at('2026-11-14T00:05:00-07:00'), 'America/Denver')).toBe(
      'Saturday 14 November, 12:05 am',
    )
    expect(sayMoment(at('2026-11-14T12:00:00-07:00'), 'America/Denver')).toBe(
      'Saturday 14 November, 12:00 pm',
    )
  })
})
