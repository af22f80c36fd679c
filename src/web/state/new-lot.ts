import type { Element, Lot, Shop } from '../../engine/documents/shop.ts'
import { readStated } from '../../engine/documents/stated.ts'

export const ELEMENTS: readonly (readonly [Element, string])[] = [
  ['Ag', 'Silver'],
  ['Cu', 'Copper'],
  ['Au', 'Gold'],
  ['Zn', 'Zinc'],
  ['Sn', 'Tin'],
  ['Si', 'Silicon'],
  ['Ge', 'Germanium'],
  ['Pd', 'Palladium'],
  ['Ni', 'Nickel'],
  ['Mn', 'Manganese'],
  ['Pb', 'Lead'],
  ['Cd', 'Cadmium'],
  ['Al', 'Aluminium'],
]

export const KINDS: readonly (readonly [Lot['kind'], string])[] = [
  ['fine', 'fine metal'],
  ['alloying', 'metal to alloy with'],
  ['casting grain', 'casting grain'],
  ['master alloy', 'master alloy'],
  ['returns', 'returns: buttons and sprues'],
  ['scrap', 'scrap'],
  ['coin', 'coin'],
]

/** What a label on the bag says. How much there is of it, the caster weighs. */
export type Labelled = Pick<Lot, 'name' | 'kind' | 'composition' | 'generation'>

export const LABELLED: readonly (readonly [string, Labelled])[] = [
  [
    'Fine silver',
    {
      name: 'Fine silver grain',
      kind: 'fine',
      composition: { Ag: { value: 0.9995, low: 0.999, high: 0.9999, source: 'sold as 999' } },
    },
  ],
  [
    'Copper',
    {
      name: 'Copper shot',
      kind: 'alloying',
      composition: { Cu: { value: 0.9995, low: 0.999, high: 0.9999, source: 'electrolytic copper' } },
    },
  ],
  [
    'Sterling grain',
    {
      name: 'Sterling casting grain',
      kind: 'casting grain',
      composition: {
        Ag: { value: 0.926, low: 0.925, high: 0.928, source: 'sold as 925' },
        Cu: { value: 0.074, low: 0.072, high: 0.075, source: 'the rest' },
      },
    },
  ],
  [
    'A sterling button',
    {
      name: 'Button of an earlier pour',
      kind: 'returns',
      composition: {
        Ag: { value: 0.925, low: 0.923, high: 0.928, source: 'its charge' },
        Cu: { value: 0.075, low: 0.072, high: 0.077, source: 'its charge' },
      },
      generation: 1,
    },
  ],
]

const freshId = (lots: readonly Lot[]): string => {
  let count = lots.length + 1
  while (lots.some(({ id }) => id === `lot-${count}`)) count += 1
  return `lot-${count}`
}

/** What the metal in a lot is worth by the gram at the shop's own prices; what has no price counts nothing. */
export const worthByPrices = (shop: Shop, composition: Lot['composition']): number =>
  ELEMENTS.reduce((sum, [element]) => {
    const part = composition[element]
    return part === undefined ? sum : sum + readStated(part).value * (shop.prices.metal_g[element] ?? 0)
  }, 0)

export interface LotFacts {
  readonly name: string
  readonly kind: Lot['kind']
  readonly mass_g: number | undefined
  readonly composition: Lot['composition']
  /** as the prices of the shop say when it is left out */
  readonly price_g: number | undefined
  readonly generation?: number | undefined
}

/** A lot is one from its name, its weight and what it is made of; until then, what is still wanted. */
export const readLot = (shop: Shop, facts: LotFacts): Lot | readonly string[] => {
  const { mass_g, composition } = facts
  const name = facts.name.trim()
  const wanted: string[] = []
  if (name === '') wanted.push('What is it called?')
  if (mass_g === undefined || !(mass_g > 0)) wanted.push('What does it weigh?')
  const parts = Object.values(composition).map((part) => readStated(part).value)
  const total = parts.reduce((sum, part) => sum + part, 0)
  if (!(total > 0)) wanted.push('What is it made of? One part at least, in 1000.')
  else if (parts.some((part) => part < 0) || total > 1.0005)
    wanted.push(
      `Its parts add up to ${Number((total * 1000).toFixed(1))} in 1000, and a thousand is the whole.`,
    )
  if (wanted.length > 0 || mass_g === undefined) return wanted
  return {
    id: freshId(shop.lots),
    name,
    kind: facts.kind,
    mass_g,
    composition,
    price_g: facts.price_g ?? Number(worthByPrices(shop, composition).toPrecision(6)),
    owner: 'shop',
    ...(facts.generation !== undefined && { generation: facts.generation }),
  }
}
