import type { Pour, Roots, Shop } from '../documents/index.ts'
import { layBackwards, toMinute } from '../physics/schedule.ts'
import { saturationTemperature } from '../physics/water.ts'
import {
  addUp,
  celsius,
  type Problem,
  type Quantity,
  type RoomAnswer,
  reckon,
  root,
  say,
  timeOf,
  type Words,
} from '../quantity/index.ts'
import { BURNOUT_CAUTIONS } from './burnout-cautions.ts'
import type { BurnoutCourse, BurnoutModel, CoreHistory, FlaskQuantities } from './burnout-model.ts'
import { judgeBurnout } from './burnout-verdicts.ts'
import { type EveningBefore, eveningBefore } from './evening-before.ts'
import {
  diffusivity,
  dryDensity,
  dryInvestment,
  dryingHeat,
  energyCost,
  flaskSteel,
  kilnEnergy,
  lagSize,
  loadHeat,
  ratioMixed,
  soakSize,
  wallShare,
  waxAir,
} from './formulas.ts'
import { type LaidProgram, layProgram, type Mould, type ProgramStep, usual } from './program.ts'
import { RULE } from './rule.ts'
import {
  type AskedBurnout,
  askBurnout,
  type BesideFlask,
  type CoreAnswer,
  type DesignedBurnout,
  historyOf,
  laySolved,
  usualFilm,
  type Variant,
} from './solved/index.ts'

export type Work = 'heavy' | 'medium' | 'light'

export interface BurnoutInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly kilnIndex: number
  readonly investmentIndex: number
  readonly alloyIndex: number
  readonly flaskInside?: { readonly diameter: Quantity; readonly height: Quantity }
  readonly flaskWall?: Quantity
  /** the flask's own steel when weighed [kg]; from its wall otherwise */
  readonly flaskSteel?: Quantity
  readonly powder?: Quantity
  readonly water?: Quantity
  readonly waxMass?: Quantity
  /** melting point of the pattern wax that melts last [K]; left out for a pattern that only burns */
  readonly waxMelts?: Quantity
  /** melting point of the sprue wax [K] */
  readonly sprueMelts?: Quantity
  /** decides the casting temperature; one asked for the pour overrides it */
  readonly work: Work
  /** the shop's own air pressure [Pa]; sets where water boils in the mould */
  readonly pressure?: Quantity
  /** from the first powder in the water to the earliest moment in the kiln [s] */
  readonly mixToKiln?: Quantity
  /** the casting moment and now [ms since 1970] */
  readonly castAt?: number
  readonly now: number
  readonly timeZone: string
  readonly model?: BurnoutModel
  /** all the wax that stands in the flask, as a share of its room */
  readonly waxShare?: Quantity
  /** burnouts solved already, by the keys they were asked under */
  readonly solved?: Readonly<Record<string, DesignedBurnout>>
}

export interface Burnout {
  readonly program: readonly ProgramStep[]
  /** the mould when the metal goes in [K] */
  readonly castingTemperature: Quantity
  /** the middle of it at that moment, by the model [K] */
  readonly coreAtCast?: Quantity
  readonly top?: Quantity
  readonly soak?: Quantity
  readonly settle?: Quantity
  readonly total?: Quantity
  /** moments [ms since 1970] */
  readonly start?: number
  /** the last moment at which the first powder may touch the water */
  readonly mixBy?: number
  /** said when that moment falls in the night */
  readonly eveningBefore?: EveningBefore
  readonly castAt?: number
  /** the soonest pour from now, mixing first [ms since 1970] */
  readonly earliest?: number
  readonly core?: CoreHistory
  /** whether the model asked for has not answered yet and the rule stands in */
  readonly byRuleMeanwhile: boolean
  /** what to solve, where this flask can be solved; answered or not */
  readonly asked?: AskedBurnout
  /** its answer, once it is there */
  readonly designed?: DesignedBurnout
  /** once solved: what the rule of flask size would take, and each program that was found [s] */
  /** the other flasks of the load by their names, solved with this one */
  readonly load?: readonly { readonly id: string; readonly core: CoreAnswer }[]
  readonly crossCheck?: {
    readonly rule: Quantity
    readonly totals: Readonly<Record<Variant, number>>
    readonly variant: Variant
    readonly words: Words
  }
  readonly dryInvestment?: Quantity
  readonly flaskSteel?: Quantity
  /** air that burns all the wax that does not run out, at most [m3] */
  readonly airForWax?: Quantity
  readonly energy?: Quantity
  readonly cost?: Quantity
  readonly answer: RoomAnswer
}

/** Share of its power that a small kiln draws to stay at its top hold. */
const kilnShare = (): Quantity =>
  usual(
    'burnout.kilnShare',
    'Share of its power the kiln draws at the top',
    '1',
    0.45,
    'a guess; read a meter',
    0.3,
    0.65,
  )

/** The casting temperature aimed at: asked for this pour, or the middle of what casters use for such work. */
const aimedAt = ({ roots, shop, alloyIndex, work }: BurnoutInput): Quantity => {
  if (roots.has('/pour/flask_C')) return roots.at('/pour/flask_C', 'Casting temperature of the flask')
  const stated = shop.alloys[alloyIndex]?.flask_C[work]
  if (stated === undefined) throw new Error(`no alloy ${alloyIndex} in the shop`)
  const path = `/shop/alloys/${alloyIndex}/flask_C/${work}`
  const value = typeof stated === 'number' ? stated : stated.value
  const range = typeof stated === 'number' ? '' : `, ${stated.low ?? value} to ${stated.high ?? value} °C`
  // what casters report is a range of choices; once one is chosen it is a setting, without a spread
  return root({
    id: 'burnout.aim',
    title: `Casting temperature of the flask for ${work} work`,
    unit: 'K',
    value: celsius(value),
    kind: 'usual',
    source: `${typeof stated === 'number' ? 'set for this shop' : (stated.source ?? 'set for this shop')}${range}`,
    path,
    documentScale: 1,
    documentOffset: celsius(0),
  })
}

const mouldOf = (
  input: BurnoutInput,
  inside: NonNullable<BurnoutInput['flaskInside']>,
  ratio: Quantity,
): Mould => {
  const { roots } = input
  const bag = `/shop/investments/${input.investmentIndex}`
  const radius = reckon({
    id: 'burnout.radius',
    title: 'Radius of the mould',
    unit: 'm',
    says: 'half the inside diameter of the flask',
    source: 'geometry',
    inputs: { diameter: inside.diameter },
    body: ({ diameter }) => diameter / 2,
  })
  const { height } = inside
  const conductivity = roots.at(`${bag}/dryConductivity_W_mK`, 'Heat passed by the dry mould')
  const heat = roots.at(`${bag}/dryHeat_J_kgK`, 'Specific heat of the dry mould')
  const density = dryDensity(
    {
      hemihydrate: roots.at(`${bag}/hemihydrateShare`, 'Plaster in the powder'),
      ratio,
      particle: roots.at(`${bag}/particleDensity_g_cm3`, "Density of the powder's grains"),
    },
    { id: 'burnout.density' },
  )
  return {
    radius,
    height,
    soakSize: soakSize({ radius, height }, { id: 'burnout.soakSize' }),
    lagSize: lagSize({ radius, height }, { id: 'burnout.lagSize' }),
    wallShare: wallShare({ radius, height }, { id: 'burnout.wallShare' }),
    density,
    heat,
    conductivity,
    diffusivity: diffusivity({ conductivity, density, heat }, { id: 'burnout.diffusivity' }),
  }
}

/** Of what was mixed, when that is known; as the documents ask it otherwise. */
const ratioOf = ({ roots, pour, investmentIndex, powder, water }: BurnoutInput): Quantity =>
  powder !== undefined && water !== undefined
    ? ratioMixed({ water, powder }, { id: 'burnout.ratio' })
    : roots.has('/pour/investment/waterRatio')
      ? roots.at('/pour/investment/waterRatio', 'Water to powder')
      : roots.at(
          `/shop/investments/${investmentIndex}/waterRatio/${pour.investment.work}`,
          `Water to powder for ${pour.investment.work} work`,
        )

/** Plans the burnout backwards from the casting moment. Without a flask only the casting temperature comes out. */
export const planBurnout = (input: BurnoutInput): Burnout => {
  const { roots, flaskInside } = input
  const aim = aimedAt(input)
  if (flaskInside === undefined)
    return {
      program: [],
      castingTemperature: aim,
      byRuleMeanwhile: false,
      castAt: input.castAt,
      answer: {
        verdicts: [],
        cautions: BURNOUT_CAUTIONS,
        problems: [
          {
            kind: 'burnout-needs-flask',
            where: '/pour/flask',
            what: say`The burnout is not worked out: no flask is chosen.`,
            remedy: say`Choose a flask, or give the pieces' sizes so that one can be chosen.`,
          },
        ],
      },
    }
  const ratio = ratioOf(input)
  const mould = mouldOf(input, flaskInside, ratio)
  const ruled = layProgram({ ...input, aim, mould })
  const flask = flaskOf(input, mould, ratio)
  const asked = askSolver(input, ruled, flask)
  const solved = asked && input.solved?.[asked.key]
  const laid = solved === undefined ? ruled : laySolved(ruled, solved, input.waxMelts, flask)
  const total = totalOf('burnout.total', 'Hours in the kiln', laid)
  const mixToKiln = input.mixToKiln ?? mixToKilnByClock(input)
  const { castAt } = input
  // rounded here, once: page, sheet and command line read the same minutes
  const stretches =
    castAt === undefined
      ? undefined
      : layBackwards(
          castAt,
          laid.steps.map(({ duration }) => duration.value),
        ).map(({ from, to }) => ({ from: toMinute(from), to: to === castAt ? to : toMinute(to) }))
  const program = laid.steps.map((step, index) => ({
    ...step,
    start: stretches?.[index]?.from,
    end: stretches?.[index]?.to,
  }))
  const start = program[0]?.start
  const mixBy = start === undefined ? undefined : toMinute(start - mixToKiln.value * 1000, Math.floor)
  const course = courseOf(input, laid, mould, ratio, flask)
  const core =
    solved === undefined
      ? followCore(input, course)
      : { history: historyOf(course, flask, solved.core), meanwhile: false }
  const masses = weighBurned(input, flaskInside)
  const energy = reckonEnergy(input, laid, ratio, masses)
  const cost =
    energy &&
    energyCost(
      { energy, price: roots.at('/shop/prices/energy_kWh', 'Price of electricity') },
      { id: 'burnout.cost' },
    )
  const plan = {
    program,
    castingTemperature: laid.casting,
    coreAtCast: addUp(
      {
        id: 'burnout.coreAtCast',
        title: 'Core when the metal goes in',
        says: 'the core at the end of the program, and what is not known of the kiln’s error',
      },
      [core.history.coreAtCast, laid.kilnError],
    ),
    top: laid.top,
    soak: laid.soak,
    settle: core.history.settle ?? laid.settle,
    total,
    start,
    mixBy,
    eveningBefore: mixBy === undefined ? undefined : eveningBefore(mixBy, input.now, input.timeZone),
    castAt: input.castAt,
    // to the next whole minute, as a clock is set
    earliest: Math.ceil((input.now + (mixToKiln.value + total.value) * 1000) / 60_000) * 60_000,
    core: core.history,
    byRuleMeanwhile: core.meanwhile || (asked !== undefined && solved === undefined),
    asked,
    designed: solved,
    load:
      solved?.others &&
      besideOf(input)
        .flatMap(({ id, sizes }) => (sizes ? [id] : []))
        .map((id, index) => ({
          id,
          core: solved.others?.[index] as CoreAnswer,
        })),
    crossCheck: solved && compareRule(ruled, total, solved),
    ...masses,
    airForWax: input.waxMass && waxAir({ wax: input.waxMass }, { id: 'burnout.airForWax' }),
    energy,
    cost,
  }
  const problems: Problem[] = []
  if (input.castAt === undefined)
    problems.push({
      kind: 'burnout-needs-moment',
      where: '/pour/castAt',
      what: say`The program has no clock times: the casting moment is not known.`,
      remedy: say`Give the day and time of the pour.`,
    })
  besideOf(input).forEach(({ id, sizes }, index) => {
    if (sizes === undefined)
      problems.push({
        kind: 'not-in-shop',
        where: `/pour/load/${index}`,
        what: say`This shop has no flask called ${id}; the load is planned without it.`,
        remedy: say`Choose one of the rack, or take it off the load.`,
      })
  })
  return {
    ...plan,
    answer: {
      verdicts: judgeBurnout(input, plan, laid, mould, aim),
      cautions: BURNOUT_CAUTIONS,
      problems,
    },
  }
}

/** From the first powder in the water to the kiln, by the shop's own clock. */
const mixToKilnByClock = ({ roots, investmentIndex }: BurnoutInput): Quantity =>
  addUp(
    {
      id: 'burnout.mixToKiln',
      title: 'From the first powder to the kiln',
      says: 'mixing, both vacuums and the pour, then the wait before the kiln',
    },
    [
      roots.at('/shop/clock/mix_min', 'Powder in, mix'),
      roots.at('/shop/clock/vacuumMix_min', 'Vacuum the mix'),
      roots.at('/shop/clock/pour_min', 'Pour'),
      roots.at('/shop/clock/vacuumFlask_min', 'Vacuum the flask'),
      roots.at(`/shop/investments/${investmentIndex}/beforeKiln_min`, 'Wait before the kiln'),
    ],
  )

const totalOf = (id: string, title: string, { steps }: LaidProgram): Quantity =>
  addUp(
    { id, title, says: 'all climbs, holds and falls, one after another' },
    steps.map(({ duration }) => duration),
  )

const boilingOf = ({ pressure }: BurnoutInput): Quantity =>
  pressure === undefined
    ? usual(
        'burnout.boiling',
        'Water boils at',
        'K',
        celsius(100),
        'sea level; the shop’s pressure is not known',
      )
    : reckon({
        id: 'burnout.boiling',
        title: 'Water boils in the mould at',
        unit: 'K',
        says: 'temperature at which water boils at the shop’s own air pressure',
        source: 'IAPWS-IF97, region 4 (release R7-97)',
        inputs: { pressure },
        body: (n) => saturationTemperature(n.pressure) ?? celsius(100),
      })

/** The flask and its kiln as the solver takes them. */
const flaskOf = (input: BurnoutInput, mould: Mould, ratio: Quantity): FlaskQuantities => {
  const { roots } = input
  const bag = `/shop/investments/${input.investmentIndex}`
  return {
    radius: mould.radius,
    height: mould.height,
    wall: input.flaskWall ?? usual('burnout.wall', 'Wall of the flask', 'm', 0.0016),
    waxShare: input.waxShare ?? usual('burnout.noWax', 'Room taken by the wax', '1', 0, 'not known'),
    conductivity: mould.conductivity,
    heat: mould.heat,
    hemihydrate: roots.at(`${bag}/hemihydrateShare`, 'Plaster in the powder'),
    ratio,
    particle: roots.at(`${bag}/particleDensity_g_cm3`, "Density of the powder's grains"),
    boiling: boilingOf(input),
    ...usualFilm(),
    ...(roots.has(`/shop/kilns/${input.kilnIndex}/film_W_m2K`) && {
      film: roots.at(`/shop/kilns/${input.kilnIndex}/film_W_m2K`, 'Heat passed by the air of the kiln'),
    }),
  }
}

/** The other flasks of the load, as the rack has them; without sizes where it has none of that name. */
const besideOf = ({
  pour,
  shop,
}: Pick<BurnoutInput, 'pour' | 'shop'>): readonly { readonly id: string; readonly sizes?: BesideFlask }[] =>
  (pour.load ?? []).map((id) => {
    const found = shop.flasks.find((one) => one.id === id)
    return {
      id,
      sizes: found && {
        radius: found.insideDiameter_mm / 2000,
        height: found.insideHeight_mm / 1000,
        wall: found.wall_mm / 1000,
      },
    }
  })

/** Nothing is asked where the rule is wanted, or where the mould is of a kind the solver does not know. */
const askSolver = (
  input: BurnoutInput,
  ruled: LaidProgram,
  flask: FlaskQuantities,
): AskedBurnout | undefined => {
  const { pour, shop, investmentIndex } = input
  const variant = pour.burnout ?? 'gentle'
  if (variant === 'rule' || input.model !== undefined || shop.investments[investmentIndex]?.bond !== 'gypsum')
    return undefined
  const beside = besideOf(input).flatMap(({ sizes }) => sizes ?? [])
  return askBurnout(variant, ruled, input, flask, beside)
}

const compareRule = (
  ruled: LaidProgram,
  total: Quantity,
  { variant, totals }: DesignedBurnout,
): NonNullable<Burnout['crossCheck']> => {
  const rule = totalOf('burnout.ruleTotal', 'Hours in the kiln, by the rule', ruled)
  return {
    rule,
    totals,
    variant,
    words: say`By the rule of flask size: ${timeOf(rule.value)}. Solved for this flask: ${timeOf(total.value)}.`,
  }
}

const courseOf = (
  input: BurnoutInput,
  laid: LaidProgram,
  mould: Mould,
  ratio: Quantity,
  flask: FlaskQuantities,
): BurnoutCourse => ({
  radius: mould.radius,
  height: mould.height,
  temperatures: [laid.room, ...laid.steps.map(({ to }) => to)],
  durations: laid.steps.map(({ duration }) => duration),
  conductivity: mould.conductivity,
  density: mould.density,
  heat: mould.heat,
  dryingHeat: dryingHeat(
    { hemihydrate: flask.hemihydrate, ratio, particle: flask.particle },
    { id: 'burnout.dryingHeat' },
  ),
  boiling: flask.boiling,
  waxMelts: input.waxMelts,
  sprueMelts: input.sprueMelts,
  flask,
})

const followCore = (
  input: BurnoutInput,
  course: BurnoutCourse,
): { history: CoreHistory; meanwhile: boolean } => {
  const answered = input.model?.follow(course)
  if (answered !== undefined) return { history: answered, meanwhile: false }
  const history = RULE.follow(course)
  if (history === undefined) throw new Error('the rule gave no history; it always has one')
  return { history, meanwhile: input.model !== undefined }
}

type Burned = Pick<Burnout, 'dryInvestment' | 'flaskSteel'>

const weighBurned = (input: BurnoutInput, inside: NonNullable<BurnoutInput['flaskInside']>): Burned => {
  const { roots, powder, flaskWall } = input
  return {
    dryInvestment:
      powder &&
      dryInvestment(
        {
          powder,
          allowance: roots.at('/shop/rules/wasteAllowance', 'Over for what stays in the bowl'),
          hemihydrate: roots.at(
            `/shop/investments/${input.investmentIndex}/hemihydrateShare`,
            'Plaster in the powder',
          ),
        },
        { id: 'burnout.dryInvestment' },
      ),
    flaskSteel:
      input.flaskSteel ??
      (flaskWall &&
        flaskSteel(
          { diameter: inside.diameter, height: inside.height, wall: flaskWall },
          { id: 'burnout.flaskSteel' },
        )),
  }
}

const reckonEnergy = (
  input: BurnoutInput,
  laid: LaidProgram,
  ratio: Quantity,
  { dryInvestment: dry, flaskSteel: steel }: Burned,
): Quantity | undefined => {
  if (dry === undefined) return undefined
  const { roots } = input
  const bag = `/shop/investments/${input.investmentIndex}`
  const inputs: Record<string, Quantity> = { room: laid.room, top: laid.top }
  laid.steps.forEach((step, index) => {
    inputs[`to${index}`] = step.to
    inputs[`time${index}`] = step.duration
  })
  const asAtTop = reckon({
    id: 'burnout.asAtTop',
    title: 'The program, as time at the top',
    unit: 's',
    says: 'every stretch counted by how far it stands above the room, as a share of the top; falls not counted',
    source: 'losses go with the difference to the room',
    inputs,
    body: (n) => {
      const number = (name: string): number => n[name] ?? Number.NaN
      let from = number('room')
      let sum = 0
      laid.steps.forEach((_, index) => {
        const to = number(`to${index}`)
        if (to >= from) sum += number(`time${index}`) * ((from + to) / 2 - number('room'))
        from = to
      })
      return sum / (number('top') - number('room'))
    },
  })
  const load = loadHeat(
    {
      dry,
      hemihydrate: roots.at(`${bag}/hemihydrateShare`, 'Plaster in the powder'),
      ratio,
      heat: roots.at(`${bag}/dryHeat_J_kgK`, 'Specific heat of the dry mould'),
      steel: steel ?? usual('burnout.noSteel', 'Steel of the flask', 'kg', 0, 'not known'),
      room: laid.room,
      top: laid.top,
    },
    { id: 'burnout.load' },
  )
  return kilnEnergy(
    {
      power: roots.at(`/shop/kilns/${input.kilnIndex}/power_kW`, 'Power of the kiln'),
      share: kilnShare(),
      time: asAtTop,
      load,
    },
    { id: 'burnout.energy' },
  )
}
