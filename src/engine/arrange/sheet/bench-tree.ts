import type { Point, Transform, TriangleMesh } from '../../piece/mesh/index.ts'
import { type BenchSprue, benchSprues } from '../bench-sprues.ts'
import { movedMesh } from '../body.ts'
import { isAsked } from '../dimensions.ts'
import { onRim } from '../kind.ts'
import type {
  Arrangement,
  ArrangeProblem,
  ArrangeRequest,
  Clearance,
  PieceToArrange,
  Placement,
  Sprue,
} from '../request.ts'
import { cornersAt, dot, minus, move, plus, turn, undoing, unit } from '../vectors.ts'
import { type Face, faceOf } from './face-of.ts'
import { type Flat, type Silhouette, silhouetteOf } from './silhouette.ts'

/** A way in the flask: round the base from the mark, against the clock seen from above, and above level; degrees. */
export interface Bearing {
  readonly round: number
  readonly above: number
}

export type Part = 'front' | 'back' | 'rim' | 'inside'
type Side = 'front' | 'back' | 'right edge' | 'left edge' | 'top edge' | 'foot'

/** A sprue's way out of a wax: round from the right, against the clock, and toward its front; degrees. */
export interface WayOut {
  readonly turn: number
  readonly rise: number
}

/** Where a sprue joins a wax that lies on its back on the bench: mm from its left edge, its foot, its back. */
export interface Joint {
  readonly part: Part
  readonly left: number
  readonly foot: number
  readonly back: number
  readonly diameter: number
  /** which sprues join there, one of each copy, and which way they leave */
  readonly sprues: readonly (WayOut & { readonly number: number })[]
}

/** A wax by itself, and the copies whose sprues all join it in the same places. */
export interface WaxCard {
  readonly letter: string
  readonly name: string
  readonly copies: readonly number[]
  /** of how many copies there are */
  readonly of: number
  readonly isWorked: boolean
  readonly standIn: boolean
  /** across, up and thick */
  readonly size: readonly [number, number, number]
  /** from its left edge and its foot; edge on from its left edge and its back, seen from its foot */
  readonly face: Silhouette
  readonly edge: Silhouette
  readonly joints: readonly Joint[]
}

/** What a wax and its sprues have to spare of one distance. */
export interface Spare {
  /** `wall`, `top`, `base`, `stem`, another wax as `piece/copy`, or `sprue/number` */
  readonly towards: string
  /** which of its own comes near: the wax as `piece/copy`, or `sprue/number` */
  readonly own: string
  readonly distance: number
  readonly spare: number
}

export interface StandingWax {
  readonly piece: string
  readonly copy: number
  /** its letter, and its copy where there are several */
  readonly tag: string
  readonly name: string
  readonly sprues: readonly number[]
  /** which way its front looks, and which way the top of its own drawing points */
  readonly front: Bearing
  readonly top: Bearing
  readonly toStem: Side
  /** above the flat of the base */
  readonly lowest: number
  readonly highest: number
  /** from the flask's axis, of its surface; 0 where it passes through it */
  readonly nearest: number
  readonly farthest: number
  readonly spares: {
    readonly wall: Spare | null
    readonly top: Spare | null
    readonly base: Spare | null
    readonly stem: Spare | null
    readonly other: Spare | null
  }
  readonly side: Silhouette
  readonly above: Silhouette
  /** toward the eye from the side and from above, for what hides what */
  readonly near: { readonly side: number; readonly above: number }
  /** what holds it, along the flask's axes where it stands, and along its own in its own mm */
  readonly box: { readonly low: Point; readonly high: Point }
  readonly ownBox: { readonly low: Point; readonly high: Point }
  readonly motion: Transform
}

export interface SprueOnTree extends BenchSprue {
  readonly tag: string
  readonly from_mm: Point
  readonly to_mm: Point
  readonly axis_mm: Point
}

/** All that the sheet for the bench says of an arrangement, as plain values; mm and degrees. */
export interface BenchTree {
  readonly flask: { readonly diameter: number; readonly height: number } | null
  readonly base: ArrangeRequest['base']
  readonly wall: number
  readonly top: number
  readonly stem: { readonly diameter: number; readonly end: number } | null
  readonly waxes: readonly StandingWax[]
  readonly sprues: readonly SprueOnTree[]
  readonly cards: readonly WaxCard[]
  readonly tightest: Spare | null
  readonly notes: readonly string[]
}

const DEGREE = Math.PI / 180

const bearing = ([x, y, z]: Point): Bearing => ({
  round: Math.hypot(x, y) < 1e-6 ? 0 : (Math.atan2(y, x) / DEGREE + 360) % 360,
  above: Math.atan2(z, Math.hypot(x, y)) / DEGREE,
})

const letterOf = (index: number): string =>
  index < 26
    ? String.fromCharCode(65 + index)
    : `${String.fromCharCode(64 + Math.floor(index / 26))}${String.fromCharCode(65 + (index % 26))}`

const isOf = (one: Placement, other: { readonly piece: string; readonly copy: number }): boolean =>
  one.piece === other.piece && one.copy === other.copy

const jointOf = (sprue: Sprue, number: number, motion: Placement['motion'], face: Face): Joint => {
  const back = undoing(motion)
  const at = move(back, sprue.from_mm)
  const outward = turn(back, sprue.outward)
  const way = turn(back, unit(minus(sprue.to_mm, sprue.from_mm)))
  const [right, up, eye] = [dot(way, face.right), dot(way, face.up), dot(way, face.eye)]
  const looks = dot(outward, face.eye)
  const rim = onRim({ reaches: face.reaches, flat: face.eye, longest_mm: face.longest_mm }, at, outward)
  return {
    part: looks >= 0.5 ? 'front' : looks <= -0.5 ? 'back' : rim ? 'rim' : 'inside',
    left: dot(at, face.right) - face.low[0],
    foot: dot(at, face.up) - face.low[1],
    back: dot(at, face.eye) - face.low[2],
    diameter: sprue.diameter_mm,
    sprues: [
      {
        number,
        turn: Math.hypot(right, up) < 1e-6 ? 0 : (Math.atan2(up, right) / DEGREE + 360) % 360,
        rise: Math.asin(Math.max(-1, Math.min(1, eye))) / DEGREE,
      },
    ],
  }
}

/** Joints nearer to one another than this are made alike, mm. */
const ALIKE = 0.05

const areAlike = (one: readonly Joint[], other: readonly Joint[]): boolean =>
  one.length === other.length &&
  one.every((joint, k) => {
    const twin = other[k]
    return (
      twin?.part === joint.part &&
      (['left', 'foot', 'back', 'diameter'] as const).every((key) => Math.abs(joint[key] - twin[key]) < ALIKE)
    )
  })

const shifted = ({ outline, inner }: Silhouette, [x, y]: Flat): Silhouette => {
  const by = ([u, v]: Flat): Flat => [u - x, v - y]
  return {
    outline: outline.map((round) => round.map(by)),
    inner: inner.map(([from, to]) => [by(from), by(to)] as const),
  }
}

const copiesOf = (
  piece: PieceToArrange,
  index: number,
  face: Face,
  { placements, sprues }: Arrangement,
): WaxCard[] => {
  const mesh = piece.mesh
  const groups: { copies: number[]; joints: Joint[] }[] = []
  for (const placement of placements) {
    if (placement.piece !== piece.id) continue
    const joints = sprues.flatMap((sprue, at) =>
      isOf(placement, sprue) ? [jointOf(sprue, at + 1, placement.motion, face)] : [],
    )
    const group = groups.find((one) => areAlike(one.joints, joints))
    if (group === undefined) groups.push({ copies: [placement.copy], joints })
    else {
      group.copies.push(placement.copy)
      group.joints = group.joints.map((joint, k) => ({
        ...joint,
        sprues: [...joint.sprues, ...(joints[k]?.sprues ?? [])],
      }))
    }
  }
  const [x, y, z] = face.low
  const front = shifted(silhouetteOf(mesh, face), [x, y])
  // laid below the face, it is seen from the foot, its front above
  const below = { right: face.right, up: face.eye, eye: plus([0, 0, 0], face.up, -1) }
  const edge = shifted(silhouetteOf(mesh, below), [x, z])
  return groups.map(({ copies, joints }) => ({
    letter: letterOf(index),
    name: piece.name,
    copies,
    of: piece.copies,
    isWorked: face.isWorked,
    standIn: piece.standIn,
    size: [face.size[0], face.size[1], face.size[2]],
    face: front,
    edge,
    joints,
  }))
}

/** What a wax keeps its distance from that no other wax may move. */
export const ROOM: readonly string[] = ['wall', 'top', 'base', 'stem']

/** What a wax and its sprues have to spare, the least first. */
const sparesOf = (placement: Placement, { sprues, clearances, stemClearances }: Arrangement): Spare[] => {
  const own = new Set([
    `${placement.piece}/${placement.copy}`,
    ...sprues.flatMap((sprue, at) => (isOf(placement, sprue) ? [`sprue/${at + 1}`] : [])),
  ])
  return [...clearances, ...stemClearances]
    .filter(isAsked)
    .flatMap((one: Clearance): Spare[] => {
      const [first, second] = one.between
      const spare = one.distance_mm - one.needed_mm
      const distance = one.distance_mm
      if (own.has(first) && own.has(second)) return []
      if (own.has(first)) return [{ towards: second, own: first, distance, spare }]
      return own.has(second) ? [{ towards: first, own: second, distance, spare }] : []
    })
    .sort((a, b) => a.spare - b.spare)
}

const bySide = (mesh: TriangleMesh) => ({
  side: silhouetteOf(mesh, { right: [1, 0, 0], up: [0, 0, 1], eye: [0, -1, 0] }),
  above: silhouetteOf(mesh, { right: [1, 0, 0], up: [0, 1, 0], eye: [0, 0, 1] }),
})

const cornersIn = ({ positions }: TriangleMesh) => {
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  let farthest = 0
  for (let at = 0; at < positions.length; at += 3) {
    const point = [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0] as const
    for (const k of [0, 1, 2] as const) {
      low[k] = Math.min(low[k], point[k])
      high[k] = Math.max(high[k], point[k])
    }
    farthest = Math.max(farthest, Math.hypot(point[0], point[1]))
  }
  return { low, high, farthest }
}

/** From the axis to the nearest of a flat triangle seen from above, 0 where the axis passes through it. */
const fromAxis = (a: Flat, b: Flat, c: Flat): number => {
  const turns = (
    [
      [a, b],
      [b, c],
      [c, a],
    ] as const
  ).map(([[ax, ay], [bx, by]]) => ax * by - ay * bx)
  if (turns.every((one) => one >= 0) || turns.every((one) => one <= 0)) {
    // three in a line turn nowhere, and the axis lies in them only where it lies on one of their sides
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    if (Math.abs(area) > 1e-12) return 0
  }
  return Math.min(toSide(a, b), toSide(b, c), toSide(c, a))
}

const toSide = ([ax, ay]: Flat, [bx, by]: Flat): number => {
  const [u, v] = [bx - ax, by - ay]
  const size = u * u + v * v
  const share = size === 0 ? 0 : Math.max(0, Math.min(1, -(ax * u + ay * v) / size))
  return Math.hypot(ax + share * u, ay + share * v)
}

const nearestOf = (mesh: TriangleMesh): number => {
  let nearest = Infinity
  for (let t = 0; t < mesh.corners.length / 3; t += 1) {
    const [a, b, c] = cornersAt(mesh, t)
    nearest = Math.min(nearest, fromAxis([a[0], a[1]], [b[0], b[1]], [c[0], c[1]]))
  }
  return nearest
}

/** Which of its sides a wax turns most toward the main sprue, looked at from the middle of its box. */
const towardStem = (
  face: Face,
  motion: Placement['motion'],
  low: Point,
  high: Point,
  stem: { readonly foot: number; readonly end: number },
): Side => {
  const [x, y] = [-(low[0] + high[0]) / 2, -(low[1] + high[1]) / 2]
  const middle = (low[2] + high[2]) / 2
  const z = Math.max(stem.foot, Math.min(stem.end, middle)) - middle
  const sides: readonly (readonly [Side, Point, 1 | -1])[] = [
    ['front', face.eye, 1],
    ['back', face.eye, -1],
    ['right edge', face.right, 1],
    ['left edge', face.right, -1],
    ['top edge', face.up, 1],
    ['foot', face.up, -1],
  ]
  const turned = sides.map(([side, way, sign]) => {
    const [u, v, w] = turn(motion, way)
    return { side, along: sign * (u * x + v * y + w * z) }
  })
  return turned.reduce((best, one) => (one.along > best.along + 1e-9 ? one : best)).side
}

const standingOf = (
  placement: Placement,
  piece: PieceToArrange,
  index: number,
  face: Face,
  arrangement: Arrangement,
  foot: number,
): StandingWax => {
  const { motion, copy } = placement
  const mesh = movedMesh(piece.mesh, motion)
  const holding = piece.envelope ?? piece.mesh
  const standing = movedMesh(holding, motion)
  const { low, high, farthest } = cornersIn(standing)
  const own = cornersIn(holding)
  const spares = sparesOf(placement, arrangement)
  const toward = (place: string): Spare | null => spares.find(({ towards }) => towards === place) ?? null
  const several = piece.copies > 1
  return {
    piece: piece.id,
    copy,
    tag: several ? `${letterOf(index)} ${copy}` : letterOf(index),
    name: several ? `${piece.name} ${copy}` : piece.name,
    sprues: arrangement.sprues.flatMap((sprue, at) => (isOf(placement, sprue) ? [at + 1] : [])),
    front: bearing(turn(motion, face.eye)),
    top: bearing(turn(motion, face.up)),
    toStem: towardStem(face, motion, low, high, { foot, end: arrangement.stem?.to_mm[2] ?? foot }),
    lowest: low[2],
    highest: high[2],
    nearest: nearestOf(standing),
    farthest,
    spares: {
      wall: toward('wall'),
      top: toward('top'),
      base: toward('base'),
      stem: toward('stem'),
      other: spares.find(({ towards }) => !ROOM.includes(towards)) ?? null,
    },
    ...bySide(mesh),
    near: { side: -(low[1] + high[1]) / 2, above: (low[2] + high[2]) / 2 },
    box: { low, high },
    ownBox: { low: own.low, high: own.high },
    motion,
  }
}

/** Waxes that a box stands in for: what is drawn of them is not their shape. */
const standInNotes = ({ pieces }: ArrangeRequest): string[] =>
  pieces
    .filter(({ standIn }) => standIn)
    .map(
      ({ name }) =>
        `${name} is drawn as a box of its outside sizes: let its sprue meet the thickest place of the real wax, and cut it to the length that leaves`,
    )

/** What is told at the bench, and what to do where there is something to do. */
const toDo = ({ level, what, remedy }: ArrangeProblem): string => {
  const told = level === 'note' ? what : `${level === 'stop' ? 'STOP, do not pour it so' : 'Check'}: ${what}`
  return remedy === 'nothing needs doing' ? told : `${told}. To do: ${remedy}`
}

const LEVELS = ['stop', 'check', 'note'] as const
const byLevel = (one: ArrangeProblem, other: ArrangeProblem): number =>
  LEVELS.indexOf(one.level) - LEVELS.indexOf(other.level)

/** Everything the sheet for the bench shows and says of an arrangement. */
export const benchTree = (request: ArrangeRequest, arrangement: Arrangement): BenchTree => {
  const { flask, stem } = arrangement
  const { pieces, rules } = request
  const faces = pieces.map((piece) => {
    const joints = arrangement.placements.flatMap((placement) =>
      arrangement.sprues
        .filter((sprue) => placement.piece === piece.id && isOf(placement, sprue))
        .map(({ outward }) => ({ outward: turn(undoing(placement.motion), outward) })),
    )
    return faceOf(piece.envelope ?? piece.mesh, joints)
  })
  const waxes = arrangement.placements.flatMap((placement): StandingWax[] => {
    const index = pieces.findIndex(({ id }) => id === placement.piece)
    const [piece, face] = [pieces[index], faces[index]]
    return piece && face
      ? [standingOf(placement, piece, index, face, arrangement, request.base.depth_mm)]
      : []
  })
  const listed = waxes.flatMap(({ spares }) => Object.values(spares).filter((one) => one !== null))
  return {
    flask: flask && { diameter: flask.diameter_mm, height: flask.height_mm },
    base: request.base,
    wall: rules.wall_mm,
    top: Math.max(rules.topLeast_mm, rules.topPerDiameter * (flask?.diameter_mm ?? 0)),
    stem: stem && { diameter: stem.diameter_mm, end: stem.to_mm[2] + stem.diameter_mm / 2 },
    waxes,
    sprues: benchSprues(request, arrangement).map((sprue, at) => {
      const bar = arrangement.sprues[at] as Sprue
      return {
        ...sprue,
        tag: waxes.find((wax) => isOf(wax as unknown as Placement, bar))?.tag ?? sprue.piece,
        from_mm: bar.from_mm,
        to_mm: bar.to_mm,
        axis_mm: bar.axis_mm,
      }
    }),
    cards: pieces.flatMap((piece, index) => {
      const face = faces[index]
      return face === undefined ? [] : copiesOf(piece, index, face, arrangement)
    }),
    tightest: listed.reduce<Spare | null>(
      (least, one) => (least === null || one.spare < least.spare ? one : least),
      null,
    ),
    notes: [
      ...[...(request.told ?? []), ...arrangement.problems].sort(byLevel).map(toDo),
      ...standInNotes(request),
    ],
  }
}
