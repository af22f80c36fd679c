import type { Piece, Pour, Shop } from './documents/index.ts'
import { usualShop } from './materials/index.ts'

/** Builders for tests and benches: a usual shop at height, and pours with overrides. Invented data. */
export const sampleShop = (over: Partial<Shop> = {}): Shop => ({
  ...usualShop(),
  name: 'Sample shop',
  timeZone: 'America/Denver',
  place: {
    pressure: { from: 'altitude', altitude_m: { value: 2103, low: 2090, high: 2116, source: 'a map' } },
  },
  ...over,
})

export const sampleWax = (id: string, mass_g: number, over: Partial<Piece> = {}): Piece => ({
  id,
  name: id,
  quantity: 1,
  source: {
    from: 'weighed-wax',
    mass_g,
    wax: 'hard-carving',
    calipers: {
      length_mm: 24,
      width_mm: 20,
      height_mm: 3,
      thickest_mm: 2.2,
      thinnest_mm: 1.4,
      section: 'plate',
    },
  },
  ...over,
})

export const samplePour = (over: Partial<Pour> = {}): Pour => ({
  kind: 'pour',
  version: 1,
  name: 'Sample pour',
  alloy: 'sterling',
  pieces: [sampleWax('first', 1.2)],
  tree: {},
  investment: { id: 'gypsum-bonded', work: 'heavy', water_C: 22 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: '2030-11-16T15:30:00-07:00',
  charge: { fromStock: true },
  spin: {},
  price: { labour_h: { carve: 6, finish: 2 }, clientsMetal: false },
  ...over,
})

/** Friday morning, a day and more before the sample is cast. */
export const SAMPLE_NOW = Date.parse('2030-11-15T08:00:00-07:00')
