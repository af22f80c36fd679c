import type { Point, TriangleMesh } from '../../piece/mesh/index.ts'
import { allReach, reachesOf, sidesOf } from '../kind.ts'
import { cornersAt, cross, dot, minus, plus, sizeOf, unit } from '../vectors.ts'
import type { Looking } from './silhouette.ts'

/** How a wax lies on the sheet by itself, in its own mm: seen square to its broad face. */
export interface Face extends Looking {
  /** its front, which the sheet shows, is the one worked in relief */
  readonly isWorked: boolean
  /** lowest of the wax to the right, up and toward the eye, and how far it reaches from there */
  readonly low: Point
  readonly size: Point
  readonly reaches: readonly Point[]
  readonly longest_mm: number
}

const DEGREE = Math.PI / 180
/** A turn that saves less of the box round it than this is not worth leaving the model's own axes for. */
const SAVING = 0.9
/** A side whose surface lies this many times as uneven as the other's, and by this much, mm, is the worked one. */
const UNEVEN = 3
const LEAST_UNEVEN = 0.1

/** How far the faces that look one way lie out of their own mean, by their area, mm. */
const unevenness = (mesh: TriangleMesh, way: Point): number => {
  let [area, sum, squares] = [0, 0, 0]
  for (let t = 0; t < mesh.corners.length / 3; t += 1) {
    const [a, b, c] = cornersAt(mesh, t)
    const normal = cross(minus(b, a), minus(c, a))
    const size = sizeOf(normal)
    if (!(dot(normal, way) > 0.5 * size)) continue
    const height = (dot(a, way) + dot(b, way) + dot(c, way)) / 3
    area += size
    sum += size * height
    squares += size * height * height
  }
  return area === 0 ? 0 : Math.sqrt(Math.max(0, squares / area - (sum / area) ** 2))
}

const workedSide = (mesh: TriangleMesh, flat: Point): 1 | 0 | -1 => {
  const [one, other] = [unevenness(mesh, flat), unevenness(mesh, plus([0, 0, 0], flat, -1))]
  if (Math.max(one, other) < LEAST_UNEVEN || Math.max(one, other) < UNEVEN * Math.min(one, other)) return 0
  return one > other ? 1 : -1
}

const spanOf = (mesh: TriangleMesh, way: Point): [number, number] => {
  let [low, high] = [Infinity, -Infinity]
  allReach(mesh, (x, y, z) => {
    const at = x * way[0] + y * way[1] + z * way[2]
    if (at < low) low = at
    if (at > high) high = at
    return true
  })
  return [low, high]
}

/** Up on the sheet: the model's own y, or z where the face looks along y, freed of what runs toward the eye. */
const upright = (eye: Point): Point => {
  const own: Point = Math.abs(eye[1]) < 0.9 ? [0, 1, 0] : [0, 0, 1]
  return unit(plus(own, eye, -dot(own, eye)))
}

/** Turned in the plane of its face so that its box is small, where the model's own axes leave it much larger. */
const turnedWell = (reaches: readonly Point[], eye: Point): Pick<Looking, 'right' | 'up'> => {
  const own = upright(eye)
  const across = cross(own, eye)
  const sides = Array.from({ length: 90 }, (_, turn) => {
    const [c, s] = [Math.cos(turn * DEGREE), Math.sin(turn * DEGREE)]
    const right = plus(plus([0, 0, 0], across, c), own, s)
    const up = plus(plus([0, 0, 0], own, c), across, -s)
    const wide = (way: Point): number => {
      const along = reaches.map((point) => dot(point, way))
      return Math.max(...along) - Math.min(...along)
    }
    return { right, up, area: wide(right) * wide(up) }
  })
  const [first = { right: across, up: own, area: 0 }] = sides
  const least = sides.reduce((best, one) => (one.area < best.area ? one : best), first)
  return least.area < SAVING * first.area ? least : first
}

/**
 * The broad face of a wax: across the way it is thinnest, the worked side in front.
 * @param joints  places where sprues join, with the way the wax faces there: where no side is worked, the one with most of them is in front
 */
export const faceOf = (mesh: TriangleMesh, joints: readonly { readonly outward: Point }[]): Face => {
  const reaches = reachesOf(mesh)
  const { flat, longest } = sidesOf(reaches)
  const worked = workedSide(mesh, flat)
  const toward = joints.reduce((sum, { outward }) => {
    const along = dot(outward, flat)
    return Math.abs(along) < 0.5 ? sum : sum + Math.sign(along)
  }, 0)
  const side = worked === 0 ? (toward < 0 ? -1 : 1) : worked
  const eye = plus([0, 0, 0], flat, side)
  const { right, up } = turnedWell(reaches, eye)
  const spans = [right, up, eye].map((way) => spanOf(mesh, way)) as [
    [number, number],
    [number, number],
    [number, number],
  ]
  return {
    eye,
    right,
    up,
    isWorked: worked !== 0,
    low: [spans[0][0], spans[1][0], spans[2][0]],
    size: [spans[0][1] - spans[0][0], spans[1][1] - spans[1][0], spans[2][1] - spans[2][0]],
    reaches,
    longest_mm: longest,
  }
}
