import type { Point, TriangleMesh } from '../piece/mesh/index.ts'
import { betweenSides as betweenLines, nearestPair, nearestToLine } from '../piece/mesh/nearest-pair.ts'
import { after } from '../piece/mesh/transform.ts'
import { cornersOfEnd } from './body.ts'
import { type Bar, barsOf, discReach, filletOf, neighbourhood, outsideStem, zoneByStem } from './bores.ts'
import type { Placed } from './clears.ts'
import { allReach, surfaceOf } from './kind.ts'
import type { ArrangeRequest, Clearance, Sprue } from './request.ts'
import type { Room } from './room.ts'
import { cross, dot, minus, move, plus, sizeOf, unit } from './vectors.ts'

/** A clearance with the two points where the surfaces are nearest, in the flask's mm. */
export interface Dimension extends Clearance {
  readonly points: readonly [Point, Point]
}

/** A wax where it stands. */
export type Stood = Pick<Placed, 'kind' | 'copy' | 'motion' | 'back'>

interface Copy {
  readonly piece: string
  readonly copy: number
}
export const sameWax = (a: Copy, b: Copy): boolean => a.piece === b.piece && a.copy === b.copy
const copyOf = ({ kind, copy }: Stood): Copy => ({ piece: kind.piece.id, copy })
export const standsOn = (sprue: Sprue, one: Stood): boolean => sameWax(sprue, copyOf(one))
const nameOf = ({ kind, copy }: Stood): string => `${kind.piece.id}/${copy}`

/** The corners of a placed surface that lie farthest from the axis, lowest and highest: no other point goes beyond. */
export const cornersOf = ({ kind, motion }: Stood): { out: Point; low: Point; high: Point } => {
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, h = 0, i = 1, tx = 0, ty = 0, tz = 0] = motion
  let [far, least, most] = [-1, Infinity, -Infinity]
  let [farX, farY, farZ, lowX, lowY, highX, highY] = [0, 0, 0, 0, 0, 0, 0]
  allReach(surfaceOf(kind).mesh, (px, py, pz) => {
    const x = a * px + d * py + g * pz + tx
    const y = b * px + e * py + h * pz + ty
    const z = c * px + f * py + i * pz + tz
    const squared = x * x + y * y
    if (squared > far) {
      far = squared
      farX = x
      farY = y
      farZ = z
    }
    if (z < least) {
      least = z
      lowX = x
      lowY = y
    }
    if (z > most) {
      most = z
      highX = x
      highY = y
    }
    return true
  })
  return { out: [farX, farY, farZ], low: [lowX, lowY, least], high: [highX, highY, most] }
}

/**
 * How far a sprue comes to the wall and the top, and where: the rims of its joint, fillet and all, of its end as it is
 * cut along the face it joins, and of its end at the main sprue.
 */
export const sprueReach = (
  sprue: Sprue,
): { readonly out: number; readonly outAt: Point; readonly high: number; readonly highAt: Point } => {
  const way = minus(sprue.from_mm, sprue.to_mm)
  const level = Math.hypot(way[0], way[1]) / Math.max(sizeOf(way), 1e-12)
  const rise = way[2] / Math.max(sizeOf(way), 1e-12)
  const wide = Math.max(sprue.diameter_mm, sprue.stemEnd_mm) / 2
  const joint = Math.max(wide, sprue.diameter_mm / 2 + sprue.fillet_mm)
  const disc = (at: Point, radius: number) => ({
    at,
    out: discReach(Math.hypot(at[0], at[1]), rise, radius),
    high: at[2] + radius * level,
  })
  const ends = [
    disc(sprue.from_mm, joint),
    disc(sprue.to_mm, wide),
    // what of it comes higher than the joint's rim lies in the wax
    ...cornersOfEnd(sprue).map((at) => ({ at, out: Math.hypot(at[0], at[1]), high: -Infinity })),
  ]
  const far = ends.reduce((a, b) => (b.out > a.out ? b : a))
  const highest = ends.reduce((a, b) => (b.high > a.high ? b : a))
  return { out: far.out, outAt: far.at, high: highest.high, highAt: highest.at }
}

/**
 * Whether one wax lies in the metal of another, where the surfaces may be well apart: by the solid angle that
 * the outer surface takes up about a corner of the inner one, the whole of it when it is inside.
 */
const encloses = (outer: Stood, { positions, corners }: TriangleMesh, inner: Stood): boolean => {
  const apart = minus(move(outer.motion, outer.kind.centre), move(inner.motion, inner.kind.centre))
  if (sizeOf(apart) > outer.kind.radius) return false
  const [x, y, z] = move(outer.back, move(inner.motion, inner.kind.reaches[0] ?? inner.kind.centre))
  let angle = 0
  for (let t = 0; t < corners.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k): Point => {
      const at = (corners[t + k] ?? 0) * 3
      return [(positions[at] ?? 0) - x, (positions[at + 1] ?? 0) - y, (positions[at + 2] ?? 0) - z]
    }) as [Point, Point, Point]
    const [p, q, r] = [sizeOf(a), sizeOf(b), sizeOf(c)]
    angle += 2 * Math.atan2(dot(a, cross(b, c)), p * q * r + dot(a, b) * r + dot(b, c) * p + dot(c, a) * q)
  }
  return Math.abs(angle) > 2 * Math.PI
}

/** From a middle line as far as its bar's surface, towards another point but not past it. */
const towards = (line: Point, on: Point, radius: number): Point => {
  const way = minus(on, line)
  const size = sizeOf(way)
  return size > 1e-9 ? plus(line, way, Math.min(radius, size) / size) : line
}

const onWall = (point: Point, radius: number): Point => {
  const out = Math.hypot(point[0], point[1]) || 1
  return [(point[0] / out) * radius, (point[1] / out) * radius, point[2]]
}

/** Past the wall, the top or the base a distance is less than nothing; two things that meet are at none. */
const dimension = (
  between: Dimension['between'],
  distance: number,
  needed_mm: number,
  points: Dimension['points'],
): Dimension => {
  const [first] = between
  const isRoom = first === 'wall' || first === 'top' || first === 'base'
  return { between, distance_mm: isRoom ? distance : Math.max(0, distance), needed_mm, points }
}

const spare = (one: Clearance): number => one.distance_mm - one.needed_mm
/** Tightest against its need first. */
const tightestFirst = <T extends Clearance>(list: readonly T[]): T[] =>
  [...list].sort((a, b) => spare(a) - spare(b))

/**
 * Every distance between the real surfaces of the waxes, and to the wall, the top, the base's cone and the main sprue.
 * @param only  just those of this wax
 */
const measureWaxes = (
  request: ArrangeRequest,
  room: Room,
  stood: readonly Stood[],
  stemEnd: number,
  only?: Copy,
): Dimension[] => {
  const { wall_mm, gap_mm } = request.rules
  const radius = room.flask.diameter_mm / 2
  const matters = (one: Stood): boolean => only === undefined || sameWax(copyOf(one), only)
  return stood.flatMap((one, index): Dimension[] => {
    const name = nameOf(one)
    const surface = surfaceOf(one.kind)
    const list: Dimension[] = []
    if (matters(one)) {
      const { out, low, high } = cornersOf(one)
      const roof: Point = [high[0], high[1], room.flask.height_mm]
      const stem = nearestToLine(
        surface,
        move(one.back, [0, 0, room.cone]),
        move(one.back, [0, 0, Math.max(stemEnd, room.cone + 1e-6)]),
      )
      const [on, line] = [move(one.motion, stem.on), move(one.motion, stem.other)]
      const half = request.stem_mm / 2
      const side =
        stem.distance > 1e-9 ? plus(line, unit(minus(on, line)), Math.min(half, stem.distance)) : line
      list.push(
        dimension(['wall', name], radius - Math.hypot(out[0], out[1]), wall_mm, [onWall(out, radius), out]),
        dimension(['top', name], room.flask.height_mm - high[2], room.neededTop, [roof, high]),
        dimension(['base', name], low[2] - room.cone, gap_mm, [[low[0], low[1], room.cone], low]),
        dimension(['stem', name], stem.distance - half, gap_mm, [side, on]),
      )
    }
    for (const other of stood.slice(index + 1)) {
      if (!matters(one) && !matters(other)) continue
      const theirs = surfaceOf(other.kind)
      const pair = nearestPair(surface, theirs, after(one.back, other.motion))
      const within = encloses(one, surface.mesh, other) || encloses(other, theirs.mesh, one)
      list.push(
        dimension([name, nameOf(other)], within ? 0 : pair.distance, gap_mm, [
          move(one.motion, pair.on),
          move(one.motion, pair.other),
        ]),
      )
    }
    return list
  })
}

/** Where two sprues' surfaces come nearest outside a zone about the main sprue; undefined where one of them lies in it. */
const betweenSprues = (
  one: Sprue,
  other: Sprue,
  stem: { readonly foot: number; readonly end: number; readonly within: number },
): { readonly gap: number; readonly points: Dimension['points'] } | undefined => {
  const [firsts = [], seconds = []] = [one, other].map((sprue): Bar[] => {
    const line = outsideStem(sprue.from_mm, sprue.axis_mm[2], stem)
    if (line === undefined) return []
    const [from, to] = line
    return [{ from, to, radius: Math.max(sprue.diameter_mm, sprue.stemEnd_mm) / 2 }, ...filletOf(sprue)]
  })
  let best: { readonly gap: number; readonly points: Dimension['points'] } | undefined
  for (const first of firsts)
    for (const second of seconds) {
      const [on, there] = betweenLines(first.from, first.to, second.from, second.to)
      const gap = sizeOf(minus(on, there)) - first.radius - second.radius
      if (best === undefined || gap < best.gap)
        best = { gap, points: [towards(on, there, first.radius), towards(there, on, second.radius)] }
    }
  return best
}

/** The lowest a sprue's rim comes outside the zone about the main sprue, into which it is let; undefined where all of it lies in that. */
const lowestOf = (
  sprue: Sprue,
  stem: { readonly foot: number; readonly end: number; readonly within: number },
): Point | undefined => {
  const line = outsideStem(sprue.from_mm, sprue.axis_mm[2], stem)
  if (line === undefined) return undefined
  const way = minus(sprue.from_mm, sprue.to_mm)
  const level = Math.hypot(way[0], way[1]) / Math.max(sizeOf(way), 1e-12)
  const radius = Math.max(sprue.diameter_mm + 2 * sprue.fillet_mm, sprue.stemEnd_mm) / 2
  const [x, y, z] = line[0][2] < line[1][2] ? line[0] : line[1]
  return [x, y, z - radius * level]
}

/**
 * Every distance from the sprues, fillets and all, to the waxes they don't feed, the wall, the top, the base and one another.
 * Two sprues are asked to keep their gap outside the neighbourhood of the main sprue in which they run together;
 * where they are nearer than it within that, though more than one gap outside the main sprue, it is told and stops
 * nothing. Nor do two sprues of one wax: where they run close all the way, the plaster between them feeds no other wax's.
 * @param only  just those of this wax and its sprues
 */
const measureSprues = (
  request: ArrangeRequest,
  room: Room,
  stood: readonly Stood[],
  sprues: readonly Sprue[],
  stemEnd: number,
  only?: Copy,
): Dimension[] => {
  const { wall_mm, gap_mm } = request.rules
  const radius = room.flask.diameter_mm / 2
  const matters = (...those: readonly Copy[]): boolean =>
    only === undefined || those.some((one) => sameWax(one, only))
  const stem = { foot: room.cone, end: stemEnd }
  const strict = { ...stem, within: neighbourhood(request) }
  const near = { ...stem, within: zoneByStem(request.stem_mm, gap_mm) }
  return sprues.flatMap((sprue, index): Dimension[] => {
    const name = `sprue/${index + 1}`
    const list: Dimension[] = []
    if (matters(sprue)) {
      const { out, outAt, high, highAt } = sprueReach(sprue)
      const [x, y] = highAt
      list.push(
        dimension(['wall', name], radius - out, wall_mm, [onWall(outAt, radius), onWall(outAt, out)]),
        dimension(['top', name], room.flask.height_mm - high, room.neededTop, [
          [x, y, room.flask.height_mm],
          [x, y, high],
        ]),
      )
      const low = lowestOf(sprue, near)
      if (low !== undefined)
        list.push(dimension(['base', name], low[2] - room.cone, gap_mm, [[low[0], low[1], room.cone], low]))
    }
    for (const one of stood) {
      if (standsOn(sprue, one) || !matters(sprue, copyOf(one))) continue
      const surface = surfaceOf(one.kind)
      const nearest = [...barsOf(sprue), ...filletOf(sprue)]
        .map((bar) => {
          const apart = nearestToLine(surface, move(one.back, bar.from), move(one.back, bar.to))
          return { ...apart, radius: bar.radius, gap: apart.distance - bar.radius }
        })
        .reduce((a, b) => (b.gap < a.gap ? b : a))
      const [on, line] = [move(one.motion, nearest.on), move(one.motion, nearest.other)]
      list.push(dimension([name, nameOf(one)], nearest.gap, gap_mm, [towards(line, on, nearest.radius), on]))
    }
    sprues.slice(index + 1).forEach((other, k) => {
      if (!matters(sprue, other)) return
      const between = [name, `sprue/${index + k + 2}`] as const
      const close = betweenSprues(sprue, other, near)
      if (close === undefined) return
      const asked = betweenSprues(sprue, other, strict)
      if (close.gap >= gap_mm) {
        const own = dimension(between, close.gap, gap_mm, close.points)
        list.push(asked?.gap === close.gap && !sameWax(sprue, other) ? own : { ...own, keptByStem: true })
        return
      }
      if (sameWax(sprue, other)) {
        list.push({ ...dimension(between, close.gap, gap_mm, close.points), oneWax: true })
        return
      }
      if (asked !== undefined) list.push(dimension(between, asked.gap, gap_mm, asked.points))
      if (asked === undefined || asked.gap >= gap_mm)
        list.push({ ...dimension(between, close.gap, gap_mm, close.points), byStem: true })
    })
    return list
  })
}

/** The main sprue's round end to the flask's top: a sprue set high by hand may take it there. */
const stemToTop = ({ stem_mm }: ArrangeRequest, { flask, neededTop }: Room, stemEnd: number): Dimension => {
  const high = stemEnd + stem_mm / 2
  return dimension(['top', 'stem'], flask.height_mm - high, neededTop, [
    [0, 0, flask.height_mm],
    [0, 0, high],
  ])
}

/** Nearer than a gap where that is told and stops nothing. */
export const isOnlyTold = ({ byStem, oneWax }: Clearance): boolean => byStem === true || oneWax === true

/** Whether less of a distance would stop the tree: what has to spare, or has not, is told of these. */
export const isAsked = (one: Clearance): boolean => !isOnlyTold(one) && one.keptByStem !== true

/** Between the main sprue or the base and a wax, or only told: kept apart from the others in an arrangement's lists. */
export const isOfStem = (one: Clearance): boolean =>
  one.between.includes('stem') || one.between.includes('base') || isOnlyTold(one)

export const withoutPoints = ({ points: _points, ...rest }: Dimension): Clearance => rest

/** Every distance of a tree, tightest against its need first. @param only  just those of this wax and its sprues */
export const measureTree = (
  request: ArrangeRequest,
  room: Room,
  stood: readonly Stood[],
  sprues: readonly Sprue[],
  stemEnd: number,
  only?: Copy,
): Dimension[] =>
  tightestFirst([
    ...(only === undefined ? [stemToTop(request, room, stemEnd)] : []),
    ...measureWaxes(request, room, stood, stemEnd, only),
    ...measureSprues(request, room, stood, sprues, stemEnd, only),
  ])
