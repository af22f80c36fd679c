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

export interface LotFacts {
  readonly name: string
  readonly kind: Lot['kind']
  readonly mass_g: number | undefined
  readonly composition: Lot['composition']
  /** left out, the worth follows the metal at the shop's prices */
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
    ...(facts.price_g !== undefined && { price_g: facts.price_g }),
    owner: 'shop',
    ...(facts.generation !== undefined && { generation: facts.generation }),
  }
}

/** In 1000, the parts of a lot as typed or as they stand. */
export type Parts = Partial<Record<Element, number>>

const NOBLE: readonly Element[] = ['Ag', 'Au']

/**
 * Parts that were likely typed in 100: silver or gold in a lot that is mostly unsaid, at most 100 in 1000 of it.
 * The same parts in 1000, or undefined when they read well as they are.
 */
export const likelyParts = (parts: Parts): Parts | undefined => {
  const entries = Object.entries(parts) as [Element, number][]
  const total = entries.reduce((sum, [, part]) => sum + part, 0)
  const slipped = entries.filter(([element, part]) => NOBLE.includes(element) && part >= 10 && part <= 100)
  if (slipped.length === 0 || total >= 500) return undefined
  const tenfold = (part: number): number => Number((part * 10).toPrecision(10))
  const all = total <= 100.05
  const read = entries.map(([element, part]): [Element, number] => [
    element,
    all || slipped.some(([one]) => one === element) ? tenfold(part) : part,
  ])
  return read.reduce((sum, [, part]) => sum + part, 0) > 1000.5 ? undefined : Object.fromEntries(read)
}
