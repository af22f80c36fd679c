import type { Investment, Shop, Wax } from '../documents/index.ts'
import { USUAL_ALLOYS } from './alloys.ts'

const practice = 'common practice'

/** Waxes by what they are used for. Colour customs are each maker's own, so none are named. */
export const USUAL_WAXES: readonly Wax[] = [
  {
    id: 'hard-carving',
    name: 'Hard carving wax',
    role: 'carving',
    density_g_cm3: {
      value: 0.95,
      low: 0.93,
      high: 0.985,
      source: 'trade lists give 0.90 to 1.02; measure the block',
    },
    melts_C: { value: 112, low: 104, high: 121, source: practice },
    growth_per_K: {
      value: 0.00025,
      low: 0.00015,
      high: 0.00035,
      source: 'dental pattern wax 0.00032, from memory for carving grades',
    },
  },
  {
    id: 'soft-carving',
    name: 'Soft carving wax',
    role: 'carving',
    density_g_cm3: { value: 0.94, low: 0.915, high: 0.975, source: practice },
    melts_C: { value: 105, low: 95, high: 115, source: practice },
    growth_per_K: { value: 0.0003, low: 0.0002, high: 0.0004, source: 'dental pattern wax, published page' },
  },
  {
    id: 'sheet',
    name: 'Sheet wax',
    role: 'sheet',
    density_g_cm3: { value: 0.945, low: 0.92, high: 0.97, source: practice },
    melts_C: { value: 60, low: 50, high: 70, source: practice },
  },
  {
    id: 'sprue-wax',
    name: 'Sprue wax',
    role: 'sprue',
    density_g_cm3: { value: 0.945, low: 0.92, high: 0.97, source: practice },
    melts_C: { value: 60, low: 50, high: 70, source: practice },
  },
  {
    id: 'injection',
    name: 'Injection wax',
    role: 'injection',
    density_g_cm3: { value: 0.965, low: 0.93, high: 1, source: practice },
    melts_C: { value: 67, low: 60, high: 75, source: practice },
  },
  {
    id: 'castable-resin',
    name: 'Castable resin',
    role: 'resin',
    density_g_cm3: { value: 1.11, low: 1.08, high: 1.18, source: 'published page 1.09; recalled range' },
  },
]

export const USUAL_INVESTMENTS: readonly Investment[] = [
  {
    id: 'gypsum-bonded',
    name: 'Gypsum-bonded jewellery investment',
    bond: 'gypsum',
    waterRatio: { heavy: 0.38, medium: 0.39, fine: 0.4 },
    particleDensity_g_cm3: {
      value: 2.55,
      low: 2.5,
      high: 2.65,
      source: 'from the densities of its minerals',
    },
    hemihydrateShare: {
      value: 0.3,
      low: 0.25,
      high: 0.35,
      source: 'dental and jewellery texts, from memory',
    },
    glossOff_min: { value: 9, low: 8.6, high: 9.5, source: `${practice}; time your own bag` },
    glossOffAt_C: 22,
    glossOffPerKelvin: { value: -0.035, low: -0.05, high: -0.02, source: `${practice}: warmer sets sooner` },
    set_min: 15,
    beforeKiln_min: 90,
    ceiling_C: 732.2,
    topHold_C: 704.4,
    dryConductivity_W_mK: {
      value: 0.45,
      low: 0.35,
      high: 0.6,
      source: 'casting texts; the weakest number here',
    },
    dryHeat_J_kgK: { value: 1000, low: 850, high: 1100, source: 'handbook heats of silica and anhydrite' },
    inStock_kg: 20,
    price_kg: 3.2,
    source: `${practice}; the maker's sheet comes first`,
  },
]

/**
 * The shop a caster starts from: a small silver studio with usual values. Every value can be changed, and
 * stays marked as usual on each plan until it is.
 */
export const usualShop = (): Shop => ({
  kind: 'shop',
  version: 1,
  name: 'My shop',
  currency: 'USD',
  timeZone: 'UTC',
  place: {
    pressure: { from: 'altitude', altitude_m: { value: 0, low: -30, high: 150, source: 'not yet set' } },
  },
  scales: {
    metal: { resolution_g: 0.1, most_g: 500 },
    wax: { resolution_g: 0.01, most_g: 200 },
    powder: { resolution_g: 1, most_g: 5000 },
  },
  waxes: [...USUAL_WAXES],
  alloys: [...USUAL_ALLOYS],
  investments: [...USUAL_INVESTMENTS],
  flasks: [
    { id: 'flask-2x2', insideDiameter_mm: 50.8, insideHeight_mm: 50.8, wall_mm: 1.6, owned: true },
    { id: 'flask-2x2.5', insideDiameter_mm: 50.8, insideHeight_mm: 63.5, wall_mm: 1.6, owned: true },
    { id: 'flask-2.5x3', insideDiameter_mm: 63.5, insideHeight_mm: 76.2, wall_mm: 1.6, owned: true },
    { id: 'flask-3x3.5', insideDiameter_mm: 76.2, insideHeight_mm: 88.9, wall_mm: 1.6, owned: true },
    { id: 'flask-3.5x4', insideDiameter_mm: 88.9, insideHeight_mm: 101.6, wall_mm: 1.6, owned: true },
    { id: 'flask-4x4', insideDiameter_mm: 101.6, insideHeight_mm: 101.6, wall_mm: 1.6, owned: false },
  ],
  bases: [{ id: 'rubber-base', mouthDiameter_mm: 30, neckDiameter_mm: 10, depth_mm: 13 }],
  kilns: [
    {
      id: 'kiln',
      name: 'Kiln',
      fastestRise_C_h: 300,
      fall_C_h: 110,
      readsHigh_K: { value: 0, low: -8, high: 8, source: 'not yet checked against a known temperature' },
      overshoot_K: 8,
      steps: 8,
      power_kW: 1.8,
      width_mm: 203,
      depth_mm: 203,
      height_mm: 254,
    },
  ],
  crucibles: [
    {
      id: 'crucible',
      name: 'Dish crucible',
      holds_g: 300,
      retention_g: { value: 1.3, low: 0.4, high: 2.6, source: practice },
    },
  ],
  machines: [
    {
      id: 'spring-arm',
      name: 'Spring-driven spinning arm',
      flaskEnd_mm: 118,
      crucibleAt_mm: 95,
      cradle_g: 620,
      cradleAt_mm: 95,
      counterweight_g: 1350,
      counterweightLeast_mm: 60,
      counterweightMost_mm: 260,
      turns: 3,
      preload_turns: 1,
      speedAtTurns_rpm: { value: 300, low: 275, high: 325, source: 'not yet timed' },
      coastDown_s: { value: 150, low: 110, high: 200, source: 'not yet timed' },
      mostCharge_g: 200,
      mostFlaskDiameter_mm: 95,
      mostFlaskHeight_mm: 110,
      mostFlask_g: 2000,
    },
  ],
  torches: [
    {
      id: 'torch',
      name: 'Oxygen and propane torch',
      power_kW: { value: 4, low: 3, high: 5, source: practice },
      intoMetal: {
        value: 0.1,
        low: 0.07,
        high: 0.14,
        source: 'share of the flame that reaches the metal, guessed; time a melt',
      },
      airFed: false,
      minutesWilling: 6,
    },
  ],
  vacuumLeaves_hPa: { value: 30, low: 20, high: 50, source: 'not yet checked with a glass of water' },
  lots: [],
  rules: {
    wallClearance_mm: 6.35,
    waxToWax_mm: 3.2,
    topPerDiameter: 0.25,
    topLeast_mm: 12.7,
    shortChance: 0.02,
    buttonChance: 0.05,
    returnedMost: 0.5,
    wasteAllowance: 0.1,
    crucibleFillMost: 0.7,
    spreadOfFreezing: 0.1,
  },
  clock: { mix_min: 4, vacuumMix_min: 1.5, pour_min: 1, vacuumFlask_min: 1.5, stillBefore_min: 0.5 },
  finishing: {
    perFace_mm: {
      value: 0.1,
      low: 0.05,
      high: 0.18,
      source: 'common practice; a measured ring lost about 0.2 mm of thickness over two faces',
    },
    pickle_C: 55,
    quenchOpens_C: { value: 500, low: 460, high: 540, source: 'solid and below visible red' },
    quenchCloses_C: {
      value: 200,
      low: 160,
      high: 250,
      source: 'a guess, from memory: fit it from your own log',
    },
  },
  prices: {
    metal_g: { Ag: 1, Cu: 0.012, Au: 80 },
    wax_g: 0.08,
    energy_kWh: 0.18,
    gas_pour: 2.5,
    labour_h: 35,
    overhead: 0.15,
    margin: 0.15,
    mould: 35,
    unrecoveredLoss: 0.35,
  },
  trial: {},
})
