import {
  chvorinovConstant,
  chvorinovTime,
  freezingTime,
  heatDiffusivity,
  type MouldAndMetal,
  radiusToOutlast,
} from '../../src/engine/physics/freezing-time.ts'
import {
  ballModulus,
  barModulus,
  blockModulus,
  cylinderModulus,
  plateModulus,
  ringModulus,
  rodModulus,
} from '../../src/engine/physics/modulus.ts'
import { type Check, checkEach } from '../check.ts'

const section = '10'
const flemings = 'Flemings 1974, table 1-1 (cal, g, cm, s); printed, from memory'
const formula = '(pi/4)(rho L/(Tm - T0))²/(k rho c) (V/A)²; analytic, from memory'
const adamsTaylor =
  'Adams and Taylor: V/A = dT/(rho L)(2/sqrt(pi) sqrt(k rho c t) + n k t/(2R)); analytic, from memory'
const groover = 'Groover, casting problem; printed'

const calorie = 4.184 // J, thermochemical
const mould = (k: number, rho: number, c: number) => ({
  conductivity: k * calorie * 100,
  density: rho * 1000,
  heatCapacity: c * calorie * 1000,
})
const plaster = mould(8.3e-4, 1.1, 0.2)
const sand = mould(14.5e-4, 1.5, 0.27)
const diffusivityOf = (m: typeof sand) => heatDiffusivity(m.conductivity, m.density, m.heatCapacity)

const silverInPlaster = (mouldAt: number): MouldAndMetal => ({
  heatPerVolume: 9320 * 104.7e3,
  drop: 961.78 - mouldAt,
  mouldConductivity: plaster.conductivity,
  mouldHeatCapacity: plaster.density * plaster.heatCapacity,
})

const sterling = (mouldAt: number): MouldAndMetal => ({
  heatPerVolume: 9200 * 125e3,
  drop: 893 - mouldAt,
  mouldConductivity: 0.5,
  mouldHeatCapacity: 1.24e6,
})
const curved: MouldAndMetal = { ...sterling(0), drop: 355 }
const heats = { '20 C': 20, '482.2 C': 482.2, '537.8 C': 537.8, '593.3 C': 593.3 }
const atHeats = (got: (t: number) => number, wants: readonly number[]) =>
  Object.fromEntries(
    Object.entries(heats).map(([label, t], index) => [
      label,
      [() => got(t), wants[index] as number] as const,
    ]),
  )
// kalpakjian: three bodies of one unit of volume
const unit = {
  ball: (6 / Math.PI) ** (1 / 3),
  cylinder: (4 / Math.PI) ** (1 / 3),
}

export const checks: Check[] = [
  ...checkEach(
    { id: 'C1', says: 'plaster mould', section, source: flemings, within: { relative: 1e-5 } },
    {
      'conductivity, W/mK': [() => plaster.conductivity, 0.347272],
      'heat diffusivity': [() => diffusivityOf(plaster), 565.382],
    },
  ),
  {
    id: 'C2',
    says: 'heat diffusivity of a sand mould',
    section,
    source: flemings,
    got: () => diffusivityOf(sand),
    want: 1013.92,
    within: { relative: 1e-5 },
  },
  ...checkEach(
    {
      id: 'C3',
      says: 'a plate of silver 3 mm thick freezes in plaster, s',
      section,
      source: formula,
      within: { relative: 1e-5 },
    },
    Object.fromEntries(
      Object.entries({ 20: 5.93492, 450: 20.0977, 538: 29.3111, 593: 38.706 }).map(([t, want]) => [
        `mould at ${t} C`,
        [
          () => freezingTime({ shape: 'plate', modulus: plateModulus(0.003) }, silverInPlaster(Number(t))),
          want,
        ] as const,
      ]),
    ),
  ),
  ...checkEach(
    {
      id: 'C4',
      says: "Chvorinov's constant of sterling, s/cm2, mould at",
      section,
      source: formula,
      within: { relative: 1e-5 },
    },
    atHeats((t) => chvorinovConstant(sterling(t)) / 1e4, [219.819, 992.734, 1327.85, 1865.18]),
  ),
  ...checkEach(
    {
      id: 'C5',
      says: 'a plate of sterling 3 mm thick freezes, s, mould at',
      section,
      source: formula,
      within: { relative: 1e-5 },
    },
    atHeats(
      (t) => freezingTime({ shape: 'plate', modulus: 0.0015 }, sterling(t)),
      [4.94593, 22.3365, 29.8766, 41.9665],
    ),
  ),
  ...checkEach(
    {
      id: 'C6',
      says: 'round sections of radius 5 mm freeze sooner than a plate of equal modulus, s',
      section,
      source: adamsTaylor,
      within: { relative: 1e-5 },
    },
    {
      ball: [() => freezingTime({ shape: 'ball', radius: 0.005 }, curved), 17.1722],
      rod: [() => freezingTime({ shape: 'rod', radius: 0.005 }, curved), 44.0431],
      'plate with the modulus of the ball': [
        () => freezingTime({ shape: 'plate', modulus: 0.005 / 3 }, curved),
        36.9262,
      ],
      'plate with the modulus of the rod': [
        () => freezingTime({ shape: 'plate', modulus: 0.0025 }, curved),
        83.084,
      ],
    },
  ),
  ...checkEach(
    {
      id: 'C6b',
      says: 'radius, mm, of the section that freezes in that time',
      section,
      source: `${adamsTaylor}, asked the other way`,
      within: { relative: 1e-5 },
    },
    {
      ball: [() => 1000 * radiusToOutlast('ball', 17.1722, curved), 5],
      rod: [() => 1000 * radiusToOutlast('rod', 44.0431, curved), 5],
    },
  ),
  ...checkEach(
    {
      id: 'C7',
      says: 'ball, cylinder and cube 10 cm across freeze alike at 3.5 min/cm2',
      section,
      source: `${groover}, statement found on a study page`,
      within: { relative: 1e-6 },
    },
    {
      ball: [() => chvorinovTime(ballModulus(10), 3.5), 9.722222],
      cylinder: [() => chvorinovTime(cylinderModulus(10, 10), 3.5), 9.722222],
      cube: [() => chvorinovTime(blockModulus(10, 10, 10), 3.5), 9.722222],
    },
  ),
  ...checkEach(
    {
      id: 'C8',
      says: 'a plate of 7.5 by 12.5 by 2 cm that freezes in 1.6 min, and its riser',
      section,
      source: `${groover}, from memory; prints 4.7 cm`,
      within: { relative: 1e-5 },
    },
    {
      'modulus, cm': [() => blockModulus(7.5, 12.5, 2), 0.700935],
      'constant, min/cm2': [() => 1.6 / chvorinovTime(blockModulus(7.5, 12.5, 2), 1), 3.256604],
      'time of the printed riser, min': [
        () => chvorinovTime(cylinderModulus(4.70201, 4.70201), 1.6 / blockModulus(7.5, 12.5, 2) ** 2),
        2,
      ],
    },
  ),
  {
    id: 'C9',
    says: 'a plate of 30 by 15 by 2 cm at 4 min/cm2 freezes in 2.78 min',
    section,
    source: 'public answer page, V 900, A 1080, prints 2.78; printed, found',
    got: () => chvorinovTime(blockModulus(30, 15, 2), 4),
    want: 2.777778,
    within: { relative: 1e-6 },
  },
  ...checkEach(
    {
      id: 'C10',
      says: 'bodies of one unit of volume, time over constant',
      section,
      source: 'Kalpakjian example, prints 0.043, 0.033, 0.028; printed, from memory',
      within: { absolute: 1e-6 },
    },
    {
      ball: [() => chvorinovTime(ballModulus(unit.ball), 1), 0.0427594],
      'cylinder as tall as wide': [
        () => chvorinovTime(cylinderModulus(unit.cylinder, unit.cylinder), 1),
        0.0326315,
      ],
      cube: [() => chvorinovTime(blockModulus(1, 1, 1), 1), 0.0277778],
    },
  ),
  {
    id: 'C11',
    says: 'a long flat bar of equal area freezes in 0.658 of the round one',
    section,
    source:
      'exam solution, d 0.3 by 0.5 m against width three times thickness, printed 0.6588; printed, found',
    got: () => {
      const thickness = Math.sqrt((Math.PI * 0.3 ** 2) / 4 / 3)
      return (blockModulus(3 * thickness, thickness, 0.5) / cylinderModulus(0.3, 0.5)) ** 2
    },
    want: 0.657737,
    within: { absolute: 1e-5 },
  },
  ...checkEach(
    {
      id: 'C12',
      says: 'moduli of a 4 mm rod and of a plate 40 by 60 by 3 mm (arithmetic, no sizing rule)',
      section,
      source: 'V/A; analytic, from memory',
      within: { relative: 1e-6 },
    },
    {
      'rod, mm': [() => rodModulus(4), 1],
      'plate with its edges, mm': [() => blockModulus(40, 60, 3), 1.333333],
      'rod of the plate’s modulus, mm': [() => rodModulus(5.333333), 1.333333],
    },
  ),
  {
    id: 'C13',
    says: 'a ring of section radius 1.25 has modulus 0.625',
    section,
    source: 'Pappus, V/A = r/2; analytic, from memory',
    got: () => ringModulus(2.5),
    want: 0.625,
    within: { absolute: 1e-9 },
  },
  {
    id: 'C14',
    says: 'doubling every dimension freezes in four times the time',
    section,
    source: 't as (V/A)²; analytic, from memory',
    got: () =>
      freezingTime({ shape: 'plate', modulus: barModulus(20, 4) / 1000 }, curved) /
      freezingTime({ shape: 'plate', modulus: barModulus(10, 2) / 1000 }, curved),
    want: 4,
    within: { relative: 1e-12 },
  },
]
