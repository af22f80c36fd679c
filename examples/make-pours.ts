/**
 * Writes the example pours beside this file: invented studios on top of the usual shop, in scenarios of our
 * own. Weekday and time, never a date, so that they do not expire. Run make-meshes.ts and draw-clasp.ts first.
 * Run: npx esbuild examples/make-pours.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/make-pours.mjs && node .cache/make-pours.mjs
 */
import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { type Heights, heightsSchema, type PourFile, type Shop } from '../src/engine/documents/index.ts'
import { usualShop } from '../src/engine/materials/index.ts'

const folder = process.argv[2] ?? 'examples'
const hashOf = (file: string): string =>
  createHash('sha256')
    .update(readFileSync(`${folder}/${file}`))
    .digest('hex')

const heightsIn = (file: string): Heights =>
  heightsSchema.parse(JSON.parse(readFileSync(`${folder}/${file}`, 'utf8')))

const usual = usualShop()
const firstOf = <T>(rows: readonly T[]): T => {
  const [first] = rows
  if (first === undefined) throw new Error('the usual shop has no such row')
  return first
}

const larkspur: Shop = {
  ...usual,
  name: 'Studio at Larkspur Gap',
  timeZone: 'America/Denver',
  place: {
    name: 'Larkspur Gap',
    pressure: {
      from: 'altitude',
      altitude_m: { value: 2103, low: 2090, high: 2115, source: '6,900 ft on the county map' },
    },
  },
  scales: { ...usual.scales, metal: { resolution_g: 0.1, most_g: 600 } },
  flasks: usual.flasks.map((flask) =>
    flask.id === 'flask-3x3.5' ? { ...flask, mass_g: 286 } : { ...flask },
  ),
  investments: [{ ...firstOf(usual.investments), inStock_kg: 9.4, opened: '2026-08-30' }],
  kilns: [
    {
      ...firstOf(usual.kilns),
      name: 'Small front-loading kiln',
      readsHigh_K: { value: 4, low: 1, high: 7, source: 'held against the melting of pure silver' },
    },
  ],
  crucibles: [
    {
      ...firstOf(usual.crucibles),
      retention_g: { value: 1.1, low: 0.5, high: 2, source: 'twelve crucibles weighed after the pour' },
    },
  ],
  machines: [
    {
      ...firstOf(usual.machines),
      speedAtTurns_rpm: { value: 300, low: 290, high: 310, source: 'timed with a marked arm' },
      coastDown_s: { value: 160, low: 145, high: 178, source: 'timed with a marked arm' },
    },
  ],
  vacuumLeaves_hPa: { value: 20, low: 17, high: 23, source: 'water at 20 °C boils in this bell' },
  lots: [
    {
      id: 'fine-silver-grain',
      name: 'Fine silver grain',
      kind: 'fine',
      mass_g: 300,
      composition: { Ag: { value: 0.9995, low: 0.999, high: 0.9999, source: 'refiner’s note' } },
      price_g: 1.02,
      owner: 'shop',
    },
    {
      id: 'copper',
      name: 'Copper',
      kind: 'alloying',
      mass_g: 200,
      composition: { Cu: { value: 0.9995, low: 0.999, high: 0.9999, source: 'oxygen-free wire' } },
      price_g: 0.014,
      owner: 'shop',
    },
    {
      id: 'button-44',
      name: 'Button from pour 44',
      kind: 'returns',
      mass_g: 90,
      composition: {
        Ag: { value: 0.926, low: 0.923, high: 0.929, source: 'reckoned from pour 44' },
        Cu: { value: 0.074, low: 0.071, high: 0.077, source: 'reckoned from pour 44' },
      },
      price_g: 0.93,
      owner: 'shop',
      generation: 2,
      from: 'pour 44',
      wholePieces_g: [38.1, 31.4, 20.5],
    },
  ],
  prices: { ...usual.prices, metal_g: { Ag: 1.04, Cu: 0.014, Au: 82 }, asOf: 'with this example' },
  trial: {
    kilnChanged: '2026-03-07',
    powderChanged: '2026-08-30',
    machineChanged: '2025-11-08',
    last: '2026-09-05',
  },
  record: { pours: 46, spoiled: 3 },
}

const cloakClasp: PourFile = {
  kind: 'pour',
  version: 1,
  name: 'Cloak clasp set',
  number: 47,
  alloy: 'sterling',
  pieces: [
    {
      id: 'clasp',
      name: 'Clasp',
      quantity: 1,
      source: {
        from: 'pattern',
        file: 'clasp-drawing.svg',
        sha256: hashOf('clasp-drawing.svg'),
        heights: heightsIn('clasp-heights.json'),
        wax: 'hard-carving',
        carved_g: 3.75,
        calipers: { thickest_mm: 2.3, thinnest_mm: 1.3 },
      },
      seat: {
        name: 'carnelian',
        length_mm: { value: 18, low: 17.95, high: 18.05, source: 'calipers' },
        width_mm: { value: 13, low: 12.95, high: 13.05, source: 'calipers' },
        gap_mm: 0.1,
        polish_mm: 0.03,
        heatSensitive: false,
        price: 48,
      },
    },
    {
      id: 'slide',
      name: 'Cord slide',
      quantity: 1,
      source: {
        from: 'weighed-wax',
        mass_g: 1.13,
        wax: 'hard-carving',
        density_g_cm3: {
          value: 0.946,
          low: 0.94,
          high: 0.952,
          source: 'offcut of the same block, in water',
          measured: '2026-09-01',
        },
        calipers: {
          length_mm: 28.4,
          width_mm: 14,
          height_mm: 11.2,
          thickest_mm: 1.6,
          thinnest_mm: 1.2,
          section: 'plate',
        },
      },
      lengths: [{ name: 'bore', finished_mm: 8, faces: 2, hole: true }],
    },
    {
      id: 'tag',
      name: 'Tag',
      quantity: 1,
      source: {
        from: 'mesh',
        file: 'tag.3mf',
        sha256: hashOf('tag.3mf'),
        wax: 'hard-carving',
        calipers: { thickest_mm: 2.1, thinnest_mm: 1.5 },
      },
    },
  ],
  tree: { stem: {}, button: {} },
  investment: { id: 'gypsum-bonded', work: 'heavy', water_C: 22 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: { weekday: 'saturday', time: '15:30' },
  charge: { fromStock: true },
  spin: {},
  price: {
    labour_h: {
      carve: { value: 9.5, low: 8, high: 12, source: 'three clasps before this one' },
      'sprue and invest': { value: 1.6, low: 1.3, high: 2.1, source: 'shop log' },
      'melt and cast': { value: 1.1, low: 0.9, high: 1.5, source: 'shop log' },
      finish: { value: 3.5, low: 2.8, high: 4.6, source: 'shop log' },
      set: { value: 1.2, low: 0.9, high: 1.8, source: 'shop log' },
    },
    again: ['carve', 'sprue and invest', 'melt and cast'],
    clientsMetal: false,
  },
  shop: larkspur,
  accepted: { 'burnout.wax': 'sprued in the soft wax, mouth down; the last forty came out white' },
}

const harbour: Shop = {
  ...usual,
  name: 'Harbour Street workroom',
  currency: 'EUR',
  timeZone: 'Europe/Copenhagen',
  place: {
    name: 'Harbour Street',
    pressure: {
      from: 'sea-level-weather',
      pressure_hPa: { value: 1013, low: 1000, high: 1026, source: 'weather service' },
      altitude_m: 6,
    },
  },
  flasks: [
    { id: 'flask-60x70', insideDiameter_mm: 60, insideHeight_mm: 70, wall_mm: 2, owned: true },
    { id: 'flask-80x80', insideDiameter_mm: 80, insideHeight_mm: 80, wall_mm: 2, owned: true },
    { id: 'flask-80x100', insideDiameter_mm: 80, insideHeight_mm: 100, wall_mm: 2, owned: true },
    { id: 'flask-90x110', insideDiameter_mm: 90, insideHeight_mm: 110, wall_mm: 2, owned: true },
  ],
  rules: { ...usual.rules, wallClearance_mm: 6.5, topLeast_mm: 13, gentleRise_C_h: 170 },
  vacuumLeaves_hPa: { value: 18, low: 15, high: 21, source: 'water at 18 °C boils in this bell' },
  lots: [
    {
      id: 'fine-silver',
      name: 'Fine silver',
      kind: 'fine',
      mass_g: 400,
      composition: { Ag: { value: 0.9995, low: 0.999, high: 0.9999, source: 'refiner’s note' } },
      price_g: 0.96,
      owner: 'shop',
    },
    {
      id: 'copper',
      name: 'Copper',
      kind: 'alloying',
      mass_g: 100,
      composition: { Cu: { value: 0.9995, low: 0.999, high: 0.9999, source: 'supplier’s note' } },
      price_g: 0.012,
      owner: 'shop',
    },
  ],
  prices: { ...usual.prices, metal_g: { Ag: 0.97, Cu: 0.012, Au: 76 }, asOf: 'with this example' },
  trial: { powderChanged: '2026-05-02', last: '2026-05-09' },
  record: { pours: 112, spoiled: 9 },
}

/** Wax on the scale, and the ring's outside: across, across, along the finger. */
const RINGS: readonly (readonly [
  id: string,
  name: string,
  mass_g: number,
  across_mm: number,
  along_mm: number,
  thickest_mm: number,
  wide_mm: number,
])[] = [
  ['oval-face', 'Oval face', 1.02, 22.6, 15.2, 3.4, 7],
  ['square-face', 'Square face', 1.18, 23.1, 13.8, 3.6, 7.5],
  ['wheat-ear', 'Wheat ear', 0.91, 21.8, 14.1, 3.1, 6.5],
  ['small-shell', 'Small shell', 0.74, 20.4, 11.6, 2.9, 6],
  ['plain-round', 'Plain round', 1.07, 23.4, 14, 3.3, 6.5],
  ['stepped', 'Stepped shoulders', 0.96, 22.2, 12.9, 3.2, 6.5],
]

const signetRings: PourFile = {
  kind: 'pour',
  version: 1,
  name: 'Six signet rings',
  number: 113,
  alloy: 'sterling',
  pieces: RINGS.map(([id, name, mass_g, across_mm, along_mm, thickest_mm, sectionWidth_mm]) => ({
    id,
    name,
    quantity: 1,
    source: {
      from: 'weighed-wax',
      mass_g,
      wax: 'hard-carving',
      calipers: {
        length_mm: across_mm,
        width_mm: across_mm,
        height_mm: along_mm,
        thickest_mm,
        thinnest_mm: 1.6,
        section: 'bar',
        sectionWidth_mm,
      },
    },
  })),
  tree: { weighed: { base_g: 64.12, baseWithTree_g: 72.12, baseWeighed: 'today' } },
  investment: { id: 'gypsum-bonded', work: 'medium', water_C: 22 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: { weekday: 'thursday', time: '14:00' },
  charge: { fromStock: true },
  spin: {},
  price: {
    labour_h: { carve: 15, 'sprue and invest': 1.5, 'melt and cast': 1, finish: 7.5 },
    clientsMetal: false,
  },
  shop: harbour,
}

const bronzePull: PourFile = {
  kind: 'pour',
  version: 1,
  name: 'Cabinet pull',
  number: 12,
  alloy: 'silicon-bronze',
  pieces: [
    {
      id: 'pull',
      name: 'Leaf pull',
      quantity: 1,
      source: {
        from: 'volume',
        volume_cm3: { value: 8.6, low: 8.4, high: 8.8, source: 'water pushed out by the wax' },
        wax: 'soft-carving',
        calipers: {
          length_mm: 62,
          width_mm: 19,
          height_mm: 16,
          thickest_mm: 6.5,
          thinnest_mm: 4,
          section: 'bar',
          sectionWidth_mm: 9,
        },
      },
      lengths: [{ name: 'screw to screw', finished_mm: 50.8, faces: 0 }],
    },
  ],
  tree: {},
  investment: { id: 'gypsum-bonded', work: 'heavy', water_C: 22 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: { weekday: 'friday', time: '16:00' },
  charge: { fromStock: false },
  spin: {},
  price: {
    labour_h: { carve: 4, 'sprue and invest': 1.2, 'melt and cast': 1, finish: 1.5 },
    clientsMetal: false,
  },
  shop: {
    ...usual,
    name: 'Shed at Fennel Row',
    timeZone: 'America/New_York',
    place: {
      name: 'Fennel Row',
      pressure: {
        from: 'station',
        pressure_hPa: { value: 992, low: 985, high: 1000, source: 'barometer on the wall' },
      },
    },
    prices: { ...usual.prices, asOf: 'with this example' },
    trial: { last: '2026-06-20' },
    record: { pours: 11, spoiled: 1 },
  },
}

const weighedOnly: PourFile = {
  kind: 'pour',
  version: 1,
  name: 'One leaf pendant',
  alloy: 'sterling',
  pieces: [
    {
      id: 'pendant',
      name: 'Leaf pendant',
      quantity: 1,
      source: { from: 'weighed-wax', mass_g: 0.86, wax: 'hard-carving' },
    },
  ],
  tree: {},
  investment: { id: 'gypsum-bonded', work: 'fine', water_C: 22 },
  kiln: 'kiln',
  machine: 'spring-arm',
  crucible: 'crucible',
  torch: 'torch',
  castAt: { weekday: 'sunday', time: '11:00' },
  charge: { fromStock: false },
  spin: {},
  price: { labour_h: { carve: 3 }, clientsMetal: false },
  shop: { ...usual, name: 'Kitchen-table shop' },
}

for (const [file, pour] of Object.entries({
  'cloak-clasp': cloakClasp,
  'signet-rings': signetRings,
  'bronze-pull': bronzePull,
  'weighed-only': weighedOnly,
}))
  writeFileSync(`${folder}/${file}.json`, `${JSON.stringify(pour, null, 2)}\n`)
