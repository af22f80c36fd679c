import type { Loop, Place } from '../drawing.ts'
import { isInside } from '../loops.ts'
import type { WaxRegion } from './compensate.ts'

/** Where a number stands that has no room in its region, and the place in the region that it means. */
export interface Led {
  readonly at: Place
  readonly badge: Place
}

const DIRECTIONS = 16
const ANCHORS = 24
/** A leader's length, mm. */
const SHORTEST = 4
const LONGEST = 14
const STEP = 0.75
/** Each line crossed counts as so much length, mm. */
const CROSSED = 5

const eachSide = (loops: readonly Loop[], tell: (a: Place, b: Place) => void): void => {
  for (const loop of loops)
    for (let i = 0, n = loop.length; i < n; i += 2) {
      const j = (i + 2) % n
      tell([loop[i] ?? 0, loop[i + 1] ?? 0], [loop[j] ?? 0, loop[j + 1] ?? 0])
    }
}

/** From a place to the nearest of some lines. */
export const roomAt = ([x, y]: Place, loops: readonly Loop[]): number => {
  let least = Infinity
  eachSide(loops, ([ax, ay], [bx, by]) => {
    const [dx, dy] = [bx - ax, by - ay]
    const square = dx * dx + dy * dy
    const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
    least = Math.min(least, Math.hypot(ax + share * dx - x, ay + share * dy - y))
  })
  return least
}

const side = ([ax, ay]: Place, [bx, by]: Place, [x, y]: Place): number =>
  (bx - ax) * (y - ay) - (by - ay) * (x - ax)

const crossings = (from: Place, to: Place, loops: readonly Loop[]): number => {
  let count = 0
  eachSide(loops, (a, b) => {
    // half open, so that a way out through a corner counts as one line crossed and not as none
    const isCut = (one: number, other: number): boolean => one > 0 !== other > 0
    if (isCut(side(a, b, from), side(a, b, to)) && isCut(side(from, to, a), side(from, to, b))) count += 1
  })
  return count
}

/** The deepest place of a region, and others round its outline just as deep as a narrow rim lets them be. */
const anchorsOf = ({ outer, holes, at_mm }: WaxRegion): Place[] => {
  const depth = Math.min(0.9, roomAt(at_mm, [outer, ...holes]))
  const count = outer.length / 2
  const anchors: Place[] = [at_mm]
  for (let k = 0; k < ANCHORS; k += 1) {
    const i = Math.floor((k * count) / ANCHORS) * 2
    const j = (i + 2) % outer.length
    const [ax = 0, ay = 0, bx = 0, by = 0] = [outer[i], outer[i + 1], outer[j], outer[j + 1]]
    const long = Math.hypot(bx - ax, by - ay)
    if (long === 0) continue
    const [nx, ny] = [((ay - by) / long) * depth, ((bx - ax) / long) * depth]
    for (const way of [1, -1]) {
      const place: Place = [(ax + bx) / 2 + way * nx, (ay + by) / 2 + way * ny]
      if (isInside([outer, ...holes], ...place)) anchors.push(place)
    }
  }
  return anchors
}

/**
 * The nearest place for a number outside its region where it covers no line, by a short leader that crosses few.
 * @param taken places that others hold, each with the room it wants
 * @returns undefined where none is near
 */
export const leadOut = (
  region: WaxRegion,
  lines: readonly Loop[],
  radius: number,
  taken: readonly { readonly at: Place; readonly radius: number }[],
): Led | undefined => {
  const places: { led: Led; long: number }[] = []
  for (const at of anchorsOf(region))
    for (let turn = 0; turn < DIRECTIONS; turn += 1) {
      const angle = (2 * Math.PI * turn) / DIRECTIONS
      for (let long = SHORTEST; long <= LONGEST; long += STEP)
        places.push({
          led: { at, badge: [at[0] + long * Math.cos(angle), at[1] + long * Math.sin(angle)] },
          long,
        })
    }
  let best: Led | undefined
  let least = Infinity
  for (const { led, long } of places.sort((a, b) => a.long - b.long)) {
    if (long >= least) break
    const [x, y] = led.badge
    if (taken.some(({ at, radius: own }) => Math.hypot(at[0] - x, at[1] - y) < own + radius)) continue
    if (roomAt(led.badge, lines) < radius) continue
    const cost = long + CROSSED * crossings(led.at, led.badge, lines)
    if (cost < least) [least, best] = [cost, led]
  }
  return best
}
