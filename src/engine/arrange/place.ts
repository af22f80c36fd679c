import { distanceToLine, liesWithin } from '../piece/mesh/apart.ts'
import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { LEAST_LEAN } from './body.ts'
import { discReach } from './bores.ts'
import { axis, needBetween, type Placed, spruesClearOf, type Tree, waxesClear } from './clears.ts'
import { areLong, type Feed, findFeeds, isSpruedByHand, radiusOf } from './feeds.ts'
import type { Kind } from './kind.ts'
import type { Pose } from './poses.ts'
import { type ArrangeRequest, SHORTEST } from './request.ts'
import { type Room, SAFE } from './room.ts'
import { move, shifting, turn, turningAboutAxis, undoing } from './vectors.ts'

export const emptyTree = (room: Room): Tree => ({ placed: [], stemEnd: room.cone, ended: false })

/** What a strategy likes: little height, little of the circle, little distance from the axis. */
export interface Taste {
  readonly height: number
  readonly circle: number
  readonly reach: number
  /** whether a piece may sit on the end of the main sprue */
  readonly onEnd: boolean
}

/** Where a pose may stand, before it is turned about the axis; what the room alone decides is asked once. */
interface Seat {
  readonly pose: Pose
  readonly slopes: readonly number[]
  readonly out: number
  readonly up: number
  /** shares: of the height, of half the circle, of the way to the wall */
  readonly height: number
  readonly circle: number
  readonly far: number
  inside?: boolean
  inner?: Float64Array
  /**
   * at each turn the two waxes last seen in the way: as long as one of them stands, nothing more need be asked. Two,
   * as a search that takes waxes off and puts them on elsewhere often goes back.
   */
  inTheWay?: (Placed | undefined)[]
  /** how long the main sprue may grow past it, as far as that was asked */
  stemClearTo: number
  stemBlockedFrom: number
}

const TURNS = 72
/** What a place costs that inner balls rule out, against one held surface to surface. */
const LITTLE = 0.05
/** What a seat costs that is known to be taken. */
const KNOWN = 0.005
/** What seeking a second sprue costs, which asks many lines against the piece itself. */
const SEEKING = 30
/** Halvings of a step by which a wax is then pressed up to its neighbour. */
const PRESSES = 4

/** Whether the surface, taken as far off as it may be, stays within the wall's and the top's clearances. */
const staysIn = (kind: Kind, motion: Transform, room: Room): boolean =>
  liesWithin(
    kind.outside,
    motion,
    room.reach - kind.off - SAFE,
    room.bottom + kind.off + SAFE,
    room.top - kind.off - SAFE,
  )

/** How far a sprue, its end as it is cut and all, stays within the wall's and the top's clearances, mm. */
export const sprueSpare = (feed: Feed, kind: Kind, motion: Transform, room: Room): number => {
  const [x, y, z] = feed.from
  const out = Math.hypot(x, y)
  const radius = radiusOf(feed, kind)
  const length = Math.max(Math.hypot(out, z - feed.axisZ), 1e-12)
  const [level, rise] = [out / length, (z - feed.axisZ) / length]
  const toTop = room.top - z - radius * level
  const { outward, thickness_mm } = feed.attach
  const [u, v, w] = turn(motion, outward)
  const along = (-level * (u * x + v * y)) / Math.max(out, 1e-12) - rise * w
  const across = Math.sqrt(Math.max(0, 1 - along * along))
  const deep = (Math.min(thickness_mm, 2 * radius) / 2 + radius * across) / Math.max(LEAST_LEAN, along)
  return Math.min(toTop, room.reach - discReach(out + deep * level, rise, radius))
}

const sprueStaysIn = (feed: Feed, kind: Kind, motion: Transform, room: Room): boolean => {
  const radius = radiusOf(feed, kind)
  const [x, y, z] = feed.from
  // no part of its end lies farther from the joint than its radius
  if (z + radius + SAFE <= room.top && Math.hypot(x, y) + radius + SAFE <= room.reach) return true
  return sprueSpare(feed, kind, motion, room) >= SAFE
}

export const innerOf = (kind: Kind, motion: Transform): Float64Array =>
  Float64Array.from(kind.inner.flatMap(({ centre, radius }) => [...move(motion, centre), radius]))

/**
 * How far the first must at least turn about the axis before its inner balls clear those of the second,
 * radians; 0 where they clear already. Stops at the first turn of `plenty`.
 */
const turnToClear = (a: Float64Array, other: Placed, gap: number, plenty: number): number => {
  const b = other.inner
  const [ox, oy, oz] = other.centre
  let most = 0
  for (let i = 0; i < a.length; i += 4) {
    const x = a[i] ?? 0
    const y = a[i + 1] ?? 0
    const z = a[i + 2] ?? 0
    const whole = (a[i + 3] ?? 0) + gap
    const far = whole + other.kind.radius
    if ((x - ox) * (x - ox) + (y - oy) * (y - oy) + (z - oz) * (z - oz) >= far * far) continue
    for (let j = 0; j < b.length; j += 4) {
      const need = whole + (b[j + 3] ?? 0)
      const dx = x - (b[j] ?? 0)
      const dy = y - (b[j + 1] ?? 0)
      const dz = z - (b[j + 2] ?? 0)
      const squared = dx * dx + dy * dy + dz * dz
      if (squared >= need * need) continue
      const turn = (need - Math.sqrt(squared)) / Math.max(Math.sqrt(x * x + y * y), 1e-3)
      if (turn > most) most = turn
      if (most >= plenty) return most
    }
  }
  return most
}

const turnInner = (still: Float64Array, angle: number, into: Float64Array): void => {
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  for (let i = 0; i < still.length; i += 4) {
    const x = still[i] ?? 0
    const y = still[i + 1] ?? 0
    into[i] = c * x - s * y
    into[i + 1] = s * x + c * y
  }
}

const turnedPoint = ([x, y, z]: Point, angle: number): Point => {
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  return [c * x - s * y, s * x + c * y, z]
}

const apartSquared = (a: Point, b: Point): number =>
  (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2

const RISE_STEP = 2

/**
 * Every seat beside the main sprue for a kind of piece, in so many steps outward and at most so many upward. It
 * rests on the room alone, not on what stands in it.
 */
export const sideSeats = (
  request: ArrangeRequest,
  kind: Kind,
  poses: readonly Pose[],
  room: Room,
  outward: number,
  upward: number,
): readonly Seat[] => {
  const stemRadius = request.stem_mm / 2
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  // a seat at the very wall is one that is taken: no distance may come out shorter by rounding
  const furthest = room.reach - kind.off - 2 * SAFE
  const seats: Seat[] = []
  for (const pose of poses) {
    const most = Math.min(...pose.reaches.map(([x, y]) => Math.sqrt(Math.max(0, furthest ** 2 - y ** 2)) - x))
    const slopes = pose.slopes.filter((slope) => slope <= Math.PI / 3 + 1e-9)
    const paired = pose.attach === undefined
    if (slopes.length === 0 && !paired) continue
    const steepest = Math.max(...slopes)
    const least = paired ? 0 : stemRadius + shortest * Math.cos(steepest)
    if (most < least) continue
    for (let shift = 0; shift <= outward; shift += 1) {
      const out = least + (shift / outward) * (most - least)
      const rises = slopes.map((slope) => out * Math.tan(slope))
      const lowest = Math.max(
        room.cone + SHORTEST + (paired ? shortest / 2 : Math.min(...rises)),
        room.bottom - pose.low + kind.off + SAFE,
      )
      const highest = room.top - pose.high - kind.off - SAFE
      if (highest < lowest) continue
      const steps = Math.min(upward, Math.ceil((highest - lowest) / RISE_STEP))
      for (let step = 0; step <= steps; step += 1) {
        const up = lowest + (steps === 0 ? 0 : ((highest - lowest) * step) / steps)
        const ways = slopes.filter(
          (slope, index) =>
            up - (rises[index] ?? 0) >= room.cone + SHORTEST - 1e-9 &&
            out >= stemRadius + shortest * Math.cos(slope) - 1e-9,
        )
        if (ways.length > 0 || paired) offer(request, kind, room, pose, ways, out, up, seats)
      }
    }
  }
  return seats
}

const worthOf = (seat: Seat, taste: Taste): number =>
  taste.height * seat.height + taste.circle * seat.circle + taste.reach * seat.far + 0.5 * seat.pose.against

/** Seats as a taste likes them, best first; with lots, so much of the order is left to them. */
const ranked = (seats: readonly Seat[], taste: Taste, lot?: () => number): Seat[] =>
  seats
    .map((seat) => ({ seat, worth: worthOf(seat, taste) + (lot === undefined ? 0 : LOT * lot()) }))
    .sort((a, b) => a.worth - b.worth)
    .map(({ seat }) => seat)

/** Seats on the end of the main sprue, which may still be carried up to where they want it. */
const endSeats = (
  request: ArrangeRequest,
  kind: Kind,
  poses: readonly Pose[],
  room: Room,
  tree: Tree,
  taste: Taste,
): Seat[] => {
  const stemRadius = request.stem_mm / 2
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  const seats: Seat[] = []
  for (const pose of poses)
    for (const slope of pose.slopes) {
      if (slope < Math.PI / 3 - 1e-9) continue
      const c = Math.cos(slope)
      const upright = c < 1e-9
      const least = upright ? 0 : (shortest + stemRadius) * c
      for (const more of upright ? [0] : [0, 3, 6, 10]) {
        const out = least + more
        const rise = upright ? shortest + stemRadius : out * Math.tan(slope)
        const lowest = Math.max(
          tree.stemEnd,
          room.cone + SHORTEST,
          room.bottom - pose.low + kind.off + SAFE - rise,
        )
        const axisZ = tree.ended ? tree.stemEnd : lowest
        if (axisZ < lowest - 1e-9) continue
        offer(request, kind, room, pose, [slope], out, axisZ + rise, seats)
      }
    }
  return ranked(seats, taste).slice(0, MOST_END_SEATS)
}

const offer = (
  request: ArrangeRequest,
  kind: Kind,
  room: Room,
  pose: Pose,
  slopes: readonly number[],
  out: number,
  up: number,
  seats: Seat[],
): void => {
  const reach = room.reach - kind.off
  if (up + pose.low < room.bottom || up + pose.high > room.top) return
  let circle = 0
  let far = 0
  for (const [x, y] of pose.reaches) {
    const away = Math.hypot(x + out, y)
    if (away > reach) return
    far = Math.max(far, away)
    circle = Math.max(
      circle,
      Math.abs(Math.atan2(Math.abs(y) + request.rules.gap_mm / 2, Math.max(x + out, 0.1))),
    )
  }
  seats.push({
    pose,
    slopes,
    out,
    up,
    height: (up + pose.high) / room.top,
    circle: circle / Math.PI,
    far: far / reach,
    stemClearTo: -Infinity,
    stemBlockedFrom: Infinity,
  })
}

const LOT = 0.15
const MOST_END_SEATS = 40

/** What a search may still spend: places held against what stands already. A count, so that the answer is always the same. */
export interface Work {
  left: number
}

/** The seats of one kind, and how far along them the search has come. */
export interface Search {
  readonly seats: readonly Seat[]
  seat: number
  step: number
}

/** A fresh search; as a tree that only grows leaves a seat once blocked so, no copy need try it again. */
export const beginSearch = (seats: readonly Seat[], taste: Taste, lot?: () => number): Search => ({
  seats: ranked(seats, taste, lot),
  seat: 0,
  step: 0,
})

/** Puts one more piece on the tree where it does best; undefined where no place was found. */
export const placeNext = (
  request: ArrangeRequest,
  room: Room,
  tree: Tree,
  kind: Kind,
  poses: readonly Pose[],
  copy: number,
  count: number,
  taste: Taste,
  search: Search,
  work: Work,
): Tree | undefined => {
  const standing = new Set(tree.placed)
  const take = (seat: Seat, onEnd: boolean, from: number): { tree: Tree; step: number } | undefined =>
    trySeat(request, room, tree, standing, kind, copy, count, seat, onEnd, from, work)
  const onEnd = (): Tree | undefined => {
    for (const seat of endSeats(request, kind, poses, room, tree, taste)) {
      const taken = take(seat, true, 0)
      if (taken !== undefined) return taken.tree
    }
    return undefined
  }
  if (taste.onEnd && tree.placed.length === 0) {
    const first = onEnd()
    if (first !== undefined) return first
  }
  for (; search.seat < search.seats.length && work.left > 0; search.seat += 1, search.step = 0) {
    const seat = search.seats[search.seat]
    const taken = seat && take(seat, false, search.step)
    if (taken === undefined) continue
    search.step = taken.step + 1
    return taken.tree
  }
  return taste.onEnd && tree.placed.length > 0 ? onEnd() : undefined
}

/** Whether the main sprue, grown to there, keeps clear of a wax on this seat. */
const clearsStem = (
  request: ArrangeRequest,
  room: Room,
  kind: Kind,
  seat: Seat,
  still: Transform,
  stemEnd: number,
): boolean => {
  if (stemEnd <= seat.stemClearTo) return true
  if (stemEnd >= seat.stemBlockedFrom) return false
  const need = request.rules.gap_mm + request.stem_mm / 2 + kind.off + SAFE
  const undo = undoing(still)
  const foot = move(undo, axis(room.cone))
  const clear = distanceToLine(kind.outside, foot, move(undo, axis(stemEnd)), need, need) >= need
  if (clear) seat.stemClearTo = stemEnd
  else seat.stemBlockedFrom = stemEnd
  return clear
}

const trySeat = (
  request: ArrangeRequest,
  room: Room,
  tree: Tree,
  standing: ReadonlySet<Placed>,
  kind: Kind,
  copy: number,
  count: number,
  seat: Seat,
  onEnd: boolean,
  from: number,
  work: Work,
): { tree: Tree; step: number } | undefined => {
  const { pose } = seat
  const turns = tree.placed.length === 0 ? 1 : TURNS
  if (seat.inside === false) return undefined
  seat.inTheWay ??= new Array<Placed | undefined>(2 * TURNS)
  // what stands in the way of a copy with sprues of its own need not stand in another's
  const inTheWay = isSpruedByHand(kind, copy) ? [] : seat.inTheWay
  const isBlocked = (step: number): boolean => {
    const last = inTheWay[2 * step]
    const before = inTheWay[2 * step + 1]
    return (last !== undefined && standing.has(last)) || (before !== undefined && standing.has(before))
  }
  const note = (step: number, by: Placed): void => {
    inTheWay[2 * step + 1] = inTheWay[2 * step]
    inTheWay[2 * step] = by
  }
  let start = from
  while (start < turns && isBlocked(start)) start += 1
  work.left -= KNOWN
  if (start >= turns) return undefined
  work.left -= 1
  const still = after(shifting([seat.out, 0, seat.up]), pose.motion)
  seat.inside ??= staysIn(kind, still, room)
  if (!seat.inside) return undefined
  const ended = tree.ended || onEnd
  const slopes: readonly (number | undefined)[] = pose.attach === undefined ? [undefined] : seat.slopes
  const options = slopes.flatMap((slope) => {
    const axisZ =
      slope === undefined
        ? tree.stemEnd
        : seat.out < 1e-9
          ? seat.up - (kind.piece.sprue.length_mm ?? SHORTEST) - request.stem_mm / 2
          : seat.up - seat.out * Math.tan(slope)
    if (tree.ended && axisZ > tree.stemEnd + 1e-9) return []
    const first: Feed[] =
      pose.attach === undefined ? [] : [{ attach: pose.attach, from: [seat.out, 0, seat.up], axisZ }]
    // asked before the rest of the sprues is sought, as it costs less
    if (!clearsStem(request, room, kind, seat, still, Math.max(tree.stemEnd, axisZ))) return []
    if (count > 1) work.left -= SEEKING
    const feeds = findFeeds(
      request,
      kind,
      still,
      room,
      count,
      first,
      {
        end: Math.max(tree.stemEnd, axisZ),
        ended,
      },
      copy,
    )
    if (feeds === undefined || !feeds.every((feed) => sprueStaysIn(feed, kind, still, room))) return []
    const stemEnd = Math.max(tree.stemEnd, ...feeds.map((feed) => feed.axisZ))
    const leavesLong =
      stemEnd <= tree.stemEnd ||
      tree.placed.every(
        (other) =>
          other.locked ||
          isSpruedByHand(other.kind, other.copy) ||
          areLong(request, other.kind, other.feeds, stemEnd),
      )
    return leavesLong && clearsStem(request, room, kind, seat, still, stemEnd) ? [{ feeds, stemEnd }] : []
  })
  if (options.length === 0) return undefined
  // the wax that was in the way of the last step is the likeliest to be in the way of the next
  let blocker: Placed | undefined
  let sprueBlocker: Placed | undefined
  let ballBlocker = 0
  /** which wax was in the way at the last angle asked, where it was one alone */
  let met: Placed | undefined
  const stepSize = (2 * Math.PI) / TURNS
  seat.inner ??= innerOf(kind, still)
  const innerStill = seat.inner
  const inner = innerStill.slice()
  const centreStill = move(still, kind.centre)
  const near = tree.placed.map(
    (other) => kind.radius + other.kind.radius + needBetween(request, kind, other.kind),
  )
  /** The tree with the wax turned so far; or how far it must at least be turned on. */
  const at = (angle: number): Tree | number => {
    turnInner(innerStill, angle, inner)
    const centre = turnedPoint(centreStill, angle)
    work.left -= LITTLE
    const ballsBlock = (index: number): number => {
      const other = tree.placed[index]
      if (other === undefined || apartSquared(centre, other.centre) >= (near[index] ?? 0) ** 2) return 0
      return turnToClear(inner, other, request.rules.gap_mm, 2 * stepSize)
    }
    let least = ballsBlock(ballBlocker)
    for (let index = 0; least === 0 && index < tree.placed.length; index += 1) {
      if (index === ballBlocker) continue
      least = ballsBlock(index)
      if (least > 0) ballBlocker = index
    }
    met = tree.placed[ballBlocker]
    if (least > 0) return least
    met = undefined
    work.left -= 1
    const round = turningAboutAxis(angle)
    const motion = after(round, still)
    const bare: Placed = {
      kind,
      copy,
      motion,
      inner: inner.slice(),
      back: undoing(motion),
      centre,
      feeds: [],
      locked: false,
      onEnd,
    }
    // sprues first: a line is held against a surface far sooner than a surface is
    for (const { feeds, stemEnd } of options) {
      const one = { ...bare, feeds: feeds.map((feed) => ({ ...feed, from: move(round, feed.from) })) }
      const meets = (other: Placed): boolean => !spruesClearOf(request, room, tree.stemEnd, one, other)
      if (sprueBlocker === undefined || !meets(sprueBlocker)) {
        const found = tree.placed.find((other) => other !== sprueBlocker && meets(other))
        if (found === undefined) {
          if (blocker === undefined || waxesClear(request, bare, blocker))
            blocker = tree.placed.find((other) => !waxesClear(request, bare, other))
          met = blocker
          return blocker === undefined ? { placed: [...tree.placed, one], stemEnd, ended } : 0
        }
        sprueBlocker = found
      }
      met = options.length === 1 ? sprueBlocker : undefined
    }
    return 0
  }
  for (let step = start; step < turns; step += 1) {
    if (isBlocked(step)) continue
    const found = at(step * stepSize)
    if (typeof found === 'number') {
      const next = Math.min(turns, step + Math.max(1, Math.ceil(found / stepSize)))
      if (met !== undefined) for (let skipped = step; skipped < next; skipped += 1) note(skipped, met)
      step = next - 1
      continue
    }
    let best = found
    let [blocked, clear] = [step - 1, step]
    for (let press = 0; press < PRESSES && step > 0; press += 1) {
      const middle = (blocked + clear) / 2
      const nearer = at(middle * stepSize)
      if (typeof nearer === 'number') blocked = middle
      else {
        clear = middle
        best = nearer
      }
    }
    return { tree: best, step }
  }
  return undefined
}
