import type { Roots } from '../documents/index.ts'
import type { Quantity } from '../quantity/index.ts'

/** What other parts of the plan know of a piece. Any of it may still be missing. */
export interface CastPiece {
  readonly id: string
  readonly name: string
  readonly quantity: number
  /** place in the pour's list, for document paths */
  readonly index: number
  /** one piece as cast [kg] */
  readonly castMass?: Quantity
  /** its surface as cast [m2] */
  readonly area?: Quantity
  /** what was left round its outline for the file [m3] */
  readonly filed?: Quantity
  /** outside sizes of the wax [m]; the calipers in the pour serve where they are absent */
  readonly extents?: { readonly length: Quantity; readonly width: Quantity; readonly height: Quantity }
}

/** Numbers that every piece of a pour shares. */
export interface FinishingRoots {
  readonly roots: Roots
  readonly shrink: Quantity
  readonly density: Quantity
  readonly perFace: Quantity
  readonly shareLost: Quantity
}
