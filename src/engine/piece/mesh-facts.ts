import type { Piece } from '../documents/index.ts'
import { keyOf } from '../quantity/index.ts'

/** What the plan takes from a measured model: a slow result, handed in when finished. */
export interface MeshFacts {
  readonly volume_mm3: number | null
  readonly area_mm2: number | null
  readonly bounds_mm: { readonly min: readonly number[]; readonly max: readonly number[] } | null
  /** 5th and 95th percentile, over the surface, of the diameter of the largest ball that fits inside there */
  readonly thickness_mm: { readonly thinnest: number; readonly thickest: number } | null
  readonly problems: readonly { readonly what: string; readonly where: string; readonly remedy: string }[]
}

/** The key under which a piece's mesh measure is handed in; undefined when the piece is no mesh. */
export const meshKey = (source: Piece['source']): string | undefined =>
  source.from === 'mesh'
    ? keyOf({
        file: source.sha256 ?? source.file,
        units: source.units ?? null,
        acceptRepair: source.acceptRepair ?? false,
      })
    : undefined
