import { type BallTree, buildBallTree, distanceApart, distanceToLine } from '../piece/mesh/apart.ts'
import type { Point, TriangleMesh } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { barsOf, linesApart, neighbourhood, outsideStem } from './bores.ts'
import type { Placed } from './clears.ts'
import { allReach, type Kind } from './kind.ts'
import type { ArrangeRequest, Clearance, Sprue } from './request.ts'
import type { Room } from './room.ts'
import { cross, dot, minus, move, sizeOf } from './vectors.ts'

/** The true surface of each kind, whatever the search was made on. */
export const trueSurfaces = (kinds: readonly Kind[]): ReadonlyMap<Kind, BallTree> =>
  new Map(
    kinds.map((kind) => [
      kind,
      kind.off === 0 ? kind.outside : buildBallTree(kind.piece.envelope ?? kind.piece.mesh),
    ]),
  )

type Solid = Pick<Placed, 'kind' | 'motion' | 'back' | 'centre'>

const nameOf = (one: Placed): string => `${one.kind.piece.id}/${one.copy}`

/** Farthest from the axis, lowest and highest of a placed surface: all three lie at corners. */
export const farthest = (
  mesh: TriangleMesh,
  one: Pick<Placed, 'motion'>,
): { out: number; low: number; high: number } => {
  let [out, low, high] = [0, Infinity, -Infinity]
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, h = 0, i = 1, x = 0, y = 0, z = 0] = one.motion
  allReach(mesh, (px, py, pz) => {
    const along = a * px + d * py + g * pz + x
    const across = b * px + e * py + h * pz + y
    const up = c * px + f * py + i * pz + z
    const squared = along * along + across * across
    if (squared > out) out = squared
    if (up < low) low = up
    if (up > high) high = up
    return true
  })
  return { out: Math.sqrt(out), low, high }
}

/**
 * Whether one wax lies in the metal of another, where the surfaces may be well apart: by the solid angle that
 * the outer surface takes up about a corner of the inner one, the whole of it when it is inside.
 */
export const encloses = (outer: Solid, { mesh }: BallTree, inner: Solid): boolean => {
  if (sizeOf(minus(outer.centre, inner.centre)) > outer.kind.radius) return false
  const [x, y, z] = move(outer.back, move(inner.motion, inner.kind.reaches[0] ?? inner.kind.centre))
  const { positions, corners } = mesh
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

const spare = (one: Clearance): number => one.distance_mm - one.needed_mm
const tightestFirst = (list: Clearance[]): Clearance[] => list.sort((a, b) => spare(a) - spare(b))

/** How far a round bar with flat ends comes to the wall and the top: its rim's farthest points, in closed form. */
export const barReach = (sprue: Sprue): { out: number; high: number } => {
  const way = minus(sprue.from_mm, sprue.to_mm)
  const length = Math.max(sizeOf(way), 1e-12)
  const radius = Math.max(sprue.diameter_mm, sprue.stemEnd_mm) / 2
  const level = Math.hypot(way[0], way[1]) / length
  const out = Math.max(...[sprue.from_mm, sprue.to_mm].map((end) => Math.hypot(end[0], end[1]))) + radius
  return { out, high: Math.max(sprue.from_mm[2], sprue.to_mm[2]) + radius * level }
}

/** Between two sprues' surfaces where both are outside the main sprue's neighbourhood; undefined where none is. */
const betweenSprues = (
  request: ArrangeRequest,
  room: Room,
  one: Sprue,
  other: Sprue,
  end: number,
): number | undefined => {
  const stem = { foot: room.cone, end, within: neighbourhood(request.stem_mm, request.rules.gap_mm) }
  const [first, second] = [one, other].map((sprue) => {
    const line = outsideStem(sprue.from_mm, sprue.axis_mm[2], stem)
    if (line === undefined) return []
    const wide = Math.max(sprue.diameter_mm, sprue.stemEnd_mm)
    return [{ line, radius: wide / 2 }]
  })
  const [a] = first ?? []
  const [b] = second ?? []
  return a === undefined || b === undefined
    ? undefined
    : Math.max(0, linesApart(...a.line, ...b.line) - a.radius - b.radius)
}

/** Every distance between the real surfaces of the waxes, and to the wall and the top, with what is needed. */
export const measureWaxes = (
  request: ArrangeRequest,
  room: Room,
  placed: readonly Placed[],
  surfaces: ReadonlyMap<Kind, BallTree>,
): Clearance[] => {
  const { rules } = request
  const list: Clearance[] = []
  const treeOf = (one: Placed): BallTree => surfaces.get(one.kind) ?? one.kind.outside
  placed.forEach((one, index) => {
    const { out, high } = farthest(treeOf(one).mesh, one)
    list.push(
      {
        between: ['wall', nameOf(one)],
        distance_mm: room.flask.diameter_mm / 2 - out,
        needed_mm: rules.wall_mm,
      },
      { between: ['top', nameOf(one)], distance_mm: room.flask.height_mm - high, needed_mm: room.neededTop },
    )
    for (const other of placed.slice(index + 1)) {
      const inside = encloses(one, treeOf(one), other) || encloses(other, treeOf(other), one)
      list.push({
        between: [nameOf(one), nameOf(other)],
        distance_mm: inside ? 0 : distanceApart(treeOf(one), treeOf(other), after(one.back, other.motion)),
        needed_mm: rules.gap_mm,
      })
    }
  })
  return list
}

/** Every distance between real surfaces, with what is needed, tightest first. */
export const measureClearances = (
  request: ArrangeRequest,
  room: Room,
  placed: readonly Placed[],
  sprues: readonly Sprue[],
  stemEnd: number,
  surfaces: ReadonlyMap<Kind, BallTree>,
  waxes: readonly Clearance[] = measureWaxes(request, room, placed, surfaces),
): Clearance[] => {
  const { rules } = request
  const list = [...waxes]
  const treeOf = (one: Placed): BallTree => surfaces.get(one.kind) ?? one.kind.outside
  sprues.forEach((sprue, index) => {
    const name = `sprue/${index + 1}`
    const { out, high } = barReach(sprue)
    list.push(
      { between: ['wall', name], distance_mm: room.flask.diameter_mm / 2 - out, needed_mm: rules.wall_mm },
      { between: ['top', name], distance_mm: room.flask.height_mm - high, needed_mm: room.neededTop },
    )
    for (const one of placed) {
      if (one.kind.piece.id === sprue.piece && one.copy === sprue.copy) continue
      const apart = Math.min(
        ...barsOf(sprue).map(
          ({ from, to, radius }) =>
            distanceToLine(treeOf(one), move(one.back, from), move(one.back, to)) - radius,
        ),
      )
      list.push({
        between: [name, nameOf(one)],
        distance_mm: Math.max(0, apart),
        needed_mm: rules.gap_mm,
      })
    }
    sprues.slice(index + 1).forEach((other, k) => {
      if (other.piece === sprue.piece && other.copy === sprue.copy) return
      const apart = betweenSprues(request, room, sprue, other, stemEnd)
      if (apart !== undefined)
        list.push({
          between: [name, `sprue/${index + k + 2}`],
          distance_mm: apart,
          needed_mm: rules.gap_mm,
        })
    })
  })
  return tightestFirst(list)
}

/** The waxes to the main sprue and to the level of the base's cone. */
export const measureToStem = (
  request: ArrangeRequest,
  room: Room,
  placed: readonly Placed[],
  stemEnd: number,
  surfaces: ReadonlyMap<Kind, BallTree>,
): Clearance[] => {
  const foot: Point = [0, 0, room.cone]
  const end: Point = [0, 0, stemEnd]
  return tightestFirst(
    placed.flatMap((one): Clearance[] => {
      const tree = surfaces.get(one.kind) ?? one.kind.outside
      const apart = distanceToLine(tree, move(one.back, foot), move(one.back, end))
      return [
        {
          between: ['stem', nameOf(one)],
          distance_mm: Math.max(0, apart - request.stem_mm / 2),
          needed_mm: request.rules.gap_mm,
        },
        {
          between: ['base', nameOf(one)],
          distance_mm: farthest(tree.mesh, one).low - room.cone,
          needed_mm: request.rules.gap_mm,
        },
      ]
    }),
  )
}
