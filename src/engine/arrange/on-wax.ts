import type { Point } from '../piece/mesh/index.ts'
import { castRay, type Shape } from '../piece/mesh/rays.ts'
import { cornersAt, cross, minus, plus, sizeOf, squareTo, unit } from './vectors.ts'

const SPOTS = 64
/** Wax this far under the joint's middle, in radii of the sprue, is still built up to when the joint is made. */
const DEEP = 0.6
const HIGH = 0.5
const FAR = HIGH + DEEP

/** Spots that lie evenly over a disc of radius 1, by the golden angle. */
const spots = Array.from({ length: SPOTS }, (_, k) => {
  const [out, turn] = [Math.sqrt((k + 0.5) / SPOTS), k * Math.PI * (3 - Math.sqrt(5))]
  return [out * Math.cos(turn), out * Math.sin(turn)] as const
})

/**
 * How much of a round sprue's section meets wax where it joins, 0 to 1, the places of the surface where it does, and
 * the middle of that part of the section: the rest hangs over an edge. A spot counts where the wax lies no farther
 * under the joint's middle than 0.6 radii.
 */
export const onWax = (
  { mesh, tree, rough }: Shape,
  at: Point,
  outward: Point,
  radius: number,
): { readonly share: number; readonly middle: Point; readonly places: readonly Point[] } => {
  const side = squareTo(outward)
  const third = cross(outward, side)
  const inward = plus([0, 0, 0], outward, -1)
  const places: Point[] = []
  let asked = 0
  let middle: Point = [0, 0, 0]
  for (const [u, v] of spots) {
    const spot = plus(plus(at, side, u * radius), third, v * radius)
    const start = plus(spot, outward, HIGH * radius)
    const hits = castRay(mesh, tree, start, inward, rough, FAR * radius)
    if (hits === null) continue
    asked += 1
    if (hits.length === 0) continue
    places.push(plus(start, inward, Math.min(...hits.map(({ distance }) => distance))))
    middle = plus(middle, spot)
  }
  const met = places.length
  return {
    share: asked === 0 ? 1 : met / asked,
    middle: met === 0 ? at : plus([0, 0, 0], middle, 1 / met),
    places,
  }
}

/** The surface under a spot beside a joint, and the way it looks there; undefined where there is none or an edge. */
export const faceUnder = (
  { mesh, tree, rough }: Shape,
  spot: Point,
  outward: Point,
  radius: number,
): { readonly at: Point; readonly outward: Point } | undefined => {
  const start = plus(spot, outward, HIGH * radius)
  const inward = plus([0, 0, 0], outward, -1)
  const hits = castRay(mesh, tree, start, inward, rough, FAR * radius) ?? []
  const [first] = hits.filter(({ way }) => way < 0).sort((one, other) => one.distance - other.distance)
  if (first === undefined) return undefined
  const [a, b, c] = cornersAt(mesh, first.triangle)
  const square = cross(minus(b, a), minus(c, a))
  if (!(sizeOf(square) > 0)) return undefined
  return { at: plus(start, inward, first.distance), outward: unit(square) }
}
