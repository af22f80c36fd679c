import {
  chartIndividuals,
  MEAN_RANGE_OF_TWO,
  movingAverage,
  movingAverageLimit,
  RANGE_LIMIT_OF_TWO,
  RANGE_SPREAD_OF_TWO,
} from '../../src/engine/physics/control-chart.ts'
import { studentQuantile } from '../../src/engine/physics/student.ts'
import { combineUncertainty, coverageFactor } from '../../src/engine/physics/uncertainty.ts'
import { type Check, checkEach } from '../check.ts'

const section = '13'
const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
const ewma = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, ...flow]
const nist = (page: string) => `NIST/SEMATECH e-Handbook ${page}; printed, found`
const gum = 'JCGM 100:2008 H.1, gtc.readthedocs.io GUM_H1; printed, found'

const chart = chartIndividuals(flow, 1.128)
const averages = movingAverage(ewma, 0.3, 50)
const printed = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
  49.92, 50.73, 51.23, 51.94, 51.99,
]
const gauge = combineUncertainty([
  { standard: 25, freedom: 18 },
  {
    standard: combineUncertainty([{ standard: 5.8 }, { standard: 3.9 }, { standard: 6.7 }]).standard,
    freedom: 25.6,
  },
  { standard: 2.9, freedom: 50 },
  { standard: 16.6, freedom: 2 },
])
const wax = { mass: 12.4, density: 0.97, metal: 10.36 }
const need = (wax.mass * wax.metal) / wax.density

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'Q1',
      says: 'individuals chart of the flow record',
      section,
      source: nist('6.3.2.2'),
      within: { absolute: 5e-5 },
    },
    {
      mean: [() => chart.centre, 50.81],
      'mean moving range': [() => chart.meanRange, 1.8778],
      'upper limit': [() => chart.upper, 55.8041],
      'lower limit': [() => chart.lower, 45.8159],
    },
  ),
  ...checkEach(
    {
      id: 'Q2',
      says: 'chart constants for ranges of two',
      section,
      source: 'ISO 7870-2 and ASTM E2587 tables; analytic, from memory',
      within: { absolute: 1e-6 },
    },
    {
      d2: [() => MEAN_RANGE_OF_TWO, 1.128379],
      d3: [() => RANGE_SPREAD_OF_TWO, 0.852502],
      D4: [() => RANGE_LIMIT_OF_TWO, 3.266532],
      E2: [() => 3 / MEAN_RANGE_OF_TWO, 2.658681],
    },
  ),
  ...checkEach(
    {
      id: 'Q3',
      says: 'moving range of the flow record',
      section,
      source: 'with the tabulated constants 3.267 and 1.128; analytic, found',
      within: { relative: 2e-4 },
    },
    {
      'upper limit': [() => chart.rangeUpper, 6.1347],
      sigma: [() => chart.sigma, 1.664697],
    },
  ),
  ...checkEach(
    {
      id: 'Q4',
      says: 'moving average weighted 0.3',
      section,
      source: nist('6.3.2.4'),
      within: { absolute: 5.001e-3 },
    },
    Object.fromEntries(
      printed.map((want, index) => [`value ${index + 1}`, [() => averages[index] as number, want] as const]),
    ),
  ),
  ...checkEach(
    {
      id: 'Q5',
      says: 'settled limits of the moving average',
      section,
      source: nist('6.3.2.4'),
      within: { absolute: 1e-6 },
    },
    {
      upper: [() => 50 + movingAverageLimit(2.0539, 0.3, 3, Number.POSITIVE_INFINITY), 52.588432],
      lower: [() => 50 - movingAverageLimit(2.0539, 0.3, 3, Number.POSITIVE_INFINITY), 47.411568],
    },
  ),
  {
    id: 'Q6',
    says: 'upper limit of the moving average after one value',
    section,
    source: 'target + 3 lambda s; analytic, from memory',
    got: () => 50 + movingAverageLimit(2.0539, 0.3, 3, 1),
    want: 51.84851,
    within: { absolute: 1e-6 },
  },
  ...checkEach(
    {
      id: 'Q7',
      says: 'end gauge of the guide to uncertainty',
      section,
      source: gum,
      within: { absolute: 0.5 },
    },
    {
      'standard uncertainty, nm': [() => gauge.standard, 32],
      'at 99 %, from the rounded 32 as the guide does, nm': [
        () => 32 * coverageFactor(0.99, gauge.freedom),
        93,
      ],
    },
  ),
  {
    id: 'Q7.freedom',
    says: 'effective degrees of freedom of the end gauge',
    section,
    source: gum,
    got: () => gauge.freedom,
    want: 16.7,
    within: { absolute: 0.1 },
  },
  {
    id: 'Q7.truncated',
    says: 'effective degrees of freedom of the end gauge, truncated as the guide says',
    section,
    source: gum,
    got: () => Math.floor(gauge.freedom),
    want: 16,
    within: { absolute: 1e-9 },
  },
  {
    id: 'Q7.coverage',
    says: 'coverage factor of the end gauge at 99 %',
    section,
    source: gum,
    got: () => coverageFactor(0.99, gauge.freedom),
    want: 2.92,
    within: { absolute: 0.005 },
  },
  ...checkEach(
    {
      id: 'Q8',
      says: 'parts of the end gauge',
      section,
      source: 'JCGM 100:2008 H.1; analytic, found',
      within: { absolute: 1e-4 },
    },
    {
      'spread of the comparator, nm': [
        () => combineUncertainty([{ standard: 5.8 }, { standard: 3.9 }, { standard: 6.7 }]).standard,
        9.68194,
      ],
      'combined with 9.7 as printed, nm': [
        () =>
          combineUncertainty([{ standard: 25 }, { standard: 9.7 }, { standard: 2.9 }, { standard: 16.6 }])
            .standard,
        31.6711,
      ],
      't 99.5 % at 16': [() => studentQuantile(0.995, 16), 2.920782],
    },
  ),
  {
    id: 'Q9',
    says: 'metal from 12.40 g of wax, its standard uncertainty, g',
    section,
    source: 'root sum of squares of relative parts; analytic, from memory',
    got: () =>
      combineUncertainty([
        { slope: need / wax.mass, standard: 0.01 },
        { slope: -need / wax.density, standard: 0.01 },
        { slope: need / wax.metal, standard: 0.02 },
      ]).standard,
    want: 1.39316,
    within: { absolute: 1e-5 },
  },
]
