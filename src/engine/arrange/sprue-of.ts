import type { Point, Transform } from '../piece/mesh/index.ts'
import { lengthToStem } from './bores.ts'
import type { Feed } from './feeds.ts'
import type { Kind } from './kind.ts'
import { reasonFor } from './reasons.ts'
import type { ArrangeRequest, Sprue } from './request.ts'
import { minus, plus, turn, unit } from './vectors.ts'

/** A straight sprue as it is to be built, not yet tapered; one of `count` on its wax. @param stemEnd  where the main sprue ends, mm */
export const sprueOf = (
  request: ArrangeRequest,
  kind: Kind,
  { copy, motion }: { readonly copy: number; readonly motion: Transform },
  feed: Feed,
  count: number,
  stemEnd: number,
): Sprue => {
  const across = feed.diameter_mm ?? kind.piece.sprue.diameter_mm
  const onAxis: Point = [0, 0, feed.axisZ]
  const length = lengthToStem(feed.from, feed.axisZ, stemEnd, request.stem_mm / 2)
  const way = unit(minus(onAxis, feed.from))
  return {
    piece: kind.piece.id,
    copy,
    from_mm: feed.from,
    to_mm: plus(feed.from, way, length),
    axis_mm: onAxis,
    sunk_mm: Math.min(feed.attach.thickness_mm, across) / 2,
    outward: turn(motion, feed.attach.outward),
    diameter_mm: across,
    stemEnd_mm: feed.stemEnd_mm ?? across,
    fillet_mm: 0,
    byHand: feed.byHand ?? false,
    ...(feed.found === true && { found: true }),
    length_mm: length,
    reason: reasonFor(kind, feed, count, request),
  }
}
