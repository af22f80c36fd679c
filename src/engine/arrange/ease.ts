import { distanceToLine } from '../piece/mesh/apart.ts'
import type { Point } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { neighbourhood } from './bores.ts'
import { axis, clears, type Placed, spruesClearOf, type Tree } from './clears.ts'
import { areLong, isSpruedByHand } from './feeds.ts'
import { HAND } from './hand.ts'
import { allReach } from './kind.ts'
import { innerOf, sprueSpare } from './place.ts'
import { areSound } from './placed.ts'
import { type ArrangeRequest, SHORTEST } from './request.ts'
import { type Room, SAFE } from './room.ts'
import { leastRoom, turnedBy } from './spread.ts'
import { minus, move, shifting, sizeOf, undoing } from './vectors.ts'

/** Room beyond this is not sought: a hand that is one and a half millimetres off breaks nothing then, mm. */
const WANTED = 3 * HAND
const STEPS = [2, 1, 0.5, 0.25]
const ROUNDS = 4
const WORTH_IT = 0.02
/**
 * What may be spent, in waxes held against another: a count, not a time, so that the answer is always the same. Fewer
 * of finer surfaces.
 */
const MOST_HELD = 2000
const PLAIN = 3000

/** How far a wax's surface stays inside the flask's room, mm; less than nothing where it does not. */
const roomRound = ({ kind, motion }: Placed, room: Room): number => {
  let [out, low, high] = [0, Infinity, -Infinity]
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, h = 0, i = 1, tx = 0, ty = 0, tz = 0] = motion
  allReach(kind.outside.mesh, (px, py, pz) => {
    const z = c * px + f * py + i * pz + tz
    out = Math.max(out, (a * px + d * py + g * pz + tx) ** 2 + (b * px + e * py + h * pz + ty) ** 2)
    low = Math.min(low, z)
    high = Math.max(high, z)
    return true
  })
  return Math.min(room.reach - Math.sqrt(out), room.top - high, low - room.bottom) - kind.off
}

const endOf = (room: Room, placed: readonly Placed[]): number =>
  Math.max(room.cone, ...placed.flatMap(({ feeds }) => feeds.map(({ axisZ }) => axisZ)))

/**
 * By how much everything round a wax is farther from it than it must be, mm, its sprues with it; at most `WANTED`.
 * @param enough  below which how little it is does not matter
 */
const spareOf = (
  request: ArrangeRequest,
  room: Room,
  one: Placed,
  others: readonly Placed[],
  enough: number,
): number => {
  const { kind, motion, back, feeds } = one
  const { gap_mm } = request.rules
  let least = Math.min(WANTED, roomRound(one, room))
  for (const feed of feeds) least = Math.min(least, sprueSpare(feed, kind, motion, room))
  if (least < enough) return least
  const end = endOf(room, [one, ...others])
  const stem = { foot: room.cone, end, within: neighbourhood(request) }
  const half = request.stem_mm / 2
  const most = least + gap_mm + kind.off + half
  const toStem = distanceToLine(
    kind.outside,
    move(back, axis(room.cone)),
    move(back, axis(end)),
    most,
    most - least + enough,
  )
  least = Math.min(least, toStem - gap_mm - kind.off - half)
  if (least < enough) return least
  const off = kind.off + Math.max(0, ...others.map((other) => other.kind.off))
  return Math.min(least, leastRoom(request, stem, one, others, gap_mm + off + enough) - gap_mm - off)
}

/** A wax shifted outward and up, each sprue with it and as steep as before. */
const shifted = (one: Placed, outward: number, up: number): Placed | undefined => {
  const [x, y] = one.centre
  const far = Math.hypot(x, y)
  if (outward !== 0 && far < 1e-6) return undefined
  const by: Point = outward === 0 ? [0, 0, up] : [(outward * x) / far, (outward * y) / far, up]
  const motion = after(shifting(by), one.motion)
  const feeds = one.feeds.map((feed) => {
    const from: Point = [feed.from[0] + by[0], feed.from[1] + by[1], feed.from[2] + up]
    const before = Math.hypot(feed.from[0], feed.from[1])
    const steepness = before < 1e-6 ? 0 : (feed.from[2] - feed.axisZ) / before
    return {
      ...feed,
      from,
      axisZ: before < 1e-6 ? feed.axisZ + up : from[2] - steepness * Math.hypot(from[0], from[1]),
    }
  })
  if (outward !== 0 && one.feeds.some(({ from }) => Math.hypot(from[0], from[1]) < 1e-6)) return undefined
  return {
    ...one,
    motion,
    back: undoing(motion),
    centre: move(motion, one.kind.centre),
    inner: innerOf(one.kind, motion),
    feeds,
  }
}

/** Whether a shifted wax still stands as the search would have let it, with the others where they are. */
export const isLet = (
  request: ArrangeRequest,
  room: Room,
  tree: Tree,
  before: Placed,
  next: Placed,
  others: readonly Placed[],
): boolean => {
  const end = endOf(room, [next, ...others])
  // the others' sprues too: one that met the main sprue's end is shorter where that goes on past it
  const isReached =
    next.feeds.every(({ axisZ }) => axisZ >= room.cone + SHORTEST - 1e-9) &&
    [next, ...others].every(
      ({ kind, copy, feeds, locked }) =>
        locked || isSpruedByHand(kind, copy) || areLong(request, kind, feeds, end),
    )
  if (!isReached || !areSound(next, end, request.stem_mm)) return false
  // a wax on the main sprue's end stays there, and no other's sprue goes past it
  if (tree.ended && [next, ...others].some((wax) => wax.onEnd && endOf(room, [wax]) < end - 1e-9))
    return false
  const ownEnd = endOf(room, others)
  if (!clears(request, room, { ...tree, placed: others, stemEnd: ownEnd }, next)) return false
  // where the main sprue ends lower than it did, sprues of the others run together in less of the flask
  return (
    end >= endOf(room, [before, ...others]) ||
    others.every((one, index) =>
      others.slice(0, index).every((other) => spruesClearOf(request, room, end, one, other)),
    )
  )
}

/**
 * Shifts and turns waxes that a clearance holds tight toward where there is room, as long as the least room round one
 * grows: the search packs to the last micrometre, and no hand builds that.
 */
export const ease = (request: ArrangeRequest, room: Room, tree: Tree): Tree => {
  let placed = [...tree.placed]
  const fine = Math.max(...placed.map(({ kind }) => kind.outside.order.length), PLAIN)
  let left = Math.ceil((MOST_HELD * PLAIN) / fine)
  for (let round = 0; round < ROUNDS && left > 0; round += 1) {
    let isMoved = false
    for (let index = 0; index < placed.length; index += 1) {
      const one = placed[index]
      if (one === undefined || one.locked || isSpruedByHand(one.kind, one.copy)) continue
      const others = placed.filter((other) => other !== one)
      let best = { one, spare: spareOf(request, room, one, others, -Infinity) }
      for (const step of STEPS)
        for (let again = 0; again < ROUNDS && best.spare < WANTED - SAFE; again += 1) {
          const from = best.one
          for (const next of about(from, step)) {
            if (left <= 0 || next === undefined) continue
            left -= 1 + others.filter((other) => isNear(request, next, other)).length
            const spare = spareOf(request, room, next, others, best.spare + WORTH_IT)
            if (spare > Math.max(0, best.spare + WORTH_IT) && isLet(request, room, tree, from, next, others))
              best = { one: next, spare }
          }
          if (best.one === from) break
        }
      if (best.one === one) continue
      isMoved = true
      placed = placed.map((other) => (other === one ? best.one : other))
    }
    if (!isMoved) break
  }
  return { ...tree, placed, stemEnd: endOf(room, placed) }
}

const isNear = ({ rules }: ArrangeRequest, one: Placed, other: Placed): boolean =>
  sizeOf(minus(one.centre, other.centre)) < one.kind.radius + other.kind.radius + rules.gap_mm + WANTED

/** A wax moved by a step: each way round the axis, in and out, up and down, and along slopes between. */
const about = (one: Placed, step: number): (Placed | undefined)[] => {
  const far = Math.max(Math.hypot(one.centre[0], one.centre[1]), step)
  return [
    turnedBy(one, step / far),
    turnedBy(one, -step / far),
    ...[-1, 0, 1].flatMap((out) =>
      [-1, 0, 1].flatMap((up) => (out === 0 && up === 0 ? [] : [shifted(one, out * step, up * step)])),
    ),
  ]
}
