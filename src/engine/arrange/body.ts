import { findEdges, findShells, isClosed } from '../piece/mesh/edges.ts'
import type { Point, Solids, Transform, TriangleMesh } from '../piece/mesh/index.ts'
import { after, moved } from '../piece/mesh/transform.ts'
import { squareTo } from './kind.ts'
import type { Arrangement, ArrangeProblem, ArrangeRequest, Sprue } from './request.ts'
import { cross, minus, shifting, sizeOf, turning, unit } from './vectors.ts'

/** Sides of every round bar: the outline is drawn with the area of its circle, so that no volume is lost. */
const SIDES = 64

/** A solid of revolution about z through these (radius, z), from the lowest up; the first and last may be 0 wide. */
export const revolved = (profile: readonly (readonly [number, number])[]): TriangleMesh => {
  const fuller = Math.sqrt((2 * Math.PI) / SIDES / Math.sin((2 * Math.PI) / SIDES))
  const positions: number[] = []
  const corners: number[] = []
  const bottom = 0
  const [first = [0, 0], last = [0, 0]] = [profile[0], profile[profile.length - 1]]
  positions.push(0, 0, first[1])
  const rings = profile.filter(([radius]) => radius > 0)
  for (const [radius, z] of rings)
    for (let k = 0; k < SIDES; k += 1) {
      const turn = (2 * Math.PI * k) / SIDES
      positions.push(radius * fuller * Math.cos(turn), radius * fuller * Math.sin(turn), z)
    }
  const top = positions.length / 3
  positions.push(0, 0, last[1])
  const at = (ring: number, k: number): number => 1 + ring * SIDES + (k % SIDES)
  for (let k = 0; k < SIDES; k += 1) {
    corners.push(bottom, at(0, k + 1), at(0, k))
    for (let ring = 0; ring + 1 < rings.length; ring += 1)
      corners.push(
        at(ring, k),
        at(ring, k + 1),
        at(ring + 1, k + 1),
        at(ring, k),
        at(ring + 1, k + 1),
        at(ring + 1, k),
      )
    corners.push(at(rings.length - 1, k), at(rings.length - 1, k + 1), top)
  }
  return { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
}

export const movedMesh = ({ positions, corners }: TriangleMesh, motion: Transform): TriangleMesh => {
  const out = new Float64Array(positions.length)
  for (let at = 0; at < positions.length; at += 3)
    out.set(moved(motion, positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0), at)
  return { positions: out, corners }
}

/** A solid about z laid along another way, its origin at a point. */
const along = (from: Point, up: Point, solid: TriangleMesh): TriangleMesh => {
  const side = squareTo(up)
  const motion = turning(
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    [side, cross(up, side), up],
  )
  return movedMesh(solid, after(shifting(from), motion))
}

/** A round bar with flat ends from one point to another. */
export const barBetween = (from: Point, to: Point, diameter: number): TriangleMesh => {
  const way = minus(to, from)
  return along(
    from,
    unit(way),
    revolved([
      [diameter / 2, 0],
      [diameter / 2, sizeOf(way)],
    ]),
  )
}

const ROUND_STEPS = 16
const FILLET_STEPS = 6

/** A sprue from inside its piece to the flask's axis: a fillet where it joins, then a cone to the main sprue. */
export const sprueBody = (sprue: Sprue): TriangleMesh => {
  const way = unit(minus(sprue.axis_mm, sprue.from_mm))
  const { sunk_mm, length_mm, fillet_mm, diameter_mm, stemEnd_mm } = sprue
  const radiusAt = (z: number): number =>
    (diameter_mm + ((stemEnd_mm - diameter_mm) * Math.min(z, length_mm)) / length_mm) / 2
  const profile: [number, number][] = [[diameter_mm / 2, -sunk_mm]]
  const fillet = Math.min(fillet_mm, length_mm / 2)
  for (let k = 0; k <= FILLET_STEPS && fillet > 0; k += 1) {
    const turn = (Math.PI / 2) * (k / FILLET_STEPS)
    const z = fillet * (1 - Math.cos(turn))
    profile.push([radiusAt(z) + fillet * (1 - Math.sin(turn)), z])
  }
  const whole = sizeOf(minus(sprue.axis_mm, sprue.from_mm))
  profile.push([stemEnd_mm / 2, length_mm], [stemEnd_mm / 2, whole])
  return along(sprue.from_mm, way, revolved(profile))
}

/** Waxes, sprues, main sprue and button as solids of their own, in the flask's place. */
export const partsOf = (
  request: ArrangeRequest,
  arrangement: Arrangement,
): { readonly wax: TriangleMesh[]; readonly button: TriangleMesh; readonly dome: TriangleMesh } => {
  const { base } = request
  const wax = arrangement.placements.flatMap(({ piece, motion }) => {
    const found = request.pieces.find((one) => one.id === piece)
    return found === undefined ? [] : [movedMesh(found.mesh, motion)]
  })
  for (const sprue of arrangement.sprues) {
    wax.push(sprueBody(sprue))
  }
  const narrow = base.neck_mm / 2
  const wide = base.mouth_mm / 2
  const depth = Math.min(request.button_mm, base.depth_mm)
  const { stem } = arrangement
  if (stem !== null) {
    const radius = stem.diameter_mm / 2
    const end = stem.to_mm[2]
    // sunk into the button, or into the cone where the button is thin
    const profile: [number, number][] = [
      [Math.min(radius, narrow), base.depth_mm - depth / 2],
      [Math.min(radius, narrow), base.depth_mm - 1e-3 * depth],
      [radius, base.depth_mm],
    ]
    for (let k = 0; k <= ROUND_STEPS; k += 1) {
      const turn = (Math.PI / 2) * (k / ROUND_STEPS)
      profile.push([k === ROUND_STEPS ? 0 : radius * Math.cos(turn), end + radius * Math.sin(turn)])
    }
    wax.push(revolved(profile))
  }
  const at = narrow + ((wide - narrow) * depth) / base.depth_mm
  return {
    wax,
    button: revolved([
      [at, base.depth_mm - depth],
      [narrow, base.depth_mm],
    ]),
    dome: revolved([
      [wide, 0],
      [narrow, base.depth_mm],
    ]),
  }
}

export interface MetalBody {
  readonly volume_mm3: number
  readonly closed: boolean
  readonly bodies: number
  readonly mesh: TriangleMesh
}

const bodyOf = (joined: ReturnType<Solids['union']>): MetalBody | { readonly failed: string } => {
  if ('failed' in joined) return joined
  const edges = findEdges(joined.mesh)
  return {
    volume_mm3: joined.volume_mm3,
    closed: isClosed(edges),
    bodies: findShells(edges).count,
    mesh: joined.mesh,
  }
}

const failure = (what: string, why: string): ArrangeProblem => ({
  kind: 'not-joined',
  level: 'check',
  where: what,
  what: `${what} could not be joined into one solid: ${why}`,
  remedy: 'the places and distances hold all the same; check the models for crossing surfaces',
})

/** Pieces, sprues, main sprue and button as one closed solid. */
export const metalBody = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  solids: Solids,
): MetalBody | { readonly problem: ArrangeProblem } => {
  const { wax, button } = partsOf(request, arrangement)
  const body = bodyOf(solids.union([...wax, button]))
  return 'failed' in body ? { problem: failure('The metal', body.failed) } : body
}

/** The investment: the flask's inside, less the waxes and less the base's cone. */
export const investmentBody = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  solids: Solids,
): MetalBody | { readonly problem: ArrangeProblem } => {
  const { flask } = arrangement
  if (flask === null) return { problem: failure('The investment', 'no flask was found') }
  const { wax, dome } = partsOf(request, arrangement)
  const radius = flask.diameter_mm / 2
  const inside = revolved([
    [radius, 0],
    [radius, flask.height_mm],
  ])
  const body = bodyOf(solids.difference(inside, [...wax, dome]))
  return 'failed' in body ? { problem: failure('The investment', body.failed) } : body
}
