import {
  type Body,
  gradedEdges,
  type HeatMaterial,
  mixture,
  roundBody,
  type Table,
  withLayer,
} from '../../physics/conduct/index.ts'
import { DEHYDRATION_HEAT, setMould } from '../../physics/gypsum.ts'
import { slurryYield } from '../../physics/slurry.ts'
import { celsius } from '../../quantity/index.ts'
import { HEAT_SHAPE, HOT_CONDUCTIVITY } from '../mould-heat.ts'
import { STEEL } from '../steel.ts'

/** A wet flask as the solver is told of it. SI throughout, temperatures in kelvin. */
export interface WetFlask {
  /** inside, and of the steel [m] */
  readonly radius: number
  readonly height: number
  readonly wall: number
  /** of the room inside that wax stands in, 0 to 0.5 */
  readonly waxShare: number
  /** of the mould dry, 200 to 600 °C, and set but wet [W/mK] */
  readonly conductivity: number
  readonly wetConductivity: number
  /** of the dry mould, mean from the room to the top [J/kgK] */
  readonly heat: number
  readonly hemihydrate: number
  readonly ratio: number
  readonly particle: number
  /** of the water's heat, what leaves with steam or comes back in colder places: 1 as reckoned */
  readonly waterDoubt: number
  readonly boiling: number
}

const WATER = { density: 998.2, heat: 4186 } as const

/** J/kg; steam tables give 2283 kJ/kg at 90 °C and 2257 at 100 °C. From memory. */
const vaporisation = (boiling: number): number => 2.257e6 - 2.6e3 * (boiling - celsius(100))

/** K either side of boiling over which free water leaves: narrow, but wide enough for few cells. */
const BOILING_RANGE = 4
export const DRY_ABOVE_BOILING = BOILING_RANGE + 1

/** What stands in the cavity: wax, then hot gas that radiates across narrow gaps about as wax conducts. */
const WAX: HeatMaterial = {
  density: 950,
  conductivity: 0.22,
  specificHeat: [
    [celsius(20), 2500],
    [celsius(120), 2500],
    [celsius(250), 100],
  ],
  // fusion of a paraffin, about 200 kJ/kg; the wax that then runs out takes no more
  reactions: [{ from: celsius(50), to: celsius(80), heat: 200e3, reversible: false }],
}

/**
 * The set mould as one stuff by the mass that stays: its water counts as reactions of that mass. The hydrate
 * gives three quarters of its water off at 110 to 160 °C and the rest by 230 °C (dry heating, from memory).
 */
export const wetMould = (flask: WetFlask): HeatMaterial => {
  const { hemihydrate, ratio, particle, boiling, conductivity, heat } = flask
  const set = setMould(hemihydrate, ratio)
  const density = set.burntMass / slurryYield(ratio, { particle, water: WATER.density })
  const free = Math.max(0, set.freeWater) / set.burntMass
  const gypsum = set.gypsum / set.burntMass
  const wetHeat = free * WATER.heat
  const [start, end] = [boiling - BOILING_RANGE, boiling + BOILING_RANGE]
  const shape = (kelvins: number): number => {
    const [first, second] = kelvins < celsius(100) ? [0, 1] : [1, 2]
    const [a, from] = HEAT_SHAPE[first] ?? HEAT_SHAPE[0]
    const [b, to] = HEAT_SHAPE[second] ?? HEAT_SHAPE[1]
    return heat * (from + ((to - from) * (kelvins - a)) / (b - a))
  }
  const specificHeat: Table = [
    [celsius(20), heat * HEAT_SHAPE[0][1] + wetHeat],
    [start, shape(start) + wetHeat],
    [end, shape(end)],
    [HEAT_SHAPE[2][0], heat * HEAT_SHAPE[2][1]],
    [HEAT_SHAPE[3][0], heat * HEAT_SHAPE[3][1]],
  ]
  const { gypsumToHemihydrate, gypsumToAnhydrite } = DEHYDRATION_HEAT
  const boilingHeat = flask.waterDoubt * free * vaporisation(boiling)
  return {
    density,
    specificHeat,
    conductivity: [
      [celsius(20), flask.wetConductivity],
      [start, flask.wetConductivity],
      [end + 20, conductivity],
      [HOT_CONDUCTIVITY.from, conductivity],
      [HOT_CONDUCTIVITY.to, HOT_CONDUCTIVITY.factor * conductivity],
    ],
    reactions: [
      { from: start, to: end, heat: boilingHeat, reversible: false },
      {
        from: celsius(110),
        to: celsius(160),
        heat: flask.waterDoubt * gypsum * gypsumToHemihydrate,
        reversible: false,
      },
      {
        from: celsius(160),
        to: celsius(230),
        heat: flask.waterDoubt * gypsum * (gypsumToAnhydrite - gypsumToHemihydrate),
        reversible: false,
      },
    ],
  }
}

/** Cells along the radius. Six put the core's times within a hundredth of what fine cells give. */
const CELLS = 6

/** The flask upright, its upper half: mould with the wax strewn in it, the steel wall round it, both ends bare. */
export const flaskBody = (flask: WetFlask, cells = CELLS): Body => {
  const { radius, height, wall, waxShare } = flask
  const edges = (length: number): number[] => gradedEdges(length, radius / cells, 1)
  const mould = wetMould(flask)
  return roundBody(
    withLayer(edges(radius), wall, 1),
    edges(height / 2),
    true,
    [
      { name: 'mould', material: waxShare > 0 ? mixture(mould, WAX, waxShare) : mould },
      { name: 'wall', material: STEEL },
    ],
    (fromAxis) => (fromAxis > radius ? 1 : 0),
  )
}
