import {
  type Arrangement,
  type ArrangeProblem,
  type ArrangeRequest,
  type BenchSprue,
  type BenchTree,
  benchSprues,
  benchTree,
  type MetalBody,
  metalBody,
  movedMesh,
  partsOf,
} from './arrange/index.ts'
import {
  boundsOf,
  centroidOf,
  type Point,
  type Solids,
  type TriangleMesh,
  volumeOf,
} from './piece/mesh/index.ts'

/** Points of the metal that may be farthest from an arm's pivot: how deep in the flask, how far off its axis. */
export interface FarPoint {
  readonly depth_mm: number
  readonly out_mm: number
}

/** An arrangement as its own solids measure it: mm, z from the plane where flask and base meet. */
export interface MeasuredTree {
  /** waxes, sprues, main sprue and button as one joined solid */
  readonly body_mm3: number
  readonly pieces_mm3: number
  readonly button_mm3: number
  /** every sprue and the main sprue with their joints: the joined solid less pieces and button */
  readonly sprues_mm3: number
  /** across all sprues and the main sprue, added up: what a hand's error in length moves the volume by */
  readonly section_mm2: number
  /** the flask's inside, less the metal and less the base's cone */
  readonly investment_mm3: number
  /** farthest of any wax or sprue from the flask's axis */
  readonly reach_mm: number
  readonly highest_mm: number
  readonly farthest: readonly FarPoint[]
  /** the middle of the joined solid's volume */
  readonly centre: { readonly depth_mm: number; readonly off_mm: number }
  readonly stem: { readonly diameter_mm: number; readonly top_mm: number; readonly volume_mm3: number }
  readonly sprues: readonly (BenchSprue & {
    /** across at the main sprue: that of the wax's end where it is not tapered */
    readonly stemEnd: number
    readonly volume_mm3: number
  })[]
  /** the box of each wax, along the flask's axes */
  readonly boxes: readonly {
    readonly piece: string
    readonly copy: number
    readonly min_mm: Point
    readonly max_mm: Point
  }[]
  /** what the sheet for the bench shows and says of it */
  readonly tree: BenchTree
}

/**
 * The points that some pivot on the axis, any distance before the flask, has as its farthest. From a pivot `m` before
 * it a point lies √((m + depth)² + out²) away, so they are the upper right corners of depth against depth² + out².
 */
const farthestOf = ({ positions }: TriangleMesh): FarPoint[] => {
  const points: { readonly x: number; readonly y: number; readonly far: FarPoint }[] = []
  for (let at = 0; at < positions.length; at += 3) {
    const [x = 0, y = 0, z = 0] = positions.subarray(at, at + 3)
    const out = Math.hypot(x, y)
    points.push({ x: z, y: z * z + out * out, far: { depth_mm: z, out_mm: out } })
  }
  points.sort((a, b) => b.x - a.x || b.y - a.y)
  const hull: typeof points = []
  for (const point of points) {
    const last = hull.at(-1)
    if (last !== undefined && point.y <= last.y) continue
    while (hull.length > 1) {
      const [before, end] = hull.slice(-2)
      if (before === undefined || end === undefined) break
      const turn = (end.x - before.x) * (point.y - before.y) - (end.y - before.y) * (point.x - before.x)
      if (turn > 0) break
      hull.pop()
    }
    hull.push(point)
  }
  return hull.map(({ far }) => far)
}

const round = (diameter: number): number => (Math.PI / 4) * diameter ** 2

/** Section of a round bar that runs from one diameter to another, in the middle of its volume. */
const tapered = (one: number, other: number): number => (Math.PI / 12) * (one ** 2 + one * other + other ** 2)

const coneOf = ({ mouth_mm, neck_mm, depth_mm }: ArrangeRequest['base']): number =>
  (Math.PI / 12) * depth_mm * (mouth_mm ** 2 + mouth_mm * neck_mm + neck_mm ** 2)

/** Measures the solids of an arrangement that found a flask. Slow: joins them, and looks at every line. */
export const measureArrangement = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  solids: Solids,
): { readonly body: MetalBody; readonly measured: MeasuredTree } | { readonly problem: ArrangeProblem } => {
  const body = metalBody(request, arrangement, solids)
  if ('problem' in body) return body
  const { flask, stem, clearances } = arrangement
  const centre = centroidOf(body.mesh)
  if (flask === null || stem === null || centre === null)
    throw new Error('an arrangement with a joined body has a flask, a main sprue and a middle')
  const least = (from: 'wall' | 'top'): number =>
    Math.min(...clearances.filter(({ between }) => between[0] === from).map((one) => one.distance_mm))
  const meshOf = (piece: string) => request.pieces.find((one) => one.id === piece)
  const pieces_mm3 = arrangement.placements.reduce((sum, { piece }) => {
    const found = meshOf(piece)
    return sum + (found === undefined ? 0 : volumeOf(found.mesh))
  }, 0)
  const button_mm3 = volumeOf(partsOf(request, arrangement).button)
  const sprues_mm3 = body.volume_mm3 - pieces_mm3 - button_mm3
  const sprues = benchSprues(request, arrangement).map((sprue, at) => ({
    ...sprue,
    stemEnd: arrangement.sprues[at]?.stemEnd_mm ?? sprue.diameter,
    volume_mm3: tapered(sprue.diameter, arrangement.sprues[at]?.stemEnd_mm ?? sprue.diameter) * sprue.length,
  }))
  const stemTop = stem.to_mm[2] + stem.diameter_mm / 2
  return {
    body,
    measured: {
      body_mm3: body.volume_mm3,
      pieces_mm3,
      button_mm3,
      sprues_mm3,
      section_mm2:
        round(stem.diameter_mm) +
        sprues.reduce((sum, { diameter, stemEnd }) => sum + tapered(diameter, stemEnd), 0),
      // the button lies in the cone, and nothing else of the metal does
      investment_mm3:
        round(flask.diameter_mm) * flask.height_mm - coneOf(request.base) - (body.volume_mm3 - button_mm3),
      reach_mm: Math.max(stem.diameter_mm / 2, flask.diameter_mm / 2 - least('wall')),
      highest_mm: Math.max(stemTop, flask.height_mm - least('top')),
      farthest: farthestOf(body.mesh),
      centre: { depth_mm: centre[2], off_mm: Math.hypot(centre[0], centre[1]) },
      stem: {
        diameter_mm: stem.diameter_mm,
        top_mm: stemTop,
        volume_mm3: sprues_mm3 - sprues.reduce((sum, { volume_mm3 }) => sum + volume_mm3, 0),
      },
      sprues,
      boxes: arrangement.placements.flatMap(({ piece, copy, motion }) => {
        const found = meshOf(piece)
        const bounds = found && boundsOf(movedMesh(found.envelope ?? found.mesh, motion))
        return bounds === undefined || bounds === null
          ? []
          : [{ piece, copy, min_mm: bounds.min as Point, max_mm: bounds.max as Point }]
      }),
      tree: benchTree(request, arrangement),
    },
  }
}
