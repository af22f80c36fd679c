import { planPrice, spoiledShare } from '../../src/engine/price/index.ts'
import { GRAM_PER_TROY_OUNCE } from '../../src/engine/quantity/index.ts'
import { type Check, checkEach } from '../check.ts'
import { bench, stated } from '../small-studio.ts'

// Published sums of money and counts, run through the pricing room.

/** Fine silver at 30.00 a troy ounce; copper, gas and hours at nothing; 15 % on top for making it up. */
const silver = (fabrication: number) =>
  planPrice({
    ...bench({
      prices: {
        metal_g: { Ag: 30 / GRAM_PER_TROY_OUNCE, Cu: 0 },
        gas_pour: 0,
        overhead: fabrication,
        margin: 0,
      },
    }),
    alloyIndex: 0,
    fineness: stated('fineness', 'ppt', 925),
    finishedMassTotal: stated('finished', 'kg', 0.0852),
    castMassTotal: stated('cast', 'kg', 0.0852),
  })

/** Share below x of the law whose root is the sine of an even angle: the prior's own law, in closed form. */
const arcsineShare = (share: number): number => Math.sin((Math.PI * share) / 2) ** 2

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'F17.room',
      says: '85.2 g of sterling at 30.00 a troy ounce of fine silver',
      section: '2',
      source: '85.2 x 0.925 / 31.1034768 x 30, then x 1.15; analytic, from memory',
      within: { absolute: 1e-6 },
    },
    {
      'its silver': [
        () => silver(0).lines.find((line) => line.name === 'metal')?.amount.value ?? NaN,
        76.01401,
      ],
      'with 15 % fabrication': [() => silver(0.15).ask?.value ?? NaN, 87.416112],
    },
  ),
  ...checkEach(
    {
      id: 'JEFFREYS.before',
      says: 'before any pour is recorded the chance of a spoiled one lies in the arcsine law',
      section: '13',
      source:
        'Beta(1/2, 1/2) is the arcsine law, its quantile sin²(pi p/2); probability textbooks; analytic, from memory',
      within: { absolute: 1e-9 },
    },
    {
      mean: [() => spoiledShare(0, 0).mean, 0.5],
      '5th percentile': [() => spoiledShare(0, 0).low, arcsineShare(0.05)],
      '95th percentile': [() => spoiledShare(0, 0).high, arcsineShare(0.95)],
    },
  ),
  {
    id: 'JEFFREYS.one-pour',
    says: 'after one good pour, the share of belief below its own 95th percentile',
    section: '13',
    source:
      '2/pi (asin sqrt x + sqrt(x (1 - x))), the law Beta(1/2, 3/2) integrated by parts; analytic, from memory',
    got: () => {
      const x = spoiledShare(1, 0).high
      return (2 / Math.PI) * (Math.asin(Math.sqrt(x)) + Math.sqrt(x * (1 - x)))
    },
    want: 0.95,
    within: { absolute: 1e-9 },
  },
]
