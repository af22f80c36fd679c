import {
  densityByImmersion,
  freezingShrinkage,
  liquidDensity,
  metalForPattern,
  mixedDensity,
  patternLength,
  silverGrowth,
  silverSolidDensity,
} from '../../src/engine/physics/density.ts'
import { type Check, checkEach } from '../check.ts'

const section = '4'
const handbook = { silver: 10.49, copper: 8.96 }
const sheet = 'physical-property sheet for silver, its misprinted exponent corrected; analytic, found'
const crc = 'CRC Handbook, Density of molten elements, docslib.org/doc/11221507; printed, found'

const alloy = (fineness: number) => () =>
  mixedDensity([
    { share: fineness / 1000, density: handbook.silver },
    { share: 1 - fineness / 1000, density: handbook.copper },
  ])

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'D1',
      says: 'density of silver-copper by ideal mixing, g/cm3',
      section,
      source: '1/sum(w/rho) with 10.49 and 8.96; analytic, found',
      within: { absolute: 1e-5 },
    },
    {
      '925': [alloy(925), 10.35735],
      '900': [alloy(900), 10.31388],
      '958.4': [alloy(958.4), 10.41601],
      '800': [alloy(800), 10.14358],
    },
  ),
  {
    id: 'D2',
    says: '52.30 g that weighs 47.25 g in water at 20 C has 10.338 g/cm3',
    section,
    source: 'Archimedes, water 0.9982; analytic, from memory',
    got: () => densityByImmersion(52.3, 47.25, 0.9982),
    want: 10.33779,
    within: { absolute: 1e-5 },
  },
  {
    id: 'D3',
    says: 'the same with the buoyancy of air counted has 10.327 g/cm3',
    section,
    source: '(rho_w - rho_a) m/(m - m_w) + rho_a, air 0.0012; analytic, from memory',
    got: () => densityByImmersion(52.3, 47.25, 0.9982, 0.0012),
    want: 10.32657,
    within: { absolute: 1e-5 },
  },
  {
    id: 'D4',
    says: '5.5 g of wax at a factor of 13.5 asks for 74.25 g',
    section,
    source: "public wax-to-metal example on an equipment seller's help page; printed, found",
    got: () => metalForPattern(5.5, 1, 13.5),
    want: 74.25,
    within: { relative: 1e-12 },
  },
  ...checkEach(
    {
      id: 'D5',
      says: '0.56 g of resin at 1.09 in sterling',
      section,
      source: 'public hobby page prints 5.32 and 5.85; printed, found',
      within: { absolute: 1e-5 },
    },
    {
      piece: [() => metalForPattern(0.56, 1.09, 10.36), 5.32257],
      'with a tenth more': [() => 1.1 * metalForPattern(0.56, 1.09, 10.36), 5.85483],
    },
  ),
  {
    id: 'D6',
    says: '12.40 g of wax at 0.97 asks for 132.44 g of sterling',
    section,
    source: 'm rho2/rho1; analytic, from memory',
    got: () => metalForPattern(12.4, 0.97, 10.36),
    want: 132.43711,
    within: { absolute: 1e-5 },
  },
  {
    id: 'D7',
    says: '18 g of wax and 3 g of sprue at 0.95 ask for 229.01 g of sterling',
    section,
    source: 'm rho2/rho1; analytic, from memory',
    got: () => metalForPattern(18 + 3, 0.95, 10.36),
    want: 229.01053,
    within: { absolute: 1e-5 },
  },
  ...checkEach(
    {
      id: 'D8',
      says: 'silver grows from 0 C, percent of length',
      section,
      source: sheet,
      within: { absolute: 1e-5 },
    },
    {
      '100 C': [() => 100 * silverGrowth(100), 0.196215],
      '500 C': [() => 100 * silverGrowth(500), 1.030335],
      '900 C': [() => 100 * silverGrowth(900), 2.011667],
    },
  ),
  {
    id: 'D8.printed-mean',
    says: 'mean growth of silver from 0 to 500 C, millionths per kelvin, as the sheet itself prints it',
    section,
    source: 'physical-property sheet for silver; printed, found',
    got: () => (1e6 * silverGrowth(500)) / 500,
    want: 20.61,
    within: { absolute: 0.005 },
  },
  {
    id: 'D9.density',
    says: 'silver still solid at its melting point has 9.844 g/cm3',
    section,
    source: sheet,
    got: () => silverSolidDensity(961.78) / 1000,
    want: 9.8437,
    within: { absolute: 1e-4 },
  },
  {
    id: 'D9.shrinkage',
    says: 'silver loses 5.3 % of its liquid volume on freezing',
    section,
    source: `${sheet}; liquid from the CRC Handbook`,
    got: () => 100 * freezingShrinkage(9320, silverSolidDensity(961.78)),
    want: 5.32,
    within: { absolute: 2e-3 },
  },
  ...checkEach(
    { id: 'D10', says: 'density of liquid metal, g/cm3', section, source: crc, within: { absolute: 1e-4 } },
    {
      'silver 1000 C': [() => liquidDensity(9.32, 0.0009, 1000 - 961.78), 9.2856],
      'silver 1050 C': [() => liquidDensity(9.32, 0.0009, 1050 - 961.78), 9.2406],
      'gold 1100 C': [() => liquidDensity(17.31, 0.001343, 1100 - 1064.18), 17.26189],
    },
  ),
  ...checkEach(
    {
      id: 'D11',
      says: 'pattern for a sterling part of 100 mm',
      section,
      source: '100/((1 - 0.0185)(1 - 0.004)(1 + 0.009)); analytic, from memory',
      within: { absolute: 1e-4 },
    },
    {
      'injected wax': [() => patternLength(100, [-0.0185, -0.004, 0.009]), 101.38161],
      'carved wax': [() => patternLength(100, [-0.0185, 0.009]), 100.97608],
    },
  ),
]
