import { distanceToLine } from '../piece/mesh/apart.ts'
import { linesApart, outsideStem, widestFillet, zoneByStem } from './bores.ts'
import { type Stood, sameWax, standsOn } from './dimensions.ts'
import { HAND } from './hand.ts'
import { surfaceOf } from './kind.ts'
import type { ArrangeRequest, Sprue } from './request.ts'
import type { Room } from './room.ts'
import { move } from './vectors.ts'

/** Of the room at a joint; two fillets that face one another share it, and rounding never eats what is needed. */
const SHARE = 0.45

/** How much room there is round a sprue's joint beyond what the clearances ask, mm. */
const roomAtJoint = (
  request: ArrangeRequest,
  room: Room,
  stood: readonly Stood[],
  sprues: readonly Sprue[],
  sprue: Sprue,
  stemEnd: number,
): number => {
  const { wall_mm, gap_mm } = request.rules
  const { from_mm: at } = sprue
  const stem = { foot: room.cone, end: stemEnd, within: zoneByStem(request.stem_mm, gap_mm) }
  const isOutside = outsideStem(at, sprue.axis_mm[2], stem) !== undefined
  const toSprues = sprues.flatMap((other): number[] => {
    const line = sameWax(sprue, other) ? undefined : outsideStem(other.from_mm, other.axis_mm[2], stem)
    if (line === undefined || !isOutside) return []
    return [linesApart(at, at, ...line) - Math.max(other.diameter_mm, other.stemEnd_mm) / 2 - gap_mm]
  })
  const toWaxes = stood
    .filter((one) => !standsOn(sprue, one))
    .map((one) => {
      const own = move(one.back, at)
      return distanceToLine(surfaceOf(one.kind), own, own) - gap_mm
    })
  const toFlask = [
    room.flask.diameter_mm / 2 - Math.hypot(at[0], at[1]) - wall_mm,
    room.flask.height_mm - at[2] - room.neededTop,
  ]
  return Math.min(...toFlask, ...toWaxes, ...toSprues) - sprue.diameter_mm / 2
}

/**
 * Sprues with a fillet where they join their wax: a quarter of their width and at most 1 mm, less where room is less.
 * @param which  those that get one; others keep what they have
 */
export const fillet = (
  request: ArrangeRequest,
  room: Room,
  stood: readonly Stood[],
  sprues: readonly Sprue[],
  stemEnd: number,
  which: (sprue: Sprue) => boolean = () => true,
): Sprue[] =>
  sprues.map((sprue) => {
    if (!which(sprue)) return sprue
    // what a hand needs is left to it
    const left = Math.max(0, roomAtJoint(request, room, stood, sprues, sprue, stemEnd) - HAND)
    return { ...sprue, fillet_mm: Math.min(widestFillet(sprue.diameter_mm), SHARE * left) }
  })
