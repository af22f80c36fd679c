import { findEdges, findShells, isClosed } from '../piece/mesh/edges.ts'
import type { Point, Solids, Transform, TriangleMesh } from '../piece/mesh/index.ts'
import { after, moved } from '../piece/mesh/transform.ts'
import type { Arrangement, ArrangeProblem, ArrangeRequest, Sprue } from './request.ts'
import { cross, dot, minus, plus, shifting, sizeOf, squareTo, turning, unit } from './vectors.ts'

/** Sides of every round bar: the outline is drawn with the area of its circle, so that no volume is lost. */
const SIDES = 64

type OnRing = readonly [radius: number, z: number]

/** A solid about z through rings of points, one on each side, from the lowest up, closed below and above on the axis. */
const ringed = (bottomZ: number, rings: readonly (readonly OnRing[])[], topZ: number): TriangleMesh => {
  const fuller = Math.sqrt((2 * Math.PI) / SIDES / Math.sin((2 * Math.PI) / SIDES))
  const positions: number[] = []
  const corners: number[] = []
  const bottom = 0
  positions.push(0, 0, bottomZ)
  for (const ring of rings)
    ring.forEach(([radius, z], k) => {
      const turn = (2 * Math.PI * k) / SIDES
      positions.push(radius * fuller * Math.cos(turn), radius * fuller * Math.sin(turn), z)
    })
  const top = positions.length / 3
  positions.push(0, 0, topZ)
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

/** A solid of revolution about z through these (radius, z), from the lowest up; the first and last may be 0 wide. */
export const revolved = (profile: readonly OnRing[]): TriangleMesh => {
  const [first = [0, 0], last = [0, 0]] = [profile[0], profile[profile.length - 1]]
  const rings = profile.filter(([radius]) => radius > 0)
  return ringed(
    first[1],
    rings.map((at) => Array.from({ length: SIDES }, () => at)),
    last[1],
  )
}

export const movedMesh = ({ positions, corners }: TriangleMesh, motion: Transform): TriangleMesh => {
  const out = new Float64Array(positions.length)
  for (let at = 0; at < positions.length; at += 3)
    out.set(moved(motion, positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0), at)
  return { positions: out, corners }
}

/** A solid about z laid along another way, its origin at a point, its x along `side`. */
const along = (from: Point, up: Point, solid: TriangleMesh, side = squareTo(up)): TriangleMesh => {
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

/** A sprue is cut along the face it joins as if it stood no flatter on it than this. */
export const LEAST_LEAN = 0.2
/** What of a sprue its slanting end may take up. */
const MOST_OF_LENGTH = 0.8
/** An end that may come no higher than its joint still comes so high, mm: it would have no area otherwise. */
const LEAST_UP = 0.01
/** Rings that would fall together are kept this far apart, mm. */
const APART = 1e-4

/** A sprue about its own line, z along it from the joint: how wide it is and how it is cut along the face it joins. */
const cutOf = (sprue: Sprue) => {
  const { from_mm, axis_mm, outward, sunk_mm, length_mm, diameter_mm } = sprue
  const whole = minus(axis_mm, from_mm)
  const way = unit(whole)
  const slant = minus(outward, plus([0, 0, 0], way, dot(outward, way)))
  const across = sizeOf(slant)
  const side = across > 1e-9 ? plus([0, 0, 0], slant, 1 / across) : squareTo(way)
  const third = cross(way, side)
  const lean = Math.max(LEAST_LEAN, dot(outward, way))
  const radius = diameter_mm / 2
  const fillet = Math.min(sprue.fillet_mm, length_mm / 2)
  const reach = radius + fillet
  const turns = Array.from({ length: SIDES }, (_, k) => (2 * Math.PI * k) / SIDES)
  const sides = turns.map((turn) => across * Math.cos(turn))
  // how high it may come: as its rim at the joint does, or as deep as it is let into the wax above it
  const highest = Math.max(reach * Math.hypot(way[0], way[1]), -sunk_mm * outward[2], LEAST_UP)
  const kept = (wide: number, z: number, up: number): OnRing => {
    const share = Math.min(1, reach / Math.hypot(wide, z), up > highest ? highest / up : 1)
    return [wide * share, z * share]
  }
  /** how high the cut is at the bar's own width; below the joint it keeps within the ball about that */
  const ends = sides.map((tilt, k): OnRing => {
    const z = Math.min(MOST_OF_LENGTH * length_mm, -(sunk_mm + radius * tilt) / lean)
    if (z >= 0) return [radius, z]
    const turn = turns[k] ?? 0
    const up = z * way[2] + radius * (Math.cos(turn) * side[2] + Math.sin(turn) * third[2])
    return kept(radius, z, up)
  })
  const [, middle] = kept(0, -sunk_mm / lean, (-sunk_mm / lean) * way[2])
  return { whole, way, side, third, lean, radius, fillet, turns, sides, ends, middle }
}

/** How far a sprue's middle runs on past its joint into the wax, mm. */
export const letInto = (sprue: Sprue): number => -cutOf(sprue).middle

/** The corners of a sprue's end, cut along the face it joins: where it reaches past its joint. */
export const cornersOfEnd = (sprue: Sprue): Point[] => {
  const { way, side, third, turns, ends, middle } = cutOf(sprue)
  const rim = ends.map(([wide, z], k) => {
    const turn = turns[k] ?? 0
    const out = plus(plus([0, 0, 0], side, wide * Math.cos(turn)), third, wide * Math.sin(turn))
    return plus(plus(sprue.from_mm, way, z), out)
  })
  return [...rim, plus(sprue.from_mm, way, middle)]
}

/**
 * A sprue from just inside its piece to the flask's axis: its end cut along the face it joins, so that it shows neither
 * beside a wax nor through a thin one, a fillet where it joins, then a cone to the main sprue. Outside the wax no point
 * of it lies beyond what its distances are measured of, which is a bar and a ball about the joint as wide as the fillet.
 */
export const sprueBody = (sprue: Sprue): TriangleMesh => {
  const { from_mm, sunk_mm, length_mm, diameter_mm, stemEnd_mm } = sprue
  const { whole, way, side, lean, radius, fillet, sides, ends, middle } = cutOf(sprue)
  const grown = (z: number): number => ((stemEnd_mm - diameter_mm) / 2) * (Math.min(z, length_mm) / length_mm)
  const steps = fillet > 0 ? FILLET_STEPS : 0
  const flared = Array.from({ length: steps + 1 }, (_, step) => {
    const turn = steps === 0 ? Math.PI / 2 : (Math.PI / 2) * (step / steps)
    const z = steps === 0 ? 0 : fillet * (1 - Math.cos(turn))
    const least = radius + grown(z)
    const wide = least + fillet * (1 - Math.sin(turn))
    return sides.map((tilt, k): OnRing => {
      // where the face rises toward the sprue, its fillet goes no deeper than its end
      const above = tilt < 0 ? (sunk_mm + lean * z) / -tilt : wide
      const up = Math.max(z, (ends[k]?.[1] ?? 0) + (step + 1) * APART)
      return [Math.min(wide, Math.max(radius + grown(up), above)), up]
    })
  })
  const straight = [length_mm, sizeOf(whole)].map((z) => sides.map((): OnRing => [stemEnd_mm / 2, z]))
  const solid = ringed(middle, [ends, ...flared, ...straight], sizeOf(whole))
  return along(from_mm, way, solid, side)
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
