import {
  openRoots,
  type Piece,
  type Pour,
  pourSchema,
  type Roots,
  type Shop,
} from '../src/engine/documents/index.ts'
import { usualShop } from '../src/engine/materials/index.ts'
import { type Quantity, root, type Unit } from '../src/engine/quantity/index.ts'

/** A number handed to a room as it stands in a published row. */
export const stated = (id: string, unit: Unit, value: number): Quantity =>
  root({ id, title: id, unit, value, kind: 'usual', source: 'the published row' })

export interface Bench {
  readonly shop: Shop
  readonly pour: Pour
  readonly roots: Roots
}

export interface BenchChange {
  readonly alloy?: Partial<Shop['alloys'][number]>
  readonly machine?: Partial<Shop['machines'][number]>
  readonly prices?: Partial<Shop['prices']>
  readonly finishing?: Partial<Shop['finishing']>
  readonly pieces?: readonly Piece[]
}

/** The usual shop with a pour of sterling, some of it set to a published row. */
export const bench = (change: BenchChange = {}): Bench => {
  const usual = usualShop()
  const shop: Shop = {
    ...usual,
    alloys: usual.alloys.map((alloy, index) => (index === 0 ? { ...alloy, ...change.alloy } : alloy)),
    machines: usual.machines.map((machine) => ({ ...machine, ...change.machine })),
    prices: { ...usual.prices, ...change.prices },
    finishing: { ...usual.finishing, ...change.finishing },
  }
  const pour = pourSchema.parse({
    kind: 'pour',
    version: 1,
    name: 'A published row',
    alloy: 'sterling',
    pieces: change.pieces ?? [],
    tree: {},
    investment: { id: 'gypsum-bonded', water_C: 21 },
    kiln: 'kiln',
    machine: 'spring-arm',
    crucible: 'crucible',
    torch: 'torch',
    castAt: { weekday: 'saturday', time: '15:30' },
    charge: {},
    spin: {},
    price: { labour_h: { carving: 0, casting: 0, finishing: 0 } },
  })
  return { shop, pour, roots: openRoots(shop, pour) }
}
