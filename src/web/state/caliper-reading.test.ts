import { expect, test } from 'vitest'
import { pourSchema } from '../../engine/documents/pour.ts'
import { usualShop } from '../../engine/materials/index.ts'
import { type CaliperDraft, caliperBounds, readCalipers, thickPlaceOf } from './caliper-reading.ts'
import { newPour, weighedPiece } from './new-pour.ts'

const mm = { length: 'mm', temperature: 'C', mass: 'g', pressure: 'inHg', currency: 'USD' } as const
const inches = { ...mm, length: 'in' } as const
const draft: CaliperDraft = {
  length_mm: '24',
  width_mm: '20',
  height_mm: '4',
  thickest_mm: '3',
  thinnest_mm: '1,2',
  place: 'plate',
}
const bounds = await caliperBounds()

const wordsOf = (typed: CaliperDraft, units: typeof mm | typeof inches = mm): readonly string[] => {
  const reading = readCalipers(typed, units, bounds)
  return reading.kind === 'trouble' ? reading.troubles.map(({ words }) => words) : []
}

test('five sizes and a thick place are read', () => {
  expect(readCalipers(draft, mm, bounds)).toEqual({
    kind: 'read',
    calipers: {
      length_mm: 24,
      width_mm: 20,
      height_mm: 4,
      thickest_mm: 3,
      thinnest_mm: 1.2,
      section: 'plate',
    },
  })
  expect(readCalipers({ place: 'bar' }, mm, bounds)).toEqual({ kind: 'none' })
})

test('a wide bar is asked for its width, and only a wide bar', () => {
  expect(wordsOf({ ...draft, place: 'wide bar' })).toEqual(['Width of the bar is still missing.'])
  const wide = readCalipers({ ...draft, place: 'wide bar', sectionWidth_mm: '6' }, mm, bounds)
  expect(wide).toMatchObject({ calipers: { section: 'bar', sectionWidth_mm: 6 } })
  const ball = readCalipers({ ...draft, place: 'ball', sectionWidth_mm: '6' }, mm, bounds)
  expect(ball).toMatchObject({ kind: 'read', calipers: { section: 'ball' } })
  expect(ball).not.toHaveProperty('calipers.sectionWidth_mm')
})

test('sizes without a thick place are not taken as a plate', () => {
  expect(wordsOf({ ...draft, place: undefined })).toEqual(['Say what the thickest place is.'])
})

test('a size out of bounds is said in plain words and in the caster’s unit, all at once', () => {
  expect(wordsOf({ ...draft, length_mm: '4000', height_mm: '', thinnest_mm: 'thin' })).toEqual([
    'Length must lie between 0.5 and 400 mm.',
    'Height is still missing.',
    'Thinnest section: “thin” is not a number.',
  ])
  expect(
    wordsOf(
      { ...draft, length_mm: '20', width_mm: '1', height_mm: '1', thickest_mm: '0.2', thinnest_mm: '0.1' },
      inches,
    ),
  ).toEqual(['Length must lie between 0.02 and 15.74 in.'])
})

test('whatever is read, the pour file takes', () => {
  for (const place of ['plate', 'bar', 'wide bar', 'ball'] as const) {
    const reading = readCalipers({ ...draft, place, sectionWidth_mm: '5' }, mm, bounds)
    if (reading.kind !== 'read') throw new Error(`${place} was not read`)
    const shop = usualShop()
    const piece = weighedPiece([], shop, { name: 'Tag', mass_g: 2, calipers: reading.calipers })
    const pour = newPour(shop, { name: 'Tag', castAt: '2030-11-16T15:30:00-07:00', piece })
    expect(pourSchema.safeParse(pour).success).toBe(true)
    expect(thickPlaceOf(reading.calipers)).toBe(place)
  }
})
