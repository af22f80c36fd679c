import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { LEVEL } from './bubbles.ts'
import { type Attach, type Kind, LEAST_SQUARE, ownClear } from './kind.ts'
import {
  cross,
  dot,
  minus,
  move,
  plus,
  shifting,
  sizeOf,
  squareTo,
  turn,
  turning,
  undoing,
  unit,
} from './vectors.ts'

/**
 * A way to hold a piece by its sprues, turned so that they leave it downward and toward the flask's axis: x
 * points away from the axis, z up the flask. The origin is where its one sprue joins, or midway between two.
 */
export interface Pose {
  /** undefined where two sprues straddle the origin: they are then sought wherever the piece comes to stand */
  readonly attach?: Attach
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
const SLOPES = [45, 60, 30, 52.5, 37.5].map((slope) => slope * degrees)
/** Slopes for a sprue that leaves from the end of the main sprue. */
export const END_SLOPES = [90, 75, 60].map((slope) => slope * degrees)
const MOST_POSES = 72
const MOST_SINGLE = 5

/** From the piece toward the axis, for a sprue of this slope. */
export const wayDown = (slope: number): Point => [-Math.cos(slope), 0, -Math.sin(slope)]

/** Poses for a piece with this many sprues, those of most promise first. */
export const posesOf = (kind: Kind, count: number): Pose[] =>
  count > 1 ? [...variety(pairedPoses(kind)), ...variety(singlePoses(kind))] : variety(singlePoses(kind))

const singlePoses = (kind: Kind): Pose[] => {
  const poses: Pose[] = []
  for (const attach of bestOf(kind)) {
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
            dot(way, wayDown(slope)) >= LEAST_SQUARE &&
            ownClear(kind, attach.at, turn(back, wayDown(slope)), 30),
        )
        if (slopes.length === 0) continue
        const against = (attach.rim ? 0 : BROAD) - 0.2 * dot(way, wayDown(45 * degrees))
        poses.push(poseOf(kind, motion, slopes, against, attach))
      }
    }
  }
  return poses
}

/** The few best places of each thick place: more would only make the search long. */
const bestOf = (kind: Kind): Attach[] =>
  kind.thickPlaces.flatMap((_, place) =>
    kind.attaches.filter((attach) => attach.place === place).slice(0, MOST_SINGLE),
  )

/** What speaks against a pose with a sprue on a broad face, which shows. */
const BROAD = 0.6
/** What speaks against a pose whose whole surface held bubbles. */
const UNDERNEATH = 1.2

/** Share of the surface under which bubbles stay, by the places probed, which lie evenly over it. */
export const sharedUnderneath = ({ probed }: Kind, motion: Transform): number => {
  const [, , c = 0, , , f = 0, , , i = 1] = motion
  const caught = probed.filter(({ outward: [x, y, z] }) => c * x + f * y + i * z < -LEVEL)
  return caught.length / Math.max(1, probed.length)
}

const poseOf = (
  kind: Kind,
  motion: Transform,
  slopes: readonly number[],
  against: number,
  attach?: Attach,
): Pose => {
  const reaches = kind.reaches.map((point) => move(motion, point))
  const heights = reaches.map((point) => point[2])
  const sides = reaches.map((point) => point[1])
  const thick = kind.thickPlaces.map((place) => move(motion, place.at_mm)[2])
  const high = Math.max(...heights)
  const low = Math.min(...heights)
  // nobody knows which faces a stand-in's piece has
  const underneath = kind.piece.standIn
    ? Math.max(0, Math.abs(turn(motion, kind.flat)[2]) - 0.9) * 3
    : UNDERNEATH * sharedUnderneath(kind, motion)
  const thickAbove = ((thick[0] ?? 0) - low) / Math.max(high - low, 1)
  return {
    attach,
    motion,
    slopes,
    reaches,
    low,
    high,
    width: Math.max(...sides) - Math.min(...sides),
    against: underneath + 0.2 * thickAbove + against,
  }
}

/** Two places of joining level with one another, one on either side of the line to the axis. */
const pairedPoses = (kind: Kind): Pose[] => {
  const poses: Pose[] = []
  kind.attaches.forEach((one, index) => {
    for (const other of kind.attaches.slice(index + 1)) {
      const apart = minus(other.at, one.at)
      if (sizeOf(apart) < 0.3 * kind.longest_mm || dot(one.outward, other.outward) < 0.2) continue
      const along = unit(apart)
      const middle = plus(one.at, apart, 0.5)
      const both = plus(one.outward, other.outward)
      const off = plus(both, along, -dot(both, along))
      const out = dot(off, off) < 1e-4 ? squareOff(kind.flat, along) : unit(off)
      const from = [along, out, cross(along, out)] as const
      for (const side of [1, -1])
        for (let roll = 0; roll < 360; roll += 45) {
          const way = wayDown(roll * degrees)
          // what the two places have in common as their way out must not point up
          if (way[2] > 0.3) continue
          const level: Point = [0, side, 0]
          const motion = after(
            turning(from, [level, way, cross(level, way)]),
            shifting(minus([0, 0, 0], middle)),
          )
          poses.push(poseOf(kind, motion, [], one.rim && other.rim ? 0 : BROAD))
        }
    }
  })
  return poses
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
    (pose) => pose.high - pose.low + pose.width + 20 * pose.against,
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
