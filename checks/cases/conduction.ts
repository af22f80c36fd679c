import {
  cylinderSoakTime,
  lumpedShareLeft,
  lumpedTime,
  meanShareLeft,
  rampLag,
  type SoakingShape,
  seriesTerm,
  seriesTerms,
  shareLeft,
  soakCylinder,
} from '../../src/engine/physics/conduction.ts'
import { radiationCoefficient, radiationTime } from '../../src/engine/physics/radiation.ts'
import { solveBetween } from '../../src/engine/physics/root-finding.ts'
import { reachedFromFluid, reachedFromHeldFace } from '../../src/engine/physics/semi-infinite.ts'
import { type Check, checkEach } from '../check.ts'

const section = '8'
const incropera = (what: string) => `Incropera, ${what}; printed, from memory`
const cengel = (what: string) => `Cengel, ${what}; printed, from memory`
const carslaw = 'Carslaw and Jaeger 1959; analytic, from memory'

// Incropera table 5.1 / Cengel table 4-2, one more digit than they print
const TABLE: readonly (readonly [biot: number, ...values: number[]])[] = [
  [0.01, 0.09983, 1.00166, 0.14124, 1.0025, 0.17303, 1.003],
  [0.1, 0.31105, 1.01609, 0.44168, 1.02458, 0.54228, 1.0298],
  [0.5, 0.65327, 1.07013, 0.94077, 1.11425, 1.16556, 1.14411],
  [1, 0.86033, 1.11913, 1.25578, 1.20709, 1.5708, 1.27324],
  [2, 1.07687, 1.17846, 1.59945, 1.33838, 2.02876, 1.47932],
  [5, 1.31384, 1.24025, 1.98981, 1.50287, 2.57043, 1.787],
  [10, 1.42887, 1.26196, 2.1795, 1.56769, 2.8363, 1.92491],
  [50, 1.54001, 1.27265, 2.35724, 1.60022, 3.07884, 1.99622],
  [100, 1.55525, 1.27309, 2.3809, 1.60152, 3.11019, 1.99903],
  [Number.POSITIVE_INFINITY, 1.5708, 1.27324, 2.40483, 1.60197, Math.PI, 2],
]
const SHAPES: readonly SoakingShape[] = ['slab', 'rod', 'ball']

const firstTerms = Object.fromEntries(
  TABLE.flatMap(([biot, ...values]) =>
    SHAPES.flatMap((shape, index) => [
      [
        `${shape} zeta at Biot ${biot}`,
        [() => seriesTerm(shape, biot, 1).zeta, values[2 * index] as number] as const,
      ],
      [
        `${shape} coefficient at Biot ${biot}`,
        [() => seriesTerm(shape, biot, 1).coefficient, values[2 * index + 1] as number] as const,
      ],
    ]),
  ),
)

const wall = { k: 63.9, h: 500, length: 0.04, alpha: 63.9 / (7832 * 434), seconds: 480 }
const wallTerms = seriesTerms('slab', (wall.h * wall.length) / wall.k)
const wallFourier = (wall.alpha * wall.seconds) / wall.length ** 2
const wallAt = (position: number) => 60 - 80 * shareLeft('slab', wallTerms, wallFourier, position)

const egg = { biot: (1200 * 0.025) / 0.627, alpha: 0.151e-6, radius: 0.025 }
const eggTerm = seriesTerm('ball', egg.biot, 1)
const eggFourier = Math.log(eggTerm.coefficient / ((70 - 95) / (5 - 95))) / eggTerm.zeta ** 2

const brass = seriesTerms('slab', (120 * 0.02) / 110)
const shaft = seriesTerms('rod', (80 * 0.1) / 14.9)
const shaftFourier = (3.95e-6 * 45 * 60) / 0.1 ** 2
const shaftHeat = 7900 * 477 * Math.PI * 0.1 ** 2 * 400

const shortSteel = soakCylinder({
  radius: 0.04,
  height: 0.06,
  conductivity: 17.4,
  diffusivity: 17.4 / (7900 * 526),
  heatTransfer: 500,
})
const shortBrass = soakCylinder({
  radius: 0.05,
  height: 0.12,
  conductivity: 110,
  diffusivity: 33.9e-6,
  heatTransfer: 60,
})

const flask = {
  radius: 0.03175,
  height: 0.0762,
  conductivity: 0.5,
  diffusivity: 0.5 / (1240 * 1000),
  heatTransfer: 60,
}
const flaskAt = soakCylinder(flask)

const held = (shape: SoakingShape, fourier: number) => () =>
  shareLeft(shape, seriesTerms(shape, Number.POSITIVE_INFINITY), fourier, 0)
const climb = 300 / 1.8 / 3600

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'H1',
      says: 'first term of the series',
      section,
      source: incropera('table 5.1'),
      within: { absolute: 2e-5 },
    },
    firstTerms,
  ),
  ...checkEach(
    {
      id: 'H2',
      says: 'a steel wall of 40 mm from -20 C against oil at 60 C for 8 min',
      section,
      source: incropera('ex. 5.4, exact values'),
      within: { relative: 1e-4 },
    },
    {
      'inner face, C': [() => wallAt(0), 43.0162],
      'oil face, C': [() => wallAt(1), 45.3625],
      'heat into a metre of pipe, J': [
        () => 7832 * 434 * Math.PI * 1 * 0.04 * 80 * (1 - meanShareLeft('slab', wallTerms, wallFourier)),
        2.72541e7,
      ],
    },
  ),
  ...checkEach(
    {
      id: 'H3',
      says: 'an egg of 50 mm from 5 C to 70 C in water at 95 C',
      section,
      source: cengel('ex. 4-3, exact values; prints 865 s'),
      within: { relative: 1e-5 },
    },
    {
      zeta: [() => eggTerm.zeta, 3.076026],
      coefficient: [() => eggTerm.coefficient, 1.995882],
      'time, s': [() => (eggFourier * egg.radius ** 2) / egg.alpha, 862.65],
    },
  ),
  ...checkEach(
    {
      id: 'H4',
      says: 'a brass plate of 40 mm from 20 C in an oven at 500 C for 7 min, C',
      section,
      source: cengel('ex. 4-4, exact values; prints 282 and 279'),
      within: { absolute: 0.01 },
    },
    {
      face: [() => 500 - 480 * shareLeft('slab', brass, (33.9e-6 * 420) / 0.02 ** 2, 1), 279.584],
      // mass per area k/alpha times half thickness
      'even throughout': [() => 500 - 480 * lumpedShareLeft(420, ((110 / 33.9e-6) * 0.02) / 120), 279.22],
    },
  ),
  ...checkEach(
    {
      id: 'H5',
      says: 'a long steel shaft of 200 mm from 600 C in air at 200 C for 45 min',
      section,
      source: cengel('ex. 4-5, exact values; prints 360 C from a chart'),
      within: { relative: 1e-4 },
    },
    {
      'axis, C': [() => 200 + 400 * shareLeft('rod', shaft, shaftFourier, 0), 364.3],
      'part of the heat given off': [() => 1 - meanShareLeft('rod', shaft, shaftFourier), 0.635764],
      'all of its heat, kJ/m': [() => shaftHeat / 1000, 47353.9],
    },
  ),
  ...checkEach(
    {
      id: 'H6',
      says: 'a short cylinder of 80 by 60 mm from 600 K at 300 K for 3 min, K',
      section,
      source: incropera('short cylinder, exact values; charts print 405, 372, 365, 344'),
      within: { absolute: 0.01 },
    },
    {
      centre: [() => 300 + 300 * shortSteel(180), 402.746],
      'middle of an end': [() => 300 + 300 * shortSteel(180, 0, 0.03), 370.544],
      'middle of the side': [() => 300 + 300 * shortSteel(180, 0.04, 0), 362.427],
      rim: [() => 300 + 300 * shortSteel(180, 0.04, 0.03), 342.862],
    },
  ),
  ...checkEach(
    {
      id: 'H7',
      says: 'a short brass cylinder of 100 by 120 mm from 120 C at 25 C for 15 min, C',
      section,
      source: cengel('ex. 4-7, exact values; prints 63 and 62.2'),
      within: { absolute: 0.01 },
    },
    {
      centre: [() => 25 + 95 * shortBrass(900), 62.732],
      'middle of the top': [() => 25 + 95 * shortBrass(900, 0, 0.06), 62.123],
    },
  ),
  {
    id: 'H8',
    says: 'frost goes 0.68 m into soil in 60 days',
    section,
    source: incropera('water main example, exact value; prints 0.68 m'),
    // 20 C soil, -15 C face: 0 C is where 4/7 of the change has arrived
    got: () =>
      solveBetween((depth) => reachedFromHeldFace(depth, 1.378579e-7, 60 * 86400) - 20 / 35, 0.01, 3),
    want: 0.676613,
    within: { relative: 1e-5 },
  },
  {
    id: 'H9',
    says: 'share of a held face’s change at x/(2 sqrt(a t)) of 0.322749',
    section,
    source: carslaw,
    got: () => reachedFromHeldFace(2 * 0.322749, 1, 1),
    want: 0.648077,
    within: { absolute: 1e-6 },
  },
  ...checkEach(
    {
      id: 'H10',
      says: 'share reached in a thick body heated by a fluid',
      section,
      source: carslaw,
      within: { absolute: 1e-6 },
    },
    {
      'at the face': [() => reachedFromFluid(0, 4e-7, 600, 100, 0.5), 0.826199],
      'at 10 mm': [() => reachedFromFluid(0.01, 4e-7, 600, 100, 0.5), 0.505148],
    },
  ),
  ...checkEach(
    {
      id: 'H11',
      says: 'centre share with the face held',
      section,
      source: carslaw,
      within: { absolute: 1e-5 },
    },
    {
      'slab at Fo 0.05': [held('slab', 0.05), 0.996869],
      'slab at Fo 0.1': [held('slab', 0.1), 0.949305],
      'slab at Fo 0.2': [held('slab', 0.2), 0.772312],
      'rod at Fo 0.05': [held('rod', 0.05), 0.987099],
      'rod at Fo 0.1': [held('rod', 0.1), 0.848355],
      'rod at Fo 0.2': [held('rod', 0.2), 0.501487],
      'ball at Fo 0.05': [held('ball', 0.05), 0.965999],
      'ball at Fo 0.2': [held('ball', 0.2), 0.277078],
      'cube at Fo 0.1': [() => held('slab', 0.1)() ** 3, 0.855496],
    },
  ),
  {
    id: 'H11.ball-thousandths',
    says: 'centre share of a ball with the face held, thousandths, at Fo 0.1',
    section,
    source: carslaw,
    got: () => 1000 * held('ball', 0.1)(),
    want: 707.1,
    within: { absolute: 0.01 },
  },
  ...checkEach(
    {
      id: 'H12',
      says: 'a dry flask of 63.5 by 76.2 mm in a kiln: centre share',
      section,
      source: 'product solution of 60 terms in another program; analytic, from memory',
      within: { relative: 1e-5 },
    },
    {
      'half an hour': [() => flaskAt(1800), 0.0598425],
      'an hour': [() => flaskAt(3600), 0.00198303],
    },
  ),
  {
    id: 'H13',
    says: 'that flask is down to a twentieth at its centre after 1895 s',
    section,
    source: 'product solution of 60 terms in another program; analytic, from memory',
    got: () => cylinderSoakTime(flask, 0.05),
    want: 1894.96,
    within: { absolute: 0.05 },
  },
  ...checkEach(
    {
      id: 'H14',
      says: 'centre lags a face that climbs 300 F an hour, K',
      section,
      source: `rate R²/(n a); ${carslaw}`,
      within: { relative: 1e-5 },
    },
    {
      rod: [() => rampLag('rod', climb, 0.03175, 4.032258e-7), 28.9351],
      slab: [() => rampLag('slab', climb, 0.03175, 4.032258e-7), 57.8703],
      ball: [() => rampLag('ball', climb, 0.03175, 4.032258e-7), 19.2901],
    },
  ),
  {
    id: 'H15',
    says: 'a body of 900 J/K heats by radiation in a kiln in 497 s',
    section,
    source: incropera('eq. 5.18, checked by quadrature'),
    got: () => radiationTime(900, 0.02675416, 293.15, 873.15, 977.594),
    want: 497.0853,
    within: { absolute: 1e-3 },
  },
  {
    id: 'H16',
    says: 'the same body cools by radiation to a room in 870 s',
    section,
    source: incropera('eq. 5.18, checked by quadrature'),
    got: () => radiationTime(900, 0.02675416, 977.594, 573.15, 293.15),
    want: 870.1186,
    within: { absolute: 1e-3 },
  },
  {
    id: 'H17',
    says: 'a body of 900 J/K cools from 600 to 200 C by convection in 700 s',
    section,
    source: 'exponential, tau m c/(h A); analytic, from memory',
    got: () => lumpedTime(600, 200, 20, 900 / (45 * 0.03344269)),
    want: 699.748,
    within: { relative: 1e-5 },
  },
  ...checkEach(
    {
      id: 'H18',
      says: 'radiation coefficient to walls at 704.44 C, W/m2K',
      section,
      source: 'sigma (T1² + T2²)(T1 + T2); analytic, from memory',
      within: { relative: 1e-5 },
    },
    Object.fromEntries(
      Object.entries({ 20: 75.0546, 300: 112.9218, 600: 180.3013, 700: 210.4661 }).map(([t, want]) => [
        `load at ${t} C`,
        [() => radiationCoefficient(1, 273.15 + 704.44, 273.15 + Number(t)), want] as const,
      ]),
    ),
  ),
]
