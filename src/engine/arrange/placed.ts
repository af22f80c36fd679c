import type { Point, Transform } from '../piece/mesh/index.ts'
import { lengthToStem } from './bores.ts'
import type { Placed } from './clears.ts'
import type { Feed } from './feeds.ts'
import { jointAt } from './joint.ts'
import { type Kind, LEAST_SQUARE, meetsKeptFace, ownClear } from './kind.ts'
import { type ArrangeProblem, type PlacedSprue, SHORTEST } from './request.ts'
import type { Room } from './room.ts'
import { dot, minus, move, sizeOf, turn, undoing, unit } from './vectors.ts'

/** A sprue placed by hand, set on the piece's surface; in the piece's own mm. */
type SetSprue = ReturnType<typeof jointAt> & { readonly asked: PlacedSprue }

const made = new WeakMap<Kind, Map<number, readonly SetSprue[]>>()

/** What the caster placed on this copy, moved to the nearest surface; none where the search may choose. */
const setSprues = (kind: Kind, copy: number): readonly SetSprue[] => {
  const kept = made.get(kind) ?? new Map<number, readonly SetSprue[]>()
  made.set(kind, kept)
  const set =
    kept.get(copy) ??
    (kind.piece.placed?.get(copy) ?? []).map((asked) => ({
      asked,
      ...jointAt(kind, asked.at_mm, asked.diameter_mm),
    }))
  kept.set(copy, set)
  return set
}

const SLOPES = [45, 52.5, 37.5, 60, 30]

/** The caster's own sprues where the copy stands; where a height is not given, the slope nearest 45° that is clear. */
export const placedFeeds = (
  kind: Kind,
  copy: number,
  motion: Transform,
  room: Room,
  stem: { readonly end: number; readonly ended: boolean },
): Feed[] => {
  const back = undoing(motion)
  return setSprues(kind, copy).map(({ asked, attach }): Feed => {
    const from = move(motion, attach.at)
    const out = Math.hypot(from[0], from[1])
    const rest = {
      attach,
      from,
      byHand: true,
      ...(asked.found === true && { found: true }),
      ...(asked.diameter_mm === undefined ? {} : { diameter_mm: asked.diameter_mm }),
      ...(asked.stemEnd_mm === undefined ? {} : { stemEnd_mm: asked.stemEnd_mm }),
    }
    if (asked.axis_mm !== undefined) return { ...rest, axisZ: asked.axis_mm }
    const heights = SLOPES.map((slope) => from[2] - out * Math.tan((slope * Math.PI) / 180)).filter(
      (z) => z >= room.cone + SHORTEST && !(stem.ended && z > stem.end + 1e-9),
    )
    const clear = heights.find((z) => {
      const way = unit(minus([0, 0, z], from))
      return ownClear(kind, attach.at, turn(back, way), Math.hypot(out, from[2] - z))
    })
    return { ...rest, axisZ: clear ?? heights[0] ?? Math.max(room.cone + SHORTEST, from[2] - out) }
  })
}

/** A sprue from the first attaching place at whatever slope there is room for. */
export const steepest = (kind: Kind, motion: Transform, room: Room): Feed[] => {
  const [attach] = kind.attaches
  if (attach === undefined) return []
  const from = move(motion, attach.at)
  const out = Math.hypot(from[0], from[1])
  return [{ attach, from, axisZ: Math.max(room.cone + SHORTEST, from[2] - out) }]
}

/** The same as `placedFeeds` where a piece is free to be turned: undefined where it would have to stand some other way. */
export const soundlyPlaced = (
  kind: Kind,
  copy: number,
  motion: Transform,
  room: Room,
  stem: { readonly end: number; readonly ended: boolean },
): Feed[] | undefined => {
  const back = undoing(motion)
  const feeds = placedFeeds(kind, copy, motion, room, stem)
  const sound = feeds.every((feed) => {
    const way = minus([0, 0, feed.axisZ], feed.from)
    const own = turn(back, unit(way))
    return (
      sizeOf(way) > SHORTEST &&
      Math.atan2(-way[2], Math.hypot(way[0], way[1])) >= (LEAST_SLOPE * Math.PI) / 180 &&
      feed.axisZ >= room.cone &&
      dot(own, feed.attach.outward) >= LEAST_SQUARE &&
      clearsOwnWax(kind, feed, own, sizeOf(way) - SHORTEST / 2)
    )
  })
  return sound ? feeds : undefined
}

/** A sprue nearer level than this neither lets wax run out nor gas rise well; common practice asks for 45°. */
const LEAST_SLOPE = 29.5
const MOVED = 0.5

/** A wax where it stands, with its sprues. */
export type Standing = Pick<Placed, 'kind' | 'copy' | 'motion' | 'back' | 'feeds' | 'locked'>

/** Whether the sprues that were found for a wax rise from the main sprue and leave the wax clear. */
export const areSound = ({ kind, back, feeds }: Standing, stemEnd: number, stem_mm: number): boolean =>
  feeds.every(({ attach, from, axisZ }) => {
    const way = unit(minus([0, 0, axisZ], from))
    const own = turn(back, way)
    return (
      Math.atan2(-way[2], Math.hypot(way[0], way[1])) >= (LEAST_SLOPE * Math.PI) / 180 &&
      dot(own, attach.outward) >= LEAST_SQUARE &&
      ownClear(kind, attach.at, own, lengthToStem(from, axisZ, Math.max(stemEnd, axisZ), stem_mm / 2))
    )
  })

/** What is wrong with sprues that the caster placed; each said, none refused. @param before  sprues of the waxes before this one */
export const judgePlaced = (one: Standing, room: Room, stem_mm: number, before: number): ArrangeProblem[] => {
  const { kind, copy } = one
  const { piece } = kind
  const set = setSprues(kind, copy)
  return one.feeds.flatMap((feed, index): ArrangeProblem[] => {
    if (!feed.byHand) return []
    const found: ArrangeProblem[] = []
    const where = `${piece.id}/${copy}`
    const name = `Sprue ${before + index + 1}, placed on ${piece.name} ${copy},`
    const say = (kindOf: string, level: ArrangeProblem['level'], what: string, remedy: string): void =>
      void found.push({ kind: kindOf, level, where, what: `${name} ${what}`, remedy })
    const { outward } = feed.attach
    const away = set[index]?.moved_mm ?? 0
    if (away > MOVED)
      say(
        'sprue-moved',
        'note',
        `was ${away.toFixed(1)} mm off the wax, and was set on its nearest surface`,
        'pick the place on the wax itself where another was meant',
      )
    const way = minus([0, 0, feed.axisZ], feed.from)
    const whole = sizeOf(way)
    if (!(whole > stem_mm / 2)) {
      say('sprue-in-stem', 'stop', 'starts inside the main sprue', 'move the piece outward')
      return found
    }
    const toward = unit(way)
    const own = turn(one.back, toward)
    if (!clearsOwnWax(kind, feed, own, whole - stem_mm / 2))
      say(
        'sprue-through-piece',
        'stop',
        'passes through its own wax, or so close that no plaster stands between',
        'join it on the side that faces the main sprue, or turn the piece',
      )
    else if (dot(own, outward) < LEAST_SQUARE)
      say(
        'sprue-grazes',
        'check',
        `leaves the surface at only ${((Math.asin(Math.max(0, dot(own, outward))) * 180) / Math.PI).toFixed(0)}°: the joint has a sharp edge of plaster that metal washes off`,
        'join it where the surface faces the main sprue, or turn the piece',
      )
    const slope = (Math.atan2(-toward[2], Math.hypot(toward[0], toward[1])) * 180) / Math.PI
    if (slope < 0)
      say(
        'sprue-runs-back',
        'check',
        `runs back, ${(-slope).toFixed(0)}° down from the main sprue to the piece: wax stays in it and metal must turn sharply`,
        'let it meet the main sprue nearer the base, 45° below the piece',
      )
    else if (slope < LEAST_SLOPE)
      say(
        'sprue-too-flat',
        'check',
        `rises only ${slope.toFixed(0)}° above level: wax drains badly from under 30°`,
        'let it meet the main sprue nearer the base, 45° below the piece',
      )
    if (feed.axisZ < room.cone)
      say(
        'sprue-below-stem',
        'stop',
        `meets the axis ${(room.cone - feed.axisZ).toFixed(1)} mm inside the base’s cone`,
        'let it meet the main sprue above the cone',
      )
    if (meetsKeptFace(kind, feed.attach, feed.diameter_mm))
      say(
        'sprue-on-kept-face',
        'check',
        'joins a face that is to be kept clear',
        'move it off that face, or accept the mark to be filed away',
      )
    const across = feed.diameter_mm ?? piece.sprue.diameter_mm
    const widest = Math.max(across, feed.stemEnd_mm ?? 0)
    if (widest > stem_mm + 1e-9)
      say(
        'sprue-wider-than-stem',
        'check',
        `is ${widest.toFixed(1)} mm across where it meets a main sprue of ${stem_mm.toFixed(1)} mm, which then freezes before it`,
        'make it no wider there than the main sprue, or the main sprue as wide',
      )
    if (feed.stemEnd_mm !== undefined && feed.stemEnd_mm < across)
      say(
        'sprue-narrows',
        'check',
        'is thinner at the main sprue than at the piece, so it closes before the piece is fed',
        'make it as wide at the main sprue as at the piece, or wider',
      )
    return found
  })
}

/** Whether a sprue of the caster's own width and taper stays clear of its own wax. @param way  in the wax's mm */
const clearsOwnWax = (kind: Kind, { attach, ...asked }: Feed, way: Point, length: number): boolean => {
  const { piece } = kind
  const { diameter_mm = piece.sprue.diameter_mm, stemEnd_mm = diameter_mm } = asked
  const sprue = { ...piece.sprue, diameter_mm }
  const wider = (stemEnd_mm - diameter_mm) / 2
  return ownClear({ ...kind, piece: { ...piece, sprue } }, attach.at, way, length, wider)
}
