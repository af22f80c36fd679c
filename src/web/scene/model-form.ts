import type { Place } from './view.ts'

/** Triangles as a model file gives them after welding: three numbers a point, three points a triangle, mm. */
export interface Triangles {
  readonly positions: ArrayLike<number>
  readonly corners: ArrayLike<number>
}

/** Past this many triangles a drawing takes longer than it is worth; a plain block stands for the model. */
export const MOST_TRIANGLES = 60_000

/** Two faces that turn from one another by more than this meet in an edge worth a line. */
const CREASE = Math.cos((35 * Math.PI) / 180)

/**
 * A model made ready to be drawn from any side. Points are measured from the middle of its bounding box.
 * Every side of a triangle belongs to one edge; an edge has the face on its left and the face on its right,
 * -1 where there is none.
 */
export interface ModelForm {
  readonly points: Float64Array
  readonly corners: Uint32Array
  /** unit normals, outward, three numbers a triangle; noughts where a triangle has no area */
  readonly normals: Float64Array
  /** from, to, left face, right face */
  readonly edges: Int32Array
  readonly creased: Uint8Array
  /** the edge on each side of each triangle */
  readonly sides: Uint32Array
  /** outside lengths along the model's own axes, mm */
  readonly size: Place
}

/** Reads past no end: a missing number would be a broken promise of the typed arrays' own lengths. */
const at = (list: ArrayLike<number>, index: number): number => list[index] as number

const centred = (positions: ArrayLike<number>): { points: Float64Array; size: Place } => {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  const high = low.map((value) => -value)
  for (let index = 0; index < positions.length; index += 1) {
    const axis = index % 3
    low[axis] = Math.min(at(low, axis), at(positions, index))
    high[axis] = Math.max(at(high, axis), at(positions, index))
  }
  const points = Float64Array.from(
    { length: positions.length },
    (_, index) => at(positions, index) - (at(low, index % 3) + at(high, index % 3)) / 2,
  )
  const side = (axis: number): number => at(high, axis) - at(low, axis)
  return { points, size: [side(0), side(1), side(2)] }
}

/** Six times the volume enclosed; less than nothing when the faces look inward. */
const sixVolumes = (points: Float64Array, corners: Uint32Array): number => {
  let total = 0
  for (let index = 0; index < corners.length; index += 3) {
    const [a, b, c] = [at(corners, index) * 3, at(corners, index + 1) * 3, at(corners, index + 2) * 3]
    total +=
      at(points, a) * (at(points, b + 1) * at(points, c + 2) - at(points, b + 2) * at(points, c + 1)) +
      at(points, a + 1) * (at(points, b + 2) * at(points, c) - at(points, b) * at(points, c + 2)) +
      at(points, a + 2) * (at(points, b) * at(points, c + 1) - at(points, b + 1) * at(points, c))
  }
  return total
}

const normalsOf = (points: Float64Array, corners: Uint32Array): Float64Array => {
  const normals = new Float64Array(corners.length)
  for (let index = 0; index < corners.length; index += 3) {
    const [a, b, c] = [at(corners, index) * 3, at(corners, index + 1) * 3, at(corners, index + 2) * 3]
    const [ux, uy, uz] = [0, 1, 2].map((axis) => at(points, b + axis) - at(points, a + axis)) as [
      number,
      number,
      number,
    ]
    const [vx, vy, vz] = [0, 1, 2].map((axis) => at(points, c + axis) - at(points, a + axis)) as [
      number,
      number,
      number,
    ]
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
    const length = Math.hypot(nx, ny, nz)
    if (length === 0) continue
    normals[index] = nx / length
    normals[index + 1] = ny / length
    normals[index + 2] = nz / length
  }
  return normals
}

/** Pairs each side of a triangle with the opposed side of a neighbour; sides beyond a pair stay alone. */
const pairSides = (
  corners: Uint32Array,
  pointCount: number,
): Pick<ModelForm, 'sides'> & { edges: number[] } => {
  const edges: number[] = []
  const sides = new Uint32Array(corners.length)
  const waiting = new Map<number, number[]>()
  for (let side = 0; side < corners.length; side += 1) {
    const face = Math.floor(side / 3)
    const from = at(corners, side)
    const to = at(corners, side % 3 === 2 ? side - 2 : side + 1)
    const partner = waiting.get(to * pointCount + from)?.pop()
    if (partner !== undefined) {
      edges[partner * 4 + 3] = face
      sides[side] = partner
      continue
    }
    const edge = edges.length / 4
    sides[side] = edge
    edges.push(from, to, face, -1)
    const key = from * pointCount + to
    const others = waiting.get(key)
    if (others === undefined) waiting.set(key, [edge])
    else others.push(edge)
  }
  return { edges, sides }
}

/** The model ready to be drawn, or undefined when it has nothing to draw or too much. */
export const formOf = ({ positions, corners: given }: Triangles): ModelForm | undefined => {
  if (given.length === 0 || given.length > MOST_TRIANGLES * 3) return undefined
  const { points, size } = centred(positions)
  if (!size.every(Number.isFinite)) return undefined
  const corners = Uint32Array.from(given)
  if (sixVolumes(points, corners) < 0)
    for (let index = 0; index < corners.length; index += 3) {
      const second = at(corners, index + 1)
      corners[index + 1] = at(corners, index + 2)
      corners[index + 2] = second
    }
  const normals = normalsOf(points, corners)
  const { edges, sides } = pairSides(corners, points.length / 3)
  const creased = new Uint8Array(edges.length / 4)
  creased.forEach((_, edge) => {
    const [one, other] = [at(edges, edge * 4 + 2) * 3, at(edges, edge * 4 + 3) * 3]
    if (other < 0) {
      creased[edge] = 1
      return
    }
    const cosine =
      at(normals, one) * at(normals, other) +
      at(normals, one + 1) * at(normals, other + 1) +
      at(normals, one + 2) * at(normals, other + 2)
    creased[edge] = cosine < CREASE ? 1 : 0
  })
  return { points, corners, normals, edges: Int32Array.from(edges), creased, sides, size }
}
