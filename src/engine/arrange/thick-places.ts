import type { Point } from '../piece/mesh/index.ts'
import type { InscribedBall } from '../piece/mesh/thickness.ts'
import { minus, sizeOf } from './vectors.ts'

/** A part of the metal that stays hot longest, cut off from others by thinner metal. */
export interface ThickPlace {
  readonly thickness_mm: number
  readonly at_mm: Point
  /** volume over cooling area of its own metal */
  readonly modulus_mm: number
  /** thinnest metal on the thickest way to a thicker place; null for the thickest of all */
  readonly neck_mm: number | null
  readonly members: readonly number[]
}

const NEIGHBOURS = 8
/** A neck this share of the lesser place freezes in about half its time, and cuts it off from feed. */
export const NECK_SHARE = 0.7
const LEAST_SHARE_OF_THICKEST = 0.6
const LEAST_SHARE_OF_SURFACE = 0.06

/**
 * The thick places of a piece from balls that fit inside it: balls are taken from thick to thin, and those
 * near one another belong together; where two groups meet, the ball that joins them is the neck between.
 */
export const findThickPlaces = (balls: readonly InscribedBall[]): Omit<ThickPlace, 'modulus_mm'>[] => {
  const order = balls
    .map((_, index) => index)
    .sort((a, b) => radiusOf(balls, b) - radiusOf(balls, a) || a - b)
  const near = balls.map((ball) =>
    balls
      .map((other, index) => ({ index, apart: sizeOf(minus(ball.centre, other.centre)) }))
      .sort((a, b) => a.apart - b.apart || a.index - b.index)
      .slice(1, NEIGHBOURS + 1)
      .map(({ index }) => index),
  )
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
      if (second !== undefined && sizeOf(minus(ball.centre, second.centre)) < ball.radius + second.radius)
        link(index, other)
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

const radiusOf = (balls: readonly InscribedBall[], index: number): number => balls[index]?.radius ?? 0
