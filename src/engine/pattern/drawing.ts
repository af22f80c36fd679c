/** x to the right, y away from the caster, in millimetres: the front of the piece looks at the reader. */
export type Place = readonly [number, number]

/** A flattened line: x, y, x, y ... in millimetres. A closed one does not repeat its first point. */
export interface Run {
  readonly points: Float64Array
  readonly closed: boolean
}

/** One thing drawn: what a drawing's element, or a traced line, leaves on the paper. */
export interface Mark {
  /** the element's own id, or one made from its place in the drawing: the same at every reading */
  readonly id: string
  readonly runs: readonly Run[]
  /** paint that hides what lies beneath it; absent when nothing is filled */
  readonly fill?: { readonly rule: 'nonzero' | 'evenodd'; readonly colour: string }
  /** its centre line is drawn */
  readonly line: boolean
  /** a stroke that stands alone: it divides nothing, and is cut as a line where it lies in a region */
  readonly vein?: true
  /** a gap closed by hand: it bounds, but no region is called after it */
  readonly joins?: true
}

/** `stop`: no region or weight until it is mended. `check`: something was decided for the reader. */
export interface PatternProblem {
  readonly kind: string
  readonly level: 'note' | 'check' | 'stop'
  readonly what: string
  readonly where: string
  readonly remedy: string
  /** a place on the drawing, where there is one */
  readonly at_mm?: Place
}

/** A drawing as read: marks in the order in which they are painted, later ones on top. */
export interface Drawing {
  readonly format: 'svg' | 'dxf' | 'photo'
  readonly marks: readonly Mark[]
  /** what one number of the file is, and whether the file said so */
  readonly units: { readonly is: 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'px'; readonly said: boolean }
  /** relative standard uncertainty of every length: 0 for a drawing made of numbers */
  readonly scaleSpread: number
  /** standard uncertainty of where an outline lies, millimetres */
  readonly outlineSpread_mm: number
  readonly problems: readonly PatternProblem[]
}

/** A closed loop, x, y, x, y ... in millimetres, first point not repeated. */
export type Loop = Float64Array

/** One face of the visible drawing. */
export interface Region {
  readonly id: string
  /** runs anticlockwise */
  readonly outer: Loop
  /** each runs clockwise */
  readonly holes: readonly Loop[]
  /** net of holes, mm2 */
  readonly area_mm2: number
  /** of outline and holes together, mm */
  readonly perimeter_mm: number
  /** well inside: where its number is written */
  readonly at_mm: Place
}

/** A place where an outline stands open, and the straight line that would close it. */
export interface Gap {
  readonly from_mm: Place
  readonly to_mm: Place
  readonly gap_mm: number
}

export interface Regions {
  readonly regions: readonly Region[]
  /** of the regions; of all that is drawn while there is none */
  readonly bounds_mm: { readonly min: Place; readonly max: Place } | null
  readonly problems: readonly PatternProblem[]
  /** too wide to be joined unasked, narrow enough to be offered; absent when there are none */
  readonly gapsToClose?: readonly Gap[]
  /** lines within regions that divide nothing, to be cut as lines: x, y, x, y ..., mm; absent when there are none */
  readonly veins?: readonly Float64Array[]
}
