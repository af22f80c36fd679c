import { type BallTree, ballRound, buildBallTree, distanceToLine } from '../piece/mesh/apart.ts'
import { buildBoxTree } from '../piece/mesh/box-tree.ts'
import { coarsen } from '../piece/mesh/coarse.ts'
import { type Point, type TriangleMesh, volumeOf } from '../piece/mesh/index.ts'
import type { Shape } from '../piece/mesh/rays.ts'
import { type ThickPlace, thickPlacesOf } from '../piece/mesh/thick-places.ts'
import type { InscribedBall } from '../piece/mesh/thickness.ts'
import { widestFillet } from './bores.ts'
import { faceUnder, onWax } from './on-wax.ts'
import type { PieceToArrange } from './request.ts'
import { dot, minus, plus, sizeOf, unit } from './vectors.ts'

/** A place on the surface where a sprue may join. */
export interface Attach {
  readonly at: Point
  readonly outward: Point
  readonly thickness_mm: number
  /** which of the thick places it feeds */
  readonly place: number
  /** on the rim rather than on a broad face */
  readonly rim: boolean
  /** on a broad face that is worked in relief, where the other is plain: most likely the one that shows */
  readonly worked: boolean
  /** how much of the sprue's section meets wax, 0 to 1: the rest hangs over an edge */
  readonly share: number
}

/** How thick the metal is under a place of the surface, and which of the thick places it belongs to. */
interface Probed {
  readonly at: Point
  readonly outward: Point
  readonly thickness_mm: number
  readonly place: number
}

/** One kind of piece made ready to be placed. */
export interface Kind {
  readonly piece: PieceToArrange
  /** what distances are held against, coarse where the model is very fine, and how far it may be off */
  readonly outside: BallTree
  readonly off: number
  /** its own shape, for its own sprues */
  readonly own: BallTree
  readonly ownOff: number
  readonly centre: Point
  readonly radius: number
  /** balls that lie inside it: where two kinds' balls are too near, so are the waxes, and nothing more need be asked */
  readonly inner: readonly { readonly centre: Point; readonly radius: number }[]
  /** corners that reach furthest in many directions */
  readonly reaches: readonly Point[]
  readonly thickPlaces: readonly ThickPlace[]
  readonly attaches: readonly Attach[]
  /** what sprues join: a stand-in's is the box of its outside sizes */
  readonly shape: Shape
  /** spread evenly over the surface: how thick it is where a sprue is set by hand */
  readonly probed: readonly Probed[]
  /** the direction in which it is thinnest */
  readonly flat: Point
  /** which of its two broad sides is worked in relief: 1 the one that looks along `flat`, -1 the other, 0 neither more than the other */
  readonly workedSide: number
  readonly longest_mm: number
  readonly volume_mm3: number
}

/** Up to here distances are held against the true surface: asking it takes little longer than a reduced one. */
const MOST_TRIANGLES = 200_000
const DIRECTIONS = 120
const MOST_ATTACHES = 14

export const prepareKind = (piece: PieceToArrange): Kind => {
  const outsideMesh = coarsen(piece.envelope ?? piece.mesh, MOST_TRIANGLES)
  const outside = buildBallTree(outsideMesh.mesh)
  const ownMesh = piece.envelope === undefined ? outsideMesh : coarsen(piece.mesh, MOST_TRIANGLES)
  const own = piece.envelope === undefined ? outside : buildBallTree(ownMesh.mesh)
  const { centre, radius } = ballRound(outside)
  const reaches = reachesOf(outsideMesh.mesh)
  const { flat, longest } = sidesOf(reaches)
  // a stand-in's opening is not the piece's: sprues are sought on the box of its outside sizes
  const shape = piece.envelope ?? piece.mesh
  const rough = 1e-7 * Math.max(...shape.positions.slice(0, 3).map(Math.abs), radius)
  const tree = buildBoxTree(shape)
  const surface = { mesh: shape, tree, rough }
  // a stand-in has the right volume and size, but where it is thick says nothing about the piece
  const { balls, places: thickPlaces } = thickPlacesOf(surface, piece.standIn)
  const half = {
    piece,
    outside,
    off: outsideMesh.off,
    own,
    ownOff: ownMesh.off,
    centre,
    radius,
    inner: innerBalls(balls),
    reaches,
    thickPlaces,
    shape: surface,
    probed: thickPlaces.flatMap(({ members }, place) =>
      members.flatMap((member): Probed[] => {
        const ball = balls[member]
        if (ball === undefined) return []
        const { at, outward, radius } = ball
        return [{ at, outward, thickness_mm: 2 * radius, place }]
      }),
    ),
    flat,
    workedSide: workedSideOf(balls, flat),
    longest_mm: longest,
    volume_mm3: volumeOf(piece.mesh),
  }
  const attaches = thickPlaces.flatMap((place, index): Attach[] => {
    const open = place.members.flatMap((member): Attach[] => {
      const ball = balls[member]
      if (ball === undefined) return []
      const { at, outward } = ball
      const rim = onRim(half, at, outward)
      const worked = isWorked(half, outward)
      const attach = { at, outward, thickness_mm: 2 * ball.radius, place: index, rim, worked, share: 1 }
      return mayJoin(half, attach) ? [attach] : []
    })
    const fair = open.filter(({ worked }) => !worked)
    const joinable = fair.length > 0 ? fair : open
    const thick = joinable.filter((one) => one.thickness_mm >= LEAST_SHARE * place.thickness_mm)
    const seated = (thick.length > 0 ? thick : joinable).map((one) => ({ ...one, ...shareOf(half, one) }))
    return spaced(seated, place.thickness_mm, longest).map((one) => pulledIn(half, one))
  })
  return { ...half, attaches }
}

type Unattached = Omit<Kind, 'attaches'>

/** Whether a sprue may join there: off the faces kept clear, clear of the piece itself, and on a stand-in's rim. */
const mayJoin = (kind: Unattached, attach: Attach): boolean =>
  (attach.rim || !kind.piece.standIn) &&
  ownClear(kind, attach.at, attach.outward, 30) &&
  !meetsKeptFace(kind, attach)

/** Whether a sprue's joint, fillet and all, comes on to a face that is to be kept clear. */
export const meetsKeptFace = (
  { piece, shape }: Pick<Kind, 'piece' | 'shape'>,
  { at, outward }: Pick<Attach, 'at' | 'outward'>,
  diameter = piece.sprue.diameter_mm,
): boolean => {
  if (piece.keepClear.length === 0) return false
  const radius = diameter / 2 + widestFillet(diameter)
  const { places } = onWax(shape, at, outward, radius)
  return piece.keepClear.some(({ at_mm, radius_mm }) => {
    const isIn = (place: Point): boolean => sizeOf(minus(place, at_mm)) <= radius_mm
    if (isIn(at) || places.some(isIn)) return true
    // a ball smaller than the spots are apart: the place of the joint that is nearest to it
    const off = minus(at_mm, at)
    const level = plus(off, outward, -dot(off, outward))
    const near = plus(at, level, Math.min(1, radius / Math.max(sizeOf(level), 1e-9)))
    const under = faceUnder(shape, near, outward, radius)
    return under !== undefined && isIn(under.at)
  })
}

/** How much of a sprue's section meets wax there. */
export const shareOf = (
  { piece, shape }: Pick<Kind, 'piece' | 'shape'>,
  { at, outward }: Pick<Attach, 'at' | 'outward'>,
  diameter = piece.sprue.diameter_mm,
): { readonly share: number } => ({ share: onWax(shape, at, outward, diameter / 2).share })

/** How nearly square to its surface a sprue must leave a wax: within 60°, and half a degree for rounding. */
export const LEAST_SQUARE = Math.cos((60.5 * Math.PI) / 180)

const PULLS = 4
/** How far beyond the middle of what meets wax a joint is pulled: on an edge that middle lies short of where all would. */
const PULL = 2
/** Faces that turn more than this between two steps are not one face. */
const ONE_FACE = 0.8

/** The joint pulled in from an edge as far as more of it comes to meet wax. */
const pulledIn = (kind: Unattached, first: Attach): Attach => {
  const radius = kind.piece.sprue.diameter_mm / 2
  let best = first
  for (let pull = 0; pull < PULLS && best.share < 1; pull += 1) {
    const { middle } = onWax(kind.shape, best.at, best.outward, radius)
    const face = faceUnder(kind.shape, plus(best.at, minus(middle, best.at), PULL), best.outward, radius)
    if (face === undefined || dot(face.outward, first.outward) < ONE_FACE) break
    const next = {
      ...best,
      ...face,
      rim: onRim(kind, face.at, face.outward),
      worked: isWorked(kind, face.outward),
    }
    const { share } = shareOf(kind, next)
    if (share <= best.share || !mayJoin(kind, next)) break
    best = { ...next, share }
  }
  return best
}

/** A tapered sprue is held from its own wax in as many parts, each as wide as its wider end. */
const TAPER_PARTS = 8

/**
 * Whether a sprue that leaves the piece there in that direction stays clear of the piece itself: past its
 * joint, plaster enough to stand must remain between them.
 * @param wider  how much wider its radius is at the far end of its length, mm
 */
export const ownClear = (
  kind: Pick<Kind, 'own' | 'ownOff' | 'piece'>,
  at: Point,
  direction: Point,
  length: number,
  wider = 0,
): boolean => {
  const radius = kind.piece.sprue.diameter_mm / 2
  const joint = 2 * radius + 3
  const end = plus(at, direction, Math.max(length, 1))
  const least = 0.35 * radius + kind.ownOff
  const begin = plus(at, direction, Math.min(length, 0.8 * radius + 0.4 + 2 * kind.ownOff))
  if (distanceToLine(kind.own, begin, end, least, least) < least) return false
  if (length <= joint) return true
  const parts = wider > 0 ? TAPER_PARTS : 1
  return Array.from({ length: parts }, (_, k) => k).every((k) => {
    const [from, to] = [k, k + 1].map((share) => joint + ((length - joint) * share) / parts) as [
      number,
      number,
    ]
    const wall = radius + (Math.max(0, wider) * to) / length + 1.5 + kind.ownOff
    return distanceToLine(kind.own, plus(at, direction, from), plus(at, direction, to), wall, wall) >= wall
  })
}

const madeTrue = new WeakMap<TriangleMesh, BallTree>()

/** The true surface, whatever the search was made on. */
export const surfaceOf = ({ off, outside, piece }: Kind): BallTree => {
  if (off === 0) return outside
  const mesh = piece.envelope ?? piece.mesh
  const surface = madeTrue.get(mesh) ?? buildBallTree(mesh)
  madeTrue.set(mesh, surface)
  return surface
}

const LEAST_SHARE = 0.7
/** What the rim is worth, and that all of a sprue's section meets wax, against all of the thickness: a broad face shows. */
const RIM = 0.9
const ON_WAX = 0.8
/** A side whose surface lies this many times as uneven as the other's, and by this much, mm, is the worked one. */
const UNEVEN = 3
const LEAST_UNEVEN = 0.1

/** How far the surface of a side lies out of its own mean, by the places probed on it, mm. */
const unevenness = (balls: readonly InscribedBall[], side: Point): number => {
  const heights = balls.filter(({ outward }) => dot(outward, side) > 0.5).map(({ at }) => dot(at, side))
  const mean = heights.reduce((sum, height) => sum + height, 0) / Math.max(1, heights.length)
  return Math.sqrt(
    heights.reduce((sum, height) => sum + (height - mean) ** 2, 0) / Math.max(1, heights.length),
  )
}

const workedSideOf = (balls: readonly InscribedBall[], flat: Point): number => {
  const [one, other] = [unevenness(balls, flat), unevenness(balls, plus([0, 0, 0], flat, -1))]
  if (Math.max(one, other) < LEAST_UNEVEN || Math.max(one, other) < UNEVEN * Math.min(one, other)) return 0
  return one > other ? 1 : -1
}

export const isWorked = ({ flat, workedSide }: Pick<Kind, 'flat' | 'workedSide'>, outward: Point): boolean =>
  workedSide * dot(outward, flat) > 0.5

/** The few best, well apart: thick first, the rim before a broad face, and wholly on the wax. */
const spaced = (open: readonly Attach[], thickest: number, longest: number): Attach[] => {
  const worth = (one: Attach): number =>
    one.thickness_mm / thickest + (one.rim ? RIM : 0) + ON_WAX * one.share
  const left = [...open].sort((a, b) => worth(b) - worth(a))
  const chosen: Attach[] = []
  for (const apart of [0.3, 0.15, 0.1]) {
    for (const one of left) {
      if (chosen.length >= MOST_ATTACHES) break
      if (chosen.every((other) => sizeOf(minus(other.at, one.at)) >= apart * longest)) chosen.push(one)
    }
  }
  return chosen
}

const RIM_SHARE = 0.1
/** Whether a place faces out at the piece's own outline, not at the wall of a relief or a seat within it. */
export const onRim = (
  { reaches, flat, longest_mm }: Pick<Kind, 'reaches' | 'flat' | 'longest_mm'>,
  at: Point,
  outward: Point,
): boolean => {
  if (Math.abs(dot(outward, flat)) >= 0.5) return false
  const out = unit(plus(outward, flat, -dot(outward, flat)))
  return Math.max(...reaches.map((point) => dot(point, out))) - dot(at, out) <= RIM_SHARE * longest_mm
}

const INNER = 32
/** The thickest ball, then each time the one farthest from those chosen, as long as its middle lies outside them. */
const innerBalls = (balls: readonly InscribedBall[]): Kind['inner'] => {
  const chosen: { centre: Point; radius: number }[] = []
  let left = [...balls].sort((a, b) => b.radius - a.radius).map((ball) => ({ ball, far: Infinity }))
  while (chosen.length < INNER) {
    const [first] = left
    if (first === undefined) break
    const { ball } = left.reduce((best, one) => (one.far > best.far ? one : best), first)
    chosen.push({ centre: ball.centre, radius: 0.98 * ball.radius })
    left = left.flatMap(({ ball: other, far }) => {
      const apart = sizeOf(minus(ball.centre, other.centre))
      return apart > 0.6 * ball.radius ? [{ ball: other, far: Math.min(far, apart) }] : []
    })
  }
  return chosen
}

const pointAt = ({ positions }: TriangleMesh, corner: number): Point => [
  positions[corner * 3] ?? 0,
  positions[corner * 3 + 1] ?? 0,
  positions[corner * 3 + 2] ?? 0,
]

/** Directions spread evenly over the ball by the golden angle. */
const directions = Array.from({ length: DIRECTIONS }, (_, k): Point => {
  const z = 1 - (2 * k + 1) / DIRECTIONS
  const turn = k * Math.PI * (3 - Math.sqrt(5))
  const round = Math.sqrt(1 - z * z)
  return [round * Math.cos(turn), round * Math.sin(turn), z]
})

export const reachesOf = (mesh: TriangleMesh): Point[] => {
  const used = new Set(mesh.corners)
  const best = directions.map(() => ({ corner: -1, far: -Infinity }))
  for (const corner of used) {
    const point = pointAt(mesh, corner)
    directions.forEach((direction, k) => {
      const far = dot(direction, point)
      const one = best[k]
      if (one !== undefined && far > one.far) {
        one.far = far
        one.corner = corner
      }
    })
  }
  return [...new Set(best.map(({ corner }) => corner))].map((corner) => pointAt(mesh, corner))
}

export const sidesOf = (reaches: readonly Point[]): { flat: Point; longest: number } => {
  const widthIn = (direction: Point): number => {
    const along = reaches.map((point) => dot(point, direction))
    return Math.max(...along) - Math.min(...along)
  }
  const tried: Point[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1], ...directions]
  const widths = tried.map((direction) => ({ direction, width: widthIn(direction) }))
  const least = widths.reduce((best, one) => (one.width < best.width - 1e-9 ? one : best))
  return { flat: least.direction, longest: Math.max(...widths.map(({ width }) => width)) }
}

export const allReach = (
  mesh: TriangleMesh,
  visit: (x: number, y: number, z: number) => boolean,
): boolean => {
  const { positions } = mesh
  for (let at = 0; at < positions.length; at += 3)
    if (!visit(positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0)) return false
  return true
}
