import { describe, expect, it } from 'vitest'
import { type Calipers, pourSchema, readDocument, withPath } from '../documents/index.ts'
import { freezingTime } from '../physics/freezing-time.ts'
import { planPour } from '../plan.ts'
import { METRIC, writeWords } from '../quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../sample-pour.ts'
import { type MeshFacts, shapeKey } from './mesh-facts.ts'

/** 30 × 20 × 6 mm outside, 3 mm at its thickest; 1.2 g of wax. */
const SIZES = { length_mm: 30, width_mm: 20, height_mm: 6, thickest_mm: 3, thinnest_mm: 1.4 }

type ThickPlace = Pick<Calipers, 'section' | 'sectionWidth_mm'> & { thickest_mm?: number }

const withThickPlace = (place: ThickPlace, mass_g = 1.2, sizes = SIZES) =>
  samplePour({
    pieces: [
      sampleWax('clasp', mass_g, {
        source: { from: 'weighed-wax', mass_g, wax: 'hard-carving', calipers: { ...sizes, ...place } },
      }),
    ],
  })

/** What the plan asks about a wax's sizes, by the end of the finding's name. */
const askedOf = (finding: string, pour: ReturnType<typeof withThickPlace>) =>
  planPour(sampleShop(), pour, { now: SAMPLE_NOW }).go.checks.find(
    ({ id }) => id === `pieces.clasp.${finding}`,
  )

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

  it.each([
    ['plate', 'check'],
    ['ball', 'check'],
    ['bar', undefined],
    [undefined, undefined],
  ] as const)('of a %s with a width is held to be what it is called', (section, expected) => {
    const pour = withThickPlace({ section, sectionWidth_mm: 4 })
    const { checks } = planPour(sampleShop(), pour, { now: SAMPLE_NOW }).go
    const told = checks.find(({ id }) => id === 'pieces.clasp.figures')
    const isWidth = writeWords(told?.reason ?? [], METRIC).includes('is not read')
    expect(isWidth ? told?.verdict : undefined).toBe(expected)
  })

  it('may stay unsaid in a pour file, and its width must be a size', () => {
    expect(readDocument(pourSchema, withThickPlace({})).ok).toBe(true)
    const wide = withThickPlace({ section: 'bar', sectionWidth_mm: 6 })
    expect(readDocument(pourSchema, wide).ok).toBe(true)
    const none = withPath(wide, '/pieces/0/source/calipers/sectionWidth_mm', 0)
    expect(readDocument(pourSchema, none).ok).toBe(false)
  })
})

describe('a bar of which no width is given', () => {
  const asked = (mass_g: number, place: ThickPlace, sizes = SIZES) =>
    askedOf('barWidth', withThickPlace(place, mass_g, sizes))

  it('is asked about where the wax is heavier than such a bar round its outline', () => {
    // 3 × 3 mm round 30 × 20 mm: 100 mm of it are 0.9 cm³, which in a wax of 0.92 to 0.99 g/cm³ is some 0.86 g
    expect(asked(0.8, { section: 'bar' })).toBeUndefined()
    expect(asked(0.92, { section: 'bar' })?.verdict).toBe('check')
    expect(asked(1.2, { section: 'bar', sectionWidth_mm: 6 })).toBeUndefined()
    expect(asked(1.2, { section: 'plate' })).toBeUndefined()
  })

  it('nor is a width believed that the weight or the thickness belies', () => {
    const words = (mass_g: number, sectionWidth_mm: number): string =>
      writeWords(asked(mass_g, { section: 'bar', sectionWidth_mm })?.reason ?? [], METRIC)
    expect(words(1.2, 3.2)).toMatch(/weighs 1\.\d times what such a bar/)
    expect(words(0.5, 1)).toMatch(/measured across its thin way/)
    expect(words(1.2, 6)).toBe('')
    expect(words(0.5, 3)).toBe('')
  })

  it('is not asked about in a ring of round wire, and is in a shank twice as wide as it is thick', () => {
    // 22.6 mm across outside: the middle line is π × 19.6 mm long
    const ring = { length_mm: 22.6, width_mm: 22.6, height_mm: 6, thickest_mm: 3, thinnest_mm: 3 }
    const grams = (section_mm2: number): number => (Math.PI * 19.6 * section_mm2 * 0.95) / 1000
    expect(asked(grams((Math.PI / 4) * 9), { section: 'bar' }, ring)).toBeUndefined()
    expect(asked(grams(18), { section: 'bar' }, ring)?.verdict).toBe('check')
  })
})

describe('calipers of a wax', () => {
  it('said to be a plate all over, are held against what its weight leaves for that', () => {
    const asked = (mass_g: number) => askedOf('section', withThickPlace({ section: 'plate' }, mass_g))
    // 30 × 20 mm at 3 mm is 1.8 cm³, about 1.7 g of hard wax
    expect(asked(1.7)).toBeUndefined()
    expect(asked(1.35)).toBeUndefined()
    expect(asked(1.1)).toMatchObject({ verdict: 'check', where: '/pour/pieces/0/source/calipers/section' })
  })

  const figuresOf = (thickest_mm: number) =>
    askedOf('figures', withThickPlace({ section: 'bar', thickest_mm }))

  it('can give no place thicker than the least of the outside sizes, 6 mm, but for the calipers’ own error', () => {
    expect(figuresOf(6)).toBeUndefined()
    expect(figuresOf(6.2)).toBeUndefined()
    expect(JSON.stringify(figuresOf(6.5)?.reason)).toContain('more than the least outside size')
    expect(figuresOf(9)).toMatchObject({ verdict: 'check' })
  })
})

describe('the thickest place of a model', () => {
  type Places = readonly { readonly thickness_mm: number; readonly modulus_mm: number }[]
  const sized = (
    places: Places,
    calipers?: Pick<Calipers, 'section'> & { thickest_mm?: number },
    sprue?: { readonly diameter_mm: number },
  ) => {
    const byHand = calipers && { thickest_mm: 2.2, thinnest_mm: 1.3, ...calipers }
    const source = { from: 'mesh', file: 'tag.stl', wax: 'hard-carving', calipers: byHand } as const
    const pour = samplePour({ pieces: [sampleWax('tag', 1, { source, ...(sprue && { gate: sprue }) })] })
    const facts: MeshFacts = {
      volume_mm3: 1200,
      area_mm2: 1400,
      bounds_mm: { min: [0, 0, 0], max: [30, 20, 4] },
      thickness_mm: { thinnest: 1.3, usual: 1.6, thickest: 2.2, places },
      problems: [],
    }
    const { tree } = planPour(sampleShop(), pour, {
      now: SAMPLE_NOW,
      meshes: { [shapeKey(source) ?? '']: facts },
    })
    const [gate] = tree.gates
    if (gate === undefined) throw new Error('a model with a thick place gets a sprue')
    return { gate, freezing: tree.freezing }
  }
  const plate = { thickness_mm: 2.2, modulus_mm: 1.1 }
  const rod = { thickness_mm: 2.2, modulus_mm: 0.55 }
  const ball = { thickness_mm: 2.2, modulus_mm: 2.2 / 6 }

  it('freezes as the plain shape does that has its thickness and modulus', () => {
    for (const [place, section] of [
      [plate, { shape: 'plate', modulus: 1.1e-3 }],
      [rod, { shape: 'rod', radius: 1.1e-3 }],
      [ball, { shape: 'ball', radius: 1.1e-3 }],
    ] as const) {
      const { gate, freezing } = sized([place])
      const time = freezingTime(section, {
        heatPerVolume: freezing.heat.value,
        drop: freezing.drop.value,
        mouldConductivity: freezing.conductivity.value,
        mouldHeatCapacity: freezing.capacity.value,
      })
      expect(gate.pieceFreezes.value / time).toBeCloseTo(1, 9)
    }
  })

  it('gets a sprue that outlasts it over all of its range, thinner the rounder it is', () => {
    const gates = [ball, rod, plate].map((place) => sized([place]).gate)
    for (const { margin } of gates) expect(margin.low).toBeGreaterThanOrEqual(1)
    const sizes = gates.map(({ diameter }) => diameter.value)
    expect(sizes).toEqual([...sizes].sort((a, b) => a - b))
    expect(new Set(sizes).size).toBe(3)
  })

  it('is the one that freezes last, be another thicker', () => {
    const flat = { thickness_mm: 1.9, modulus_mm: 0.95 }
    expect(sized([ball, flat]).gate.pieceFreezes.value).toBe(sized([flat]).gate.pieceFreezes.value)
    expect(sized([plate, ball]).gate.pieceFreezes.value).toBe(sized([plate]).gate.pieceFreezes.value)
  })

  it('of several is the one that its sprue may fail to outlast soonest', () => {
    // the first may be a quarter off either way, the second is all but a plate
    const open = { thickness_mm: 2.3, modulus_mm: 0.757 }
    const sure = { thickness_mm: 1.573, modulus_mm: 0.753 }
    const fixed = { diameter_mm: 5 }
    const alone = [open, sure].map((place) => sized([place], undefined, fixed).gate)
    const both = sized([open, sure], undefined, fixed).gate
    const lows = alone.map(({ margin }) => margin.low)
    expect(lows[0]).not.toBeCloseTo(lows[1] ?? Number.NaN, 2)
    expect(both.margin.low).toBeCloseTo(Math.min(...lows), 12)
    const worst = alone[lows.indexOf(Math.min(...lows))]
    expect(both.pieceFreezes.value).toBe(worst?.pieceFreezes.value)
  })

  it('is as much thicker as calipers say of it, and of the shape that the caster names', () => {
    const grown = sized([rod], { thickest_mm: 2.75 }).gate
    const same = sized([{ thickness_mm: 2.75, modulus_mm: 0.6875 }]).gate
    expect(grown.pieceFreezes.value).toBeCloseTo(same.pieceFreezes.value, 9)
    expect(sized([rod], { section: 'plate' }).gate.diameter.value).toBeGreaterThan(
      sized([rod]).gate.diameter.value,
    )
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
