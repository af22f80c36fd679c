import type { Point, Transform, TriangleMesh } from '../piece/mesh/index.ts'
import type { Placed } from './clears.ts'
import type { ArrangeProblem } from './request.ts'
import { cornersAt, cross, minus, sizeOf, turn } from './vectors.ts'

export interface BubbleTraps {
  /** share of the piece's surface that looks toward the base within 15° of level, 0 to 1 */
  readonly share: number
  readonly area_mm2: number
}

/** Within this of level a bubble does not slide along a face; common practice keeps such faces off level. */
export const LEVEL = Math.cos((15 * Math.PI) / 180)

/**
 * Faces under which bubbles stay. The flask stands on its base, mouth and base down, when the investment is
 * poured, so bubbles rise along z: they are caught under faces that look down, toward the base.
 * @param motion  takes the mesh into the flask
 */
export const trapsBubbles = (mesh: TriangleMesh, motion: Transform): BubbleTraps => {
  let [all, caught] = [0, 0]
  const rows: Point = [turn(motion, [1, 0, 0])[2], turn(motion, [0, 1, 0])[2], turn(motion, [0, 0, 1])[2]]
  for (let triangle = 0; 3 * triangle < mesh.corners.length; triangle += 1) {
    const [a, b, c] = cornersAt(mesh, triangle)
    const square = cross(minus(b, a), minus(c, a))
    const area = sizeOf(square) / 2
    all += area
    const up = (rows[0] * square[0] + rows[1] * square[1] + rows[2] * square[2]) / 2
    if (up < -LEVEL * area) caught += area
  }
  return { share: all > 0 ? caught / all : 0, area_mm2: caught }
}

/** A level face this large is worth turning: smaller ones hold a bead that a file takes off. */
const WORTH_TURNING_MM2 = 20
const WORTH_TURNING = 0.08

/** Waxes whose level faces look down, and what to turn. A stand-in's faces are not its piece's. */
export const judgeBubbles = (placed: readonly Pick<Placed, 'kind' | 'copy' | 'motion'>[]): ArrangeProblem[] =>
  placed.flatMap(({ kind, copy, motion }): ArrangeProblem[] => {
    if (kind.piece.standIn) return []
    const { share, area_mm2 } = trapsBubbles(kind.piece.mesh, motion)
    if (area_mm2 < WORTH_TURNING_MM2 || share < WORTH_TURNING) return []
    return [
      {
        kind: 'bubbles-underneath',
        level: 'note',
        where: `${kind.piece.id}/${copy}`,
        what: `${area_mm2.toFixed(0)} mm² of ${kind.piece.name} ${copy} (${(100 * share).toFixed(0)} % of its surface) looks down within 15° of level: bubbles stay under it when the investment is poured`,
        remedy: 'tilt the wax by 15° or more, or paint that side with investment before you fill the flask',
      },
    ]
  })
