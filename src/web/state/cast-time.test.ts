import { expect, test } from 'vitest'
import { castMoment, fromEntry, offsetAt, toEntry, writeMoment } from './cast-time.ts'

const zone = 'America/Denver'

test('the offset follows daylight saving: seven hours behind in winter, six in summer', () => {
  expect(offsetAt(Date.UTC(2026, 0, 15, 12), zone)).toBe(-420)
  expect(offsetAt(Date.UTC(2026, 6, 15, 12), zone)).toBe(-360)
})

test('an entry gives the moment with its offset and comes back the same', () => {
  expect(fromEntry('2026-11-14T15:30', zone)).toBe('2026-11-14T15:30:00-07:00')
  expect(toEntry(Date.parse('2026-11-14T15:30:00-07:00'), zone)).toBe('2026-11-14T15:30')
  expect(fromEntry('2026-07-04T09:05', 'Asia/Kolkata')).toBe('2026-07-04T09:05:00+05:30')
})

test('an entry that is no time gives nothing', () => {
  expect(fromEntry('tomorrow', zone)).toBeUndefined()
})

test('a weekday is the next one that is still ahead, across the change of clocks', () => {
  const friday = Date.parse('2026-10-30T20:00:00-06:00')
  const cast = castMoment({ weekday: 'sunday', time: '15:30' }, zone, friday)
  expect(new Date(cast).toISOString()).toBe('2026-11-01T22:30:00.000Z')
  const late = Date.parse('2026-11-01T16:00:00-07:00')
  expect(castMoment({ weekday: 'sunday', time: '15:30' }, zone, late) - late).toBe(
    7 * 86_400_000 - 30 * 60_000,
  )
})

test('a moment is written with its weekday and am or pm', () => {
  expect(writeMoment(Date.parse('2026-11-14T15:30:00-07:00'), zone)).toBe('Sat 14 Nov, 3:30 pm')
})
