import * as z from 'zod'
import { type DocumentProblem, type Reading, readDocument } from './read.ts'

/**
 * A conduction problem as a plain document, so that anyone can put a textbook case to the solver the plan
 * uses. Lengths in mm, temperatures in °C, times in s, all else SI.
 */
const celsius = z.number().min(-273.15).max(4000)
const seconds = z.number().min(0).max(1e9)
const millimetres = z.number().positive().max(1e6)
const length = z.number().min(-1e6).max(1e6)

/** One number, or pairs [at, value] with rising `at`: straight between them, constant beyond the ends. */
const tableOf = <At extends z.ZodType<number>>(at: At, value: z.ZodType<number>) =>
  z.union([
    value,
    z
      .array(z.tuple([at, value]))
      .min(1)
      .max(2000),
  ])

const reaction = z.strictObject({
  from_C: celsius,
  to_C: celsius,
  /** absorbed on heating, spread evenly over the range; negative where heat is set free on heating */
  heat_J_kg: z.number().min(-1e8).max(1e8),
  /** given back on cooling; when false, what has reacted stays so */
  reversible: z.boolean().optional(),
})

const material = z.strictObject({
  density_kg_m3: z.number().min(0.01).max(30_000),
  conductivity_W_mK: tableOf(celsius, z.number().min(1e-4).max(1e4)),
  specificHeat_J_kgK: tableOf(celsius, z.number().min(1).max(1e5)),
  reactions: z.array(reaction).max(100).optional(),
})

const layer = z.strictObject({
  thickness_mm: millimetres,
  material,
  /** of a cylinder: a ring around its side only, as a flask's wall (when left out), or its ends as well */
  covers: z.enum(['side', 'all']).optional(),
})

export const heatCaseSchema = z.strictObject({
  kind: z.literal('heat-case'),
  version: z.literal(1).optional(),
  name: z.string().max(200).optional(),
  /** where the case comes from */
  source: z.string().max(1000).optional(),
  geometry: z.discriminatedUnion('shape', [
    /** both faces exposed */
    z.strictObject({ shape: z.literal('slab'), thickness_mm: millimetres }),
    /** side and both ends exposed */
    z.strictObject({ shape: z.literal('cylinder'), radius_mm: millimetres, height_mm: millimetres }),
    z.strictObject({ shape: z.literal('sphere'), radius_mm: millimetres }),
  ]),
  material,
  /** added outward, the first lying on the body itself */
  layers: z.array(layer).max(20).optional(),
  initial_C: celsius,
  boundary: z.union([
    z.strictObject({
      /** 0 when left out, where there is an emissivity */
      h_W_m2K: z.number().min(0).max(1e7).optional(),
      /** 0 when left out: no radiation */
      emissivity: z.number().min(0).max(1).optional(),
      /** of the air and the walls around, over time [s] */
      ambient_C: tableOf(seconds, celsius),
    }),
    z.strictObject({ fixed_C: tableOf(seconds, celsius) }),
  ]),
  /** from the centre: [x] of a slab, [r, z] of a cylinder (z from mid-height), [r] of a sphere */
  probes_mm: z.array(z.array(length).min(1).max(2)).min(1).max(500),
  /** rising */
  times_s: z.array(seconds).min(1).max(20_000),
})

export type HeatCase = z.infer<typeof heatCaseSchema>
export type HeatCaseMaterial = HeatCase['material']

type Pairs = number | readonly (readonly [number, number])[]

const rising = (values: readonly number[]): number =>
  values.findIndex((value, index) => index > 0 && value <= (values[index - 1] ?? Number.NaN))

const tableProblems = (where: string, table: Pairs): DocumentProblem[] => {
  const fault = typeof table === 'number' ? -1 : rising(table.map(([at]) => at))
  return fault === -1
    ? []
    : [
        {
          where: `${where}/${fault}`,
          what: 'does not come after the entry before it',
          remedy: 'put the table in rising order, each place once',
        },
      ]
}

const leastOf = (table: Pairs): number =>
  typeof table === 'number' ? table : Math.min(...table.map(([, value]) => value))

const reactionProblems = (where: string, of: HeatCaseMaterial): DocumentProblem[] => {
  const all = (of.reactions ?? []).map((one, index) => ({ ...one, where: `${where}/reactions/${index}` }))
  const least = leastOf(of.specificHeat_J_kgK)
  const alone = all.flatMap((one): DocumentProblem[] => {
    if (!(one.to_C > one.from_C))
      return [
        {
          where: `${one.where}/to_C`,
          what: `must be more than from_C, ${one.from_C}`,
          remedy: 'give the range from low to high; for a sharp melting point a tenth of a degree serves',
        },
      ]
    return least + one.heat_J_kg / (one.to_C - one.from_C) < least / 10
      ? [
          {
            where: `${one.where}/heat_J_kg`,
            what: 'sets free so much heat in so short a range that the material would heat itself through it',
            remedy: 'give a smaller heat or a wider range; heat absorbed on heating is positive',
          },
        ]
      : []
  })
  const inOrder = [...all].sort((a, b) => a.from_C - b.from_C)
  const overlapping = inOrder.flatMap((one, index): DocumentProblem[] => {
    const before = inOrder[index - 1]
    return before !== undefined && one.from_C < before.to_C
      ? [
          {
            where: `${one.where}/from_C`,
            what: `overlaps the reaction from ${before.from_C} to ${before.to_C} °C`,
            remedy: 'cut the ranges where they meet and share the heat out between them',
          },
        ]
      : []
  })
  return [...alone, ...overlapping]
}

const materialProblems = (where: string, of: HeatCaseMaterial): DocumentProblem[] => [
  ...tableProblems(`${where}/conductivity_W_mK`, of.conductivity_W_mK),
  ...tableProblems(`${where}/specificHeat_J_kgK`, of.specificHeat_J_kgK),
  ...reactionProblems(where, of),
]

const probeProblems = ({ geometry, layers = [], probes_mm }: HeatCase): DocumentProblem[] => {
  const sum = (covering: readonly { thickness_mm: number }[]): number =>
    covering.reduce((total, one) => total + one.thickness_mm, 0)
  const around = sum(layers)
  const over = sum(layers.filter(({ covers }) => covers === 'all'))
  const reach: readonly { name: string; most: number; least: number }[] =
    geometry.shape === 'slab'
      ? [{ name: 'x', most: geometry.thickness_mm / 2 + around, least: -geometry.thickness_mm / 2 - around }]
      : geometry.shape === 'sphere'
        ? [{ name: 'r', most: geometry.radius_mm + around, least: 0 }]
        : [
            { name: 'r', most: geometry.radius_mm + around, least: 0 },
            { name: 'z', most: geometry.height_mm / 2 + over, least: -geometry.height_mm / 2 - over },
          ]
  const form = `[${reach.map(({ name }) => name).join(', ')}]`
  return probes_mm.flatMap((probe, index): DocumentProblem[] => {
    const where = `/probes_mm/${index}`
    if (probe.length !== reach.length)
      return [
        {
          where,
          what: `has ${probe.length} lengths; a ${geometry.shape} is probed at ${form}`,
          remedy: `write it as ${form}, in mm from the centre`,
        },
      ]
    return reach.flatMap(({ name, most, least }, axis) => {
      const at = probe[axis] ?? Number.NaN
      // the outer face itself belongs to the body, however its length was rounded
      const slack = 1e-9 * most
      return at >= least - slack && at <= most + slack
        ? []
        : [
            {
              where: `${where}/${axis}`,
              what: `${name} = ${at} mm lies outside the body, which reaches from ${least} to ${most} mm`,
              remedy: 'probe inside the body; lengths count from its centre, and z from mid-height',
            },
          ]
    })
  })
}

/** Reads a heat case: the document, or everything that is wrong with it. */
export const readHeatCase = (value: unknown): Reading<HeatCase> => {
  const reading = readDocument<HeatCase>(heatCaseSchema, value)
  if (!reading.ok) return reading
  const given = reading.value
  const late = rising(given.times_s)
  const problems = [
    ...materialProblems('/material', given.material),
    ...(given.layers ?? []).flatMap((one, index) =>
      materialProblems(`/layers/${index}/material`, one.material),
    ),
    ...('fixed_C' in given.boundary
      ? tableProblems('/boundary/fixed_C', given.boundary.fixed_C)
      : tableProblems('/boundary/ambient_C', given.boundary.ambient_C)),
    ...('ambient_C' in given.boundary &&
    given.boundary.h_W_m2K === undefined &&
    given.boundary.emissivity === undefined
      ? [
          {
            where: '/boundary/h_W_m2K',
            what: 'is missing, and so is an emissivity: nothing says how heat gets through the faces',
            remedy: 'give one of them or both; h_W_m2K 0 insulates the body',
          },
        ]
      : []),
    ...probeProblems(given),
    ...(late === -1
      ? []
      : [
          {
            where: `/times_s/${late}`,
            what: 'does not come after the time before it',
            remedy: 'put the times in rising order, each once',
          },
        ]),
  ]
  return problems.length === 0 ? reading : { ok: false, problems }
}
