import * as z from 'zod'
import { statedIn } from './stated.ts'

const id = z.string().min(1).max(80)
const name = z.string().min(1).max(200)
const share = z.number().min(0).max(1)
const element = z.enum(['Ag', 'Au', 'Cu', 'Zn', 'Sn', 'Si', 'Ge', 'Pd', 'Ni', 'Mn', 'Pb', 'Cd', 'Al'])
export type Element = z.infer<typeof element>

/** How this place's air pressure is known. The three ways are never mixed. */
const place = z.strictObject({
  name: z.string().max(200).optional(),
  pressure: z.discriminatedUnion('from', [
    z.strictObject({ from: z.literal('altitude'), altitude_m: statedIn(-430, 9000) }),
    z.strictObject({ from: z.literal('station'), pressure_hPa: statedIn(300, 1100) }),
    z.strictObject({
      from: z.literal('sea-level-weather'),
      pressure_hPa: statedIn(850, 1100),
      altitude_m: statedIn(-430, 9000),
    }),
  ]),
})

const scale = z.strictObject({
  resolution_g: z.number().positive().max(100),
  most_g: z.number().positive().max(100_000),
})

const wax = z.strictObject({
  id,
  name,
  density_g_cm3: statedIn(0.7, 1.6),
  melts_C: statedIn(30, 400).optional(),
  growth_per_K: statedIn(0, 1e-3).optional(),
  role: z.enum(['carving', 'sprue', 'sheet', 'injection', 'resin']),
})

const alloyPart = z.strictObject({ low: share, high: share })
const alloy = z.strictObject({
  id,
  name,
  metal: z.enum(['silver', 'gold', 'copper']),
  density_g_cm3: statedIn(2, 22),
  liquidus_C: statedIn(200, 1600),
  solidus_C: statedIn(200, 1600),
  freezesBy_C: statedIn(200, 1600),
  heatToPour_kJ_kg: statedIn(50, 1500),
  freezingHeat_kJ_kg: statedIn(20, 600),
  liquidDensity_g_cm3: statedIn(2, 20),
  shrinkOnFreezing: statedIn(0, 0.12),
  castShrink: statedIn(0, 0.05),
  superheat_K: statedIn(0, 300),
  flask_C: z.strictObject({ heavy: statedIn(20, 900), medium: statedIn(20, 900), light: statedIn(20, 900) }),
  composition: z.partialRecord(element, alloyPart),
  fineness_ppt: z
    .strictObject({ least: z.number().min(0).max(1000), aim: z.number().min(0).max(1000) })
    .optional(),
  forbidden: z.partialRecord(element, share).optional(),
  zincFume: z.boolean().optional(),
  tooHotForGypsum: z.boolean().optional(),
  source: z.string().max(400),
})

const investment = z.strictObject({
  id,
  name,
  bond: z.enum(['gypsum', 'phosphate']),
  waterRatio: z.strictObject({ heavy: z.number(), medium: z.number(), fine: z.number() }),
  particleDensity_g_cm3: statedIn(2, 3.5),
  hemihydrateShare: statedIn(0.1, 0.6),
  glossOff_min: statedIn(2, 60),
  glossOffAt_C: z.number().min(0).max(60),
  glossOffPerKelvin: statedIn(-0.2, 0),
  set_min: z.number().min(1).max(240),
  beforeKiln_min: z.number().min(0).max(1440),
  ceiling_C: z.number().min(400).max(1400),
  topHold_C: z.number().min(300).max(1400),
  dryConductivity_W_mK: statedIn(0.1, 3),
  dryHeat_J_kgK: statedIn(400, 2000),
  inStock_kg: z.number().min(0).max(10_000),
  price_kg: z.number().min(0).max(10_000),
  opened: z.string().max(40).optional(),
  source: z.string().max(400),
})

const flask = z.strictObject({
  id,
  insideDiameter_mm: z.number().min(15).max(400),
  insideHeight_mm: z.number().min(15).max(600),
  wall_mm: z.number().min(0.3).max(15),
  mass_g: z.number().positive().max(50_000).optional(),
  owned: z.boolean().default(true),
})

/** The sprue base: the dome that keeps investment out and shapes the button's mouth. */
const base = z.strictObject({
  id,
  mouthDiameter_mm: z.number().min(5).max(200),
  neckDiameter_mm: z.number().min(2).max(100),
  depth_mm: z.number().min(2).max(150),
  mass_g: statedIn(0, 5000).optional(),
})

const kiln = z.strictObject({
  id,
  name,
  fastestRise_C_h: z.number().min(10).max(3000),
  fall_C_h: z.number().min(5).max(2000),
  readsHigh_K: statedIn(-80, 80),
  overshoot_K: z.number().min(0).max(60),
  steps: z.number().int().min(1).max(60),
  power_kW: z.number().positive().max(60),
  /** heat passed by its air to a flask, once fitted to a log; a textbook's range when absent */
  film_W_m2K: statedIn(0.5, 200).optional(),
  width_mm: z.number().positive().max(3000),
  depth_mm: z.number().positive().max(3000),
  height_mm: z.number().positive().max(3000),
})

const crucible = z.strictObject({
  id,
  name,
  holds_g: z.number().positive().max(20_000),
  retention_g: statedIn(0, 50),
})

const machine = z.strictObject({
  id,
  name,
  /** from the pivot to where the mouth of the flask rests */
  flaskEnd_mm: z.number().positive().max(2000),
  /** from the pivot to the middle of the metal in the crucible */
  crucibleAt_mm: z.number().positive().max(2000),
  cradle_g: z.number().min(0).max(20_000),
  cradleAt_mm: z.number().positive().max(2000),
  counterweight_g: z.number().positive().max(50_000),
  counterweightLeast_mm: z.number().min(0).max(2000),
  counterweightMost_mm: z.number().positive().max(2000),
  turns: z.number().min(0.25).max(20),
  preload_turns: z.number().min(0).max(20),
  speedAtTurns_rpm: statedIn(20, 2000),
  /** from release until the arm has all but stopped: a seventh of its speed is left */
  coastDown_s: statedIn(1, 1200),
  mostCharge_g: z.number().positive().max(20_000),
  mostFlaskDiameter_mm: z.number().positive().max(400),
  mostFlaskHeight_mm: z.number().positive().max(600),
  mostFlask_g: z.number().positive().max(50_000),
})

const torch = z.strictObject({
  id,
  name,
  power_kW: statedIn(0.2, 60),
  intoMetal: statedIn(0.005, 0.6),
  airFed: z.boolean(),
  minutesWilling: z.number().min(1).max(60),
})

const lot = z.strictObject({
  id,
  name,
  kind: z.enum(['fine', 'alloying', 'casting grain', 'master alloy', 'returns', 'scrap', 'coin']),
  mass_g: z.number().min(0).max(1_000_000),
  composition: z.partialRecord(element, statedIn(0, 1)),
  /** what the caster says it is worth; by its metal at the shop's prices when absent */
  price_g: z.number().min(0).max(100_000).optional(),
  owner: z.string().max(200).default('shop'),
  generation: z.number().int().min(0).max(50).optional(),
  wholePieces_g: z.array(z.number().positive()).max(200).optional(),
  from: z.string().max(200).optional(),
})

const rules = z.strictObject({
  wallClearance_mm: z.number().min(0).max(50),
  waxToWax_mm: z.number().min(0).max(50),
  topPerDiameter: z.number().min(0).max(1),
  topLeast_mm: z.number().min(0).max(100),
  shortChance: z.number().min(1e-6).max(0.5),
  buttonChance: z.number().min(1e-6).max(0.5),
  returnedMost: share,
  wasteAllowance: z.number().min(0).max(1),
  crucibleFillMost: z.number().min(0.1).max(1),
  spreadOfFreezing: z.number().min(0).max(1),
  /** the fastest climb of the burnout that this shop calls gentle; 300 °F an hour when absent */
  gentleRise_C_h: z.number().min(20).max(600).optional(),
})

const clock = z.strictObject({
  mix_min: z.number().min(0.25).max(30),
  vacuumMix_min: z.number().min(0).max(30),
  pour_min: z.number().min(0.1).max(30),
  vacuumFlask_min: z.number().min(0).max(30),
  stillBefore_min: z.number().min(0).max(10),
  /** from the kiln’s door to the metal going in; a guess is used until the shop times it */
  kilnToPour_s: statedIn(5, 900).optional(),
})

const finishing = z.strictObject({
  perFace_mm: statedIn(0, 2),
  pickle_C: z.number().min(10).max(95),
  quenchOpens_C: statedIn(100, 800),
  quenchCloses_C: statedIn(50, 500),
})

const prices = z.strictObject({
  metal_g: z.partialRecord(element, z.number().min(0).max(100_000)),
  asOf: z.string().max(40).optional(),
  wax_g: z.number().min(0).max(1000),
  energy_kWh: z.number().min(0).max(100),
  gas_pour: z.number().min(0).max(1000),
  labour_h: z.number().min(0).max(10_000),
  overhead: z.number().min(0).max(5),
  margin: z.number().min(0).max(10),
  mould: z.number().min(0).max(10_000),
  unrecoveredLoss: share,
})

const trial = z.strictObject({
  kilnChanged: z.string().max(40).optional(),
  powderChanged: z.string().max(40).optional(),
  machineChanged: z.string().max(40).optional(),
  last: z.string().max(40).optional(),
})

/** The shop's own count of pours and of those spoiled; the chance of a failed pour is asked or read here. */
const record = z.strictObject({
  pours: z.number().int().min(0).max(1_000_000),
  spoiled: z.number().int().min(0).max(1_000_000),
})

export const shopSchema = z.strictObject({
  kind: z.literal('shop'),
  version: z.literal(1),
  name,
  currency: z.string().regex(/^[A-Z]{3}$/),
  timeZone: z.string().min(1).max(80),
  place,
  scales: z.strictObject({ metal: scale, wax: scale, powder: scale }),
  waxes: z.array(wax).min(1).max(60),
  alloys: z.array(alloy).min(1).max(60),
  investments: z.array(investment).min(1).max(30),
  flasks: z.array(flask).max(60),
  bases: z.array(base).min(1).max(30),
  kilns: z.array(kiln).min(1).max(10),
  crucibles: z.array(crucible).min(1).max(30),
  machines: z.array(machine).min(1).max(10),
  torches: z.array(torch).min(1).max(10),
  vacuumLeaves_hPa: statedIn(0, 500),
  lots: z.array(lot).max(2000),
  rules,
  clock,
  finishing,
  prices,
  trial,
  record: record.optional(),
  /** usual entries that the caster has looked at and called their own */
  mine: z
    .array(z.enum(['place', 'flasks', 'scales', 'machines', 'kilns']))
    .max(5)
    .optional(),
})

export type Shop = z.infer<typeof shopSchema>
export type Alloy = Shop['alloys'][number]
export type Wax = Shop['waxes'][number]
export type Investment = Shop['investments'][number]
export type Flask = Shop['flasks'][number]
export type SprueBase = Shop['bases'][number]
export type Kiln = Shop['kilns'][number]
export type Machine = Shop['machines'][number]
export type Crucible = Shop['crucibles'][number]
export type Torch = Shop['torches'][number]
export type Lot = Shop['lots'][number]
