import type { ArrangeRequest, RackFlask } from './request.ts'

/** Rounding never makes a flask that is just taken one that is not, mm. */
const HAIR = 1e-3

/** A flask that is no larger than this is no larger one. */
const LARGER = 1.005

/** How far a flask may be larger than the rack's largest and still be taken by the machine, as factors. */
export const growthWithin = ({ largest: most }: ArrangeRequest, rack: RackFlask) => ({
  wide: Math.max(1, (most?.diameter_mm ?? Infinity) / rack.diameter_mm),
  high: Math.max(1, (most?.height_mm ?? Infinity) / rack.height_mm),
})

/** Whether the casting machine takes any flask larger than this one. */
export const canGrow = (request: ArrangeRequest, flask: RackFlask): boolean => {
  const { wide, high } = growthWithin(request, flask)
  return wide >= LARGER || high >= LARGER
}

/** Whether the casting machine takes this flask. */
export const isTaken = ({ largest }: ArrangeRequest, { diameter_mm, height_mm }: RackFlask): boolean =>
  largest === undefined ||
  (diameter_mm <= largest.diameter_mm + HAIR && height_mm <= largest.height_mm + HAIR)
