import type { ArrangeRequest, RackFlask } from './request.ts'

/** The room that a flask leaves by the rules. */
export interface Room {
  readonly flask: RackFlask
  /** from the axis to where the clearance to the wall begins */
  readonly reach: number
  readonly top: number
  readonly neededTop: number
  /** lowest any wax may hang, and the top of the base's cone */
  readonly bottom: number
  readonly cone: number
}

export const roomIn = (request: ArrangeRequest, flask: RackFlask): Room => {
  const { rules, base } = request
  const neededTop = Math.max(rules.topLeast_mm, rules.topPerDiameter * flask.diameter_mm)
  return {
    flask,
    reach: flask.diameter_mm / 2 - rules.wall_mm,
    top: flask.height_mm - neededTop,
    neededTop,
    bottom: base.depth_mm + rules.gap_mm,
    cone: base.depth_mm,
  }
}

/** What every clearance is held by beyond its need, so that rounding never eats it, mm. */
export const SAFE = 1e-6
