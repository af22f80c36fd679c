import { type Explanation, explain, quantitiesOf } from './explain.ts'
import { writeMoment } from './physics/schedule.ts'
import type { Plan } from './plan.ts'
import {
  METRIC,
  PASCAL_PER_INCH_OF_MERCURY,
  type Quantity,
  toCelsius,
  type UnitChoice,
  writeWords,
} from './quantity/index.ts'

export interface Interval {
  low: number
  expected: number
  high: number
}

/** Rounded far below any spread, so that a reader is not handed sixteen digits of noise. */
const tidy = (value: number): number => (Number.isInteger(value) ? value : Number(value.toPrecision(9)))

const interval = (quantity: Quantity, scale: number): Interval => ({
  low: tidy(quantity.low * scale),
  expected: tidy(quantity.value * scale),
  high: tidy(quantity.high * scale),
})

const orNull = (quantity: Quantity | undefined, scale: number): Interval | null =>
  quantity === undefined ? null : interval(quantity, scale)

const single = (quantity: Quantity | undefined, scale: number): number | null =>
  quantity === undefined ? null : tidy(quantity.value * scale)

const celsiusOf = (quantity: Quantity | undefined): Interval | null =>
  quantity === undefined
    ? null
    : {
        low: tidy(toCelsius(quantity.low)),
        expected: tidy(toCelsius(quantity.value)),
        high: tidy(toCelsius(quantity.high)),
      }

/** Below this nobody knows the tail, and blunders dominate: no smaller chance is claimed. */
const LEAST_CHANCE = 1e-6

const chanceOf = (chance: Quantity | undefined): number | null =>
  chance === undefined ? null : tidy(Math.max(LEAST_CHANCE, chance.value))

const GRAMS = 1000
const MM = 1000
const MINUTES = 1 / 60

/** What the plan reckons with of the places found for its waxes, and what the rule says beside it. */
const arrangedToJson = ({ conditions }: Plan, arranged: NonNullable<Plan['arranged']>) => {
  const { measured, tightest, flask, placed, waxMass, byRule } = arranged
  const grams = (volume_mm3: number): number =>
    tidy(volume_mm3 * 1e-9 * conditions.metalDensity.value * GRAMS)
  return {
    flask: flask.id,
    tightest:
      tightest === null
        ? null
        : {
            between: [...tightest.between],
            distance_mm: tidy(tightest.distance_mm),
            needed_mm: tidy(tightest.needed_mm),
          },
    body_mm3: tidy(measured.body_mm3),
    investment_mm3: tidy(measured.investment_mm3),
    wax_g: orNull(waxMass, GRAMS),
    highest_mm: tidy(measured.highest_mm),
    off_axis_mm: interval(placed.offset, MM),
    stem: {
      diameter_mm: tidy(measured.stem.diameter_mm),
      top_mm: tidy(measured.stem.top_mm),
      mass_g: grams(measured.stem.volume_mm3),
    },
    sprues: measured.sprues.map((sprue) => ({
      number: sprue.number,
      piece: sprue.piece,
      angle_deg: tidy(sprue.angle),
      up_mm: tidy(sprue.height),
      tilt_deg: tidy(sprue.tilt),
      length_mm: tidy(sprue.length),
      diameter_mm: tidy(sprue.diameter),
      mass_g: grams(sprue.volume_mm3),
    })),
    byRule: {
      flask: byRule.flask?.id ?? null,
      sprues_g: orNull(byRule.sprues, GRAMS),
      depth_mm: orNull(byRule.depth, MM),
    },
  }
}

/**
 * The plan as the published JSON answer: the unit in each key, intervals from the 5th to the 95th percentile
 * with the median between, times in ISO 8601 with offset. What is not worked out is null.
 */
export const planToJson = (plan: Plan, choice: UnitChoice = METRIC) => {
  const words = { ...choice, currency: plan.shop.currency }
  const { timeZone, currency } = plan.shop
  const moment = (at: number | undefined): string | null =>
    at === undefined ? null : writeMoment(at, timeZone)
  const { flask, needed, charge, mix } = plan
  return {
    kind: 'plan' as const,
    version: 1 as const,
    name: plan.pour.name,
    now: writeMoment(plan.now, timeZone),
    castAt: moment(plan.castAt),
    currency,
    metal: {
      alloy: plan.pour.alloy,
      pieces: plan.pieces.pieces.map((piece) => ({
        id: piece.id,
        name: piece.name,
        quantity: piece.quantity,
        from: piece.from,
        standIn: piece.standIn,
        volume_mm3: orNull(piece.volume, 1e9),
        wax_g: orNull(piece.waxMass, GRAMS),
        mass_g: orNull(piece.castMass, GRAMS),
      })),
      sprues_g: orNull(plan.spruesMetal, GRAMS),
      button_g: orNull(needed.button, GRAMS),
      leastButton_g: orNull(plan.tree.button.mass, GRAMS),
      cavity_g: orNull(needed.cavity, GRAMS),
      charge_g: orNull(needed.needed, GRAMS),
      toWeigh_g: single(needed.toWeigh, GRAMS),
      probabilityShort: chanceOf(needed.probabilityShort),
      probabilityButtonShort: chanceOf(needed.probabilityButtonShort),
      blunders: needed.blunders.map((blunder) => ({
        id: blunder.id,
        words: writeWords(blunder.words, words),
      })),
    },
    charge: {
      byRule: charge.byRule,
      makeUp: charge.lines.map((line) => ({
        lot: line.lot,
        name: line.name,
        mass_g: tidy(line.mass * GRAMS),
      })),
      fineness_ppt: orNull(charge.fineness, 1),
      returnedShare: charge.returnedShare ?? null,
      cost: single(charge.cost, 1),
      standards: charge.standards,
    },
    melt: {
      liquidus_C: tidy(toCelsius(plan.melt.liquidus.value)),
      diagram:
        plan.melt.diagram === undefined
          ? null
          : {
              liquidus_C: celsiusOf(plan.melt.diagram.liquidus),
              solidus_C: celsiusOf(plan.melt.diagram.solidus),
              heat_kJ_kg: interval(plan.melt.diagram.heat, 1e-3),
            },
      pour_C: tidy(toCelsius(plan.melt.pourTemperature.value)),
      energy_kJ: orNull(plan.melt.energy, 1e-3),
      time_s: orNull(plan.melt.time, 1),
      steps: plan.melt.steps.map((step) => writeWords(step, words)),
    },
    tree: {
      sprues: plan.tree.gates.map((gate) => ({
        piece: gate.piece,
        count: gate.count.value,
        diameter_mm: tidy(gate.diameter.value * MM),
        freezes_s: interval(gate.freezes, 1),
        pieceFreezes_s: interval(gate.pieceFreezes, 1),
        timesLonger: interval(gate.margin, 1),
      })),
      stem:
        plan.tree.stem === undefined
          ? null
          : {
              diameter_mm: tidy(plan.tree.stem.diameter.value * MM),
              freezes_s: interval(plan.tree.stem.freezes, 1),
            },
      button: {
        depth_mm: tidy(plan.tree.button.depth.value * MM),
        freezes_s: interval(plan.tree.button.freezes, 1),
      },
      freezingOrder: plan.tree.order.map((one) => ({
        id: one.id,
        name: one.name,
        time_s: interval(one.time, 1),
      })),
    },
    flask:
      flask === undefined
        ? null
        : {
            id: flask.flask.id,
            inside_diameter_mm: flask.flask.insideDiameter_mm,
            inside_height_mm: flask.flask.insideHeight_mm,
            wall_gap_mm: single(flask.sideGap, MM),
            top_gap_mm: single(flask.topGap, MM),
            nextSmaller:
              flask.nextSmaller === undefined
                ? null
                : { id: flask.nextSmaller.flask.id, why: writeWords(flask.nextSmaller.why, words) },
          },
    arranged: plan.arranged === undefined ? null : arrangedToJson(plan, plan.arranged),
    investment: {
      ratio: mix.ratio.value,
      powder_g: single(mix.powder, GRAMS),
      water_g: single(mix.water, GRAMS),
      powder_range_g: orNull(mix.powder, GRAMS),
      slurry_cm3: orNull(mix.slurryVolume, 1e6),
      bagLeft_g: single(mix.bagLeft, GRAMS),
      collar_mm: orNull(mix.collar, MM),
      clock: mix.steps.map((step) => ({
        id: step.id,
        name: step.name,
        from_s: step.from_s,
        to_s: step.to_s,
      })),
      glossOff_min: interval(mix.glossOff, MINUTES),
      still: { notBefore_min: tidy(mix.notBefore_s / 60), stopBy_min: tidy(mix.stopBy_s / 60) },
    },
    vacuum: {
      station_hPa: interval(plan.pressure, 0.01),
      boil_gauge_inHg: single(mix.vacuum.boilGauge, 1 / PASCAL_PER_INCH_OF_MERCURY),
      boil_gauge_range_inHg: interval(mix.vacuum.boilGauge, 1 / PASCAL_PER_INCH_OF_MERCURY),
      boil_gauge_mbar: single(mix.vacuum.boilGauge, 0.01),
      boil_gauge_kPa: single(mix.vacuum.boilGauge, 1e-3),
      pump_gauge_inHg: interval(mix.vacuum.pumpGauge, 1 / PASCAL_PER_INCH_OF_MERCURY),
      boils: mix.vacuum.boils,
    },
    burnout: {
      castingTemperature_C: celsiusOf(plan.burnout.castingTemperature),
      start: moment(plan.burnout.start),
      mixBy: moment(plan.burnout.mixBy),
      eveningBefore:
        plan.burnout.eveningBefore === undefined
          ? null
          : {
              mixAt: writeMoment(plan.burnout.eveningBefore.mixAt, plan.shop.timeZone),
              words: writeWords(plan.burnout.eveningBefore.words, words),
              mind: writeWords(plan.burnout.eveningBefore.mind, words),
            },
      earliestPour: moment(plan.burnout.earliest),
      total_min: single(plan.burnout.total, MINUTES),
      program: plan.burnout.program.map((step) => ({
        id: step.id,
        kind: step.kind,
        from_C: tidy(toCelsius(step.from.value)),
        to_C: tidy(toCelsius(step.to.value)),
        duration_min: tidy(step.duration.value / 60),
        setpoint_C: tidy(toCelsius(step.setpoint)),
        start: moment(step.start),
        words: writeWords(step.words, words),
      })),
      by: plan.burnout.core?.by ?? 'rule',
      coreAtCast_C: celsiusOf(plan.burnout.coreAtCast),
      energy_kWh: orNull(plan.burnout.energy, 1 / 3.6e6),
      cost: single(plan.burnout.cost, 1),
    },
    spin: {
      turns: plan.spin.turns.value,
      speed_rpm: interval(plan.spin.speed, 30 / Math.PI),
      standIn_g: orNull(plan.spin.balance?.standIn, GRAMS),
      counterweight_mm: orNull(plan.spin.balance?.counterweightAt, MM),
      pull_N: {
        start: single(plan.spin.balance?.pull.start, 1),
        end: single(plan.spin.balance?.pull.end, 1),
        ifBalancedWet: single(plan.spin.balance?.pull.ifWet, 1),
        sideways: single(plan.spin.balance?.pull.sideways, 1),
      },
      pressure_kPa: orNull(plan.spin.pressure, 1e-3),
      gravities: orNull(plan.spin.gravities, 1),
      lastSolid_s: orNull(plan.spin.time?.lastSolid, 1),
      run_s: single(plan.spin.time?.run, 1),
      coastDown_s: orNull(plan.spin.time?.coastDown, 1),
    },
    transfer: {
      seconds: orNull(plan.quench.transfer?.seconds, 1),
      core_s: orNull(plan.quench.transfer?.core, 1),
      planned_s: orNull(plan.quench.transfer?.planned, 1),
      leaves_C:
        plan.quench.transfer === undefined ? null : tidy(toCelsius(plan.quench.transfer.leaves.value)),
    },
    quench: {
      window_min:
        plan.quench.window === undefined
          ? null
          : {
              from: tidy(plan.quench.window.from / 60),
              to: tidy(plan.quench.window.to / 60),
              sure: plan.quench.window.sure,
            },
      opens_min: orNull(plan.quench.opens, MINUTES),
      closes_min: orNull(plan.quench.closes, MINUTES),
      planned_min: plan.quench.planned === undefined ? null : tidy(plan.quench.planned / 60),
      redFirst: writeWords(plan.quench.redFirst, words),
      by: plan.quench.by,
      twoLumps_min:
        plan.quench.crossCheck === undefined
          ? null
          : {
              opens: single(plan.quench.crossCheck.opens, MINUTES),
              closes: single(plan.quench.crossCheck.closes, MINUTES),
            },
      metal: (plan.quench.curve ?? []).map(({ s, castings, low, high, outer }) => ({
        min: tidy(s / 60),
        hottest_C: tidy(toCelsius(castings)),
        low_C: tidy(toCelsius(low)),
        high_C: tidy(toCelsius(high)),
        outside_C: tidy(toCelsius(outer)),
      })),
    },
    price: {
      currency,
      ask: orNull(plan.price.ask, 1),
      quote:
        plan.price.quote === undefined
          ? null
          : { price: plan.price.quote.price, deposit: plan.price.quote.deposit },
      lines: plan.price.lines.map((line) => ({ name: line.name, amount: interval(line.amount, 1) })),
      overhead: orNull(plan.price.overhead, 1),
      margin: orNull(plan.price.margin, 1),
      shareOfSecondTry: orNull(plan.price.secondTry?.share, 1),
      chanceOfSpoiledPour: orNull(plan.price.chance.chance, 1),
      mouldPays: plan.price.mould?.pays ?? null,
    },
    finish: {
      pieces: plan.finish.pieces.map((piece) => ({
        id: piece.id,
        finished_g: orNull(piece.finishedMass, GRAMS),
      })),
      finished_g: orNull(plan.finish.finishedMass, GRAMS),
      back_g: orNull(needed.back, GRAMS),
    },
    verdicts: plan.verdicts.map((verdict) => ({
      id: verdict.id,
      part: verdict.part,
      verdict: verdict.verdict,
      title: writeWords(verdict.title, words),
      reason: writeWords(verdict.reason, words),
      remedy: writeWords(verdict.remedy, words),
      where: verdict.where ?? null,
      accepted: plan.pour.accepted?.[verdict.id] ?? null,
    })),
    cautions: plan.cautions.map((caution) => ({
      id: caution.id,
      part: caution.part,
      step: caution.step,
      level: caution.level,
      words: writeWords(caution.words, words),
    })),
    problems: plan.problems.map((problem) => ({
      kind: problem.kind,
      where: problem.where,
      what: writeWords(problem.what, words),
      remedy: writeWords(problem.remedy, words),
    })),
  }
}

export type PlanJson = ReturnType<typeof planToJson>

/** Every quantity of the plan with what it rests on, by id: kept with a printed plan, and given by --explain. */
export const explanationsOf = (plan: Plan): Record<string, Explanation> =>
  Object.fromEntries([...quantitiesOf(plan)].map(([id, quantity]) => [id, explain(quantity)]))
