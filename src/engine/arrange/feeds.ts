import type { Point, Transform } from '../piece/mesh/index.ts'
import { lengthToStem, linesApart, neighbourhood, outsideStem } from './bores.ts'
import { type Attach, type Kind, ownClear } from './kind.ts'
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
  const feeds = [...given]
  const back = undoing(motion)
  const places = new Set(feeds.map((feed) => feed.attach.place))
  const stemRadius = request.stem_mm / 2
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  let end = stem.end
  while (feeds.length < count) {
    let best: { feed: Feed; worth: number } | undefined
    for (const attach of kind.attaches) {
      const from = move(motion, attach.at)
      if (feeds.some((feed) => sizeOf(minus(feed.from, from)) < 0.3 * kind.longest_mm)) continue
      const out = Math.hypot(from[0], from[1])
      if (out < 1e-6) continue
      for (const slope of [45, 52.5, 37.5, 60, 30]) {
        const [s, c] = [Math.sin((slope * Math.PI) / 180), Math.cos((slope * Math.PI) / 180)]
        const axisZ = from[2] - (out * s) / c
        if (axisZ < room.cone + SHORTEST || (stem.ended && axisZ > end + 1e-9)) continue
        if (lengthToStem(from, axisZ, Math.max(end, axisZ), stemRadius) < shortest - 1e-9) continue
        const way: Point = [(-c * from[0]) / out, (-c * from[1]) / out, -s]
        const lean = dot(way, turn(motion, attach.outward))
        if (lean < 0.5) continue
        const worth = lean + (places.has(attach.place) ? 0 : 1) + (attach.rim ? 0.9 : 0) - 0.01 * out
        if (best !== undefined && worth <= best.worth) continue
        const feed: Feed = { attach, from, axisZ }
        if (!feeds.every((other) => keepApart(request, kind, room, end, feed, other))) continue
        if (
          !ownClear(
            kind,
            attach.at,
            turn(back, way),
            lengthToStem(from, axisZ, Math.max(end, axisZ), stemRadius),
          )
        )
          continue
        best = { feed, worth }
      }
    }
    if (best === undefined) return undefined
    feeds.push(best.feed)
    places.add(best.feed.attach.place)
    end = Math.max(end, best.feed.axisZ)
  }
  return areLong(request, kind, feeds, end) ? feeds : undefined
}
