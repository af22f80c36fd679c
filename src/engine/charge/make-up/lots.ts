import { stepsCovering, stepsWithin, toSteps } from './round-to-scale.ts'

/** Chemical symbol: 'Ag', 'Cu', 'Pb'. */
export type ElementSymbol = string

/** Mass fraction 0 to 1: the value and the 5th and 95th percentiles of what is known of it. */
export type Content = { value: number; low: number; high: number }

export type LotKind = 'fine' | 'alloying' | 'casting grain' | 'master alloy' | 'returns' | 'scrap' | 'coin'

export type Lot = {
  id: string
  name: string
  kind: LotKind
  /** Available [kg]. With whole pieces, the pieces' own masses are what counts. */
  mass_kg: number
  /** Elements not named are taken as absent; a scrap lot used on such trust is noted in the answer. */
  composition: Record<ElementSymbol, Content>
  /** Any currency, the same for all lots. */
  price_per_kg: number
  /** Masses of pieces used whole or not at all, as this shop's scale reads them [kg]. */
  wholePieces_kg?: number[]
  /** If the lot is used at all, at least this much [kg]. */
  leastUse_kg?: number
  /** The lot must go in with at least this much [kg] (a client's own metal, say). */
  mustUse_kg?: number
  /** Melts since new metal. */
  generation?: number
  mayUse: boolean
  /** 'shop', or the client whose metal it is. */
  owner: string
}

/** What the lowest fineness is measured by when it is held against the least allowed. */
export type FinenessGuard = 'fifth percentile' | 'worst case' | 'expected'

export type ChargeAlloy = {
  id: string
  name: string
  principal: 'Ag' | 'Au' | 'Cu'
  /** Limits on the expected composition, mass fractions. */
  limits: Record<ElementSymbol, { low: number; high: number }>
  /** Expected fineness at least this (the aim). */
  finenessTarget_ppt?: number
  /** Guarded fineness at least this (the legal line); see `guard`. */
  finenessLeast_ppt?: number
  /** Expected fineness at most this. */
  finenessMost_ppt?: number
  /** Most allowed mass fraction, held against the sum of every lot's high end. */
  forbidden?: Record<ElementSymbol, number>
}

/** Plain JSON throughout, so that a hash of it can key the finished answer. */
export type ChargeRequest = {
  /** Charge to weigh [kg], a whole multiple of the scale step. */
  target_kg: number
  scaleStep_kg: number
  alloy: ChargeAlloy
  lots: Lot[]
  /** Share of the charge that may be metal melted before; 0 to 1, one half if absent (common practice). */
  returnedMost?: number
  /** Between makings of nearly equal cost, use the returns that have been melted most often. */
  preferOldReturns?: boolean
  guard?: FinenessGuard
  /** At most this many different lots. */
  mostLots?: number
  /** Clients whose own metal may go into this charge; the shop's may always. */
  clientMetal?: string[]
  /** What could be bought if the stock does not do; its masses are ignored. Fine and alloying metal if absent. */
  buyable?: Lot[]
}

/** New metal is fine, alloying, grain and master alloy; all else has been melted or worked before. */
export const isReturned = (kind: LotKind): boolean =>
  kind === 'returns' || kind === 'scrap' || kind === 'coin'

const absent: Content = { value: 0, low: 0, high: 0 }

export const contentOf = (lot: Lot, element: ElementSymbol): Content => lot.composition[element] ?? absent

export const REST_UNKNOWN = 'its rest is not known'

/** More than this of a lot unsaid is more than an assay's rounding and a trace of this or that (common practice). */
const UNSAID_MOST = 0.01

/** Metal melted or worked before whose parts do not add up to a whole: the rest may be cadmium or lead. */
export const isRestUnknown = (kind: LotKind, shares: readonly number[]): boolean =>
  isReturned(kind) && 1 - shares.reduce((sum, share) => sum + share, 0) > UNSAID_MOST + 1e-9

export type SetAside = {
  lot: string
  name: string
  why: 'not to be used' | "a client's metal" | 'empty' | typeof REST_UNKNOWN
}

/** A lot in whole scale steps, ready to be counted. */
export type CountedLot = {
  lot: Lot
  stock: number
  /** Readings of whole pieces; absent where any amount may be weighed off. */
  pieces?: number[]
  least: number
  must: number
}

const countLot = (lot: Lot, step_kg: number): CountedLot => {
  const pieces = lot.wholePieces_kg?.map((mass) => toSteps(mass, step_kg))
  const stock = pieces ? pieces.reduce((sum, piece) => sum + piece, 0) : stepsWithin(lot.mass_kg, step_kg)
  return {
    lot,
    stock,
    pieces,
    least: stepsCovering(lot.leastUse_kg ?? 0, step_kg),
    must: stepsCovering(lot.mustUse_kg ?? 0, step_kg),
  }
}

/** The lots this request may draw on, by id so that the order of the list cannot change the answer. */
export const countLots = (request: ChargeRequest): { lots: CountedLot[]; setAside: SetAside[] } => {
  const lots: CountedLot[] = []
  const setAside: SetAside[] = []
  const owners = new Set(['shop', ...(request.clientMetal ?? [])])
  for (const lot of [...request.lots].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0))) {
    const counted = countLot(lot, request.scaleStep_kg)
    const why = !lot.mayUse
      ? 'not to be used'
      : !owners.has(lot.owner)
        ? "a client's metal"
        : counted.stock <= 0
          ? 'empty'
          : // what must go in is the caster's own word for it
            counted.must === 0 &&
              isRestUnknown(
                lot.kind,
                Object.values(lot.composition).map((content) => content.value),
              )
            ? REST_UNKNOWN
            : undefined
    if (why) setAside.push({ lot: lot.id, name: lot.name, why })
    else lots.push(counted)
  }
  return { lots, setAside }
}

const elementNames: Record<string, string> = {
  Ag: 'silver',
  Au: 'gold',
  Cu: 'copper',
  Zn: 'zinc',
  Sn: 'tin',
  Si: 'silicon',
  Ni: 'nickel',
  Pd: 'palladium',
  Pt: 'platinum',
  Ge: 'germanium',
  Mn: 'manganese',
  Al: 'aluminium',
  Pb: 'lead',
  Cd: 'cadmium',
  Fe: 'iron',
  Sb: 'antimony',
  Bi: 'bismuth',
}

export const nameElement = (element: ElementSymbol): string => elementNames[element] ?? element

// Trade grades: fine silver 999, fine gold 999.9, cathode copper 999 (common practice).
const finePurity = { Ag: 0.999, Au: 0.9999, Cu: 0.999 }

const exactly = (value: number): Content => ({ value, low: value, high: value })

/** Fine metal of the alloy's principal element, as a lot without limit of mass. */
export const fineOf = (alloy: ChargeAlloy): Lot => ({
  id: `fine-${alloy.principal}`,
  name: `fine ${nameElement(alloy.principal)} ${finePurity[alloy.principal] * 1000}`,
  kind: 'fine',
  mass_kg: 0,
  composition: { [alloy.principal]: exactly(finePurity[alloy.principal]) },
  price_per_kg: 0,
  mayUse: true,
  owner: 'shop',
})

/**
 * The metal that brings fine down to the alloy: its other elements in the proportion of the middle of
 * their limits. For sterling that is copper alone. Absent where the alloy names no other element.
 */
export const alloyingOf = (alloy: ChargeAlloy): Lot | undefined => {
  const others = Object.entries(alloy.limits)
    .filter(([element, limit]) => element !== alloy.principal && limit.high > 0)
    .filter(([element]) => !(element in (alloy.forbidden ?? {})))
    .map(([element, limit]) => [element, (limit.low + limit.high) / 2] as const)
  const all = others.reduce((sum, [, share]) => sum + share, 0)
  const first = others[0]
  if (!first || !(all > 0)) return undefined
  return {
    id: `alloying-${others.map(([element]) => element).join('-')}`,
    name: others.length === 1 ? nameElement(first[0]) : `alloying metal for ${alloy.name}`,
    kind: others.length === 1 ? 'alloying' : 'master alloy',
    mass_kg: 0,
    composition: Object.fromEntries(others.map(([element, share]) => [element, exactly(share / all)])),
    price_per_kg: 0,
    mayUse: true,
    owner: 'shop',
  }
}

/** What may be bought: the request's list, or fine and alloying metal where it gives none. */
export const buyableFor = (request: ChargeRequest): Lot[] => {
  if (request.buyable) return request.buyable
  const alloying = alloyingOf(request.alloy)
  return alloying ? [fineOf(request.alloy), alloying] : [fineOf(request.alloy)]
}
