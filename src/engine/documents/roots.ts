import { celsius, type Quantity, type RootKind, root, type Unit } from '../quantity/index.ts'
import { readPath } from './path.ts'
import type { Pour } from './pour.ts'
import type { Shop } from './shop.ts'
import { readStated, type Stated } from './stated.ts'

export interface KeyUnit {
  readonly ending: string
  readonly unit: Unit
  readonly scale: number
  readonly offset?: number
}

/** What a key's ending means, longest first: the documents' units, turned to SI here and nowhere else. */
const KEY_UNITS: readonly KeyUnit[] = [
  { ending: '_g_cm3', unit: 'kg/m3', scale: 1000 },
  { ending: '_kJ_kg', unit: 'J/kg', scale: 1000 },
  { ending: '_J_kgK', unit: 'J/kgK', scale: 1 },
  { ending: '_W_m2K', unit: 'W/m2K', scale: 1 },
  { ending: '_W_mK', unit: 'W/mK', scale: 1 },
  { ending: '_C_h', unit: 'K/s', scale: 1 / 3600 },
  { ending: '_kWh', unit: 'money/J', scale: 1 / 3.6e6 },
  { ending: '_cm3', unit: 'm3', scale: 1e-6 },
  { ending: '_rpm', unit: 'rad/s', scale: Math.PI / 30 },
  { ending: '_hPa', unit: 'Pa', scale: 100 },
  { ending: '_min', unit: 's', scale: 60 },
  { ending: '_ppt', unit: 'ppt', scale: 1 },
  { ending: '_mm', unit: 'm', scale: 1e-3 },
  { ending: '_kW', unit: 'W', scale: 1000 },
  { ending: '_kg', unit: 'kg', scale: 1 },
  { ending: '_g', unit: 'kg', scale: 1e-3 },
  { ending: '_C', unit: 'K', scale: 1, offset: celsius(0) },
  { ending: '_K', unit: 'ΔK', scale: 1 },
  { ending: '_h', unit: 's', scale: 3600 },
  { ending: '_m', unit: 'm', scale: 1 },
  { ending: '_s', unit: 's', scale: 1 },
]

const PLAIN: KeyUnit = { ending: '', unit: '1', scale: 1 }

/** The unit that a path's last key names; a plain number when it names none. */
export const keyUnitOf = (path: string): KeyUnit =>
  KEY_UNITS.find((candidate) => path.endsWith(candidate.ending)) ?? PLAIN

export interface RootOptions {
  readonly kind?: RootKind
  /** standard uncertainty in SI when the document gives a plain number, such as a scale's step over √12 */
  readonly u?: number
  readonly plainMass?: boolean
  /** for keys whose ending does not say it, such as a price by the gram */
  readonly unit?: Unit
  readonly scale?: number
  /** added after `scale`, for a temperature whose key does not end in its unit: `celsius(0)` */
  readonly offset?: number
  readonly source?: string
}

/** The numbers a plan starts from, each read once from its place in the documents. */
export interface Roots {
  /** The root at `/shop/...` or `/pour/...`. @throws when nothing numeric stands there */
  at(path: string, title: string, options?: RootOptions): Quantity
  /** whether a number stands at this path */
  has(path: string): boolean
}

const ordinaryKind = (path: string, source: string | undefined, measured: boolean): RootKind => {
  if (measured) return 'weighed'
  if (path.startsWith('/pour')) return 'asked'
  return source === undefined ? 'asked' : 'usual'
}

export const openRoots = (shop: Shop, pour: Pour): Roots => {
  const documents = { shop, pour }
  const known = new Map<string, Quantity>()
  const read = new Map<string, Stated | undefined>()
  const stands = (path: string): Stated | undefined => {
    if (read.has(path)) return read.get(path)
    const found = readPath(documents, path)
    const stated =
      typeof found === 'number' || (typeof found === 'object' && found !== null && 'value' in found)
        ? (found as Stated)
        : undefined
    read.set(path, stated)
    return stated
  }
  return {
    has: (path) => stands(path) !== undefined,
    at: (path, title, options = {}) => {
      const before = known.get(path)
      if (before !== undefined) return before
      const found = stands(path)
      if (found === undefined) throw new Error(`no number stands at ${path}`)
      const key = keyUnitOf(path)
      const unit = options.unit ?? key.unit
      const scale = options.scale ?? key.scale
      const offset = options.offset ?? (options.unit === undefined ? (key.offset ?? 0) : 0)
      const stated = readStated(found)
      const exact = stated.low === stated.high
      const quantity = root({
        id: path,
        title,
        unit,
        value: stated.value * scale + offset,
        ...(exact && options.u !== undefined
          ? { u: options.u }
          : { low: stated.low * scale + offset, high: stated.high * scale + offset }),
        kind: options.kind ?? ordinaryKind(path, stated.source, stated.measured),
        source:
          stated.source ??
          options.source ??
          (path.startsWith('/pour') ? 'asked for this pour' : 'set for this shop'),
        path,
        documentScale: scale,
        documentOffset: offset,
        plainMass: options.plainMass,
      })
      known.set(path, quantity)
      return quantity
    },
  }
}
