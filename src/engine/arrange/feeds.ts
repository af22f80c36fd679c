import type { Point, Transform } from '../piece/mesh/index.ts'
import { lengthToStem, linesApart, neighbourhood, outsideStem } from './bores.ts'
import { type Attach, type Kind, LEAST_SQUARE, ownClear } from './kind.ts'
import { soundlyPlaced } from './placed.ts'
import { type ArrangeRequest, SHORTEST } from './request.ts'
import { type Room, SAFE } from './room.ts'
import { dot, minus, move, sizeOf, turn, undoing } from './vectors.ts'

/** A sprue's centre line from the piece to the flask's axis. */
export interface Feed {
  readonly attach: Attach
  readonly from: Point
  readonly axisZ: number
  /** placed by the caster, with its own sizes where given */
  readonly byHand?: boolean
  /** of those: found by the search, and kept */
  readonly found?: boolean
  readonly diameter_mm?: number
  readonly stemEnd_mm?: number
}

/** Half as wide as the sprue is at its widest. */
export const radiusOf = (feed: Feed, { piece }: Kind): number => {
  const across = feed.diameter_mm ?? piece.sprue.diameter_mm
  return Math.max(across, feed.stemEnd_mm ?? across) / 2
}

export const isSpruedByHand = ({ piece }: Kind, copy: number): boolean =>
  (piece.placed?.get(copy)?.length ?? 0) > 0

/**
 * Whether a wax's sprues are no shorter than the least where the main sprue ends there: one that joined its round end is
 * shorter where it goes on past that.
 */
export const areLong = (
  { stem_mm }: ArrangeRequest,
  { piece }: Kind,
  feeds: readonly Feed[],
  end: number,
): boolean =>
  feeds.every(
    ({ from, axisZ }) =>
      lengthToStem(from, axisZ, Math.max(end, axisZ), stem_mm / 2) >=
      (piece.sprue.length_mm ?? SHORTEST) - 1e-9,
  )

/** Whether two sprues of one wax keep their gap until they come near the main sprue, as sprues of two waxes must. */
const keepApart = (
  request: ArrangeRequest,
  kind: Kind,
  room: Room,
  end: number,
  one: Feed,
  other: Feed,
): boolean => {
  const stem = {
    foot: room.cone,
    end: Math.max(end, one.axisZ, other.axisZ),
    within: neighbourhood(request),
  }
  const [first, second] = [one, other].map(({ from, axisZ }) => outsideStem(from, axisZ, stem))
  if (first === undefined || second === undefined) return true
  return (
    linesApart(...first, ...second) >=
    radiusOf(one, kind) + radiusOf(other, kind) + request.rules.gap_mm + SAFE
  )
}

/**
 * The rest of a piece's sprues, once one is fixed; undefined where there is no room for as many. A copy with
 * sprues of the caster's own gets these, whatever was given.
 */
export const findFeeds = (
  request: ArrangeRequest,
  kind: Kind,
  motion: Transform,
  room: Room,
  count: number,
  given: readonly Feed[],
  stem: { readonly end: number; readonly ended: boolean },
  copy?: number,
): Feed[] | undefined => {
  if (copy !== undefined && isSpruedByHand(kind, copy)) return soundlyPlaced(kind, copy, motion, room, stem)
  const seeking: Seeking = {
    request,
    kind,
    motion,
    back: undoing(motion),
    room,
    count,
    stem,
    tries: MOST_TRIES,
  }
  return chooseFeeds(seeking, given, stem.end)
}

/** What stays the same while the sprues of one wax are sought. */
interface Seeking {
  readonly request: ArrangeRequest
  readonly kind: Kind
  readonly motion: Transform
  readonly back: Transform
  readonly room: Room
  readonly count: number
  readonly stem: { readonly end: number; readonly ended: boolean }
  /** how many choices that leave no room for the others may still be given up for the next best, in all */
  tries: number
}

const MOST_TRIES = 6
const SLOPES = [45, 52.5, 37.5, 60, 30].map((slope) => (slope * Math.PI) / 180)

/** These sprues and as many more as are wanted: each time the best that leaves room for the rest. */
const chooseFeeds = (seeking: Seeking, feeds: readonly Feed[], end: number): Feed[] | undefined => {
  const { request, kind, count } = seeking
  if (feeds.length >= count) return areLong(request, kind, feeds, end) ? [...feeds] : undefined
  const left = possibleFeeds(seeking, feeds, end)
  while (left.length > 0) {
    const best = left.reduce((one, other) => (other.worth > one.worth ? other : one))
    left.splice(left.indexOf(best), 1)
    if (!clearOfOwn(seeking, best.feed, end)) continue
    const whole = chooseFeeds(seeking, [...feeds, best.feed], Math.max(end, best.feed.axisZ))
    if (whole !== undefined || seeking.tries <= 0) return whole
    seeking.tries -= 1
  }
  return undefined
}

/** Every sprue that may join the wax beside these, but for whether it stays clear of the wax itself. */
const possibleFeeds = (
  { request, kind, motion, room, stem }: Seeking,
  feeds: readonly Feed[],
  end: number,
): { readonly feed: Feed; readonly worth: number }[] => {
  const places = new Set(feeds.map((feed) => feed.attach.place))
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  return kind.attaches.flatMap((attach) => {
    const from = move(motion, attach.at)
    const out = Math.hypot(from[0], from[1])
    if (out < 1e-6 || feeds.some((feed) => sizeOf(minus(feed.from, from)) < 0.3 * kind.longest_mm)) return []
    const outward = turn(motion, attach.outward)
    return SLOPES.flatMap((slope) => {
      const [s, c] = [Math.sin(slope), Math.cos(slope)]
      const axisZ = from[2] - (out * s) / c
      if (axisZ < room.cone + SHORTEST || (stem.ended && axisZ > end + 1e-9)) return []
      if (lengthToStem(from, axisZ, Math.max(end, axisZ), request.stem_mm / 2) < shortest - 1e-9) return []
      const lean = dot([(-c * from[0]) / out, (-c * from[1]) / out, -s], outward)
      if (lean < LEAST_SQUARE) return []
      const feed: Feed = { attach, from, axisZ }
      if (!feeds.every((other) => keepApart(request, kind, room, end, feed, other))) return []
      return { feed, worth: lean + (places.has(attach.place) ? 0 : 1) + (attach.rim ? 0.9 : 0) - 0.01 * out }
    })
  })
}

const clearOfOwn = (
  { request, kind, back }: Seeking,
  { attach, from, axisZ }: Feed,
  end: number,
): boolean => {
  const length = Math.hypot(from[0], from[1], from[2] - axisZ)
  const way: Point = [-from[0] / length, -from[1] / length, (axisZ - from[2]) / length]
  return ownClear(
    kind,
    attach.at,
    turn(back, way),
    lengthToStem(from, axisZ, Math.max(end, axisZ), request.stem_mm / 2),
  )
}
