import type { Point, Transform } from '../piece/mesh/index.ts'
import { lengthToStem } from './bores.ts'
import type { Feed } from './feeds.ts'
import type { Kind } from './kind.ts'
import { reasonFor } from './reasons.ts'
import type { Sprue } from './request.ts'
import { dot, minus, plus, turn, unit } from './vectors.ts'

/** A straight sprue as it is to be built, not yet tapered; one of `count` on its wax. @param stem  its width and where it ends, mm */
export const sprueOf = (
  kind: Kind,
  { copy, motion }: { readonly copy: number; readonly motion: Transform },
  feed: Feed,
  count: number,
  stem: { readonly mm: number; readonly end: number },
): Sprue => {
  const across = feed.diameter_mm ?? kind.piece.sprue.diameter_mm
  const onAxis: Point = [0, 0, feed.axisZ]
  const length = lengthToStem(feed.from, feed.axisZ, stem.end, stem.mm / 2)
  const way = unit(minus(onAxis, feed.from))
  const lean = Math.max(0.5, dot(way, turn(motion, feed.attach.outward)))
  return {
    piece: kind.piece.id,
    copy,
    from_mm: feed.from,
    to_mm: plus(feed.from, way, length),
    axis_mm: onAxis,
    sunk_mm: Math.min(feed.attach.thickness_mm / 2, across) / lean,
    diameter_mm: across,
    stemEnd_mm: feed.stemEnd_mm ?? across,
    fillet_mm: 0,
    byHand: feed.byHand ?? false,
    length_mm: length,
    reason: reasonFor(kind, feed, count),
  }
}
