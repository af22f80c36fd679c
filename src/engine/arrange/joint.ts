import type { Point } from '../piece/mesh/index.ts'
import { nearestToLine } from '../piece/mesh/nearest-pair.ts'
import { type Attach, isWorked, type Kind, onRim, shareOf, surfaceOf } from './kind.ts'
import { cornersAt, cross, minus, sizeOf, unit } from './vectors.ts'

/**
 * Where a sprue put at a point joins the wax, all in the wax's mm: the nearest place of its true surface, how that
 * faces, and how thick the metal is by the place probed nearest to it.
 */
export const jointAt = (
  kind: Kind,
  put: Point,
  diameter_mm = kind.piece.sprue.diameter_mm,
): { readonly attach: Attach /** how far it was put from the surface */; readonly moved_mm: number } => {
  const surface = surfaceOf(kind)
  const { on, distance, triangle } = nearestToLine(surface, put, put)
  const [a, b, c] = cornersAt(surface.mesh, triangle)
  const square = cross(minus(b, a), minus(c, a))
  let nearest = kind.probed[0]
  let least = Infinity
  for (const probed of kind.probed) {
    const apart = sizeOf(minus(probed.at, on))
    if (apart < least) [nearest, least] = [probed, apart]
  }
  // a triangle without area faces no way
  const outward = sizeOf(square) > 0 ? unit(square) : (nearest?.outward ?? [0, 0, 1])
  return {
    attach: {
      at: on,
      outward,
      thickness_mm: nearest?.thickness_mm ?? kind.piece.sprue.diameter_mm,
      place: nearest?.place ?? 0,
      rim: onRim(kind, on, outward),
      worked: isWorked(kind, outward),
      ...shareOf(kind, { at: on, outward }, diameter_mm),
    },
    moved_mm: distance,
  }
}
