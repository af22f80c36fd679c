import {
  frontDepth,
  frontTime,
  onePhaseFront,
  timeToCentre,
  twoPhaseFront,
} from '../../src/engine/physics/freezing-front.ts'
import { contactTemperature } from '../../src/engine/physics/semi-infinite.ts'
import { erf } from '../../src/engine/physics/special-functions.ts'
import { type Check, checkEach } from '../check.ts'

const section = '9'
const neumann =
  'Neumann; Carslaw and Jaeger 1959 sec. 11.2, Crank 1984 eq. 3.14; roots found in another program; analytic, found'
const twoPhase = 'Neumann, two phases; analytic, from memory'
const day = 86400

const ice = { conductivity: 2.219, diffusivity: 2.219 / (1000 * 2097) }
const water = { conductivity: 0.556, diffusivity: 0.556 / (1000 * 4187) }
const iceLambda = onePhaseFront((2097 * 10) / 334e3)
const wetLambda = twoPhaseFront(ice, water, 1000 * 334e3, 10, 4)

const silver = { conductivity: 360, diffusivity: 360 / (9320 * 296) }
const melt = { conductivity: 175, diffusivity: 175 / (9320 * 310) }
const chillLambda = twoPhaseFront(silver, melt, 9320 * 104.7e3, 961.78 - 20, 1050 - 961.78)

const alloy = { conductivity: 350, diffusivity: 350 / (9300 * 290) }
const mushHeat = 290 + 97e3 / (896 - 780)
const mush = { conductivity: 350, diffusivity: 350 / (9300 * mushHeat) }
const mushLambda = twoPhaseFront(alloy, mush, 0, 780 - 20, 896 - 780)
const solidAt = (depth: number, time: number) =>
  20 + (760 * erf(depth / (2 * Math.sqrt(alloy.diffusivity * time)))) / erf(mushLambda)

const each = <K extends string>(got: (shape: 'slab' | 'rod' | 'ball') => number, wants: Record<K, number>) =>
  Object.fromEntries(
    Object.entries(wants).map(([shape, want]) => [
      shape,
      [() => got(shape as 'slab' | 'rod' | 'ball'), want as number] as const,
    ]),
  )

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'S1',
      says: 'lambda of one phase by Stefan number',
      section,
      source: neumann,
      within: { absolute: 1e-7 },
    },
    Object.fromEntries(
      (
        [
          [0.01, 0.0705933],
          [0.02, 0.0996692],
          [0.05, 0.1568209],
          [0.1, 0.2200163],
          [0.2, 0.3064239],
          [0.3, 0.3698802],
          [0.5, 0.4647859],
          [0.7, 0.5365121],
          [1, 0.6200626],
          [1.5, 0.7232112],
          [2, 0.8006014],
          [3, 0.9137513],
          [5, 1.059687],
        ] as const
      ).map(([stefan, want]) => [
        String(stefan).replace('.', ','),
        [() => onePhaseFront(stefan), want] as const,
      ]),
    ),
  ),
  {
    id: 'S2',
    says: 'lambda nears sqrt(St/2) as the Stefan number vanishes',
    section,
    source: 'Crank eq. 3.15; analytic, found',
    got: () => onePhaseFront(0.01),
    want: Math.sqrt(0.005),
    within: { relative: 2e-3 },
  },
  ...checkEach(
    {
      id: 'S3',
      says: 'ice on still water at 0 C under -10 C',
      section,
      source: neumann,
      within: { relative: 1e-5 },
    },
    {
      lambda: [() => iceLambda, 0.1753678],
      'metres in a day': [() => frontDepth(iceLambda, ice.diffusivity, day), 0.106051],
    },
  ),
  ...checkEach(
    { id: 'S4', says: 'ice on water at 4 C', section, source: twoPhase, within: { relative: 1e-5 } },
    {
      lambda: [() => wetLambda, 0.1677419],
      'metres in a day': [() => frontDepth(wetLambda, ice.diffusivity, day), 0.10144],
      'metres in an hour': [() => frontDepth(wetLambda, ice.diffusivity, 3600), 0.0207063],
    },
  ),
  ...checkEach(
    {
      id: 'S5',
      says: 'silver at 1050 C on a chill at 20 C',
      section,
      source: twoPhase,
      within: { relative: 1e-5 },
    },
    {
      lambda: [() => chillLambda, 0.8016069],
      'seconds for 5 mm': [() => frontTime(chillLambda, silver.diffusivity, 0.005), 0.0745354],
      'seconds for 2 mm': [() => frontTime(chillLambda, silver.diffusivity, 0.002), 0.0119257],
    },
  ),
  ...checkEach(
    {
      id: 'S6',
      says: 'an alloy that freezes from 896 to 780 C on a face at 20 C',
      section,
      source: 'Carslaw and Jaeger sec. 11.2, melting over a range; analytic, from memory',
      within: { relative: 1e-5 },
    },
    {
      lambda: [() => mushLambda, 0.7082736],
      'solid front at 0.1 s, mm': [() => 1000 * frontDepth(mushLambda, alloy.diffusivity, 0.1), 5.10299],
      'at 5 mm, C': [() => solidAt(0.005, 0.1), 769.03],
    },
  ),
  {
    id: 'S7',
    says: 'silver at 1050 C touches a mould at 550 C: 1033 C',
    section,
    source: '(b1 T1 + b2 T2)/(b1 + b2); analytic, from memory',
    got: () =>
      contactTemperature(
        { temperature: 1050, heatDiffusivity: Math.sqrt(175 * 9320 * 310) },
        { temperature: 550, heatDiffusivity: Math.sqrt(620000) },
      ),
    want: 1033.08,
    within: { absolute: 0.01 },
  },
  ...checkEach(
    {
      id: 'S9',
      says: 'a drying front reaches the centre of 31.75 mm, s',
      section,
      source: 'Plank-type integrals, face held; analytic, from memory',
      within: { relative: 1e-4 },
    },
    each((shape) => timeToCentre(shape, 1.25303e9, 0.03175, 0.4, 200), {
      slab: 7894.56,
      rod: 3947.28,
      ball: 2631.52,
    }),
  ),
  ...checkEach(
    {
      id: 'S10',
      says: 'food 20 mm thick freezes through, s',
      section,
      source: 'Plank 1913, food-engineering texts; analytic, from memory',
      within: { relative: 1e-5 },
    },
    each((shape) => timeToCentre(shape, 3.34e8, 0.01, 2.2, 20, 30), {
      slab: 5946.21,
      rod: 2973.11,
      ball: 1982.07,
    }),
  ),
]
