import { type Body, type HeatMaterial, roundBody, withLayer } from '../../physics/conduct/index.ts'
import { HEAT_SHAPE, HOT_CONDUCTIVITY } from '../mould-heat.ts'
import { STEEL, STEEL_DENSITY } from '../steel.ts'

/** A flask out of the kiln, dry through, and what is poured into it. SI throughout, temperatures in kelvin. */
export interface HotFlask {
  /** inside [m] */
  readonly radius: number
  readonly height: number
  /** kg */
  readonly dryInvestment: number
  readonly steel: number
  readonly charge: number
  /** J/kgK and W/mK of the dry mould */
  readonly mouldHeat: number
  readonly conductivity: number
  /** J/kgK of the metal, solid or liquid; J/kg from the usual pouring heat to solid */
  readonly metalHeat: number
  readonly freezingHeat: number
  /** kg/m3 */
  readonly metalDensity: number
  readonly solidAt: number
  readonly liquidus: number
  readonly superheat: number
  readonly pour: number
  readonly mould: number
  readonly air: number
  /** what the air takes beside radiation [W/m2K], still and while the flask spins */
  readonly airTakes: number
  readonly spinTakes: number
  readonly emissivity: number
  /** what the two ends lose, over what they would both bare: one stands on a cradle or a brick */
  readonly ends: number
  /** where the metal stands, as a share of the radius */
  readonly metalAt: number
  /** s */
  readonly spin: number
  readonly kilnToPour: number
}

/** What is not known for sure; solid and liquidus are, beside these. */
export const UNSURE_COOLING = [
  'dryInvestment',
  'charge',
  'mouldHeat',
  'conductivity',
  'metalHeat',
  'freezingHeat',
  'pour',
  'mould',
  'air',
  'airTakes',
  'spinTakes',
  'emissivity',
  'ends',
  'metalAt',
  'spin',
  'kilnToPour',
] as const satisfies readonly (keyof HotFlask)[]

export type UnsureCooling = (typeof UNSURE_COOLING)[number]

/** Hot gas in the burnt-out cavity: next to no heat in it, and radiation across narrow gaps carries 0.3 W/mK. */
const HOLLOW: HeatMaterial = { density: 50, conductivity: 0.3, specificHeat: 1000 }

/**
 * Silver passes 330 W/mK, but pieces on a tree do not touch one another as the ring does. Between a tenth of
 * that and all of it the opening moves by a tenth at most (held in cooled.test.ts).
 */
const METAL_CONDUCTIVITY = 100

/** Share of the height that the tree takes. */
const TREE_HEIGHT = 0.7

/** K, the least range to freeze in, so that pure metal can be followed too. */
const LEAST_RANGE = 4

/** The mould burnt out: no water is left in it. */
const dryMould = ({ conductivity, mouldHeat }: HotFlask, density: number): HeatMaterial => ({
  density,
  specificHeat: HEAT_SHAPE.map(([at, share]) => [at, share * mouldHeat] as const),
  conductivity: [
    [HOT_CONDUCTIVITY.from, conductivity],
    [HOT_CONDUCTIVITY.to, HOT_CONDUCTIVITY.factor * conductivity],
  ],
})

/**
 * Heat beyond the specific heat is given up between liquidus and solid, evenly; what the alloy's row counts from its
 * pouring heat is thus given up whole by metal poured at that heat.
 */
const metalOf = (flask: HotFlask, conductivity: number): HeatMaterial => {
  const { metalDensity, metalHeat, freezingHeat, liquidus, superheat, solidAt } = flask
  const latent = Math.max(0, freezingHeat - metalHeat * (liquidus + superheat - solidAt))
  return {
    density: metalDensity,
    conductivity,
    specificHeat: metalHeat,
    reactions: [{ from: solidAt, to: Math.max(liquidus, solidAt + LEAST_RANGE), heat: latent }],
  }
}

export interface CutFlask {
  readonly hollow: Body
  readonly poured: Body
  /** m from the axis to the middle of the metal */
  readonly ring: number
  readonly outside: number
}

const even = (from: number, to: number, finest: number): number[] => {
  const count = Math.max(1, Math.round((to - from) / finest))
  return Array.from({ length: count }, (_, index) => from + ((to - from) * (index + 1)) / count)
}

/**
 * The flask's upper half, its ends alike. The metal is a ring of its own volume where the tree stands, for
 * what then matters is how far its heat has mould to spread into; being even throughout, its thickness, about
 * twice the modulus of such work, does not. A charge too big for its ring thickens it inward and outward.
 * @param cells along the radius
 */
export const cutFlask = (flask: HotFlask, cells: number, conductivity = METAL_CONDUCTIVITY): CutFlask => {
  const { radius, height, steel, charge, metalDensity, metalAt, dryInvestment } = flask
  const volume = charge / metalDensity
  const room = Math.PI * radius ** 2 * height
  const tree = TREE_HEIGHT * height
  const middle = metalAt * radius
  const half = Math.min(volume / (4 * Math.PI * middle * tree), middle * 0.9, (radius - middle) * 0.9)
  // a ring that had to stay thinner is drawn higher, up to the whole flask
  const ringHeight = Math.min(0.98 * height, volume / (4 * Math.PI * middle * half))
  const wall = Math.sqrt(radius ** 2 + steel / (Math.PI * height * STEEL_DENSITY)) - radius
  const finest = radius / cells
  const [inner, outer] = [middle - half, middle + half]
  const radial = withLayer(
    [0, ...even(0, inner, finest), outer, ...even(outer, radius, finest)],
    Math.max(wall, 2e-4),
    1,
  )
  const axial = [
    0,
    ...even(0, ringHeight / 2, 1.4 * finest),
    ...even(ringHeight / 2, height / 2, 1.4 * finest),
  ]
  const inRing = (fromAxis: number, at: number): boolean =>
    fromAxis > inner && fromAxis < outer && at < ringHeight / 2
  const mould = dryMould(flask, dryInvestment / (room - 4 * Math.PI * middle * half * ringHeight))
  const body = (cavity: HeatMaterial): Body =>
    roundBody(
      radial,
      axial,
      true,
      [
        { name: 'mould', material: mould },
        { name: 'wall', material: STEEL },
        { name: 'metal', material: cavity },
      ],
      (fromAxis, at) => (fromAxis > radius ? 1 : inRing(fromAxis, at) ? 2 : 0),
    )
  return {
    hollow: body(HOLLOW),
    poured: body(metalOf(flask, conductivity)),
    ring: middle,
    outside: radius,
  }
}
