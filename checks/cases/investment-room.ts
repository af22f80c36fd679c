import { openRoots, withPath } from '../../src/engine/documents/index.ts'
import { judgeReading, planMix, readVacuum, stationPressure } from '../../src/engine/investment/index.ts'
import { celsius, GRAM_PER_POUND, inchesOfMercury, toCelsius } from '../../src/engine/quantity/index.ts'
import { type Check, checkEach } from '../check.ts'
import { bench, stated } from '../small-studio.ts'

// The published rows of mixing and of the vacuum, run through the whole room rather than its single laws.

const inch = 0.0254
const analytic =
  '(1 + w)/(1/rho_p + w/rho_w), particle 2.55, water 0.9982 where the room takes 0.99816; analytic, from memory'
const iso = 'ISO 2533 formula over 3386.389 Pa; analytic, from memory'

interface Asked {
  readonly ratio?: number
  readonly waste?: number
  readonly wax_cm3?: number
  /** inside of the flask [m3] */
  readonly volume: number
}

const mixed = ({ ratio = 0.4, waste = 0, wax_cm3 = 0, volume }: Asked) => {
  const usual = bench()
  const shop = withPath(
    withPath(usual.shop, '/rules/wasteAllowance', waste),
    '/investments/0/particleDensity_g_cm3',
    2.55,
  )
  const pour = withPath(withPath(usual.pour, '/investment/waterRatio', ratio), '/investment/water_C', 20)
  const roots = openRoots(shop, pour)
  return planMix({
    roots,
    shop,
    pour,
    investmentIndex: 0,
    flaskInside: {
      diameter: stated('d', 'm', 0.06),
      height: stated('h', 'm', 0.06),
      volume: stated('volume', 'm3', volume),
    },
    waxVolume: stated('wax', 'm3', wax_cm3 / 1e6),
    domeVolume: stated('dome', 'm3', 0),
    pressure: stationPressure({ roots, shop }),
  })
}

const grams = (mass: { readonly value: number } | undefined): number => 1000 * (mass?.value ?? Number.NaN)
const threeByFour = (Math.PI / 4) * (3 * inch) ** 2 * 4 * inch
const twoAndAHalf = (Math.PI / 4) * (2.5 * inch) ** 3

/** Water for a mass of powder: the mix is asked by volume, so the powder is posed as the volume it fills. */
const waterFor = (powder_g: number) => (): number => {
  const mix = mixed({ volume: 1e-3 })
  return (grams(mix.water) * powder_g) / grams(mix.powder)
}

const density = (ratio: number) => (): number => {
  const mix = mixed({ ratio, volume: 1e-3 })
  return grams(mix.powder) / 1000 + grams(mix.water) / 1000
}

const pattern = { volume: threeByFour, wax_cm3: 25 }

/** The height of a map [m] whose geopotential height is this. */
const onTheMap = (geopotential: number): number => (6_356_766 * geopotential) / (6_356_766 - geopotential)

const vacuum = (geopotential: number, leaves_hPa = 30, slurry_C = 20) => {
  const usual = bench()
  const shop = withPath(
    withPath(usual.shop, '/place', {
      pressure: { from: 'altitude', altitude_m: onTheMap(geopotential) },
    }),
    '/vacuumLeaves_hPa',
    leaves_hPa,
  )
  const roots = openRoots(shop, usual.pour)
  return readVacuum({
    roots,
    pressure: stationPressure({ roots, shop }),
    slurryTemperature: stated('slurry', 'K', celsius(slurry_C)),
  })
}

const inches = (pressure: number): number => pressure / inchesOfMercury(1)
const asked25 = judgeReading(inchesOfMercury(25), vacuum(1500).pressure.value)

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'I1.room',
      says: 'water for a mass of powder at 40:100, g',
      section: '6',
      source:
        'orchid.ganoksin.com/t/investment-to-water-ratio/19887 and /investment-how-to-mix/46109; printed, found',
      within: { relative: 1e-9 },
    },
    {
      '1816 g': [waterFor(1816), 726.4],
      'four pounds': [waterFor(4 * GRAM_PER_POUND), 725.747792],
      '225 g': [waterFor(225), 90],
    },
  ),
  ...checkEach(
    {
      id: 'I4.room',
      says: 'slurry of the mixing room, g/cm3',
      section: '6',
      source: analytic,
      within: { absolute: 1e-4 },
    },
    {
      '36:100': [density(0.36), 1.80657],
      '38:100': [density(0.38), 1.78562],
      '40:100': [density(0.4), 1.76572],
      '42:100': [density(0.42), 1.7468],
    },
  ),
  ...checkEach(
    {
      id: 'I8.room',
      says: 'mix for a flask of 3 by 4 inches less a pattern of 25 cm3, g',
      section: '6',
      source: analytic,
      within: { relative: 5e-5 },
    },
    {
      powder: [() => grams(mixed(pattern).powder), 552.838],
      water: [() => grams(mixed(pattern).water), 221.135],
      'powder with a tenth over': [() => grams(mixed({ ...pattern, waste: 0.1 }).powder), 608.122],
      'water with a tenth over': [() => grams(mixed({ ...pattern, waste: 0.1 }).water), 243.249],
    },
  ),
  {
    id: 'I9.room',
    says: 'a flask of 2.5 by 2.5 inches takes 253.6 g of powder, under the pound that a forum gives, g',
    section: '6',
    source: analytic,
    got: () => grams(mixed({ volume: twoAndAHalf }).powder),
    want: 253.632,
    within: { relative: 5e-5 },
  },
  {
    id: 'T-mix.room',
    says: 'a 3 by 3 inch flask takes 18 oz of powder in practice, near what it takes at 38:100 with a tenth over, g',
    section: '15',
    source: 'a caster’s blog on 3 by 3 flasks: 18 oz to 194 ml; common practice, found',
    got: () => grams(mixed({ ratio: 0.38, waste: 0.1, volume: (Math.PI / 4) * (3 * inch) ** 3 }).powder),
    want: 18 * 28.349523125,
    within: { relative: 0.05 },
  },
  ...checkEach(
    {
      id: 'V10.room',
      says: 'the most a gauge can read at a height, by the mixing room, inHg',
      section: '12',
      source: iso,
      within: { absolute: 1e-3 },
    },
    Object.fromEntries(
      (
        [
          [0, 29.921],
          [1000, 26.54],
          [1500, 24.969],
          [1609.344, 24.636],
          [2000, 23.475],
          [3000, 20.703],
        ] as const
      ).map(([height, want]) => [
        `${height} m`,
        [() => inches(vacuum(height).pressure.value), want] as const,
      ]),
    ),
  ),
  ...checkEach(
    {
      id: 'V11.room',
      says: 'gauge at which a slurry at 20 °C boils, by the mixing room, inHg',
      section: '12',
      source: 'ISO 2533 and IAPWS-IF97; analytic, found',
      within: { absolute: 1e-3 },
    },
    Object.fromEntries(
      (
        [
          [0, 29.23],
          [1000, 25.849],
          [1500, 24.279],
          [1609.344, 23.945],
          [2000, 22.784],
          [3000, 20.012],
        ] as const
      ).map(([height, want]) => [
        `${height} m`,
        [() => inches(vacuum(height).boilGauge.value), want] as const,
      ]),
    ),
  ),
  ...checkEach(
    {
      id: 'V12.room',
      says: '25 inHg asked for at 1500 m is impossible, and the room says from which height',
      section: '12',
      source: iso,
      within: { absolute: 0.5 },
    },
    {
      'pressure it would leave, Pa': [() => asked25.left, -103.73],
      'greatest height, m': [() => asked25.reachableBelow ?? Number.NaN, 1490],
      'possible, 1 for yes': [() => (asked25.possible ? 1 : 0), 0],
    },
  ),
  ...checkEach(
    {
      id: 'V13.room',
      says: 'a pump that reads 25 inHg at 1000 m',
      section: '12',
      source: 'ISO 2533 and IAPWS-IF97; analytic, found',
      within: { absolute: 0.01 },
    },
    {
      'boils water at, °C': [() => toCelsius(vacuum(1000, 52.1484).boilsAt.value), 33.626],
      'reads, inHg': [() => inches(vacuum(1000, 52.1484).pumpGauge.value), 25],
    },
  ),
]
