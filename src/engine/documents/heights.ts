import * as z from 'zod'

const regionId = z.string().min(1).max(120)
const millimetres = (least: number, most: number) => z.number().min(least).max(most)
const place = z.tuple([z.number().min(-5000).max(5000), z.number().min(-5000).max(5000)])
const pixel = z.tuple([z.number().min(-20_000).max(60_000), z.number().min(-20_000).max(60_000)])

/** How a region's rim is worked, measured inward from its outline and down from its height. */
const edge = z.discriminatedUnion('shape', [
  z.strictObject({ shape: z.literal('square') }),
  z.strictObject({
    /** flat slope, quarter of an ellipse, or one arch over the whole width */
    shape: z.enum(['bevelled', 'rounded', 'domed']),
    width_mm: millimetres(0.05, 60),
    height_mm: millimetres(0.05, 60),
  }),
])

const cabochon = z.strictObject({
  shape: z.enum(['oval', 'rectangle']),
  length_mm: millimetres(1, 120),
  width_mm: millimetres(1, 120),
  /** room all round between stone and wall */
  gap_mm: millimetres(0, 2),
  /** ledge the stone rests on, measured inward from the wall; 0 for a plain floor */
  bearer_mm: millimetres(0, 20),
  /** depth of the well inside the bearer, below the ledge; reaches through when it is as deep as the floor is thick */
  well_mm: millimetres(0, 60),
  /** the wall round the stone: its thickness outward and its height above the ledge; absent where drawn as its own region */
  wall: z.strictObject({ thickness_mm: millimetres(0.2, 20), height_mm: millimetres(0.2, 60) }).optional(),
  /** turned anticlockwise from lying along x */
  turned_deg: z.number().min(-360).max(360).default(0),
})

const heightOfRegion = z.discriminatedUnion('role', [
  z.strictObject({ role: z.literal('ground'), height_mm: millimetres(0.1, 200), edge: edge.optional() }),
  z.strictObject({ role: z.literal('raised'), height_mm: millimetres(0.1, 200), edge: edge.optional() }),
  z.strictObject({ role: z.literal('through') }),
  /** `height_mm` is the ledge the stone rests on */
  z.strictObject({ role: z.literal('seat'), height_mm: millimetres(0.1, 200), stone: cabochon.optional() }),
])

/** What is worked on the back before any bending. */
const back = z.discriminatedUnion('shape', [
  z.strictObject({ shape: z.literal('flat') }),
  z.strictObject({ shape: z.literal('hollow'), wall_mm: millimetres(0.3, 50) }),
  /** the back lies on a cylinder whose axis runs along y, this far behind it: a positive radius follows the waist */
  z.strictObject({ shape: z.literal('curved'), radius_mm: millimetres(10, 5000) }),
])

const strap = { strap_width_mm: millimetres(3, 150), strap_thickness_mm: millimetres(0.3, 15) }
const standing = { at_mm: place, turned_deg: z.number().min(-360).max(360).default(0) }

/** Common hardware by its measurements; it stands on the back, or cuts through, at a place on the drawing. */
const hardware = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('loop'),
    ...standing,
    ...strap,
    bar_mm: millimetres(0.8, 15),
    /** clear inside length along the bar; from the strap when absent */
    inside_mm: millimetres(1, 200).optional(),
    /** clear height between the back and the bar; from the strap when absent */
    clear_mm: millimetres(0.5, 40).optional(),
  }),
  z.strictObject({
    kind: z.literal('hook'),
    ...standing,
    ...strap,
    wire_mm: millimetres(0.8, 12),
    reach_mm: millimetres(2, 60),
    clear_mm: millimetres(0.5, 40).optional(),
  }),
  z.strictObject({
    kind: z.literal('post'),
    ...standing,
    diameter_mm: millimetres(0.8, 15),
    length_mm: millimetres(1, 40),
    /** the button at its end; none when absent */
    head_mm: millimetres(1, 25).optional(),
    strap_thickness_mm: millimetres(0.3, 15),
  }),
  z.strictObject({
    kind: z.literal('keeper-slot'),
    ...standing,
    ...strap,
    slot_mm: millimetres(1, 150).optional(),
    opening_mm: millimetres(0.6, 20).optional(),
  }),
  z.strictObject({
    kind: z.literal('tip-pocket'),
    ...standing,
    ...strap,
    depth_mm: millimetres(2, 80),
    wall_mm: millimetres(0.5, 8),
  }),
])

/** How a photo or scan becomes millimetres, and how ink is told from paper. */
const photo = z.strictObject({
  scale: z.discriminatedUnion('by', [
    z.strictObject({
      by: z.literal('sheet'),
      /** of a known sheet: upper left, upper right, lower right, lower left, in pixels of the upright picture */
      corners_px: z.tuple([pixel, pixel, pixel, pixel]),
      width_mm: millimetres(10, 2000),
      height_mm: millimetres(10, 2000),
    }),
    z.strictObject({
      by: z.literal('two-points'),
      points_px: z.tuple([pixel, pixel]),
      apart_mm: millimetres(1, 2000),
    }),
  ]),
  /** ink below this share of the paper's brightness round it; found from the picture when absent */
  ink_below: z.number().min(0.05).max(0.98).optional(),
  /** a stroke up to this wide is a line and counts by its centre; wider ink is a filled shape */
  widest_line_mm: millimetres(0.1, 10).default(1.6),
  /** gaps in the ink up to this are joined */
  join_mm: millimetres(0, 5).default(0.5),
  /** specks of ink or paper smaller than this are dropped */
  speck_mm2: z.number().min(0).max(100).default(0.5),
})

/** A correction by hand, in millimetres of the drawing, made in order after the drawing is read. */
const correction = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('drop'), at_mm: place }),
  z.strictObject({ do: z.literal('join'), from_mm: place, to_mm: place }),
  z.strictObject({ do: z.literal('move'), from_mm: place, to_mm: place, reach_mm: millimetres(0.1, 50) }),
  /** keeps what lies to the left of the line from `from_mm` to `to_mm`, and mirrors it to the right */
  z.strictObject({ do: z.literal('mirror'), from_mm: place, to_mm: place }),
])

/**
 * What a drawing does not say: heights and roles by region id, the blank, the back, hardware, and how a photo
 * is read. Published as JSON Schema; the command line reads it with `--heights`. Lengths are of the wax as it
 * is to be carved, in millimetres; a height is measured from the flat back before any bending.
 */
export const heightsSchema = z.strictObject({
  kind: z.literal('heights'),
  version: z.literal(1),
  /** thickness of the wax to cut from; a region without a height of its own keeps it */
  blank_mm: millimetres(0.3, 200),
  /** how the drawing's numbers are read where the drawing itself names no unit; unsaid, it has no weight */
  units: z.enum(['mm', 'in', 'px']).optional(),
  /** lines whose ends lie this near one another are joined */
  join_mm: millimetres(0, 5).optional(),
  regions: z.record(regionId, heightOfRegion).default({}),
  /** what the caster calls a region, where the drawing has no name for it or another */
  names: z.record(regionId, z.string().trim().min(1).max(40)).optional(),
  back: back.default({ shape: 'flat' }),
  hardware: z.array(hardware).max(20).default([]),
  photo: photo.optional(),
  corrections: z.array(correction).max(500).default([]),
  /** lines across the drawing at which a section is drawn */
  sections: z
    .array(z.strictObject({ name: z.string().min(1).max(20), from_mm: place, to_mm: place }))
    .max(8)
    .default([]),
  /** whether the wax is carved over by the alloy's shrink, so that the casting comes out as drawn */
  over: z.enum(['shrink', 'none']).default('shrink'),
  /** metal left for the file round the outline and in every drawn opening, of the casting; heights are as they are given */
  filing_mm: millimetres(0, 2).optional(),
  /** how true the hand carves: nine cuts in ten lie within this of the drawing */
  hand: z
    .strictObject({ height_mm: millimetres(0, 3), outline_mm: millimetres(0, 3) })
    .default({ height_mm: 0.2, outline_mm: 0.2 }),
})

export type Heights = z.infer<typeof heightsSchema>
export type HeightsInput = z.input<typeof heightsSchema>
export type RegionHeight = Heights['regions'][string]
export type RegionEdge = z.infer<typeof edge>
export type Cabochon = z.infer<typeof cabochon>
export type Hardware = Heights['hardware'][number]
export type PhotoSetting = z.infer<typeof photo>
export type Correction = z.infer<typeof correction>
