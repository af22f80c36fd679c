import { inches, millimetres } from '../quantity/index.ts'

/** A round wax wire as it is sold. */
export interface WaxWire {
  /** `8 ga`, or `12 mm` for those too thick for a gauge number */
  readonly name: string
  /** across [m] */
  readonly diameter: number
}

/** Across the wire of a B&S gauge number [m]: each step the 39th root of 92, from 0.005 in at 36 (ASTM B258). */
export const gaugeDiameter = (gauge: number): number => inches(0.005 * 92 ** ((36 - gauge) / 39))

const BY_GAUGE = Array.from(
  { length: 21 },
  (_, gauge): WaxWire => ({ name: `${20 - gauge} ga`, diameter: gaugeDiameter(20 - gauge) }),
)

/** Common practice, from memory: rods thicker than the thickest gauge are sold by the millimetre. */
const RODS = [9, 10, 12, 15, 20, 25, 30, 40].map(
  (across): WaxWire => ({ name: `${across} mm`, diameter: millimetres(across) }),
)

/**
 * The wax wires a sprue is chosen from, thinnest first: one list whatever the units on the page, so that a
 * plan comes to the same sprues in inches as in millimetres. A wire bought by the millimetre is entered.
 */
export const WAX_WIRES: readonly WaxWire[] = [...BY_GAUGE, ...RODS]

/** Two sizes no further apart than this share are one wire. */
const SAME = 2e-3

/** The wire that is this size: never one that is thinner, nor one that is merely near. */
export const waxWireOf = (diameter: number): WaxWire | undefined =>
  WAX_WIRES.find((wire) => wire.diameter >= diameter * (1 - 1e-6) && wire.diameter <= diameter * (1 + SAME))

/** The next wire that is no thinner than a size, for one that is none; undefined past the thickest. */
export const nextWaxWire = (diameter: number): WaxWire | undefined =>
  WAX_WIRES.find((wire) => wire.diameter >= diameter * (1 - 1e-6))
