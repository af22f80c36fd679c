import { describe, expect, it } from 'vitest'
import { type Calipers, pourSchema, readDocument, withPath } from '../documents/index.ts'
import { planPour } from '../plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../sample-pour.ts'

/** 30 × 20 × 6 mm outside, 3 mm at its thickest; 1.2 g of wax. */
const SIZES = { length_mm: 30, width_mm: 20, height_mm: 6, thickest_mm: 3, thinnest_mm: 1.4 }

type ThickPlace = Pick<Calipers, 'section' | 'sectionWidth_mm'> & { thickest_mm?: number }

const withThickPlace = (place: ThickPlace) =>
  samplePour({
    pieces: [
      sampleWax('clasp', 1.2, {
        source: {
          from: 'weighed-wax',
          mass_g: 1.2,
          wax: 'hard-carving',
          calipers: { ...SIZES, ...place },
        },
      }),
    ],
  })

const planned = (place: ThickPlace) => {
  const plan = planPour(sampleShop(), withThickPlace(place), { now: SAMPLE_NOW })
  const [piece] = plan.pieces.pieces
  const [gate] = plan.tree?.gates ?? []
  return {
    modulus_mm: (piece?.modulus?.value ?? Number.NaN) * 1000,
    freezes_s: gate?.pieceFreezes.value ?? Number.NaN,
    sprue_mm: (gate?.diameter.value ?? Number.NaN) * 1000,
    asked: plan.go.checks.find(({ id }) => id === 'pieces.clasp.section'),
  }
}

describe('the thickest place of a wax', () => {
  // volume over cooling area of plain bodies, by hand
  it.each([
    ['a plate, of the whole outline', { section: 'plate' }, (30 * 20 * 3) / (2 * (600 + 90 + 60))],
    ['a bar as thick as wide', { section: 'bar' }, (30 * 3 * 3) / (2 * (90 + 90 + 9))],
    ['a bar of 6 by 3 mm', { section: 'bar', sectionWidth_mm: 6 }, (30 * 6 * 3) / (2 * (180 + 90 + 18))],
    ['a lump of 3 mm', { section: 'ball' }, 3 / 6],
  ] as const)('has the modulus of %s', (_what, place, modulus_mm) => {
    expect(planned(place).modulus_mm).toBeCloseTo(modulus_mm, 9)
  })

  it('freezes sooner and wants a thinner sprue the less it is a plate', () => {
    const [lump, bar, wide, plate] = [
      planned({ section: 'ball' }),
      planned({ section: 'bar' }),
      planned({ section: 'bar', sectionWidth_mm: 6 }),
      planned({ section: 'plate' }),
    ]
    expect(lump.freezes_s).toBeLessThan(bar.freezes_s)
    expect(bar.freezes_s).toBeLessThan(wide.freezes_s)
    expect(wide.freezes_s).toBeLessThan(plate.freezes_s)
    expect(bar.sprue_mm).toBeLessThan(wide.sprue_mm)
    expect(wide.sprue_mm).toBeLessThan(plate.sprue_mm)
  })

  it('is a bar when as wide as thick, and all but a plate when very wide', () => {
    const square = planned({ section: 'bar', sectionWidth_mm: 3 })
    const bar = planned({ section: 'bar' })
    expect(planned({ sectionWidth_mm: 3 }).freezes_s).toBe(square.freezes_s)
    expect(planned({ sectionWidth_mm: 3 }).asked).toBeUndefined()
    expect(square.freezes_s).toBeCloseTo(bar.freezes_s, 9)
    const strip = { section: 'bar', sectionWidth_mm: 20, thickest_mm: 0.5 } as const
    const beside = planned({ section: 'plate', thickest_mm: 0.5 })
    expect(planned(strip).modulus_mm).toBeCloseTo(beside.modulus_mm, 9)
    expect(planned(strip).freezes_s).toBeLessThan(beside.freezes_s)
    expect(planned(strip).freezes_s).toBeGreaterThan(0.85 * beside.freezes_s)
  })

  it('is asked for when nobody said, and taken as a plate meanwhile', () => {
    const silent = planned({})
    expect(silent.modulus_mm).toBe(planned({ section: 'plate' }).modulus_mm)
    expect(silent.asked?.where).toBe('/pour/pieces/0/source/calipers/section')
    expect(silent.asked?.remedy.length).toBeGreaterThan(0)
    expect(planned({ section: 'plate' }).asked).toBeUndefined()
  })

  it('may stay unsaid in a pour file, and its width must be a size', () => {
    expect(readDocument(pourSchema, withThickPlace({})).ok).toBe(true)
    const wide = withThickPlace({ section: 'bar', sectionWidth_mm: 6 })
    expect(readDocument(pourSchema, wide).ok).toBe(true)
    const none = withPath(wide, '/pieces/0/source/calipers/sectionWidth_mm', 0)
    expect(readDocument(pourSchema, none).ok).toBe(false)
  })
})

describe('several of one piece', () => {
  const plan = planPour(
    sampleShop(),
    samplePour({ pieces: [sampleWax('slide', 1.2), sampleWax('tag', 0.5, { quantity: 3 })] }),
    { now: SAMPLE_NOW },
  )

  it('have their wax, their cast and their finished weights each and together, and the columns add up', () => {
    const [, tags] = plan.pieces.pieces
    expect(tags?.waxMass?.value).toBeCloseTo(0.0005, 12)
    expect(tags?.waxMassAll?.value).toBeCloseTo(0.0015, 12)
    expect(tags?.waxMassAll?.plainMass).toBe(true)
    const sum = (masses: readonly (number | undefined)[]): number =>
      masses.reduce<number>((total, mass) => total + (mass ?? Number.NaN), 0)
    const { pieces, finish } = plan
    expect(sum(pieces.pieces.map((piece) => piece.castMassAll?.value))).toBeCloseTo(
      pieces.castMass?.value ?? 0,
      12,
    )
    for (const [all, total] of [
      ['castMassOfAll', finish.castMass],
      ['lossOfAll', finish.loss],
      ['finishedMassOfAll', finish.finishedMass],
    ] as const)
      expect(sum(finish.pieces.map((piece) => piece[all]?.value))).toBeCloseTo(total?.value ?? 0, 12)
  })
})
