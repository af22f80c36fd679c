import type { Piece } from '../documents/index.ts'
import { keyOf } from '../quantity/index.ts'

/** What the plan takes from a measured model: a slow result, handed in when finished. */
export interface MeshFacts {
  readonly volume_mm3: number | null
  readonly area_mm2: number | null
  readonly bounds_mm: { readonly min: readonly number[]; readonly max: readonly number[] } | null
  /** 5th, 50th and 95th percentile, over the surface, of the diameter of the largest ball that fits inside there */
  readonly thickness_mm: {
    readonly thinnest: number
    readonly usual: number
    readonly thickest: number
    /** what of it freezes late, thickest first: how thick, and volume over cooling area of its own metal */
    readonly places?: readonly { readonly thickness_mm: number; readonly modulus_mm: number }[]
  } | null
  readonly problems: readonly { readonly what: string; readonly where: string; readonly remedy: string }[]
  /** of a piece that is still a drawing: how its volume moves with the drawing and with the carver's hand */
  readonly drawn?: DrawnFacts
}

export interface DrawnFacts {
  /** seen from above: a cut this much off in height moves the volume by area times error */
  readonly plan_mm2: number
  /** upright faces: an outline this much off moves the volume by area times error */
  readonly rim_mm2: number
  /** of the volume, what was left round the outline for the file, in the casting; absent where nothing was */
  readonly filed_mm3?: number
  /** relative standard uncertainty of every length of the drawing */
  readonly scaleSpread: number
  /** standard uncertainty of where a drawn outline lies */
  readonly outlineSpread_mm: number
}

/** A measured model, as `piece/mesh` answers it or a server hands it on; as much as the plan reads of it. */
export interface MeasuredShape {
  readonly volume_mm3: number | null
  readonly area_mm2: number | null
  readonly bounds_mm: MeshFacts['bounds_mm']
  readonly thickness_mm?: { readonly p05: number; readonly median: number; readonly p95: number } | null
  readonly thick_places?: readonly { readonly thickness_mm: number; readonly modulus_mm: number }[]
  readonly problems: readonly {
    readonly level?: 'note' | 'check' | 'stop'
    readonly what: string
    readonly where: string
    readonly remedy: string
  }[]
}

/** What the plan takes from a measured model; notes are left out, since they ask nothing of the caster. */
export const factsOf = (measure: MeasuredShape): MeshFacts => ({
  volume_mm3: measure.volume_mm3,
  area_mm2: measure.area_mm2,
  bounds_mm: measure.bounds_mm,
  thickness_mm: measure.thickness_mm
    ? {
        thinnest: measure.thickness_mm.p05,
        usual: measure.thickness_mm.median,
        thickest: measure.thickness_mm.p95,
        places: measure.thick_places,
      }
    : null,
  problems: measure.problems
    .filter((problem) => problem.level !== 'note')
    .map(({ what, where, remedy }) => ({ what, where, remedy })),
})

/** The key under which a piece's measured shape is handed in; undefined when the piece has no shape to measure. */
export const shapeKey = (source: Piece['source']): string | undefined => {
  if (source.from === 'mesh')
    return keyOf({
      file: source.sha256 ?? source.file,
      units: source.units ?? null,
      acceptRepair: source.acceptRepair ?? false,
    })
  if (source.from !== 'pattern') return undefined
  // what only says how the piece is shown, or how true a hand carves, changes no solid
  const { sections: _shown, hand: _hand, over: _over, ...shape } = source.heights
  return keyOf({ drawing: source.sha256 ?? source.file, shape })
}
