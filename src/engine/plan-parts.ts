import { type Pour, type Roots, readStated, type Shop, statedValue } from './documents/index.ts'
import { dryDensity, massOfDryMould, massOfWetMould, roomOfMould } from './flask/index.ts'
import { capacityOfMould, dropIntoMould, heatToFreeze } from './physics/freezing-formulas.ts'
import type { WeighedPiece } from './piece/index.ts'
import {
  addUp,
  celsius,
  formula,
  type Problem,
  type Quantity,
  root,
  say,
  type Verdict,
} from './quantity/index.ts'

/** Where each thing the pour names stands in the shop; a name the shop does not know falls to its first row, and says so. */
export interface Chosen {
  readonly alloy: number
  readonly investment: number
  readonly kiln: number
  readonly machine: number
  readonly crucible: number
  readonly torch: number
  readonly base: number
  readonly problems: readonly Problem[]
}

export const chooseFromShop = (shop: Shop, pour: Pour): Chosen => {
  const problems: Problem[] = []
  const find = (
    rows: readonly { readonly id: string }[],
    id: string | undefined,
    where: string,
    what: string,
  ): number => {
    if (id === undefined) return 0
    const index = rows.findIndex((row) => row.id === id)
    if (index >= 0) return index
    problems.push({
      kind: 'not-in-shop',
      where,
      what: say`This shop has no ${what} called ${id}; the plan uses ${rows[0]?.id ?? 'none'}`,
      remedy: say`choose one of the shop’s, or add it under Shop`,
    })
    return 0
  }
  return {
    alloy: find(shop.alloys, pour.alloy, '/pour/alloy', 'alloy'),
    investment: find(shop.investments, pour.investment.id, '/pour/investment/id', 'investment'),
    kiln: find(shop.kilns, pour.kiln, '/pour/kiln', 'kiln'),
    machine: find(shop.machines, pour.machine, '/pour/machine', 'casting machine'),
    crucible: find(shop.crucibles, pour.crucible, '/pour/crucible', 'crucible'),
    torch: find(shop.torches, pour.torch, '/pour/torch', 'torch'),
    base: find(shop.bases, pour.tree.base, '/pour/tree/base', 'sprue base'),
    problems,
  }
}

export type Work = 'heavy' | 'medium' | 'light'

/** How heavy the work is for the flask's heat: by the thinnest section, since the light end sets it. */
export const workOf = (pieces: readonly WeighedPiece[]): Work => {
  const thinnest = Math.min(...pieces.map((piece) => piece.thinnest?.value ?? Number.POSITIVE_INFINITY))
  if (!Number.isFinite(thinnest)) return 'medium'
  return thinnest < 1e-3 ? 'light' : thinnest < 2e-3 ? 'medium' : 'heavy'
}

/** The thinnest section of any piece, once each of them is known. */
export const thinnestOf = (pieces: readonly WeighedPiece[]): Quantity | undefined => {
  const known = pieces.flatMap(({ thinnest }) => thinnest ?? [])
  return known.length < pieces.length
    ? undefined
    : known.reduce<Quantity | undefined>(
        (least, one) => (least && least.value <= one.value ? least : one),
        undefined,
      )
}

export interface Conditions {
  /** the flask's heat aimed at, before the kiln's doubt */
  readonly aim: Quantity
  readonly castingTemperature: Quantity
  readonly ratio: Quantity
  readonly dryDensity: Quantity
  readonly particle: Quantity
  readonly water: Quantity
  readonly heat: Quantity
  readonly drop: Quantity
  readonly conductivity: Quantity
  readonly capacity: Quantity
  readonly metalDensity: Quantity
}

/**
 * The flask's heat aimed at: asked for this pour, or what casters use for such work. What they report is a
 * range of choices; once one is chosen it is a setting without a spread.
 */
const aimOf = (shop: Shop, roots: Roots, chosen: Chosen, work: Work): Quantity => {
  if (roots.has('/pour/flask_C')) return roots.at('/pour/flask_C', 'Flask at casting, aimed at')
  const stated = readStated((shop.alloys[chosen.alloy] as Shop['alloys'][number]).flask_C[work])
  return root({
    id: 'freeze.aim',
    title: `Flask at casting, aimed at for ${work} work`,
    unit: 'K',
    value: celsius(stated.value),
    kind: 'usual',
    source: `${stated.source ?? 'set for this shop'}; casters choose ${stated.low} to ${stated.high} °C`,
    path: `/shop/alloys/${chosen.alloy}/flask_C/${work}`,
    documentScale: 1,
    documentOffset: celsius(0),
  })
}

/** What is left of the kiln's error once its known offset is taken off. */
const kilnOff = (shop: Shop, chosen: Chosen): Quantity => {
  const stated = readStated((shop.kilns[chosen.kiln] as Shop['kilns'][number]).readsHigh_K)
  return root({
    id: 'freeze.kilnOff',
    title: 'Kiln, still off after its offset is taken off',
    unit: 'ΔK',
    value: 0,
    low: stated.low - stated.value,
    high: stated.high - stated.value,
    kind: 'usual',
    source: stated.source ?? 'how surely the kiln’s offset is known',
  })
}

const mouldAtCasting = formula({
  name: 'mouldAtCasting',
  title: 'Mould at casting',
  says: 'the heat aimed at, and how far the kiln may still be off it',
  unit: 'K',
  inputs: {
    aim: { unit: 'K', valid: [293, 1173] },
    kilnOff: { unit: 'ΔK', valid: [-60, 60] },
  },
  source: 'a sum',
  holdsWhen: 'the core has soaked as long as the burnout asks',
  value: ({ aim, kilnOff: off }) => aim + off,
})

/** What mould and metal bring to every freezing time, and the mould's own densities. */
export const readConditions = (
  shop: Shop,
  roots: Roots,
  pour: Pour,
  chosen: Chosen,
  work: Work,
): Conditions => {
  const alloy = `/shop/alloys/${chosen.alloy}`
  const investment = `/shop/investments/${chosen.investment}`
  const aim = aimOf(shop, roots, chosen, work)
  const castingTemperature = mouldAtCasting({ aim, kilnOff: kilnOff(shop, chosen) }, { id: 'freeze.mould' })
  const ratio = roots.has('/pour/investment/waterRatio')
    ? roots.at('/pour/investment/waterRatio', 'Water to powder')
    : roots.at(`${investment}/waterRatio/${pour.investment.work}`, 'Water to powder')
  const particle = roots.at(`${investment}/particleDensity_g_cm3`, 'Density of the powder’s grains')
  const water = root({
    id: 'mould.water',
    title: 'Density of water',
    unit: 'kg/m3',
    value: 998.2,
    low: 995,
    high: 999.5,
    kind: 'usual',
    source: 'handbook of chemistry and physics, at 20 °C, from memory',
  })
  const dry = dryDensity(
    {
      ratio,
      particle,
      hemihydrate: roots.at(`${investment}/hemihydrateShare`, 'Plaster in the powder'),
      water,
    },
    { id: 'mould.dryDensity' },
  )
  return {
    aim,
    castingTemperature,
    ratio,
    dryDensity: dry,
    particle,
    water,
    metalDensity: roots.at(`${alloy}/density_g_cm3`, 'Density of the metal'),
    heat: heatToFreeze(
      {
        heat: roots.at(`${alloy}/freezingHeat_kJ_kg`, 'Heat of the metal, from pouring to solid'),
        density: roots.at(`${alloy}/liquidDensity_g_cm3`, 'Density of the liquid metal'),
      },
      { id: 'freeze.heat' },
    ),
    drop: dropIntoMould(
      {
        liquidus: roots.at(`${alloy}/liquidus_C`, 'Liquidus of the metal'),
        freezesBy: roots.at(`${alloy}/freezesBy_C`, 'Last of the metal freezes at'),
        mould: castingTemperature,
      },
      { id: 'freeze.drop' },
    ),
    conductivity: roots.at(`${investment}/dryConductivity_W_mK`, 'Conductivity of the mould'),
    capacity: capacityOfMould(
      { density: dry, heat: roots.at(`${investment}/dryHeat_J_kgK`, 'Specific heat of the mould') },
      { id: 'freeze.capacity' },
    ),
  }
}

export interface Mould {
  /** all wax in the flask */
  readonly wax?: Quantity
  readonly room?: Quantity
  readonly dry?: Quantity
  readonly wet?: Quantity
  readonly verdicts: readonly Verdict[]
}

/** Share of the flask that investment must fill for anything after it to make sense. */
const LEAST_INVESTMENT = 0.2

/** The mould round the tree: its room, and its mass wet and burned out. */
export const weighMould = (
  conditions: Conditions,
  pieces: readonly WeighedPiece[],
  sprues: Quantity | undefined,
  flaskRoom: Quantity | undefined,
  cone: Quantity,
): Mould => {
  const volumes = pieces.flatMap((piece) =>
    piece.volume === undefined ? [] : Array.from({ length: piece.quantity }, () => piece.volume as Quantity),
  )
  const known =
    pieces.length > 0 && pieces.every((piece) => piece.volume !== undefined) && sprues !== undefined
  const wax = known
    ? addUp({ id: 'mould.wax', title: 'Room of all the wax', says: 'pieces and sprues, added up' }, [
        ...volumes,
        sprues,
      ])
    : undefined
  if (flaskRoom === undefined || wax === undefined) return { wax, verdicts: [] }
  const left = flaskRoom.value - wax.value - cone.value
  if (left < LEAST_INVESTMENT * flaskRoom.value)
    return {
      wax,
      verdicts: [
        {
          id: 'flask.room',
          part: 'flask',
          verdict: 'stop',
          title: say`The wax leaves too little room for investment`,
          reason: say`The wax takes ${wax} of the flask’s ${flaskRoom}, so a weight, a size or the flask is wrong.`,
          remedy: say`look at the weights and their units again`,
          where: '/pour/pieces',
        },
      ],
    }
  const room = roomOfMould({ flask: flaskRoom, wax, cone }, { id: 'mould.room' })
  return {
    wax,
    room,
    dry: massOfDryMould({ volume: room, density: conditions.dryDensity }, { id: 'mould.dry' }),
    wet: massOfWetMould(
      { volume: room, ratio: conditions.ratio, particle: conditions.particle, water: conditions.water },
      { id: 'mould.wet' },
    ),
    verdicts: [],
  }
}

/** The highest of a wax's stated melting points, so that the slowest to run out sets the first hold. */
export const highestMelt = (shop: Shop, index: number): number => {
  const melts = shop.waxes[index]?.melts_C
  return melts === undefined ? 0 : statedValue(melts)
}

/** From the flask's mouth to the farthest metal: the base's cone and the rise of the tree. */
export const gateDepth = (rise: Quantity, roots: Roots, base: number, id = 'spin.gateDepth'): Quantity =>
  addUp(
    {
      id,
      title: 'From the flask’s mouth to the farthest metal',
      says: 'the base’s cone and the rise of the tree',
    },
    [roots.at(`/shop/bases/${base}/depth_mm`, 'Depth of the base’s cone'), rise],
  )

/** The mass as cast of those pieces that have one, for limits that may be passed before every piece has. */
export const massKnown = (pieces: readonly WeighedPiece[]): Quantity | undefined => {
  const masses = pieces.flatMap((piece) => piece.castMassAll ?? [])
  return masses.length === 0
    ? undefined
    : addUp(
        {
          id: 'pieces.castMassKnown',
          title: 'Pieces of known weight, as cast',
          says: 'the pieces whose weight is known, as cast, added up',
        },
        masses,
      )
}
