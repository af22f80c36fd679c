import {
  afterBaseLoss,
  blend,
  fineMass,
  finenessOfKarat,
  massToAdd,
  mostOfPoorer,
  shareOut,
} from '../../src/engine/physics/alligation.ts'
import { GRAM_PER_TROY_OUNCE } from '../../src/engine/quantity/units.ts'
import { type Check, checkEach } from '../check.ts'

const section = '2'
const alligation = 'alligation, m (f2 - f1)/(f3 - f2); analytic, from memory'
const within = { absolute: 1e-6 }

const adding = (
  id: string,
  says: string,
  mass: number,
  from: number,
  to: number,
  using: number,
  want: number,
): Check => ({
  id,
  says,
  section,
  source: alligation,
  got: () => massToAdd({ mass, fineness: from }, to, using) ?? Number.NaN,
  want,
  within,
})

const soldered = (body: number) => () =>
  blend([
    { mass: 40, fineness: body },
    { mass: 1.2, fineness: 650 },
  ]).fineness

const cases: Check[] = [
  ...checkEach(
    {
      id: 'F1',
      says: 'karats in parts per thousand',
      section,
      source: 'parts of 24; definition',
      within: { absolute: 1e-3 },
    },
    {
      '10': [() => finenessOfKarat(10), 416.667],
      '14': [() => finenessOfKarat(14), 583.333],
      '18': [() => finenessOfKarat(18), 750],
      '22': [() => finenessOfKarat(22), 916.667],
    },
  ),
  adding('F2', '100 g of pure silver takes 8.108 g of copper to sterling', 100, 1000, 925, 0, 8.108108),
  adding('F3', '100 g of 999.0 silver takes 8 g of copper to 925', 100, 999, 925, 0, 8),
  adding('F4', '100 g of 999.9 silver takes 8.097 g of copper to 925', 100, 999.9, 925, 0, 8.097297),
  ...checkEach(
    { id: 'F5', says: '100 g of sterling from 999.0 silver and copper', section, source: alligation, within },
    {
      silver: [() => shareOut(100, 925, 999, 0)?.first ?? Number.NaN, 92.592593],
      copper: [() => shareOut(100, 925, 999, 0)?.second ?? Number.NaN, 7.407407],
    },
  ),
  adding('F6', 'raising 80 g of 900 to 925 takes 27.027 g of 999 silver', 80, 900, 925, 999, 27.027027),
  adding('F7', 'raising 80 g of 900 to 925 takes 26.667 g of pure silver', 80, 900, 925, 1000, 26.666667),
  adding('F8', 'lowering 50 g of 958 to 925 takes 1.784 g of copper', 50, 958, 925, 0, 1.783784),
  ...checkEach(
    { id: 'F9', says: '200 g of 925 from 800 and 999', section, source: alligation, within },
    {
      '800': [() => shareOut(200, 925, 800, 999)?.first ?? Number.NaN, 74.371859],
      '999': [() => shareOut(200, 925, 800, 999)?.second ?? Number.NaN, 125.628141],
    },
  ),
  {
    id: 'F10',
    says: '60 g of 925, 40 g of 800 and 5 g of 999 melt to 880.9',
    section,
    source: 'mass balance; analytic, from memory',
    got: () =>
      blend([
        { mass: 60, fineness: 925 },
        { mass: 40, fineness: 800 },
        { mass: 5, fineness: 999 },
      ]).fineness,
    want: 880.904762,
    within,
  },
  adding(
    'F11',
    '10 g of pure gold takes 7.143 g of alloy to 14 karat',
    10,
    1000,
    finenessOfKarat(14),
    0,
    7.142857,
  ),
  adding(
    'F12',
    'a troy ounce of 18 karat takes 8.887 g of alloy to 14 karat',
    GRAM_PER_TROY_OUNCE,
    750,
    finenessOfKarat(14),
    0,
    8.886708,
  ),
  {
    id: 'F13',
    says: '40 g of 925 with 1.2 g of 650 solder assays 916.99 whole',
    section,
    source: 'mass balance; analytic, from memory',
    got: soldered(925),
    want: 916.990291,
    within,
  },
  {
    id: 'F14',
    says: '40 g of 922 with 1.2 g of 650 solder assays 914.08 whole',
    section,
    source: 'mass balance; analytic, from memory',
    got: soldered(922),
    want: 914.07767,
    within,
  },
  {
    id: 'F15',
    says: '40 g of 925 takes at most 1.509 g of 650 solder and stays at 915',
    section,
    source: 'm (925 - 915)/(915 - 650); analytic, from memory',
    got: () => mostOfPoorer({ mass: 40, fineness: 925 }, 650, 915) ?? Number.NaN,
    want: 1.509434,
    within,
  },
  {
    id: 'F16',
    says: '100 g of sterling that loses half a gram of copper rises to 929.6',
    section,
    source: '92.5/99.5; analytic, from memory',
    got: () => afterBaseLoss({ mass: 100, fineness: 925 }, 0.5).fineness,
    want: 929.648241,
    within,
  },
  {
    id: 'F17',
    says: 'the fine silver in 85.2 g of sterling at 30.00 a troy ounce is worth 76.01',
    section,
    source: '85.2 * 0.925 / 31.1034768 * 30; analytic, from memory',
    got: () => (fineMass({ mass: 85.2, fineness: 925 }) / GRAM_PER_TROY_OUNCE) * 30,
    want: 76.01401,
    within,
  },
]

// The make-up's own checks hold the same rows against the solver, under the plain sentence.
export const checks: Check[] = cases.map((check) => ({ ...check, says: `by alligation: ${check.says}` }))
