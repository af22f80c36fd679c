import type { Pour, Roots, Shop } from '../documents/index.ts'
import { toMinute } from '../physics/schedule.ts'
import {
  type Caution,
  celsius,
  type Problem,
  type Quantity,
  type RoomAnswer,
  reckon,
  say,
  timeOf,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import type { Work } from './burnout.ts'
import {
  type AskedCooling,
  askCooling,
  type CooledFlask,
  type CoolingQuantities,
  cooledMoments,
} from './cooled/index.ts'
import { FlaskCooling, type PouredFlask } from './cooling.ts'
import { usual } from './program.ts'
import { bucketWater, heatGiven, solidMetalHeat, usualPour } from './quench-formulas.ts'
import { kilnToPour, leavesRange, type Transfer, transferOf } from './transfer.ts'

export interface QuenchInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly alloyIndex: number
  readonly investmentIndex: number
  /** metal poured [kg] */
  readonly charge?: Quantity
  /** the mould when the metal goes in [K] */
  readonly castingTemperature: Quantity
  /** the metal when it goes in [K]; the alloy's usual when left out */
  readonly pourTemperature?: Quantity
  readonly flaskInside?: { readonly diameter: Quantity; readonly height: Quantity }
  readonly flaskSteel?: Quantity
  readonly dryInvestment?: Quantity
  readonly spinRun?: Quantity
  /** decides the heats that the mould may be cast at */
  readonly work?: Work
  /** from the last wax to the flask's end [m]; by rule when left out */
  readonly topGap?: Quantity
  /** flasks solved already, by the keys they were asked under */
  readonly solved?: Readonly<Record<string, CooledFlask>>
}

export interface QuenchPoint {
  /** seconds after the end of the spin */
  readonly s: number
  readonly castings: number
  readonly low: number
  readonly high: number
  readonly outer: number
}

export interface Quench {
  /** both after the end of the spin [s] */
  readonly opens?: Quantity
  readonly closes?: Quantity
  /** the sure part [s]: from the latest it may open to the earliest it may close; not sure when it is empty */
  readonly window?: { readonly from: number; readonly to: number; readonly sure: boolean }
  /** a moment inside the sure part [s] */
  readonly planned?: number
  readonly curve?: readonly QuenchPoint[]
  /** what the window rests on, and whether the solver has yet to answer */
  readonly by: 'rule' | 'solver'
  readonly byRuleMeanwhile: boolean
  readonly asked?: AskedCooling
  /** the window by two lumps of heat, beside a solved one */
  readonly crossCheck?: { readonly opens: Quantity; readonly closes: Quantity; readonly words: Words }
  readonly transfer?: Transfer
  readonly bucket?: Quantity
  /** silica mud left in the bucket */
  readonly mud?: Quantity
  readonly reasons: { readonly opens: Words; readonly closes: Words }
  readonly redFirst: Words
  /** what the trade says, shown beside [s] */
  readonly practice: { readonly wait: number; readonly words: Words }
  readonly answer: RoomAnswer
}

const RED_FIRST = say`Visible red outranks any clock. Shade the button with your hand and look: any red, and it waits, whatever the time says.`

const PRACTICE = {
  wait: 300,
  words: say`The trade waits about 5 min for sterling in a small flask, 15 to 20 for a large one, and until the button shows no red.`,
}

/** When the castings may go into water, counted from the end of the spin. */
export const planQuench = (input: QuenchInput): Quench => {
  const { roots, flaskInside, flaskSteel, dryInvestment, charge } = input
  const opensAt = roots.at('/shop/finishing/quenchOpens_C', 'Castings may be quenched below')
  const closesAt = roots.at('/shop/finishing/quenchCloses_C', 'Investment no longer bursts off below')
  const reasons = {
    opens: say`Above ${opensAt} the metal is weak and unevenly hot: it cracks where thick meets thin.`,
    closes: say`Below ${closesAt} the investment no longer bursts off in the water, and must be dug out.`,
  }
  const shared = {
    reasons,
    redFirst: RED_FIRST,
    practice: PRACTICE,
    mud: dryInvestment,
    by: 'rule' as const,
    byRuleMeanwhile: false,
  }
  if (
    flaskInside === undefined ||
    flaskSteel === undefined ||
    dryInvestment === undefined ||
    charge === undefined
  )
    return { ...shared, answer: { verdicts: [], cautions: CAUTIONS, problems: missing(input) } }
  const inputs = coolingInputs(input, { flaskInside, flaskSteel, dryInvestment, charge })
  if (!(inputs.metalHeat.value > 0))
    return {
      ...shared,
      answer: { verdicts: [], cautions: CAUTIONS, problems: [disagreeing(input.alloyIndex)] },
    }
  const quantities = hotFlask(input, inputs, opensAt, closesAt)
  const asked = askCooling(quantities)
  const answered = input.solved?.[asked.key]
  const moments = answered && cooledMoments(quantities, asked, answered)
  // a flask that stays too hot for hours has no solved moment, and keeps the rule's
  const solved =
    moments?.opens && moments.closes ? { opens: moments.opens, closes: moments.closes } : undefined
  const under = solved === undefined ? 'quench' : 'quench.rule'
  const byRule = {
    opens: reckonMoment(under, 'opens', 'Window opens', opensAt, inputs),
    closes: reckonMoment(under, 'closes', 'Window closes', closesAt, inputs),
  }
  const { opens, closes } = solved ?? byRule
  const transfer = moments && transferOf(quantities, moments)
  const window = { from: opens.high, to: closes.low, sure: closes.low > opens.high }
  const half = Math.ceil(window.from / 30) * 30
  return {
    ...shared,
    opens,
    closes,
    window,
    planned: window.sure ? Math.min(half, (window.from + window.to) / 2) : undefined,
    curve:
      solved && answered
        ? answered.curve.filter(({ s: after }) => after <= closes.high * 1.2 + 120)
        : drawCurve(inputs, closes.high),
    by: solved === undefined ? 'rule' : 'solver',
    byRuleMeanwhile: answered === undefined,
    asked,
    crossCheck: solved && {
      ...byRule,
      words: say`By two lumps of heat: opens ${timeOf(byRule.opens.value)} after the spin, closes ${timeOf(byRule.closes.value)}.`,
    },
    transfer,
    bucket: bucketWater(
      {
        dry: dryInvestment,
        mouldHeat: inputs.mouldHeat,
        steel: flaskSteel,
        metal: charge,
        metalHeat: inputs.metalHeat,
        at: opensAt,
        least: usual('quench.leastWater', 'Least water', 'm3 water', 0.01),
      },
      { id: 'quench.bucket' },
    ),
    answer: {
      verdicts: [judgeWindow(opens, closes), ...(transfer?.verdicts ?? [])],
      cautions: CAUTIONS,
      problems: [],
    },
  }
}

const disagreeing = (alloyIndex: number): Problem => ({
  kind: 'quench-heats-disagree',
  where: `/shop/alloys/${alloyIndex}/freezingHeat_kJ_kg`,
  what: say`The quench window is not worked out: this alloy's heat from the pour to solid is not less than its heat from the room to the pour.`,
  remedy: say`Compare both heats with the alloy's sheet.`,
})

const missing = ({ flaskInside, flaskSteel, dryInvestment, charge }: QuenchInput): Problem[] => [
  ...(flaskInside === undefined || flaskSteel === undefined || dryInvestment === undefined
    ? [
        {
          kind: 'quench-needs-flask',
          where: '/pour/flask',
          what: say`The quench window is not worked out: the flask or its investment is not known.`,
          remedy: say`Choose a flask, or give the pieces' sizes so that one can be chosen.`,
        },
      ]
    : []),
  ...(charge === undefined
    ? [
        {
          kind: 'quench-needs-charge',
          where: '/pour/pieces',
          what: say`The quench window is not worked out: the metal poured is not known.`,
          remedy: say`Weigh the waxes, or give their models.`,
        },
      ]
    : []),
]

const coolingInputs = (
  input: QuenchInput,
  known: {
    flaskInside: NonNullable<QuenchInput['flaskInside']>
    flaskSteel: Quantity
    dryInvestment: Quantity
    charge: Quantity
  },
) => {
  const { roots } = input
  const alloy = `/shop/alloys/${input.alloyIndex}`
  const bag = `/shop/investments/${input.investmentIndex}`
  const solidAt = roots.at(`${alloy}/freezesBy_C`, 'Metal is solid by')
  const freezing = roots.at(`${alloy}/freezingHeat_kJ_kg`, 'Heat from the pour to solid')
  const air = usual(
    'quench.air',
    'Air in the shop',
    'K',
    celsius(20),
    'common practice',
    celsius(12),
    celsius(28),
  )
  const metalHeat = solidMetalHeat(
    { toPour: roots.at(`${alloy}/heatToPour_kJ_kg`, 'Heat to the pour'), freezing, solidAt, room: air },
    { id: 'quench.metalHeat' },
  )
  return {
    diameter: known.flaskInside.diameter,
    height: known.flaskInside.height,
    dryInvestment: known.dryInvestment,
    steel: known.flaskSteel,
    metal: known.charge,
    mouldHeat: roots.at(`${bag}/dryHeat_J_kgK`, 'Specific heat of the dry mould'),
    conductivity: roots.at(`${bag}/dryConductivity_W_mK`, 'Heat passed by the dry mould'),
    metalHeat,
    freezingHeat:
      input.pourTemperature === undefined
        ? freezing
        : heatGiven(
            {
              freezing,
              heat: metalHeat,
              pour: input.pourTemperature,
              liquidus: roots.at(`${alloy}/liquidus_C`, 'Liquidus'),
              superheat: roots.at(`${alloy}/superheat_K`, 'Usual superheat'),
            },
            { id: 'quench.heatGiven' },
          ),
    solidAt,
    mould: input.castingTemperature,
    air,
    airTakes: usual(
      'quench.airTakes',
      'Heat taken by still air',
      'W/m2K',
      10,
      'natural convection, 5 to 12 in a textbook, more while it spins; from memory',
      6,
      16,
    ),
    emissivity: usual(
      'quench.emissivity',
      'How well the flask radiates',
      '1',
      0.8,
      'oxidised stainless 0.7 to 0.85, plaster 0.85 to 0.93; from memory',
      0.7,
      0.9,
    ),
    reach: usual(
      'quench.reach',
      'Mould that the castings’ heat spreads into at first, over the radius',
      '1',
      0.33,
      'a guess from trees as they stand; wider apart settles more slowly',
      0.22,
      0.45,
    ),
    spin: input.spinRun ?? usual('quench.spin', 'Spin', 's', 30, 'common practice: 20 to 30 s', 20, 60),
    doubt: usual(
      'quench.doubt',
      'What two lumps of heat may be off',
      '1',
      1,
      'a guess; time your own flasks to narrow it',
      0.85,
      1.2,
    ),
  }
}

type CoolingInputs = ReturnType<typeof coolingInputs>
type CoolingNumbers = Readonly<Record<keyof CoolingInputs, number>>

const flaskOf = (n: CoolingNumbers): PouredFlask => ({
  radius: n.diameter / 2,
  height: n.height,
  dryInvestment: n.dryInvestment,
  steel: n.steel,
  metal: n.metal,
  mouldHeat: n.mouldHeat,
  conductivity: n.conductivity,
  metalHeat: n.metalHeat,
  freezingHeat: n.freezingHeat,
  solidAt: n.solidAt,
  mould: n.mould,
  air: n.air,
  airTakes: n.airTakes,
  emissivity: n.emissivity,
  reach: n.reach,
})

const reckonMoment = (
  under: string,
  id: 'opens' | 'closes',
  title: string,
  at: Quantity,
  inputs: CoolingInputs,
): Quantity =>
  reckon({
    id: `${under}.${id}`,
    title,
    unit: 's',
    says: `the castings and the mould round them cool to ${id === 'opens' ? 'where they may be quenched' : 'where the mould no longer bursts off'}, less the spin`,
    source: 'heat balance of two lumps: conduction outwards, radiation and still air from the flask',
    holdsWhen: 'the flask stands alone in still air; the castings stand in the inner half of the mould',
    inputs: { ...inputs, at },
    body: (n) =>
      Math.max(0, n.doubt * new FlaskCooling(flaskOf(n)).timeTo(Math.min(n.at, n.solidAt)) - n.spin),
  })

/** The same flask as the solver takes it. */
const hotFlask = (
  input: QuenchInput,
  inputs: CoolingInputs,
  opens: Quantity,
  closes: Quantity,
): CoolingQuantities => {
  const { roots } = input
  const alloy = `/shop/alloys/${input.alloyIndex}`
  const liquidus = roots.at(`${alloy}/liquidus_C`, 'Liquidus')
  const superheat = roots.at(`${alloy}/superheat_K`, 'Usual superheat')
  const { metal, reach: _, doubt: __, ...shared } = inputs
  return {
    flask: {
      ...shared,
      charge: metal,
      freezingHeat: roots.at(`${alloy}/freezingHeat_kJ_kg`, 'Heat from the pour to solid'),
      metalDensity: roots.at(`${alloy}/density_g_cm3`, 'Density of the metal'),
      liquidus,
      superheat,
      pour:
        input.pourTemperature ??
        usualPour({ liquidus, superheat }, { id: 'quench.pour', title: 'Metal when it goes in' }),
      spinTakes: usual(
        'quench.spinTakes',
        'Heat taken by the air while it spins',
        'W/m2K',
        40,
        'air moving past at a few metres a second, 20 to 80 in a textbook; from memory',
        20,
        70,
      ),
      ends: usual(
        'quench.ends',
        'What the ends lose, over two bare ends',
        '1',
        0.75,
        'one end stands on a cradle or a brick, which takes anything from nothing to as much as air',
        0.5,
        1,
      ),
      metalAt: usual(
        'quench.metalAt',
        'Where the metal stands, over the radius',
        '1',
        0.5,
        'a guess from trees as they stand: stem in the middle, pieces round it',
        0.38,
        0.62,
      ),
      kilnToPour: kilnToPour(roots),
    },
    levels: { leaves: leavesRange(input), opens, closes },
    wallClearance: roots.at('/shop/rules/wallClearance_mm', 'Clearance to the wall'),
    topGap: input.topGap ?? roots.at('/shop/rules/topLeast_mm', 'Investment above the waxes, at least'),
  }
}

/** No chart of a flask runs longer [s]. */
const LONGEST_CURVE = 6 * 3600

/** The castings' cooling for a chart, with the band of the moments' own spread. */
const drawCurve = (inputs: CoolingInputs, until: number): QuenchPoint[] => {
  const numbers = {} as Record<keyof CoolingInputs, number>
  for (const [name, input] of Object.entries(inputs) as [keyof CoolingInputs, Quantity][])
    numbers[name] = input.value
  const spread = (which: 'low' | 'high'): CoolingNumbers => {
    const other = which === 'low' ? 'high' : 'low'
    return {
      ...numbers,
      conductivity: inputs.conductivity[which === 'low' ? 'high' : 'low'],
      airTakes: inputs.airTakes[other],
      mouldHeat: inputs.mouldHeat[which],
      reach: inputs.reach[which],
      mould: inputs.mould[which],
    }
  }
  const whole = Math.min(until + numbers.spin + 120, LONGEST_CURVE)
  const points = new FlaskCooling(flaskOf(numbers)).curve(whole)
  const low = new FlaskCooling(flaskOf(spread('low'))).curve(whole)
  const high = new FlaskCooling(flaskOf(spread('high'))).curve(whole)
  return points.map((point, index) => ({
    s: point.s - numbers.spin,
    castings: point.castings,
    outer: point.outer,
    low: Math.min(point.castings, low[index]?.castings ?? point.castings),
    high: Math.max(point.castings, high[index]?.castings ?? point.castings),
  }))
}

const judgeWindow = (opens: Quantity, closes: Quantity): Verdict => {
  const base = { id: 'quench.window', part: 'quench', title: say`A sure time to quench` } as const
  return closes.low > opens.high
    ? {
        ...base,
        verdict: 'pass',
        reason: say`Quench between ${timeOf(opens.high)} and ${timeOf(closes.low)} after the spin: it opens at ${timeOf(opens.low)} to ${timeOf(opens.high)}, and closes at ${timeOf(closes.low)} to ${timeOf(closes.high)}. Visible red outranks the clock.`,
        remedy: [],
      }
    : {
        ...base,
        verdict: 'check',
        reason: say`The window may open as late as ${timeOf(opens.high)} after the spin and close as soon as ${timeOf(closes.low)}: no time is sure for this flask.`,
        remedy: say`Go by the glow: quench as soon as no red shows in a dim place. Time this flask once, and enter what you found.`,
        where: '/shop/finishing/quenchCloses_C',
      }
}

const CAUTIONS: readonly Caution[] = [
  {
    id: 'quench.silica',
    part: 'quench',
    step: 'flask into water',
    level: 'warning',
    words: say`The steam carries fine silica: this is the dustiest moment of the job. Fitted respirator on, outdoors or under a hood, face clear of the bucket. Let the mud settle and bag it wet; never down the drain.`,
  },
  {
    id: 'quench.steam',
    part: 'quench',
    step: 'flask into water',
    level: 'warning',
    words: say`The flask bursts and spits scalding water. Face shield, gloves and sleeves; a deep bucket; nobody leaning over it.`,
  },
  {
    id: 'quench.tongs',
    part: 'quench',
    step: 'carrying the flask',
    level: 'caution',
    words: say`Long dry tongs, tried on this flask cold. Lower it in, do not drop it.`,
  },
]

export interface QuenchMoments {
  /** the sure part on the clock [ms since 1970]: opens not a minute too soon, closes not a minute too late */
  readonly opens: number
  readonly closes: number
  readonly planned: number
}

/** The sure window on the clock, counted from the moment the spin ends [ms since 1970]; none while it is not sure. */
export const quenchMoments = (quench: Quench, spinEnds: number): QuenchMoments | undefined => {
  const { window, planned } = quench
  if (window === undefined || planned === undefined || !window.sure) return undefined
  const at = (seconds: number, round: (minutes: number) => number): number =>
    toMinute(spinEnds + seconds * 1000, round)
  return {
    opens: at(window.from, Math.ceil),
    closes: at(window.to, Math.floor),
    planned: at(planned, Math.ceil),
  }
}
