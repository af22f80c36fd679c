import { describe, expect, it, test } from 'vitest'
import { samplePour, sampleShop, sampleWax } from '../sample-pour.ts'
import { pourSchema, readDocument, shopSchema, withPath } from './index.ts'

const faults = (path: string, value: unknown) => {
  const reading = readDocument(pourSchema, withPath(samplePour() as unknown, path, value))
  return reading.ok ? [] : reading.problems
}

describe('a document that can’t be read', () => {
  it('says what is missing, where', () => {
    expect(faults('/pieces/0/source/mass_g', undefined)).toEqual([
      {
        where: '/pieces/0/source/mass_g',
        what: 'source mass_g of first (piece 1) is missing',
        remedy: 'give a number',
      },
    ])
  })

  it('says which way a number is out', () => {
    expect(faults('/pieces/0/source/mass_g', -1)[0]?.what).toBe(
      'source mass_g of first (piece 1) must be more than 0',
    )
    expect(faults('/pieces/0/source/mass_g', 1e9)[0]?.what).toBe(
      'source mass_g of first (piece 1) must be at most 20000',
    )
    expect(faults('/pieces/0/source/mass_g', '1.2')[0]?.what).toBe(
      'source mass_g of first (piece 1) is not a number',
    )
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

test('what is wrong with a piece is told with the piece’s name, number and place', () => {
  const pour = structuredClone(samplePour({ pieces: [sampleWax('ring', 1), sampleWax('tag', 2)] }))
  const wrong = (change: (second: Record<string, unknown>) => void) => {
    const document = structuredClone(pour) as unknown as { pieces: Record<string, unknown>[] }
    change(document.pieces[1] as Record<string, unknown>)
    const reading = readDocument(pourSchema, document)
    return reading.ok ? [] : reading.problems.map(({ where, what }) => `${where}: ${what}`)
  }
  expect(wrong((tag) => Object.assign(tag, { name: 'Tag', quantity: 0 }))).toEqual([
    '/pieces/1/quantity: quantity of Tag (piece 2) must be at least 1',
  ])
  expect(wrong((tag) => Object.assign(tag, { name: 7 }))).toEqual([
    '/pieces/1/name: name of tag (piece 2) is not text',
  ])
  expect(wrong((tag) => Object.assign(tag, { name: ' ', id: undefined }))[0]).toContain('of piece 2 ')
})

test('a row of the shop is told by its name and list, and what is in no list as before', () => {
  const shop = structuredClone(sampleShop()) as unknown as {
    kilns: { name: string; steps: number }[]
    name: unknown
  }
  Object.assign(shop.kilns[0] as object, { name: 'Small kiln', steps: 0 })
  shop.name = 3
  const reading = readDocument(shopSchema, shop)
  expect(reading.ok ? [] : reading.problems.map(({ what }) => what)).toEqual(
    expect.arrayContaining(['steps of Small kiln (kilns 1) must be at least 1', 'is not text']),
  )
})
