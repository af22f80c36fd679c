import type { MouldAndMetal } from '../physics/freezing-time.ts'
import type { Point, Transform, TriangleMesh } from '../piece/mesh/index.ts'

/** A ball whose inside the caster wants no sprue on: a show face, a stone seat. In the piece's own mm. */
export interface KeepClear {
  readonly at_mm: Point
  readonly radius_mm: number
}

/** A sprue where the caster put it; `at_mm` in the piece's own mm, the height on the flask's axis. */
export interface PlacedSprue {
  readonly at_mm: Point
  readonly axis_mm?: number
  readonly diameter_mm?: number
  readonly stemEnd_mm?: number
  /** the search found it, and the caster kept it where it was */
  readonly found?: boolean
}

export interface PieceToArrange {
  readonly id: string
  readonly name: string
  readonly copies: number
  /** closed, facing outward, mm */
  readonly mesh: TriangleMesh
  /** how many times as long as its file says the wax is: above 1 for a drawing carved over by the shrink */
  readonly over?: number
  /** what distances are held against where the true shape is not known: it holds the mesh inside it */
  readonly envelope?: TriangleMesh
  readonly standIn: boolean
  /** how many times as thick as its solid calipers say the wax is; 1 where it is not given */
  readonly thicker?: number
  readonly sprue: {
    readonly diameter_mm: number
    /** how many on each copy; more where it has thick places of its own, unless the caster asked */
    readonly count: number
    readonly countAsked: boolean
    readonly length_mm?: number
    /** the thinnest that outlasts the section it feeds, by freezing time, where calipers alone tell of that */
    readonly needed_mm?: number
    /** what the diameter rests on, as the reason goes on */
    readonly because: string
  }
  readonly keepClear: readonly KeepClear[]
  /** the caster's own places, by copy */
  readonly locked: ReadonlyMap<number, Transform>
  /** the caster's own sprues, by copy: a copy that has any gets these and no others */
  readonly placed?: ReadonlyMap<number, readonly PlacedSprue[]>
}

export interface RackFlask {
  readonly id: string
  readonly diameter_mm: number
  readonly height_mm: number
}

/** Everything the arrangement rests on; lengths in mm, z along the flask's axis from the plane of its base. */
export interface ArrangeRequest {
  readonly pieces: readonly PieceToArrange[]
  /** only flasks that may be taken */
  readonly flasks: readonly RackFlask[]
  /** the caster has chosen the one there is */
  readonly isChosen?: boolean
  /** inside of the largest flask that the casting machine takes: none beyond it is advised */
  readonly largest?: Omit<RackFlask, 'id'>
  readonly base: { readonly mouth_mm: number; readonly neck_mm: number; readonly depth_mm: number }
  readonly rules: {
    readonly wall_mm: number
    readonly gap_mm: number
    /** the gap by which the main sprue's neighbourhood is reckoned, where more than that is asked of waxes */
    readonly byStem_mm?: number
    /** above the pieces, for each of the flask's diameter */
    readonly topPerDiameter: number
    readonly topLeast_mm: number
  }
  readonly stem_mm: number
  readonly button_mm: number
  /** what every freezing time rests on; sections are told without times where it is missing */
  readonly freezing?: MouldAndMetal & {
    /** times are known to this factor either way, by what the mould and the metal are known to; 1 where it is not given */
    readonly known?: number
  }
  /** what the plan says of these pieces and their feeds, which no place mends: told on the sheet beside the rest */
  readonly told?: readonly ArrangeProblem[]
  /** how long to look for a smaller flask, as a multiple of the usual; 0 takes the first that is found */
  readonly effort?: number
}

/** A sprue's straight centre line, from the piece's surface to where it enters the main sprue. */
export interface Sprue {
  readonly piece: string
  readonly copy: number
  readonly from_mm: Point
  readonly to_mm: Point
  /** where the line would meet the flask's axis */
  readonly axis_mm: Point
  /** how deep its end is let into the wax, square to the wax's face, so that they join */
  readonly sunk_mm: number
  /** the way that face looks where it joins, in the flask's frame */
  readonly outward: Point
  readonly diameter_mm: number
  /** across at the main sprue; wider than `diameter_mm` where it is tapered */
  readonly stemEnd_mm: number
  /** how far the wax flares out round it where it joins the piece */
  readonly fillet_mm: number
  readonly length_mm: number
  readonly byHand: boolean
  /** of those by hand: found by the search, and kept */
  readonly found?: boolean
  readonly reason: string
}

export interface Placement {
  readonly piece: string
  readonly copy: number
  readonly motion: Transform
  readonly locked: boolean
}

interface Between {
  readonly low: number
  readonly high: number
}

/** A thick place of a piece that needs feed, in the piece's own mm. */
export interface ThickSection {
  readonly piece: string
  readonly at_mm: Point
  readonly thickness_mm: number
  /** volume over cooling area; a ball's and a plate's of that thickness are its range */
  readonly modulus_mm: Between & { readonly value: number }
  /** thinnest metal on the way to a thicker place */
  readonly neck_mm: number | null
  readonly freezes_s?: Between & { readonly value: number }
  /** the thinnest round sprue that outlasts it */
  readonly sprue_mm?: Between & { readonly value: number }
  readonly neckFreezes_s?: Between
}

export interface Clearance {
  readonly between: readonly [string, string]
  readonly distance_mm: number
  readonly needed_mm: number
  /**
   * two sprues nearer than a gap between one gap and three outside the main sprue, where sprues run together: told,
   * and stops nothing
   */
  readonly byStem?: true
  /** two sprues that keep a gap, nearest where less would stop nothing either: by the main sprue */
  readonly keptByStem?: true
  /** two sprues of one wax nearer than a gap, wherever that is: told, and stops nothing */
  readonly oneWax?: true
}

export interface ArrangeProblem {
  readonly kind: string
  readonly level: 'note' | 'check' | 'stop'
  readonly where: string
  readonly what: string
  readonly remedy: string
}

/** How near the search came where nothing fits: not to be built. */
export interface Closest {
  readonly flask: RackFlask
  /** those that found a place, every clearance kept */
  readonly placements: readonly Placement[]
  readonly left: readonly { readonly piece: string; readonly copy: number }[]
  /** where the first of those left comes least too near a wax, the wall or the top, and by how much */
  readonly next: {
    readonly placement: Placement
    readonly against: string
    readonly short_mm: number
  } | null
}

export interface Arrangement {
  /** only given where nothing fits, and then `placements` is empty */
  readonly closest?: Closest
  readonly fits: boolean
  readonly flask: RackFlask | null
  readonly placements: readonly Placement[]
  readonly sprues: readonly Sprue[]
  /** what of each kind needs feed, thickest first */
  readonly sections: readonly ThickSection[]
  /** the main sprue: a round bar with a round end, up the axis */
  readonly stem: { readonly from_mm: Point; readonly to_mm: Point; readonly diameter_mm: number } | null
  /** waxes and sprues, tightest against its need first */
  readonly clearances: readonly Clearance[]
  /** the waxes to the main sprue and to the top of the base's cone, and sprues that run close together by it */
  readonly stemClearances: readonly Clearance[]
  /** how far the middle of all the metal lies off the axis, mm */
  readonly offAxis_mm: number | null
  readonly problems: readonly ArrangeProblem[]
}

/** Shortest sprue, and shortest main sprue below the first of them, mm. */
export const SHORTEST = 6
