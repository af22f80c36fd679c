import {
  absoluteFromGauge,
  gaugeFromAbsolute,
  geopotentialHeight,
  pressureHeight,
  standardPressure,
} from '../../src/engine/physics/atmosphere.ts'
import { bubbleDiameterGrowth, bubbleVolumeGrowth } from '../../src/engine/physics/vacuum.ts'
import {
  saturationPressure,
  saturationTemperature,
  steamDensity,
  vaporisationHeat,
  waterDensity,
} from '../../src/engine/physics/water.ts'
import { PASCAL_PER_INCH_OF_MERCURY } from '../../src/engine/quantity/units.ts'
import { type Check, checkEach } from '../check.ts'

const section = '12'
const iapws = 'IAPWS R7-97'
const iso = 'ISO 2533 formula; analytic, from memory'
const crc = 'CRC Handbook 1992-93, lcm91.tripod.com/documents/vp_H2O.htm; printed, found'
const or = (value: number | null): number => value ?? Number.NaN

const boilsAtCelsius = (p: number | null): number =>
  p === null ? Number.NaN : or(saturationTemperature(p)) - 273.15
const inches = (p: number): number => p / PASCAL_PER_INCH_OF_MERCURY
const seaLevelUnder = (gauge: number): number => absoluteFromGauge(101325, gauge * PASCAL_PER_INCH_OF_MERCURY)

const rows = (label: string, got: (x: number) => number, wants: readonly (readonly [number, number])[]) =>
  Object.fromEntries(wants.map(([x, want]) => [`${x} ${label}`, [() => got(x), want] as const]))

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'V1',
      says: 'vapour pressure, MPa',
      section,
      source: `${iapws} table 35; printed, found`,
      within: { relative: 1e-8 },
    },
    rows('K', (T) => or(saturationPressure(T)) / 1e6, [
      [300, 0.353658941e-2],
      [500, 2.63889776],
      [600, 12.3443146],
    ]),
  ),
  ...checkEach(
    {
      id: 'V2',
      says: 'boiling point, K',
      section,
      source: `${iapws} table 36; printed, found`,
      within: { relative: 1e-8 },
    },
    rows('MPa', (p) => or(saturationTemperature(p * 1e6)), [
      [0.1, 372.755919],
      [1, 453.035632],
      [10, 584.149488],
    ]),
  ),
  ...checkEach(
    {
      id: 'V3',
      says: 'vapour pressure, Pa',
      section,
      source: 'IAPWS-IF97 region 4 worked out in another program; analytic, found',
      within: { relative: 1e-5 },
    },
    rows('C', (t) => or(saturationPressure(t + 273.15)), [
      [20, 2339.21],
      [25, 3169.75],
      [30, 4246.69],
      [40, 7384.43],
      [60, 19945.8],
      [100, 101417.98],
    ]),
  ),
  ...checkEach(
    { id: 'V4', says: 'vapour pressure, kPa', section, source: crc, within: { relative: 1e-3 } },
    rows('C', (t) => or(saturationPressure(t + 273.15)) / 1000, [
      [20, 2.3388],
      [25, 3.169],
      [30, 4.2455],
      [40, 7.3814],
      [60, 19.932],
      [90, 70.117],
    ]),
  ),
  {
    id: 'V5',
    says: 'water boils at 99.974 C under a standard atmosphere',
    section,
    source: 'IAPWS-IF97; analytic, found',
    got: () => boilsAtCelsius(101325),
    want: 99.9743,
    within: { absolute: 1e-3 },
  },
  ...checkEach(
    {
      id: 'V6',
      says: 'absolute pressure at sea level under a gauge, kPa',
      section,
      source: '101.325 - 3.386389 n; analytic, from memory',
      within: { absolute: 1e-4 },
    },
    rows('inHg', (n) => seaLevelUnder(n) / 1000, [
      [20, 33.5972],
      [25, 16.6653],
      [28, 6.5061],
      [29, 3.1197],
    ]),
  ),
  ...checkEach(
    {
      id: 'V7',
      says: 'water boils at sea level under a gauge, C',
      section,
      source: 'IAPWS-IF97; analytic, found',
      within: { absolute: 0.01 },
    },
    rows('inHg', (n) => boilsAtCelsius(seaLevelUnder(n)), [
      [20, 71.721],
      [24, 60.114],
      [25, 56.169],
      [26, 51.467],
      [27, 45.596],
      [28, 37.645],
      [28.5, 32.198],
      [29, 24.733],
    ]),
  ),
  ...checkEach(
    {
      id: 'V8',
      says: 'standard pressure at a geopotential height, Pa',
      section,
      source: iso,
      within: { absolute: 0.5 },
    },
    rows('m', (h) => or(standardPressure(h)), [
      [0, 101325],
      [500, 95460.8],
      [1000, 89874.6],
      [1500, 84556],
      [2000, 79495.2],
      [2500, 74682.5],
      [3000, 70108.5],
    ]),
  ),
  ...checkEach(
    {
      id: 'V9',
      says: 'standard pressure at a geometric height, Pa',
      section,
      source: iso,
      within: { absolute: 0.5 },
    },
    rows('m', (h) => or(standardPressure(geopotentialHeight(h))), [
      [1500, 84559.7],
      [2000, 79501.4],
      [3000, 70121.1],
    ]),
  ),
  ...checkEach(
    {
      id: 'V10',
      says: 'most that a gauge can read, inHg',
      section,
      source: `${iso}, over 3386.389 Pa`,
      within: { absolute: 1e-3 },
    },
    rows('m', (h) => inches(gaugeFromAbsolute(or(standardPressure(h)), 0)), [
      [0, 29.921],
      [1609.344, 24.636],
      [3000, 20.703],
    ]),
  ),
  ...checkEach(
    {
      id: 'V11',
      says: 'gauge reading at which water at 20 C boils, inHg',
      section,
      source: 'ISO 2533 and IAPWS-IF97; analytic, found',
      within: { absolute: 1e-3 },
    },
    rows('m', (h) => inches(gaugeFromAbsolute(or(standardPressure(h)), or(saturationPressure(293.15)))), [
      [0, 29.23],
      [1000, 25.849],
      [1500, 24.279],
      [1609.344, 23.945],
      [2000, 22.784],
      [3000, 20.012],
    ]),
  ),
  ...checkEach(
    {
      id: 'V12',
      says: '25 inHg is asked for in the mountains',
      section,
      source: iso,
      within: { absolute: 0.5 },
    },
    {
      'absolute pressure it would need at 1500 m, Pa': [
        () => absoluteFromGauge(or(standardPressure(1500)), 25 * PASCAL_PER_INCH_OF_MERCURY),
        -103.73,
      ],
      'greatest height where it can be read, m': [
        () => or(pressureHeight(25 * PASCAL_PER_INCH_OF_MERCURY)),
        1490,
      ],
    },
  ),
  {
    id: 'V13',
    says: 'under 25 inHg at 1000 m water boils at 33.6 C',
    section,
    source: 'ISO 2533 and IAPWS-IF97; analytic, found',
    got: () => boilsAtCelsius(absoluteFromGauge(or(standardPressure(1000)), 25 * PASCAL_PER_INCH_OF_MERCURY)),
    want: 33.626,
    within: { absolute: 0.01 },
  },
  ...checkEach(
    {
      id: 'V14',
      says: 'water boils under the standard pressure of a height, C',
      section,
      source: 'ISO 2533 and IAPWS-IF97; analytic, found',
      within: { absolute: 0.01 },
    },
    rows('m', (h) => boilsAtCelsius(standardPressure(h)), [
      [1000, 96.65],
      [1500, 94.98],
      [2000, 93.32],
      [3000, 89.97],
    ]),
  ),
  ...checkEach(
    {
      id: 'V15',
      says: 'a bubble taken to 28 inHg grows',
      section,
      source: 'Boyle, dry gas; analytic, from memory',
      within: { relative: 1e-5 },
    },
    {
      'in volume': [() => bubbleVolumeGrowth(101325, 6506.108), 15.57383],
      'in diameter': [() => bubbleDiameterGrowth(101325, 6506.108), 2.49727],
    },
  ),
  ...checkEach(
    {
      id: 'WA3',
      says: 'heat of vaporisation, kJ/kg',
      section: '7',
      source: 'steam tables; printed, from memory',
      within: { absolute: 0.7 },
    },
    rows('C', (t) => or(vaporisationHeat(t + 273.15)) / 1000, [
      [20, 2454],
      [50, 2382],
      [100, 2257],
    ]),
  ),
  ...checkEach(
    {
      id: 'WA4',
      says: 'density of water, g/cm3',
      section: '4',
      source: 'CRC Handbook; printed, from memory',
      within: { absolute: 1e-4 },
    },
    rows('C', (t) => or(waterDensity(t + 273.15)) / 1000, [
      [20, 0.9982],
      [25, 0.997],
      [30, 0.9957],
    ]),
  ),
  {
    id: 'WA5',
    says: 'steam at its boiling point under one atmosphere, kg/m3',
    section: '4',
    source: 'IAPWS SR1-86 (1992) verification value 0.597586 at 373.1243 K; printed, from memory',
    got: () => or(steamDensity(373.1243)),
    want: 0.597586,
    within: { relative: 1e-5 },
  },
]
