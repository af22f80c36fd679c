import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { type Attach, type Kind, ownClear, squareTo } from './kind.ts'
import { cross, dot, minus, move, plus, shifting, turn, turning, undoing, unit } from './vectors.ts'

/**
 * A way to hold a piece by its sprue: turned so that the sprue leaves it downward and toward the flask's
 * axis. Its place of joining is at the origin, x points away from the axis, z up the flask.
 */
export interface Pose {
  readonly attach: Attach
  readonly motion: Transform
  /** slopes of the sprue above level, radians, at which it leaves the piece clear */
  readonly slopes: readonly number[]
  readonly reaches: readonly Point[]
  readonly low: number
  readonly high: number
  /** how wide it is across the line to the axis */
  readonly width: number
  /** what speaks against it: broad level faces underneath that hold bubbles, thick places above */
  readonly against: number
}

const degrees = Math.PI / 180
const SLOPES = [45, 60, 30].map((slope) => slope * degrees)
/** Slopes for a sprue that leaves from the end of the main sprue. */
export const END_SLOPES = [90, 75, 60].map((slope) => slope * degrees)
/** How far the sprue may lean from square to the surface it joins. */
const MOST_LEAN = Math.cos(56 * degrees)
const MOST_POSES = 36

/** From the piece toward the axis, for a sprue of this slope. */
export const wayDown = (slope: number): Point => [-Math.cos(slope), 0, -Math.sin(slope)]

export const posesOf = (kind: Kind): Pose[] => {
  const poses: Pose[] = []
  for (const attach of kind.attaches) {
    const across = squareOff(kind.flat, attach.outward)
    const from = [attach.outward, across, cross(attach.outward, across)] as const
    for (const lean of [90, 60, 45, 20, 0]) {
      const way = wayDown(lean * degrees)
      const level: Point = [0, 1, 0]
      const third = cross(way, level)
      for (let roll = 0; roll < 360; roll += 45) {
        const [c, s] = [Math.cos(roll * degrees), Math.sin(roll * degrees)]
        const second = plus(plus([0, 0, 0], level, c), third, s)
        const motion = after(
          turning(from, [way, second, cross(way, second)]),
          shifting(minus([0, 0, 0], attach.at)),
        )
        const back = undoing(motion)
        const slopes = [...SLOPES, ...END_SLOPES].filter(
          (slope, index, all) =>
            all.indexOf(slope) === index &&
            dot(way, wayDown(slope)) >= MOST_LEAN &&
            ownClear(kind, attach.at, turn(back, wayDown(slope)), 30),
        )
        if (slopes.length === 0) continue
        const reaches = kind.reaches.map((point) => move(motion, point))
        const heights = reaches.map((point) => point[2])
        const sides = reaches.map((point) => point[1])
        const thick = kind.thickPlaces.map((place) => move(motion, place.at_mm)[2])
        const high = Math.max(...heights)
        const low = Math.min(...heights)
        const underneath = Math.max(0, Math.abs(turn(motion, kind.flat)[2]) - 0.9) * 3
        const thickAbove = ((thick[0] ?? 0) - low) / Math.max(high - low, 1)
        poses.push({
          attach,
          motion,
          slopes,
          reaches,
          low,
          high,
          width: Math.max(...sides) - Math.min(...sides),
          against:
            underneath + 0.2 * thickAbove + (attach.rim ? 0 : 0.3) - 0.2 * dot(way, wayDown(45 * degrees)),
        })
      }
    }
  }
  return variety(poses)
}

/** The flat direction freed of what runs along the other. */
const squareOff = (flat: Point, along: Point): Point => {
  const rest = plus(flat, along, -dot(flat, along))
  return dot(rest, rest) < 1e-4 ? squareTo(along) : unit(rest)
}

/** The best by several standards in turn, so that low, slim and sound poses are all among those tried. */
const variety = (poses: readonly Pose[]): Pose[] => {
  if (poses.length <= MOST_POSES) return [...poses]
  const standards: ((pose: Pose) => number)[] = [
    (pose) => pose.against,
    (pose) => pose.high - pose.low + 20 * pose.against,
    (pose) => pose.width + 20 * pose.against,
    (pose) => Math.max(...pose.reaches.map((point) => Math.hypot(point[0], point[1]))) + 5 * pose.against,
  ]
  const lists = standards.map((standard) =>
    poses
      .map((pose, index) => ({ pose, index, worth: standard(pose) }))
      .sort((a, b) => a.worth - b.worth || a.index - b.index),
  )
  const chosen = new Map<number, Pose>()
  for (let rank = 0; rank < poses.length && chosen.size < MOST_POSES; rank += 1)
    for (const list of lists) {
      const one = list[rank]
      if (one !== undefined && chosen.size < MOST_POSES) chosen.set(one.index, one.pose)
    }
  return [...chosen.values()]
}
