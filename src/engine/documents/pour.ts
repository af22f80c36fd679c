import * as z from 'zod'
import { heightsSchema } from './heights.ts'
import { shopSchema } from './shop.ts'
import { statedIn } from './stated.ts'

const id = z.string().min(1).max(80)
const name = z.string().min(1).max(200)

export const calipersSchema = z.strictObject({
  length_mm: z.number().min(0.5).max(400),
  width_mm: z.number().min(0.5).max(400),
  height_mm: z.number().min(0.3).max(400),
  thickest_mm: z.number().min(0.2).max(100),
  thinnest_mm: z.number().min(0.1).max(100),
  /** what the thickest place is; taken as a plate, with a check, while nobody says */
  section: z.enum(['plate', 'bar', 'round', 'ball']).optional(),
  /** how wide the thickest place of a bar is, which makes it one; as wide as thick when absent */
  sectionWidth_mm: z.number().min(0.2).max(400).optional(),
})

/** What a piece's weight and shape come from. */
const source = z.discriminatedUnion('from', [
  z.strictObject({
    from: z.literal('weighed-wax'),
    mass_g: z.number().positive().max(20_000),
    wax: id,
    density_g_cm3: statedIn(0.7, 1.6).optional(),
    calipers: calipersSchema.optional(),
  }),
  z.strictObject({
    from: z.literal('mesh'),
    file: z.string().min(1).max(400),
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .optional(),
    units: z.enum(['mm', 'in']).optional(),
    acceptRepair: z.boolean().optional(),
    wax: id.optional(),
    calipers: calipersSchema
      .pick({ thickest_mm: true, thinnest_mm: true, section: true, sectionWidth_mm: true })
      .optional(),
  }),
  z.strictObject({
    from: z.literal('pattern'),
    /** the drawing or photo */
    file: z.string().min(1).max(400),
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .optional(),
    heights: heightsSchema,
    wax: id.optional(),
    /** the carved wax on the scale, once there is one: the weight then rests on it, and the drawing is kept beside */
    carved_g: z.number().positive().max(20_000).optional(),
    /** which shape of the drawing was carved when it was weighed, so that a later change asks about it */
    carvedFor: z.string().max(200).optional(),
    calipers: calipersSchema
      .pick({ thickest_mm: true, thinnest_mm: true, section: true, sectionWidth_mm: true })
      .optional(),
  }),
  z.strictObject({
    from: z.literal('volume'),
    volume_cm3: statedIn(0.001, 5000),
    wax: id.optional(),
    calipers: calipersSchema.optional(),
  }),
])

const stone = z.strictObject({
  name,
  length_mm: statedIn(1, 120),
  width_mm: statedIn(1, 120),
  gap_mm: z.number().min(0).max(2),
  polish_mm: z.number().min(0).max(1),
  heatSensitive: z.boolean(),
  price: z.number().min(0).max(1_000_000).optional(),
})

const coordinate = z.number().min(-10_000).max(10_000)

const piece = z.strictObject({
  id,
  name,
  quantity: z.number().int().min(1).max(200),
  source,
  /** a sprue asked by the caster; worked out when absent */
  gate: z
    .strictObject({
      diameter_mm: z.number().min(0.5).max(60).optional(),
      count: z.number().int().min(1).max(20).optional(),
      length_mm: z.number().min(1).max(120).optional(),
    })
    .optional(),
  seat: stone.optional(),
  /** balls, in the model's own mm, within which no sprue may join: a show face, a stone seat */
  keepClear: z
    .array(
      z.strictObject({
        at_mm: z.tuple([coordinate, coordinate, coordinate]),
        radius_mm: z.number().positive().max(400),
      }),
    )
    .max(200)
    .optional(),
  /** lengths whose finished size matters, each with a name */
  lengths: z
    .array(
      z.strictObject({
        name,
        finished_mm: z.number().min(0.2).max(400),
        faces: z.number().int().min(0).max(2),
        /** a hole, slot or bore: polishing opens it instead of taking it down */
        hole: z.boolean().optional(),
      }),
    )
    .max(20)
    .optional(),
})

const moment = z.union([
  z.strictObject({
    weekday: z.enum(['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday']),
    time: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/),
  }),
  z.iso.datetime({ offset: true }),
])

const tree = z.strictObject({
  stem: z
    .strictObject({
      diameter_mm: z.number().min(1).max(80).optional(),
      length_mm: z.number().min(1).max(300).optional(),
    })
    .optional(),
  button: z.strictObject({ depth_mm: z.number().min(1).max(150).optional() }).optional(),
  base: id.optional(),
  /** waxes that stay where the caster put them: 4 x 4, row-major, from the model's mm to the flask's */
  locked: z
    .array(
      z.strictObject({
        piece: id,
        copy: z.number().int().min(1).max(200),
        matrix: z.array(coordinate).length(16),
        /** written by keeping an arrangement, and taken away again by letting it go */
        kept: z.literal(true).optional(),
      }),
    )
    .max(400)
    .optional(),
  /** sprues the caster placed by hand; a copy that has any here gets these and no others */
  sprues: z
    .array(
      z.strictObject({
        piece: id,
        copy: z.number().int().min(1).max(200),
        /** where it joins the wax, in the model's mm; moved to the nearest place on the surface */
        at_mm: z.tuple([coordinate, coordinate, coordinate]),
        /** where its middle line meets the flask's axis, up from where flask and base meet */
        axis_mm: z.number().min(0).max(1_000).optional(),
        diameter_mm: z.number().min(0.5).max(60).optional(),
        /** at the main sprue, where it is tapered */
        stemEnd_mm: z.number().min(0.5).max(80).optional(),
        /** what keeping an arrangement wrote, to be taken away by letting it go: all of this sprue, or its axis_mm */
        kept: z.enum(['sprue', 'height']).optional(),
      }),
    )
    .max(400)
    .optional(),
  /** the flask that keeping an arrangement chose; letting it go leaves it open again, unless another was chosen since */
  keptFlask: id.optional(),
  weighed: z
    .strictObject({
      base_g: z.number().min(0).max(20_000),
      baseWithTree_g: z.number().positive().max(20_000),
      baseWeighed: z.enum(['today', 'earlier']),
    })
    .optional(),
})

const labour = z.record(z.string().min(1).max(60), statedIn(0, 1000))

export const pourSchema = z.strictObject({
  kind: z.literal('pour'),
  version: z.literal(1),
  name,
  number: z.number().int().min(1).max(1_000_000).optional(),
  alloy: id,
  pieces: z.array(piece).max(60),
  tree,
  flask: id.optional(),
  investment: z.strictObject({
    id,
    waterRatio: z.number().min(0.25).max(0.7).optional(),
    work: z.enum(['heavy', 'medium', 'fine']).default('heavy'),
    water_C: z.number().min(2).max(60),
    /** how warm the powder is; as warm as the water when absent */
    powder_C: z.number().min(2).max(60).optional(),
  }),
  kiln: id,
  /** which program: solved and gentle when absent, solved and as short as is safe, or the rule of flask size */
  burnout: z.enum(['gentle', 'shortest', 'rule']).optional(),
  /** flasks of the rack that stand in the kiln beside this one, of the same mix; the holds wait for the slowest */
  load: z.array(id).max(12).optional(),
  machine: id,
  crucible: id,
  torch: id,
  castAt: moment,
  flask_C: z.number().min(20).max(900).optional(),
  charge: z.strictObject({
    /** asked by the caster instead of the worked-out one */
    toWeigh_g: z.number().positive().max(20_000).optional(),
    fineness_ppt: z.number().min(1).max(1000).optional(),
    /** lots that may be used; all of the shop's own when absent */
    lots: z.array(id).max(200).optional(),
    /** false: reckon with fine silver and copper as if both were at hand */
    fromStock: z.boolean().default(true),
  }),
  spin: z.strictObject({
    turns: z.number().min(0.25).max(20).optional(),
    run_s: z.number().min(1).max(1200).optional(),
  }),
  price: z.strictObject({
    labour_h: labour,
    /** steps of the labour that a spoiled pour has to be given again; by their names when absent */
    again: z.array(z.string().min(1).max(60)).max(40).optional(),
    failedPours: z.number().min(0).max(1).optional(),
    clientsMetal: z.boolean().default(false),
    /** what the caster tells the client, in the shop's currency; what to ask, rounded up, when absent */
    quote: z.number().positive().max(10_000_000).optional(),
  }),
  /** checks the caster has accepted, with the reason kept */
  accepted: z.record(z.string(), z.string().min(1).max(500)).optional(),
  notes: z.string().max(5000).optional(),
})

export type Pour = z.infer<typeof pourSchema>
export type Piece = Pour['pieces'][number]
export type Calipers = z.infer<typeof calipersSchema>
export type Moment = Pour['castAt']
export type Seat = NonNullable<Piece['seat']>

/** A pour as one file: the same document with its shop inside, meshes named by relative path and hash. */
export const pourFileSchema = pourSchema.extend({ shop: shopSchema.optional() })
export type PourFile = z.infer<typeof pourFileSchema>

/** A source that rests on a file kept beside the pour: a model, or a drawing. */
export type FileSource = Extract<Piece['source'], { file: string }>

export const restsOnFile = (source: Piece['source']): source is FileSource => 'file' in source
