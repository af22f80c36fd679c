import { distanceToLine } from '../piece/mesh/apart.ts'
import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { axis, needBetween, type Placed, spruesClear, type Tree, waxesClear } from './clears.ts'
import { type Feed, findFeeds } from './feeds.ts'
import { allReach, type Kind } from './kind.ts'
import type { Pose } from './poses.ts'
import { type ArrangeRequest, SHORTEST } from './request.ts'
import { type Room, SAFE } from './room.ts'
import { move, shifting, turningAboutAxis, undoing } from './vectors.ts'

export const emptyTree = (room: Room): Tree => ({ placed: [], stemEnd: room.cone, ended: false })

/** What a strategy likes: little height, little of the circle, little distance from the axis. */
export interface Taste {
  readonly height: number
  readonly circle: number
  readonly reach: number
  /** whether a piece may sit on the end of the main sprue */
  readonly onEnd: boolean
}

interface Seat {
  readonly pose: Pose
  readonly slopes: readonly number[]
  readonly out: number
  readonly up: number
  readonly worth: number
}

const TURNS = 72
/** Whether the surface, taken as far off as it may be, stays within the wall's and the top's clearances. */
const staysIn = (kind: Kind, motion: Transform, room: Room): boolean => {
  const reach = room.reach - kind.off - SAFE
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, h = 0, i = 1, x = 0, y = 0, z = 0] = motion
  return allReach(kind.outside.mesh, (px, py, pz) => {
    const up = c * px + f * py + i * pz + z
    if (up > room.top - kind.off - SAFE || up < room.bottom + kind.off + SAFE) return false
    const along = a * px + d * py + g * pz + x
    const across = b * px + e * py + h * pz + y
    return along * along + across * across <= reach * reach
  })
}

export const innerOf = (kind: Kind, motion: Transform): Float64Array =>
  Float64Array.from(kind.inner.flatMap(({ centre, radius }) => [...move(motion, centre), radius]))

/**
 * How far the first must at least turn about the axis before its inner balls clear those of the second,
 * radians; 0 where they clear already.
 */
const turnToClear = (a: Float64Array, b: Float64Array, gap: number): number => {
  let most = 0
  for (let i = 0; i < a.length; i += 4) {
    const x = a[i] ?? 0
    const y = a[i + 1] ?? 0
    const z = a[i + 2] ?? 0
    const whole = (a[i + 3] ?? 0) + gap
    for (let j = 0; j < b.length; j += 4) {
      const need = whole + (b[j + 3] ?? 0)
      const dx = x - (b[j] ?? 0)
      const dy = y - (b[j + 1] ?? 0)
      const dz = z - (b[j + 2] ?? 0)
      const squared = dx * dx + dy * dy + dz * dz
      if (squared >= need * need) continue
      const turn = (need - Math.sqrt(squared)) / Math.max(Math.hypot(x, y), 1e-3)
      if (turn > most) most = turn
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

/**
 * Every seat worth trying for a kind of piece, best first. It rests on the room alone, not on what stands in
 * it: as a tree only grows, a seat once taken or blocked stays so, and no copy need try it again.
 */
const sideSeats = (
  request: ArrangeRequest,
  kind: Kind,
  poses: readonly Pose[],
  room: Room,
  taste: Taste,
): Seat[] => {
  const stemRadius = request.stem_mm / 2
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  const seats: Seat[] = []
  for (const pose of poses) {
    const most = Math.min(
      ...pose.reaches.map(([x, y]) => Math.sqrt(Math.max(0, (room.reach - kind.off) ** 2 - y ** 2)) - x),
    )
    const slopes = pose.slopes.filter((slope) => slope <= Math.PI / 3 + 1e-9)
    const paired = pose.attach === undefined
    if (slopes.length === 0 && !paired) continue
    const steepest = Math.max(...slopes)
    const least = paired ? 0 : stemRadius + shortest * Math.cos(steepest)
    if (most < least) continue
    for (const share of [0, 0.2, 0.4, 0.6, 0.8, 1]) {
      const out = least + share * (most - least)
      const rises = slopes.map((slope) => out * Math.tan(slope))
      const lowest = Math.max(
        room.cone + SHORTEST + (paired ? shortest / 2 : Math.min(...rises)),
        room.bottom - pose.low + kind.off + SAFE,
      )
      const highest = room.top - pose.high - kind.off - SAFE
      if (highest < lowest) continue
      const steps = Math.min(8, Math.ceil((highest - lowest) / 2))
      for (let step = 0; step <= steps; step += 1) {
        const up = lowest + (steps === 0 ? 0 : ((highest - lowest) * step) / steps)
        const ways = slopes.filter(
          (slope, index) =>
            up - (rises[index] ?? 0) >= room.cone + SHORTEST - 1e-9 &&
            out >= stemRadius + shortest * Math.cos(slope) - 1e-9,
        )
        if (ways.length > 0 || paired) offer(request, kind, room, taste, pose, ways, out, up, seats)
      }
    }
  }
  return seats.sort((a, b) => a.worth - b.worth).slice(0, MOST_SEATS)
}

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
        offer(request, kind, room, taste, pose, [slope], out, axisZ + rise, seats)
      }
    }
  return seats.sort((a, b) => a.worth - b.worth).slice(0, MOST_END_SEATS)
}

const offer = (
  request: ArrangeRequest,
  kind: Kind,
  room: Room,
  taste: Taste,
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
    worth:
      taste.height * ((up + pose.high) / room.top) +
      taste.circle * (circle / Math.PI) +
      taste.reach * (far / reach) +
      0.5 * pose.against,
  })
}

const MOST_SEATS = 300
const MOST_END_SEATS = 40

/** The seats of one kind, and how far along them the search has come. */
export interface Search {
  readonly seats: readonly Seat[]
  seat: number
  step: number
}

export const beginSearch = (
  request: ArrangeRequest,
  kind: Kind,
  poses: readonly Pose[],
  room: Room,
  taste: Taste,
): Search => ({ seats: sideSeats(request, kind, poses, room, taste), seat: 0, step: 0 })

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
): Tree | undefined => {
  const take = (seat: Seat, onEnd: boolean, from: number): { tree: Tree; step: number } | undefined =>
    trySeat(request, room, tree, kind, copy, count, seat, onEnd, from)
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
  for (; search.seat < search.seats.length; search.seat += 1, search.step = 0) {
    const seat = search.seats[search.seat]
    const taken = seat && take(seat, false, search.step)
    if (taken === undefined) continue
    search.step = taken.step + 1
    return taken.tree
  }
  return taste.onEnd && tree.placed.length > 0 ? onEnd() : undefined
}

const trySeat = (
  request: ArrangeRequest,
  room: Room,
  tree: Tree,
  kind: Kind,
  copy: number,
  count: number,
  seat: Seat,
  onEnd: boolean,
  from: number,
): { tree: Tree; step: number } | undefined => {
  const { pose } = seat
  const turns = tree.placed.length === 0 ? 1 : TURNS
  if (from >= turns) return undefined
  const still = after(shifting([seat.out, 0, seat.up]), pose.motion)
  if (!staysIn(kind, still, room)) return undefined
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
    if (feeds === undefined) return []
    const stemEnd = Math.max(tree.stemEnd, ...feeds.map((feed) => feed.axisZ))
    const stemNeed = request.rules.gap_mm + request.stem_mm / 2 + kind.off + SAFE
    const undo = undoing(still)
    const toStem = distanceToLine(
      kind.outside,
      move(undo, axis(room.cone)),
      move(undo, axis(stemEnd)),
      stemNeed,
      stemNeed,
    )
    return toStem < stemNeed ? [] : [{ feeds, stemEnd }]
  })
  if (options.length === 0) return undefined
  // the wax that was in the way of the last step is the likeliest to be in the way of the next
  let blocker: Placed | undefined
  const innerStill = innerOf(kind, still)
  const inner = innerStill.slice()
  const centreStill = move(still, kind.centre)
  for (let step = from; step < turns; step += 1) {
    const angle = (2 * Math.PI * step) / TURNS
    turnInner(innerStill, angle, inner)
    const centre = turnedPoint(centreStill, angle)
    let least = 0
    for (const other of tree.placed) {
      const need = kind.radius + other.kind.radius + needBetween(request, kind, other.kind)
      if (apartSquared(centre, other.centre) >= need * need) continue
      least = turnToClear(inner, other.inner, request.rules.gap_mm)
      if (least > 0) break
    }
    if (least > 0) {
      step += Math.max(0, Math.ceil((least * TURNS) / (2 * Math.PI)) - 1)
      continue
    }
    const round = turningAboutAxis(angle)
    const motion = after(round, still)
    const bare: Placed = {
      kind,
      copy,
      motion,
      inner,
      back: undoing(motion),
      centre: move(motion, kind.centre),
      feeds: [],
      locked: false,
      pose,
    }
    if (blocker !== undefined && !waxesClear(request, bare, blocker)) continue
    blocker = tree.placed.find((other) => !waxesClear(request, bare, other))
    if (blocker !== undefined) continue
    for (const { feeds, stemEnd } of options) {
      const one = { ...bare, feeds: feeds.map((feed) => ({ ...feed, from: move(round, feed.from) })) }
      if (spruesClear(request, room, tree, one))
        return { tree: { placed: [...tree.placed, one], stemEnd, ended }, step }
    }
  }
  return undefined
}
