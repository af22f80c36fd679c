import { metalByPlace, ownMetal, spotsInside } from './modulus.ts'
import type { Point } from './problems.ts'
import { probeInward, type Shape } from './rays.ts'
import { type InscribedBall, inscribedBalls } from './thickness.ts'
import { areaOf, volumeOf } from './volume.ts'

/** Metal of about one thickness, and the volume over cooling area that is its own. */
export interface ThickPart {
  readonly thickness_mm: number
  readonly modulus_mm: number
}

/** A part of the metal that stays hot longest, cut off from others by thinner metal. */
export interface ThickPlace {
  readonly thickness_mm: number
  readonly at_mm: Point
  /**
   * what of it may freeze last: its thickest, then what is too thin to be of that and not cut off from it by a neck, as
   * the plate under a bead
   */
  readonly parts: readonly ThickPart[]
  /** thinnest metal on the thickest way to a thicker place; null for the thickest of all */
  readonly neck_mm: number | null
  readonly members: readonly number[]
}

/** A place has no sharp end: its modulus is told with this factor either way; judged by eye on shapes of known modulus. */
const PLACE_ENDS = 1.25

/** Within what the modulus of a place of this thickness lies: no less than a ball's, no more than a plate's. */
export const modulusWithin = (thickness: number, modulus: number): { least: number; most: number } => ({
  least: Math.max(thickness / 6, modulus / PLACE_ENDS),
  most: Math.min(thickness / 2, modulus * PLACE_ENDS),
})

const NEIGHBOURS = 8
/** A neck this share of the lesser place freezes in about half its time, and cuts it off from feed. */
export const NECK_SHARE = 0.7
const LEAST_SHARE_OF_THICKEST = 0.6
const LEAST_SHARE_OF_SURFACE = 0.06

/** Places of the surface from which balls are sought that fit inside. */
const PROBES = 300

/**
 * The thick places of a closed solid, thickest first, each with the modulus of its own metal, and the balls they are
 * told from.
 * @param asOne  the solid only stands in for another: all of it is one place
 */
export const thickPlacesOf = (
  surface: Shape,
  asOne = false,
): { readonly balls: readonly InscribedBall[]; readonly places: readonly ThickPlace[] } => {
  const { mesh, tree, rough } = surface
  const balls = inscribedBalls(mesh, tree, probeInward(mesh, tree, PROBES, rough))
  if (balls.length === 0) return { balls, places: [] }
  const found = findThickPlaces(balls)
  const places = asOne
    ? found.slice(0, 1).map((place) => ({ ...place, members: balls.map((_, k) => k) }))
    : found
  const metal = metalByPlace(balls, spotsInside(surface))
  const whole = volumeOf(mesh) / areaOf(mesh)
  return {
    balls,
    places: places.map((place) => ({ ...place, parts: partsOf(balls, place.members, metal, whole) })),
  }
}

/** What is left of a place once its thickest metal is taken, and again of that, as long as it is worth a part. */
const partsOf = (
  balls: readonly InscribedBall[],
  members: readonly number[],
  metal: readonly number[],
  whole: number,
): ThickPart[] => {
  const parts: ThickPart[] = []
  let left = members
  while (left.length > 0 && (parts.length === 0 || left.length >= LEAST_SHARE_OF_SURFACE * balls.length)) {
    const { own, peak, modulus } = ownMetal(balls, left, metal, whole)
    parts.push({ thickness_mm: 2 * peak, modulus_mm: modulus })
    left = left.filter((member) => !own.has(member))
  }
  return parts
}

/** All their parts as sizes alone, mm, for whoever plans by them. */
export const thickPlacesIn = (surface: Shape): ThickPart[] =>
  thickPlacesOf(surface).places.flatMap(({ parts }) => parts)

/**
 * The thick places of a piece from balls that fit inside it: balls are taken from thick to thin, and those
 * near one another belong together; where two groups meet, the ball that joins them is the neck between.
 */
export const findThickPlaces = (balls: readonly InscribedBall[]): Omit<ThickPlace, 'parts'>[] => {
  const order = balls
    .map((_, index) => index)
    .sort((a, b) => radiusOf(balls, b) - radiusOf(balls, a) || a - b)
  const near = balls.map((_, index) => nearestOf(balls, index))
  const linked = balls.map(() => new Set<number>())
  const link = (one: number, other: number): void => {
    linked[one]?.add(other)
    linked[other]?.add(one)
  }
  near.forEach((list, index) => {
    for (const other of list) link(index, other)
  })
  // balls that overlap share metal, however far their middles are apart
  balls.forEach((ball, index) => {
    for (let other = 0; other < index; other += 1) {
      const second = balls[other]
      if (second !== undefined && apartOf(ball, second) < ball.radius + second.radius) link(index, other)
    }
  })
  const groupOf = new Map<number, Group>()
  const finished: Group[] = []
  const thickest = radiusOf(balls, order[0] ?? 0)
  for (const index of order) {
    const radius = radiusOf(balls, index)
    const touching = [
      ...new Set([...(linked[index] ?? [])].flatMap((other) => groupOf.get(other) ?? [])),
    ].sort((a, b) => radiusOf(balls, b.peak) - radiusOf(balls, a.peak))
    const [main = { peak: index, members: [] }, ...others] = touching
    for (const other of others) {
      const peak = radiusOf(balls, other.peak)
      if (
        radius < NECK_SHARE * peak &&
        peak >= LEAST_SHARE_OF_THICKEST * thickest &&
        other.members.length >= LEAST_SHARE_OF_SURFACE * balls.length
      )
        finished.push({ ...other, neck: radius, members: [...other.members] })
      for (const member of other.members) groupOf.set(member, main)
      main.members.push(...other.members)
    }
    main.members.push(index)
    groupOf.set(index, main)
  }
  const taken = new Set(finished.flatMap((group) => group.members))
  const first: Group = {
    peak: order[0] ?? 0,
    members: order.filter((index) => !taken.has(index)),
  }
  return [first, ...finished.sort((a, b) => radiusOf(balls, b.peak) - radiusOf(balls, a.peak))].map(
    (group) => ({
      thickness_mm: 2 * radiusOf(balls, group.peak),
      at_mm: balls[group.peak]?.centre ?? [0, 0, 0],
      neck_mm: group.neck === undefined ? null : 2 * group.neck,
      members: group.members,
    }),
  )
}

interface Group {
  readonly peak: number
  readonly members: number[]
  readonly neck?: number
}

/** The nearest of the others by their middles, nearest first. */
const nearestOf = (balls: readonly InscribedBall[], index: number): number[] => {
  const ball = balls[index]
  const nearest: number[] = []
  const far: number[] = []
  balls.forEach((other, k) => {
    if (ball === undefined || k === index) return
    const apart = apartOf(ball, other)
    if (nearest.length === NEIGHBOURS && apart >= (far[NEIGHBOURS - 1] ?? 0)) return
    let at = Math.min(nearest.length, NEIGHBOURS - 1)
    for (; at > 0 && (far[at - 1] ?? 0) > apart; at -= 1) {
      far[at] = far[at - 1] ?? 0
      nearest[at] = nearest[at - 1] ?? 0
    }
    far[at] = apart
    nearest[at] = k
  })
  return nearest
}

const apartOf = ({ centre: [x, y, z] }: InscribedBall, { centre: [a, b, c] }: InscribedBall): number =>
  Math.sqrt((x - a) ** 2 + (y - b) ** 2 + (z - c) ** 2)

const radiusOf = (balls: readonly InscribedBall[], index: number): number => balls[index]?.radius ?? 0
