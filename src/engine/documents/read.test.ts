import { describe, expect, it } from 'vitest'
import { samplePour, sampleShop } from '../sample-pour.ts'
import { pourSchema, readDocument, shopSchema, withPath } from './index.ts'

const faults = (path: string, value: unknown) => {
  const reading = readDocument(pourSchema, withPath(samplePour() as unknown, path, value))
  return reading.ok ? [] : reading.problems
}

describe('a document that can’t be read', () => {
  it('says what is missing, where', () => {
    expect(faults('/pieces/0/source/mass_g', undefined)).toEqual([
      { where: '/pieces/0/source/mass_g', what: 'is missing', remedy: 'give a number' },
    ])
  })

  it('says which way a number is out', () => {
    expect(faults('/pieces/0/source/mass_g', -1)[0]?.what).toBe('must be more than 0')
    expect(faults('/pieces/0/source/mass_g', 1e9)[0]?.what).toBe('must be at most 20000')
    expect(faults('/pieces/0/source/mass_g', '1.2')[0]?.what).toBe('is not a number')
  })

  it('says how a time is written', () => {
    expect(faults('/castAt', { weekday: 'saturday', time: '25:00' })[0]?.remedy).toContain('15:30')
    expect(faults('/castAt', 'tomorrow')[0]?.remedy).toContain('2030-11-14T15:30:00-07:00')
  })

  it('names a key it does not know, and every fault at once', () => {
    const twice = withPath(withPath(samplePour() as unknown, '/alloy', 7), '/foo', 1)
    const reading = readDocument(pourSchema, twice)
    expect(reading.ok).toBe(false)
    if (!reading.ok)
      expect(reading.problems.map((problem) => problem.what)).toEqual(
        expect.arrayContaining(['is not text', 'has a key that is not known: foo']),
      )
  })

  it('refuses a range that does not hold its value, rather than lose it', () => {
    const swapped = withPath(sampleShop() as unknown, '/alloys/0/density_g_cm3', {
      value: 10.36,
      low: 10.4,
      high: 10.3,
    })
    const reading = readDocument(shopSchema, swapped)
    expect(reading.ok).toBe(false)
    if (!reading.ok) expect(reading.problems[0]?.where).toBe('/alloys/0/density_g_cm3/low')
  })
})
