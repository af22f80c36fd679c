import type { TriangleMesh } from '../piece/mesh/index.ts'
import type { Loop } from './drawing.ts'

/** A solid that the modeller holds; it is let go with the workshop it was made in. */
export type Solid = { readonly solid: unique symbol }

/**
 * What the relief asks of a solid modeller; a face brings one (`src/solids`). Every solid made inside one
 * call of `work` is let go when that call ends, so nothing is held between two builds unless it is asked for.
 */
export interface ReliefSolids {
  work<T>(build: (shop: SolidShop) => T): T
}

/** A level cut through a solid whose rim is to lose a strip. */
export interface InsetCut {
  readonly z_mm: number
  readonly inset_mm: number
}

export interface SolidShop {
  /** the face between loops (even-odd), from z = bottom to z = top */
  prism(loops: readonly Loop[], bottom_mm: number, top_mm: number): Solid
  /** a closed mesh; throws where it is not closed */
  ofMesh(mesh: TriangleMesh): Solid
  union(solids: readonly Solid[]): Solid
  difference(from: Solid, tools: readonly Solid[]): Solid
  intersection(a: Solid, b: Solid): Solid
  /**
   * What is left of a face (even-odd) when a strip of its rim is taken away: outward corners stay sharp, inward
   * ones are rounded with facets within `chord_mm` of the true arc. A negative width grows it, the other way about.
   * Outsides anticlockwise, holes clockwise.
   */
  inset(loops: readonly Loop[], width_mm: number, chord_mm: number): Loop[]
  /**
   * What a solid's cuts have in common, each cut first inset as `inset` does. Cuts rise and their insets fall; a cut
   * with the same face as one below it, as between upright walls, asks no more and is left out.
   * @param solid one whose cuts grow nowhere on the way up
   */
  room(solid: Solid, cuts: readonly InsetCut[], chord_mm: number): Loop[]
  /** what several faces (even-odd each) have in common */
  shared(faces: readonly (readonly Loop[])[]): Loop[]
  /** loops of the cut at a height */
  slice(solid: Solid, z_mm: number): Loop[]
  /** moves every point, after splitting edges longer than `longest_mm` */
  warp(solid: Solid, longest_mm: number, move: (point: [number, number, number]) => void): Solid
  /** row-major 4 x 4, acting on column vectors, millimetres */
  moved(solid: Solid, matrix: readonly number[]): Solid
  volume_mm3(solid: Solid): number
  area_mm2(solid: Solid): number
  mesh(solid: Solid): TriangleMesh
}
