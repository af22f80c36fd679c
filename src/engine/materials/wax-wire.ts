import { inches, millimetres } from '../quantity/index.ts'

/** A round wax wire as it is sold. */
export interface WaxWire {
  /** `8 ga` or `4 mm` */
  readonly name: string
  /** across [m] */
  readonly diameter: number
}

/** Across the wire of a B&S gauge number [m]: each step the 39th root of 92, from 0.005 in at 36 (ASTM B258). */
export const gaugeDiameter = (gauge: number): number => inches(0.005 * 92 ** ((36 - gauge) / 39))

const BY_GAUGE = Array.from(
  { length: 21 },
  (_, gauge): WaxWire => ({
    name: `${gauge} ga`,
    diameter: gaugeDiameter(gauge),
  }),
)

/** Common practice, from memory: what is sold by the millimetre. */
const BY_MILLIMETRE = [1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10].map(
  (across): WaxWire => ({
    name: `${across} mm`,
    diameter: millimetres(across),
  }),
)

/** Further off than this, as a share, no wire is said to be near. */
const NEAR = 0.12

/**
 * The round wax wire nearest a sprue: by gauge for those who read inches, else by the millimetre. Of two as
 * near the thicker, which feeds. Undefined where none is near.
 */
export const nearestWaxWire = (diameter: number, length: 'mm' | 'in'): WaxWire | undefined => {
  const off = (wire: WaxWire): number => Math.abs(wire.diameter - diameter)
  const nearest = (length === 'in' ? BY_GAUGE : BY_MILLIMETRE).reduce((best, wire) => {
    const closer = off(wire) - off(best)
    if (Math.abs(closer) < 1e-9) return wire.diameter > best.diameter ? wire : best
    return closer < 0 ? wire : best
  })
  return off(nearest) <= NEAR * diameter ? nearest : undefined
}
