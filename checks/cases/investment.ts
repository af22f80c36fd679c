import { flaskVolume, mixForVolume, slurryDensity, slurryYield } from '../../src/engine/physics/slurry.ts'
import { GRAM_PER_POUND } from '../../src/engine/quantity/units.ts'
import { type Check, checkEach } from '../check.ts'

const section = '6'
const densities = { particle: 2550, water: 998.2 }
const analytic = '(1 + w)/(1/rho_p + w/rho_w), particle 2.55, water 0.9982; analytic, from memory'
const inch = 0.0254
const ratios = { '36:100': 0.36, '38:100': 0.38, '40:100': 0.4, '42:100': 0.42 }

const each = (got: (ratio: number) => number, wants: readonly number[]) =>
  Object.fromEntries(
    Object.entries(ratios).map(([label, ratio], index) => [
      label,
      [() => got(ratio), wants[index] as number] as const,
    ]),
  )

const threeByFour = flaskVolume(3 * inch, 4 * inch)
const mix = (waste: number) => mixForVolume(threeByFour - 25e-6, 0.4, densities, waste)
const small = flaskVolume(2.5 * inch, 2.5 * inch)

// The mix is asked by volume, so a mass of powder is posed as the volume it would fill.
const waterFor = (powder: number) => () =>
  1000 * mixForVolume(powder * slurryYield(0.4, densities), 0.4, densities).water

export const checks: Check[] = [
  {
    id: 'I1',
    says: '1816 g of powder at 40:100 takes 726.4 g of water',
    section,
    source: 'orchid.ganoksin.com/t/investment-to-water-ratio/19887; printed, found',
    got: waterFor(1.816),
    want: 726.4,
    within: { relative: 1e-9 },
  },
  {
    id: 'I2',
    says: 'four pounds of powder at 40:100 take 725.75 g of water',
    section,
    source: 'four times 453.59237 g at 0.40; analytic, found',
    got: waterFor((4 * GRAM_PER_POUND) / 1000),
    want: 725.747792,
    within: { absolute: 1e-5 },
  },
  {
    id: 'I3',
    says: '225 g of powder at 40:100 takes 90 g of water',
    section,
    source: 'orchid.ganoksin.com/t/investment-how-to-mix/46109; printed, found',
    got: waterFor(0.225),
    want: 90,
    within: { relative: 1e-9 },
  },
  ...checkEach(
    { id: 'I4', says: 'density of slurry, g/cm3', section, source: analytic, within: { absolute: 1e-4 } },
    each((ratio) => slurryDensity(ratio, densities) / 1000, [1.80657, 1.78562, 1.76572, 1.7468]),
  ),
  ...checkEach(
    {
      id: 'I5',
      says: 'slurry from 100 g of powder, cm3',
      section,
      source: analytic,
      within: { absolute: 1e-3 },
    },
    each((ratio) => 1e5 * slurryYield(ratio, densities), [75.2806, 77.2842, 79.2878, 81.2914]),
  ),
  {
    id: 'I6',
    says: 'a pound of powder at 40:100 makes 21.947 cubic inches of slurry',
    section,
    source: analytic,
    got: () => ((GRAM_PER_POUND / 1000) * slurryYield(0.4, densities)) / inch ** 3,
    want: 21.947,
    within: { absolute: 1e-3 },
  },
  {
    id: 'I7',
    says: 'a flask of 3 by 4 inches holds 463.33 cm3',
    section,
    source: 'pi/4 d² h; analytic, from memory',
    got: () => 1e6 * threeByFour,
    want: 463.33332,
    within: { relative: 1e-6 },
  },
  ...checkEach(
    {
      id: 'I8',
      says: 'mix for that flask less a pattern of 25 cm3, g',
      section,
      source: analytic,
      within: { absolute: 1e-3 },
    },
    {
      powder: [() => 1000 * mix(0).powder, 552.838],
      water: [() => 1000 * mix(0).water, 221.135],
      'powder with a tenth over': [() => 1000 * mix(0.1).powder, 608.122],
      'water with a tenth over': [() => 1000 * mix(0.1).water, 243.249],
    },
  ),
  {
    id: 'I9',
    says: 'a flask of 2.5 by 2.5 inches takes 253.6 g of powder',
    section,
    source: `${analytic}; a forum says less than a pound`,
    got: () => 1000 * mixForVolume(small, 0.4, densities).powder,
    want: 253.632,
    within: { relative: 1e-5 },
  },
]
