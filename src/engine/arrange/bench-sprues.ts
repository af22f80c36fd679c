import { letInto } from './body.ts'
import type { Arrangement, ArrangeRequest } from './request.ts'
import { minus } from './vectors.ts'

/** Where a sprue goes, as a person at the bench sets it out. */
export interface BenchSprue {
  readonly number: number
  readonly piece: string
  /** round the base from the mark, against the clock seen from above, degrees */
  readonly angle: number
  /** up the main sprue from the top of the base's cone to where the centre lines meet, mm */
  readonly height: number
  /** the same to where its middle line meets the main sprue's surface, as a ruler finds it, mm */
  readonly meets: number
  /** its joint with the wax: above the plane of the base's rim, on which the flask stands, mm */
  readonly jointHigh: number
  /** the same from the middle of the main sprue, level, mm */
  readonly jointOut: number
  /** above level, degrees */
  readonly tilt: number
  /** along its middle, from the face of the wax to the main sprue's surface, mm */
  readonly length: number
  /** the same with what of its end is let into the wax, which the rod is cut to, mm */
  readonly cut: number
  readonly diameter: number
  readonly stemEnd: number
  readonly fillet: number
}

/** The sprues of an arrangement as angle, height, tilt, length and diameter. */
export const benchSprues = (request: ArrangeRequest, arrangement: Arrangement): BenchSprue[] =>
  arrangement.sprues.map((sprue, index) => {
    const [x, y, z] = minus(sprue.from_mm, sprue.axis_mm)
    return {
      number: index + 1,
      piece: `${sprue.piece}/${sprue.copy}`,
      angle: ((Math.atan2(y, x) * 180) / Math.PI + 360) % 360,
      height: sprue.axis_mm[2] - request.base.depth_mm,
      meets: sprue.to_mm[2] - request.base.depth_mm,
      jointHigh: sprue.from_mm[2],
      jointOut: Math.hypot(sprue.from_mm[0], sprue.from_mm[1]),
      tilt: (Math.atan2(z, Math.hypot(x, y)) * 180) / Math.PI,
      length: sprue.length_mm,
      cut: sprue.length_mm + letInto(sprue),
      diameter: sprue.diameter_mm,
      stemEnd: sprue.stemEnd_mm,
      fillet: sprue.fillet_mm,
    }
  })
