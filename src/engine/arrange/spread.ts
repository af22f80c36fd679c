import { distanceApart, distanceToLine } from '../piece/mesh/apart.ts'
import { after } from '../piece/mesh/transform.ts'
import { linesApart, outsideStem, zoneByStem } from './bores.ts'
import { clears, type Placed, type Tree } from './clears.ts'
import { radiusOf } from './feeds.ts'
import { innerOf } from './place.ts'
import type { ArrangeRequest } from './request.ts'
import type { Room } from './room.ts'
import { move, turningAboutAxis, undoing } from './vectors.ts'

const TURNS = [24, 12, 6, 3]
  .flatMap((degrees) => [degrees, -degrees])
  .map((degrees) => (degrees * Math.PI) / 180)
const ROUNDS = 3
/** Room beyond this many gaps is worth nothing more. */
const PLENTY = 3
const WORTH_IT = 0.05
/** A count of turns tried, not a time, so that the answer is always the same. */
const MOST_TRIES = 500
/** Triangles up to which that many are worth their time; fewer are tried above. */
const PLAIN = 20_000

/**
 * Turns waxes about the flask's axis, each with its sprues, as long as the least room round one grows. What is
 * kept by the turning (wall, top, base, main sprue) needs no asking; everything else is asked again.
 */
export const spread = (request: ArrangeRequest, room: Room, tree: Tree): Tree => {
  let placed = [...tree.placed]
  const stem = {
    foot: room.cone,
    end: tree.stemEnd,
    within: zoneByStem(request.stem_mm, request.rules.gap_mm),
  }
  let tries = 0
  const fine = Math.max(...placed.map(({ kind }) => kind.outside.order.length), PLAIN)
  const most = Math.ceil((MOST_TRIES * PLAIN) / fine)
  for (let round = 0; round < ROUNDS; round += 1) {
    let moved = false
    for (let index = 0; index < placed.length; index += 1) {
      const one = placed[index]
      if (one === undefined || one.locked) continue
      const others = placed.filter((other) => other !== one)
      let best = { one, least: leastRoom(request, stem, one, others, 0) }
      for (const angle of TURNS) {
        if (tries >= most || best.least >= PLENTY * request.rules.gap_mm) break
        tries += 1
        const next = turnedBy(one, angle)
        const least = leastRoom(request, stem, next, others, best.least + WORTH_IT)
        if (least > best.least + WORTH_IT && clears(request, room, { ...tree, placed: others }, next))
          best = { one: next, least }
      }
      if (best.one === one) continue
      moved = true
      placed = placed.map((other) => (other === one ? best.one : other))
    }
    if (!moved) break
  }
  return { ...tree, placed }
}

export const turnedBy = (one: Placed, angle: number): Placed => {
  const round = turningAboutAxis(angle)
  const motion = after(round, one.motion)
  return {
    ...one,
    motion,
    back: undoing(motion),
    centre: move(motion, one.kind.centre),
    inner: innerOf(one.kind, motion),
    feeds: one.feeds.map((feed) => ({ ...feed, from: move(round, feed.from) })),
  }
}

/** Least distance from a wax or its sprues to the others and theirs, mm; may stop early once below `enough`. */
export const leastRoom = (
  request: ArrangeRequest,
  stem: { readonly foot: number; readonly end: number; readonly within: number },
  one: Placed,
  others: readonly Placed[],
  enough: number,
): number => {
  let least = PLENTY * request.rules.gap_mm
  const lines = (from: Placed, to: Placed): void => {
    const radius = from.kind.piece.sprue.diameter_mm / 2
    for (const feed of from.feeds)
      least = Math.min(
        least,
        distanceToLine(
          to.kind.outside,
          move(to.back, feed.from),
          move(to.back, [0, 0, feed.axisZ]),
          least + radius,
          enough + radius,
        ) - radius,
      )
  }
  const outside = ({ feeds, kind }: Placed) =>
    feeds.flatMap((feed) => {
      const line = outsideStem(feed.from, feed.axisZ, stem)
      return line === undefined ? [] : [{ line, radius: radiusOf(feed, kind) }]
    })
  const own = outside(one)
  for (const other of others) {
    for (const second of outside(other))
      for (const first of own)
        least = Math.min(least, linesApart(...first.line, ...second.line) - first.radius - second.radius)
    if (least < enough) return least
    least = distanceApart(one.kind.outside, other.kind.outside, after(one.back, other.motion), least, enough)
    lines(one, other)
    lines(other, one)
    if (least < enough) return least
  }
  return least
}
