import * as z from 'zod'

const number = z.number()
const text = z.string()
const moment = z.iso.datetime({ offset: true })

const interval = z
  .strictObject({ low: number, expected: number, high: number })
  .describe('5th percentile, median and 95th percentile')
const maybe = interval.nullable()

const verdict = z.strictObject({
  id: text,
  part: text,
  verdict: z.enum(['pass', 'check', 'stop']),
  title: text,
  reason: text,
  remedy: text,
  where: text.nullable().describe('document path whose change is the remedy'),
  accepted: text.nullable().describe('the reason a check was accepted with'),
})

const caution = z.strictObject({
  id: text,
  part: text,
  step: text,
  level: z.enum(['caution', 'warning', 'danger']),
  words: text,
})

const problem = z.strictObject({ kind: text, where: text, what: text, remedy: text })

const metal = z.strictObject({
  alloy: text,
  pieces: z.array(
    z.strictObject({
      id: text,
      name: text,
      quantity: number.int(),
      from: z.enum(['weighed-wax', 'mesh', 'volume', 'pattern']),
      standIn: z.boolean(),
      volume_mm3: maybe,
      wax_g: maybe,
      mass_g: maybe.describe('one piece, as cast'),
    }),
  ),
  sprues_g: maybe,
  button_g: maybe,
  leastButton_g: maybe,
  cavity_g: maybe,
  charge_g: maybe.describe('metal needed: cavity, least button that feeds, and what stays in the crucible'),
  toWeigh_g: number.nullable(),
  probabilityShort: number
    .min(0)
    .max(1)
    .nullable()
    .describe('never under 1e-6: below that blunders dominate and no smaller chance is claimed'),
  probabilityButtonShort: number.min(0).max(1).nullable(),
  blunders: z.array(z.strictObject({ id: text, words: text })),
})

const charge = z.strictObject({
  byRule: z.boolean().describe('true while the least-cost make-up is not worked out'),
  makeUp: z.array(z.strictObject({ lot: text, name: text, mass_g: number })),
  fineness_ppt: maybe,
  returnedShare: number.nullable(),
  cost: number.nullable(),
  standards: z.array(text),
})

/** The JSON answer of `plan`: keys are never renamed or given a new meaning; more may come. */
const burnout = {
  castingTemperature_C: maybe,
  start: moment.nullable(),
  mixBy: moment.nullable().describe('the last moment to begin the mix'),
  eveningBefore: z
    .strictObject({ mixAt: moment, words: text, mind: text })
    .nullable()
    .describe('offered when mixBy falls in the night; common practice'),
  earliestPour: moment.nullable(),
  total_min: number.nullable(),
  program: z.array(
    z.strictObject({
      id: text,
      kind: z.enum(['ramp', 'hold']),
      from_C: number,
      to_C: number,
      duration_min: number,
      setpoint_C: number.describe('as this kiln displays it'),
      start: moment.nullable(),
      words: text,
    }),
  ),
  by: z.enum(['rule', 'solver']),
  coreAtCast_C: maybe,
  energy_kWh: maybe,
  cost: number.nullable(),
}

export const planJsonSchema = z.strictObject({
  kind: z.literal('plan'),
  version: z.literal(1),
  name: text,
  now: moment,
  castAt: moment.nullable(),
  currency: text.length(3),
  metal,
  charge,
  melt: z.strictObject({
    liquidus_C: number,
    diagram: z
      .strictObject({ liquidus_C: maybe, solidus_C: maybe, heat_kJ_kg: interval })
      .nullable()
      .describe('by the silver-copper phase diagram, at the fineness made up'),
    pour_C: number,
    energy_kJ: maybe,
    time_s: maybe,
    steps: z.array(text),
  }),
  tree: z.strictObject({
    sprues: z.array(
      z.strictObject({
        piece: text,
        count: number,
        diameter_mm: number,
        freezes_s: interval,
        pieceFreezes_s: interval,
        timesLonger: interval,
      }),
    ),
    stem: z.strictObject({ diameter_mm: number, freezes_s: interval }).nullable(),
    button: z.strictObject({ depth_mm: number, freezes_s: interval }),
    freezingOrder: z.array(z.strictObject({ id: text, name: text, time_s: interval })),
  }),
  flask: z
    .strictObject({
      id: text,
      inside_diameter_mm: number,
      inside_height_mm: number,
      wall_gap_mm: number.nullable(),
      top_gap_mm: number.nullable(),
      nextSmaller: z.strictObject({ id: text, why: text }).nullable(),
    })
    .nullable(),
  arranged: z
    .strictObject({
      flask: text,
      tightest: z
        .strictObject({
          between: z.array(text).length(2),
          distance_mm: number,
          needed_mm: number,
        })
        .nullable(),
      body_mm3: number.describe('pieces, sprues, main sprue and button as one joined solid'),
      investment_mm3: number.describe('the flask’s inside, less the metal and less the base’s cone'),
      wax_g: maybe.describe('the whole tree'),
      highest_mm: number.describe('top of the highest wax, from where flask and base meet'),
      off_axis_mm: interval.describe('of the joined solid’s middle, from the flask’s axis'),
      stem: z.strictObject({
        diameter_mm: number,
        top_mm: number,
        mass_g: number.describe('with every joint'),
      }),
      sprues: z.array(
        z.strictObject({
          number: number.int(),
          piece: text.describe('its id and copy, as clasp/1'),
          angle_deg: number.describe('round the base from its mark, against the clock seen from above'),
          up_mm: number.describe('up the main sprue from the top of the base’s cone'),
          tilt_deg: number.describe('above level'),
          length_mm: number,
          diameter_mm: number,
          mass_g: number,
        }),
      ),
      byRule: z
        .strictObject({ flask: text.nullable(), sprues_g: maybe, depth_mm: maybe })
        .describe('by outside boxes, for comparison; nothing rests on it'),
    })
    .nullable()
    .describe('where each wax was found to fit, when the plan reckons with it; null where it stands by rule'),
  investment: z.strictObject({
    ratio: number,
    powder_g: number.nullable(),
    water_g: number.nullable(),
    powder_range_g: maybe,
    slurry_cm3: maybe,
    bagLeft_g: number.nullable(),
    collar_mm: maybe,
    clock: z.array(z.strictObject({ id: text, name: text, from_s: number, to_s: number })),
    glossOff_min: interval,
    still: z.strictObject({ notBefore_min: number, stopBy_min: number }),
  }),
  vacuum: z.strictObject({
    station_hPa: interval,
    boil_gauge_inHg: number.nullable().describe('gauge reading, positive below local pressure'),
    boil_gauge_range_inHg: interval,
    boil_gauge_mbar: number.nullable(),
    boil_gauge_kPa: number.nullable(),
    pump_gauge_inHg: interval,
    boils: z.enum(['yes', 'no', 'too close to call']),
  }),
  burnout: z.strictObject(burnout),
  spin: z.strictObject({
    turns: number,
    speed_rpm: interval,
    standIn_g: maybe.describe('weight put in the cradle in place of the flask, to balance cold'),
    counterweight_mm: maybe,
    pull_N: z.strictObject({
      start: number.nullable(),
      end: number.nullable(),
      ifBalancedWet: number.nullable(),
      sideways: number.nullable().describe('as the waxes stand round the axis, at most'),
    }),
    pressure_kPa: maybe,
    gravities: maybe,
    lastSolid_s: maybe,
    run_s: number.nullable(),
    coastDown_s: maybe,
  }),
  transfer: z
    .strictObject({
      seconds: maybe.describe('until the mould at the farthest wax is too cool to cast into'),
      core_s: maybe.describe('until its middle is too cool as well'),
      planned_s: maybe,
      leaves_C: number.nullable().describe('the coolest mould to pour into'),
    })
    .describe('from the kiln’s door to the pour'),
  quench: z.strictObject({
    window_min: z
      .strictObject({ from: number, to: number, sure: z.boolean() })
      .nullable()
      .describe('minutes after the end of the spin'),
    opens_min: maybe,
    closes_min: maybe,
    planned_min: number.nullable(),
    redFirst: text,
    by: z.enum(['rule', 'solver']),
    twoLumps_min: z
      .strictObject({ opens: number.nullable(), closes: number.nullable() })
      .nullable()
      .describe('beside a solved window: the same by two lumps of heat'),
    metal: z
      .array(
        z.strictObject({
          min: number,
          hottest_C: number,
          low_C: number,
          high_C: number,
          outside_C: number,
        }),
      )
      .describe('the hottest metal and the outside of the mould; minutes after the spin, before it below 0'),
  }),
  price: z.strictObject({
    currency: text,
    ask: maybe,
    quote: z.strictObject({ price: number, deposit: number }).nullable(),
    lines: z.array(z.strictObject({ name: text, amount: interval })),
    overhead: maybe,
    margin: maybe,
    shareOfSecondTry: maybe,
    chanceOfSpoiledPour: maybe,
    mouldPays: text.nullable(),
  }),
  finish: z.strictObject({
    pieces: z.array(z.strictObject({ id: text, finished_g: maybe })),
    finished_g: maybe,
    back_g: maybe,
  }),
  verdicts: z.array(verdict),
  cautions: z.array(caution),
  problems: z.array(problem),
  explanations: z.record(text, z.unknown()).optional(),
})

/** The JSON answer of `charge`. */
export const chargeJsonSchema = z.strictObject({
  kind: z.literal('charge'),
  version: z.literal(1),
  metal,
  charge,
  currency: text,
  verdicts: z.array(verdict),
})

/** The JSON answer of `burnout`: the plan's own part, with the middle of the flask through the program. */
export const burnoutJsonSchema = z.strictObject({
  kind: z.literal('burnout'),
  version: z.literal(1),
  now: moment,
  castAt: moment.nullable(),
  ...burnout,
  events: z.array(
    z.strictObject({
      id: z.enum(['sprueMelted', 'waxMelted', 'coreDry', 'coreHot']),
      title: text,
      min: interval.describe('from the kiln being switched on; an event that does not happen is left out'),
      at: moment.nullable(),
    }),
  ),
  core: z
    .array(
      z.strictObject({
        min: number,
        core_C: number,
        low_C: number,
        high_C: number,
        wall_C: number.nullable().describe('steel at mid-height; null by rule'),
      }),
    )
    .describe('the middle of the flask, low to high nine in ten'),
  load: z
    .array(
      z.strictObject({
        flask: text,
        dry_min: number.nullable(),
        hot_min: number.nullable(),
        settle_min: number.nullable(),
        core: z.array(z.strictObject({ min: number, core_C: number, low_C: number, high_C: number })),
      }),
    )
    .describe('the other flasks in the kiln, each with its own core; empty where this one stands alone'),
  crossCheck: z.strictObject({ rule_min: number, words: text }).nullable(),
  variants: z.array(
    z.strictObject({ id: z.enum(['gentle', 'shortest']), total_min: number, chosen: z.boolean() }),
  ),
  verdicts: z.array(verdict),
  cautions: z.array(caution),
})

const kept = z.strictObject({
  value: number,
  low: number,
  high: number,
  source: text,
  measured: text,
})

/** The JSON answer of `burnout --log`: what the log teaches of mould and kiln, as the shop's document holds it. */
export const burnoutLogJsonSchema = z.strictObject({
  kind: z.literal('burnout-log'),
  version: z.literal(1),
  used: number.describe('readings'),
  before_K: number.describe('log and reckoning apart, root mean square'),
  left_K: number.describe('the same once fitted'),
  keep: z.strictObject({
    investment: z.strictObject({ id: text, dryConductivity_W_mK: kept }),
    kiln: z.strictObject({ id: text, film_W_m2K: kept }),
  }),
  curve: z.array(z.strictObject({ min: number, measured_C: number, before_C: number, after_C: number })),
  notes: z.array(z.strictObject({ where: text, what: text, remedy: text })),
})

/** The JSON answer of `burnout --stopped-at`: what is still to come. */
export const burnoutStoppedJsonSchema = z.strictObject({
  kind: z.literal('burnout-stopped'),
  version: z.literal(1),
  kiln_C: number,
  stages: z.array(
    z.strictObject({
      id: z.enum(['wax', 'drying', 'top', 'casting']),
      climb_min: number,
      hold_min: number,
      cut: z.boolean().describe('even the longest hold does not do what it is for'),
    }),
  ),
  total_min: number.describe('from switching on first to the casting moment'),
  soonest_min: number,
  chilled: z.boolean().describe('the burnt-out mould has cooled through 270 to 220 °C and may have cracked'),
  missed: z.boolean().describe('the moment wished now can’t be kept'),
  later_min: number,
  castAt: moment.nullable(),
  soonestAt: moment.nullable(),
})

const point = z.array(number).length(3)

/** The JSON answer of `measure`. */
export const measureJsonSchema = z.looseObject({
  models: z.array(
    z.looseObject({
      file: text,
      units: text,
      closed: z.boolean(),
      volume_mm3: number.nullable(),
      area_mm2: number.nullable(),
      bounds_mm: z.strictObject({ min: point, max: point }).nullable(),
      thick_places: z
        .array(
          z.strictObject({
            thickness_mm: number,
            modulus_mm: number.describe('volume over cooling area of the metal there, a quarter either way'),
          }),
        )
        .describe('where metal is thick, thickest first'),
      mass_g: z.record(text, number.nullable()),
      problems: z.array(z.looseObject({ what: text, where: text, remedy: text })),
    }),
  ),
})

const triple = z.array(number).length(3)
const clearance = z.strictObject({
  between: z
    .array(text)
    .length(2)
    .describe('wall, top, piece/copy or sprue/n, n from 1 in the order of sprues'),
  distance_mm: number.describe(
    'between the surfaces; below 0 past the wall or the top, 0 where two things meet',
  ),
  needed_mm: number.min(0),
})

const spread = { value: number, low: number, high: number }

/** What `arrange --json` writes; the flask's axis is z, 0 where it meets its base, growing into the flask. */
export const arrangeJsonSchema = z.strictObject({
  kind: z.literal('arrangement'),
  version: z.literal(1),
  fits: z.boolean(),
  flask: z
    .strictObject({ id: text, inside_diameter_mm: number, inside_height_mm: number })
    .nullable()
    .describe('null where nothing fits: then the problems say by how much'),
  placements: z.array(
    z.strictObject({
      piece: text,
      copy: number.int().min(1),
      matrix: z
        .array(number)
        .length(16)
        .describe(
          '4 x 4, row-major, acting on column vectors, from the file’s coordinates in mm to the flask’s; of a drawing carved over by the shrink it holds that growth too',
        ),
      locked: z.boolean(),
      standIn: z.boolean(),
    }),
  ),
  sprues: z.array(
    z.strictObject({
      piece: text,
      copy: number.int().min(1),
      from_mm: triple.describe('on the piece'),
      to_mm: triple.describe('on the main sprue'),
      diameter_mm: number.describe('at the piece'),
      stemEnd_mm: number.describe('at the main sprue; wider where it is tapered'),
      fillet_mm: number.describe('radius of the flare where it joins the piece'),
      length_mm: number,
      reason: text,
    }),
  ),
  sections: z
    .array(
      z.strictObject({
        piece: text,
        at_mm: triple.describe('in the wax’s own mm'),
        thickness_mm: number,
        modulus_mm: z.strictObject(spread).describe('volume over cooling area'),
        neck_mm: number.nullable().describe('thinnest metal on the way to a thicker place'),
        freezes_s: z.strictObject(spread).optional(),
        sprue_mm: z.strictObject(spread).optional().describe('thinnest round sprue that outlasts it'),
        neckFreezes_s: z.strictObject({ low: number, high: number }).optional(),
      }),
    )
    .describe('the thick places of each piece that need feed'),
  stem: z.strictObject({ from_mm: triple, to_mm: triple, diameter_mm: number }).nullable(),
  button: z
    .strictObject({
      depth_mm: number,
      cone: z.strictObject({ mouth_mm: number, neck_mm: number, depth_mm: number }),
    })
    .nullable(),
  clearances: z
    .array(clearance)
    .describe(
      'tightest against its need first; a sprue is held as a bar with round ends and its fillet as a ball about the joint, so that its own surface is nowhere nearer than told; two sprues are held apart by a gap only more than three gaps outside the main sprue, as they run together there: nearer ones are among stemClearances',
    ),
  stemClearances: z.array(
    z.strictObject({
      between: z.array(text).length(2),
      distance_mm: number,
      needed_mm: number,
      byStem: z
        .literal(true)
        .optional()
        .describe(
          'two sprues nearer than a gap between one gap and three outside the main sprue: told, and stops nothing',
        ),
      oneWax: z
        .literal(true)
        .optional()
        .describe(
          'two sprues of one wax nearer than a gap, farther than one gap outside the main sprue: told, and stops nothing',
        ),
    }),
  ),
  offAxis_mm: number.nullable().describe('the middle of all the metal, from the flask’s axis'),
  metalBody: z.strictObject({ volume_mm3: number, closed: z.boolean() }).nullable(),
  problems: z.array(
    z.strictObject({
      kind: text,
      level: z.enum(['note', 'check', 'stop']),
      where: text,
      what: text,
      remedy: text,
    }),
  ),
})

const expected = z
  .strictObject({ low: number, expected: number, high: number, fromDrawing: number, fromHand: number })
  .describe('nine in ten; how far either way the drawing and the hand move it, each alone')
  .nullable()

/** The JSON answer of `pattern`. `mass_g` is the solid, with what is left for the file, in each alloy; `cast_g` is in sterling, over by the shrink. */
export const patternJsonSchema = z.looseObject({
  file: text,
  units: text,
  unitsAssumed: z.boolean(),
  regions: z.array(
    z.looseObject({
      id: text,
      name: text.describe('as the page and the template call it'),
      number: number.int().min(1).describe('as page and template have it; regions worked alike share one'),
      area_mm2: number.describe('as drawn, net of holes'),
      perimeter_mm: number.describe('outline and holes together'),
      holes: number.int().min(0),
      role: z.enum(['ground', 'raised', 'through', 'seat']),
      height_mm: number.describe('from the back plane before any bending; 0 where cut through'),
    }),
  ),
  bounds_mm: z.strictObject({ min: point, max: point }).nullable(),
  blank_mm: z
    .strictObject({ length: number, width: number, thickness: number })
    .nullable()
    .describe('wax to cut from, at the size of the wax, rounded up'),
  solid: z.looseObject({ volume_mm3: number.nullable(), closed: z.boolean() }),
  mass_g: z.record(text, number.nullable()),
  wax_g: expected,
  cast_g: expected,
  problems: z.array(
    z.looseObject({
      kind: text,
      level: z.enum(['note', 'check', 'stop']),
      what: text,
      where: text,
      remedy: text,
      at_mm: z.array(number).length(2).optional(),
    }),
  ),
})
