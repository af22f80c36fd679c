import type { Roots, Shop } from '../documents/index.ts'
import { type Problem, type Quantity, reckon, say } from '../quantity/index.ts'

/** What a kilogram of the alloy costs to buy today, by the prices entered for its metals. */
export interface MetalPrice {
  readonly price?: Quantity
  /** share of fine metal of the alloy's own kind: silver in silver, gold in gold */
  readonly fineShare?: Quantity
  readonly problems: readonly Problem[]
}

const PRINCIPAL = { silver: 'Ag', gold: 'Au', copper: 'Cu' } as const
const NAMES: Readonly<Record<string, string>> = { Ag: 'silver', Au: 'gold', Cu: 'copper' }

const midShare = (roots: Roots, alloy: string, element: string): Quantity =>
  reckon({
    id: `price.share.${element}`,
    title: `Share of ${NAMES[element] ?? element} in the alloy`,
    unit: '1',
    says: 'midway between the least and the most that the alloy allows',
    source: "the alloy's own limits",
    inputs: {
      low: roots.at(`${alloy}/composition/${element}/low`, `Least ${NAMES[element] ?? element}`),
      high: roots.at(`${alloy}/composition/${element}/high`, `Most ${NAMES[element] ?? element}`),
    },
    body: (at) => (at.low + at.high) / 2,
  })

/**
 * The alloy's price from its metals. The principal metal counts at the fineness made up or aimed at; the
 * others share what is left, in proportion to the alloy's sheet. A minor metal without a price counts at
 * nothing when the principal is precious, and at the principal's price when it is not.
 */
export const priceMetal = (roots: Roots, shop: Shop, alloyIndex: number, fineness?: Quantity): MetalPrice => {
  const alloy = shop.alloys[alloyIndex]
  if (alloy === undefined) return { problems: [] }
  const place = `/shop/alloys/${alloyIndex}`
  const principal = PRINCIPAL[alloy.metal]
  const aim = `${place}/fineness_ppt/aim`
  const made = fineness ?? (roots.has(aim) ? roots.at(aim, 'Fineness aimed at', { unit: 'ppt' }) : undefined)
  const fineShare = made
    ? reckon({
        id: 'price.fineShare',
        title: `Share of fine ${alloy.metal}`,
        unit: '1',
        says: 'the fineness, over a thousand',
        source: 'definition of parts per thousand',
        inputs: { fineness: made },
        body: (at) => at.fineness / 1000,
      })
    : alloy.composition[principal] === undefined
      ? undefined
      : midShare(roots, place, principal)
  const priceOf = (element: string): Quantity | undefined => {
    const path = `/shop/prices/metal_g/${element}`
    return roots.has(path)
      ? roots.at(path, `Price of fine ${NAMES[element] ?? element}`, { unit: 'money/kg', scale: 1000 })
      : undefined
  }
  const principalPrice = priceOf(principal)
  if (fineShare === undefined || principalPrice === undefined)
    return {
      fineShare,
      problems: [
        {
          kind: 'metal-price-missing',
          where: `/shop/prices/metal_g/${principal}`,
          what: say`No price is entered for ${NAMES[principal] ?? principal}, so the metal is left out of the price.`,
          remedy: say`Enter today's price by the gram under Shop.`,
        },
      ],
    }
  const minors = Object.keys(alloy.composition).filter((element) => element !== principal)
  const inputs: Record<string, Quantity> = { fineShare, principalPrice }
  for (const element of minors) {
    inputs[`share_${element}`] = midShare(roots, place, element)
    const price = priceOf(element)
    if (price) inputs[`price_${element}`] = price
  }
  const precious = alloy.metal !== 'copper'
  const price = reckon({
    id: 'price.metalPrice',
    title: 'Alloy, to buy today',
    unit: 'money/kg',
    says: 'each metal of the alloy, its share times its price',
    source: 'mass balance; prices as entered',
    holdsWhen: precious
      ? 'minor metals without a price cost next to nothing'
      : 'minor metals without a price cost as much as copper',
    inputs,
    body: (at) => {
      const whole = minors.reduce((sum, element) => sum + (at[`share_${element}`] ?? 0), 0)
      const fine = at.fineShare ?? 0
      const base = at.principalPrice ?? 0
      const rest = whole > 0 ? (1 - fine) / whole : 0
      return minors.reduce(
        (sum, element) =>
          sum + rest * (at[`share_${element}`] ?? 0) * (at[`price_${element}`] ?? (precious ? 0 : base)),
        fine * base,
      )
    },
  })
  return { price, fineShare, problems: [] }
}
