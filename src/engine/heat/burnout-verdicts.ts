import { sayMoment } from '../physics/schedule.ts'
import {
  type Figure,
  figureOf,
  lengthOf,
  type Quantity,
  say,
  temperatureOf,
  timeOf,
  type Verdict,
} from '../quantity/index.ts'
import type { Burnout, BurnoutInput } from './burnout.ts'
import { drains, type LaidProgram, type Mould, outsideSizes } from './program.ts'
import { CARBON_BURNS } from './rule.ts'
import { LONGEST, lateness } from './solved/design.ts'

type Plan = Omit<Burnout, 'answer'>

const degrees = (difference: number): Figure => ({ value: difference, unit: 'ΔK' })

const judgeCeiling = (input: BurnoutInput, laid: LaidProgram, aim: Quantity): Verdict => {
  const investment = input.shop.investments[input.investmentIndex]
  const kiln = input.shop.kilns[input.kilnIndex]
  if (investment === undefined || kiln === undefined)
    throw new Error('no such investment or kiln in the shop')
  const base = { id: 'burnout.ceiling', part: 'burnout', title: say`Under the investment's ceiling` } as const
  const ceiling = investment.ceiling_C + 273.15
  const wanted = investment.topHold_C + 273.15
  const why =
    investment.bond === 'gypsum' ? 'Above it the plaster gives off sulphur, which eats the metal.' : ''
  if (aim.value > laid.top.value)
    return {
      ...base,
      verdict: 'stop',
      reason: say`The casting temperature asked for, ${temperatureOf(aim.value)}, is above the hottest this kiln and investment allow, ${laid.top}. ${why}`,
      remedy: say`Cast at ${laid.top} or cooler.`,
      where: input.roots.has('/pour/flask_C') ? '/pour/flask_C' : aim.path,
    }
  const room = ceiling - laid.top.value
  if (laid.top.value < wanted - 0.5)
    return {
      ...base,
      verdict: laid.top.value < 273.15 + 650 ? 'stop' : 'check',
      reason: say`The top hold is set down from ${temperatureOf(wanted)} to ${laid.top}, so that overshoot and the kiln's doubt stay under ${temperatureOf(ceiling)}. ${why} A cooler top burns carbon off more slowly.`,
      remedy: say`Check the kiln against a known temperature, and enter how far it is off.`,
      where: `/shop/kilns/${input.kilnIndex}/readsHigh_K`,
    }
  return {
    ...base,
    verdict: 'pass',
    reason: say`The top hold, ${laid.top}, is ${degrees(room)} under the ceiling of ${temperatureOf(ceiling)}; overshoot and the kiln's doubt are inside that.`,
    remedy: [],
  }
}

const judgeStart = (input: BurnoutInput, plan: Plan): Verdict[] => {
  const { now, timeZone } = input
  const { castAt, start, mixBy, earliest } = plan
  if (castAt === undefined || start === undefined || mixBy === undefined || earliest === undefined) return []
  const base = { id: 'burnout.start', part: 'burnout', where: '/pour/castAt' } as const
  const moment = (at: number): string => sayMoment(at, timeZone)
  const length = plan.total ?? timeOf((castAt - start) / 1000)
  if (castAt < now)
    return [
      {
        ...base,
        verdict: 'check',
        title: say`This casting time is past`,
        reason: say`This casting time, ${moment(castAt)}, is past: the kiln would have had to be on at ${moment(start)}. The times here are those it had.`,
        remedy: say`If it is still to be cast: earliest possible now, ${moment(earliest)}.`,
      },
    ]
  if (start < now)
    return [
      {
        ...base,
        verdict: 'stop',
        title: say`A ${length} burnout no longer fits`,
        reason: say`To cast on ${moment(castAt)} the mix had to be started by ${moment(mixBy)} and the kiln to be on at ${moment(start)}, which is past. Only a kiln that did go on then still makes it; a shortened burnout leaves carbon and gas in the mould.`,
        remedy: say`Earliest possible now: cast on ${moment(earliest)} or later.`,
      },
    ]
  if (mixBy < now)
    return [
      {
        ...base,
        verdict: 'check',
        title: say`The moment to mix is past`,
        reason: say`The kiln has to be on at ${moment(start)}; the mix had to be started by ${moment(mixBy)}, which is past.`,
        remedy: say`If the flask is not poured yet: earliest possible now, cast on ${moment(earliest)} or later.`,
      },
    ]
  return [
    {
      ...base,
      verdict: 'pass',
      title: say`Time for the burnout`,
      reason: say`The mix is started by ${moment(mixBy)} at the latest; the kiln goes on at ${moment(start)}.`,
      remedy: [],
    },
  ]
}

const judgeSteps = (input: BurnoutInput, plan: Plan): Verdict => {
  const most = input.shop.kilns[input.kilnIndex]?.steps ?? 0
  const wanted = plan.program.filter(({ kind }) => kind === 'hold').length
  const base = { id: 'burnout.steps', part: 'burnout', title: say`Steps the kiln can store` } as const
  return wanted <= most
    ? {
        ...base,
        verdict: 'pass',
        reason: say`${wanted} steps, each a climb and its hold; the kiln stores ${most}.`,
        remedy: [],
      }
    : {
        ...base,
        verdict: 'check',
        reason: say`The program has ${wanted} steps, each a climb and its hold, and the kiln stores ${most}. Somebody must be there to set the rest.`,
        remedy: say`Set the last ${wanted - most} by hand, at the times shown.`,
        where: `/shop/kilns/${input.kilnIndex}/steps`,
      }
}

/** Share of its power that the kiln may be asked for on top of its losses before it falls behind. */
const judgePower = (input: BurnoutInput, plan: Plan, laid: LaidProgram): Verdict[] => {
  const kiln = input.shop.kilns[input.kilnIndex]
  const load = plan.energy?.inputs.load
  const share = plan.energy?.inputs.share
  if (kiln === undefined || load === undefined || share === undefined) return []
  const power = kiln.power_kW * 1000
  const climbing = laid.steps
    .filter(({ from, to, id }) => id !== 'casting' && id !== 'casting-ramp' && to.value >= from.value)
    .reduce((sum, { duration }) => sum + duration.value, 0)
  // most of the load goes in between the first hold and the top; twice the even draw is taken as its peak
  const peak = (2 * load.high) / climbing + share.value * power
  const base = { id: 'burnout.power', part: 'burnout', title: say`The kiln can keep up` } as const
  const draw: Figure = { value: peak, unit: 'W' }
  const has: Figure = { value: power, unit: 'W' }
  return [
    peak <= power
      ? {
          ...base,
          verdict: 'pass',
          reason: say`At its hardest the program asks about ${draw} of the kiln's ${has}.`,
          remedy: [],
        }
      : {
          ...base,
          verdict: 'check',
          reason: say`At its hardest the program asks about ${draw}, and the kiln has ${has}: it would fall behind, and the core with it.`,
          remedy: say`Climb more gently, or burn out fewer or smaller flasks.`,
          where: '/shop/rules/gentleRise_C_h',
        },
  ]
}

/** Air wanted round a flask in the kiln [m]; common practice, an inch. */
const AIR_ROUND = 0.0254

const judgeFit = (input: BurnoutInput): Verdict[] => {
  const kiln = input.shop.kilns[input.kilnIndex]
  const inside = input.flaskInside
  if (kiln === undefined || inside === undefined) return []
  const across = inside.diameter.value + 2 * (input.flaskWall?.value ?? 0.0016)
  const least = Math.min(kiln.width_mm, kiln.depth_mm) / 1000
  const side = (least - across) / 2
  const above = kiln.height_mm / 1000 - inside.height.value
  const base = { id: 'burnout.fits', part: 'burnout', title: say`The flask fits the kiln` } as const
  const where = `/shop/kilns/${input.kilnIndex}/width_mm`
  if (side <= 0 || above <= 0)
    return [
      {
        ...base,
        verdict: 'stop',
        reason: say`The flask, ${lengthOf(across)} across and ${inside.height} tall, does not go into the kiln.`,
        remedy: say`Take a smaller flask or another kiln.`,
        where: '/pour/flask',
      },
    ]
  if (side < AIR_ROUND || above < AIR_ROUND)
    return [
      {
        ...base,
        verdict: 'check',
        reason: say`The flask leaves ${lengthOf(Math.min(side, above))} of air; under ${lengthOf(AIR_ROUND)} one side runs hot and carbon wants for air.`,
        remedy: say`Take a smaller flask or another kiln.`,
        where,
      },
    ]
  return [
    {
      ...base,
      verdict: 'pass',
      reason: say`${lengthOf(side)} of air at the side and ${lengthOf(above)} above.`,
      remedy: [],
    },
  ]
}

const judgeWax = (input: BurnoutInput, plan: Plan, laid: LaidProgram): Verdict => {
  const { waxMelts, sprueMelts } = input
  const base = { id: 'burnout.wax', part: 'burnout', title: say`The wax can run out` } as const
  if (!drains(waxMelts) || waxMelts === undefined)
    return {
      ...base,
      verdict: 'check',
      reason: say`No melting point is known for this pattern, so nothing here counts on it running out. A pattern that only burns wants more air and a longer top hold, and may swell first and crack the mould.`,
      remedy: say`Enter the melting point if it is a wax; for a resin follow its maker's burnout.`,
      where: '/shop/waxes',
    }
  if (sprueMelts !== undefined && sprueMelts.value > waxMelts.value)
    return {
      ...base,
      verdict: 'check',
      reason: say`The sprue wax melts at ${sprueMelts}, after the pattern at ${waxMelts}: the pattern swells with no way out, and can crack the mould.`,
      remedy: say`Sprue with a wax that melts at or below the pattern.`,
      where: '/shop/waxes',
    }
  const { core } = plan
  const firstEnd = laid.steps.slice(0, 2).reduce((sum, { duration }) => sum + duration.value, 0)
  if (core?.waxMelted === undefined)
    return {
      ...base,
      verdict: 'check',
      reason: say`The core does not reach ${waxMelts} within the program, so the wax there would not melt.`,
      remedy: say`Lengthen the first hold, or take a smaller flask.`,
      where: '/pour/flask',
    }
  if (core.waxMelted.value > firstEnd)
    return {
      ...base,
      verdict: 'check',
      title: say`The wax at the middle melts late`,
      reason: say`The first hold, ${laid.firstHold}, is above the melting point (up to ${temperatureOf(waxMelts.high)}), but wet investment stays near boiling: at the middle the wax melts only some ${core.waxMelted} after switching on, when the kiln is past that hold. Part of it soaks into the mould there and has to burn off instead of running out.`,
      remedy: say`Flask mouth down, so that what melts can run; sprues of a softer wax, which opens the way first; hood and air as for a wax that burns; and no metal before the sprue looks white. If grey is seen, hold the top longer.`,
    }
  return {
    ...base,
    verdict: 'pass',
    reason: say`The wax at the middle melts some ${core.waxMelted} after switching on, within the first hold.`,
    remedy: [],
  }
}

/** Least time at carbon-burning heat before the kiln comes down [s]; common practice, an hour. */
const CLEAN = 3600

const judgeClean = (plan: Plan, laid: LaidProgram): Verdict => {
  const base = { id: 'burnout.clean', part: 'burnout', title: say`Dry, and the carbon burned off` } as const
  const topEnd = laid.steps
    .slice(0, laid.steps.findIndex(({ id }) => id === 'top') + 1)
    .reduce((sum, { duration }) => sum + duration.value, 0)
  const topHold = laid.holds.top.value
  const { core } = plan
  if (core?.coreDry === undefined || core.coreHot === undefined)
    return {
      ...base,
      verdict: 'stop',
      reason: say`By the reckoning the middle of this flask is not ${core?.coreDry === undefined ? 'dry' : 'hot enough to burn carbon'} when the program ends. Steam or carbon in the mould spoils the casting.`,
      remedy: say`Take a smaller flask, or a program with longer holds from the investment's maker.`,
      where: '/pour/flask',
    }
  const burns = topEnd - core.coreHot.high
  return burns >= CLEAN
    ? {
        ...base,
        verdict: 'pass',
        reason: say`The middle is dry some ${core.coreDry} after switching on (at the latest ${timeOf(core.coreDry.high)}), and stands above ${temperatureOf(CARBON_BURNS)} for at least ${timeOf(burns)} before the kiln comes down: ${burns > topHold ? say`the end of the climb, and the whole top hold of ${timeOf(topHold)}` : say`part of the top hold of ${timeOf(topHold)}`}. Look all the same: white at the sprue, no grey, no smell.`,
        remedy: [],
      }
    : {
        ...base,
        verdict: 'check',
        reason: say`The middle may reach ${temperatureOf(CARBON_BURNS)} only ${timeOf(core.coreHot.high)} after switching on, which leaves ${timeOf(Math.max(0, burns))} at the top to burn the carbon off. Grey at the sprue means carbon, and gas in the metal.`,
        remedy: say`Climb more gently or hold longer before the top.`,
        where: '/shop/rules/gentleRise_C_h',
      }
}

const judgeSettled = (plan: Plan): Verdict[] => {
  const { settle, soak, castingTemperature } = plan
  if (settle === undefined || soak === undefined) return []
  const base = { id: 'burnout.settled', part: 'burnout', title: say`The core at casting heat` } as const
  return [
    settle.high <= soak.value
      ? {
          ...base,
          verdict: 'pass',
          reason: say`The core stands within ${degrees(10)} of ${castingTemperature} within ${timeOf(settle.high)} of the soak, by the reckoning; ${soak} is given.`,
          remedy: [],
        }
      : {
          ...base,
          verdict: 'check',
          reason: say`The core may need ${timeOf(settle.high)} to settle at ${castingTemperature}, and ${soak} is given.`,
          remedy: say`Soak ${timeOf(settle.high - soak.value)} longer.`,
          where: '/pour/castAt',
        },
  ]
}

/** The heats and holds here are those of gypsum-bonded powders. */
const judgeBond = (input: BurnoutInput): Verdict[] =>
  input.shop.investments[input.investmentIndex]?.bond !== 'phosphate'
    ? []
    : [
        {
          id: 'burnout.bond',
          part: 'burnout',
          verdict: 'check',
          title: say`A program for this powder`,
          reason: say`This investment is not bonded by gypsum. Holds, water and heat are reckoned here as for gypsum, and are only a rough guide to it.`,
          remedy: say`Follow the program on its maker's sheet.`,
          where: `/shop/investments/${input.investmentIndex}/bond`,
        },
      ]

const NOT_DONE = {
  wax: say`melt the wax at`,
  drying: say`dry`,
  top: say`burn the carbon out of`,
  casting: say`settle`,
} as const

/** Holds that would have to be longer than any is drawn out. */
const judgeLongest = ({ designed }: Plan): Verdict[] =>
  (designed?.cut ?? []).map((id) => ({
    id: `burnout.longest.${id}`,
    part: 'burnout',
    verdict: 'check',
    title: say`A hold is cut short`,
    reason: say`Even ${timeOf(LONGEST)} may not be enough to ${NOT_DONE[id]} the middle of a slow flask; no hold here is drawn out longer.`,
    remedy: say`Take a smaller flask, or hold on by hand and look: white at the sprue, no grey, no smell.`,
    where: '/pour/flask',
  }))

/** Each other flask of the load: dry, clean at its latest and settled by the time it could be cast. */
const judgeLoad = ({ load = [], asked, designed }: Plan, laid: LaidProgram): Verdict[] => {
  if (load.length === 0 || asked === undefined || designed === undefined) return []
  const { question } = asked
  const falls = laid.steps.findIndex(({ id }) => id === 'casting-ramp')
  const topEnds = laid.steps.slice(0, falls).reduce((sum, { duration }) => sum + duration.value, 0)
  const behind = load.filter(({ core: { events, slopes } }) => {
    const clean = events.hot + lateness(question, { slopes }) + question.ask.clean[designed.variant]
    // the kiln's clock is set by whole seconds
    return !(events.dry < topEnds && clean <= topEnds + 1 && events.settle <= designed.holds.casting)
  })
  const base = { id: 'burnout.load', part: 'burnout', title: say`The other flasks of the load` } as const
  const alone = say`Room, air and the kiln's power are reckoned for this flask alone: an inch of air round each.`
  return behind.length === 0
    ? [
        {
          ...base,
          verdict: 'check',
          reason: say`The holds wait for the slowest: every core is dry, burned clean at its latest and settled. ${alone}`,
          remedy: say`See that all of them stand in the kiln with an inch of air round each, and that it kept its climbs when it was last so full.`,
          where: '/pour/load',
        },
      ]
    : [
        {
          ...base,
          verdict: 'check',
          reason: say`${behind.map(({ id }) => id).join(', ')}: not dry, clean and settled for sure when the program ends. ${alone}`,
          remedy: say`Burn it out by itself.`,
          where: '/pour/load',
        },
      ]
}

/** Everything checked about the burnout. */
export const judgeBurnout = (
  input: BurnoutInput,
  plan: Plan,
  laid: LaidProgram,
  mould: Mould,
  aim: Quantity,
): Verdict[] => {
  const outside = outsideSizes(mould)
  return [
    judgeCeiling(input, laid, aim),
    ...judgeStart(input, plan),
    ...judgeBond(input),
    judgeSteps(input, plan),
    ...judgePower(input, plan, laid),
    ...judgeFit(input),
    judgeWax(input, plan, laid),
    judgeClean(plan, laid),
    ...judgeLongest(plan),
    ...judgeLoad(plan, laid),
    ...judgeSettled(plan),
    ...(outside === undefined
      ? []
      : [
          {
            id: 'burnout.size',
            part: 'burnout',
            verdict: 'check',
            title: say`Holds for this size`,
            reason: outside,
            remedy: say`Compare with the sheet of the investment's maker. The top hold here is ${figureOf(laid.holds.top)}.`,
            where: '/pour/flask',
          } as const,
        ]),
  ]
}
