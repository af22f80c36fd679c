import { type Figure, type Quantity, say, timeOf, type Verdict, type Words } from '../quantity/index.ts'
import type { Balance } from './balance.ts'
import type { RunTime } from './run-time.ts'

const lengthFigure = (value: number): Figure => ({ value, unit: 'm' })

/** Can the counterweight slide to where it has to be? */
export const balanceVerdict = (balance: Balance, machine: string): Verdict => {
  const { counterweightAt: at, reach, standIn } = balance
  const { sideways } = balance.pull
  const shared = {
    id: 'spin.balance',
    part: 'spin',
    title: say`Balance of the arm`,
    where: `${machine}/counterweight_g`,
  } as const
  const cold = say`Balance it cold, before investing: ${standIn} in the cradle, crucible empty.`
  const short = at.value < reach.least.value
  if (short || at.value > reach.most.value) {
    const end = short ? reach.least : reach.most
    const wanted: Figure = { value: balance.moments.halfWay.value / end.value, unit: 'kg', plainMass: true }
    return {
      ...shared,
      verdict: 'stop',
      reason: say`The weight would have to stand at ${at}, and it slides from ${reach.least} to ${reach.most}. An arm out of balance walks and sprays.`,
      remedy: say`Make the counterweight ${wanted} in all: it then balances at ${end}.`,
    }
  }
  if (at.low < reach.least.value || at.high > reach.most.value)
    return {
      ...shared,
      verdict: 'check',
      reason: say`The weight stands at ${at}, close to the end of its slide; between ${lengthFigure(at.low)} and ${lengthFigure(at.high)} by what is known. Too close to call. ${cold}`,
      remedy: say`Weigh the empty flask, or change the counterweight so that it stands nearer the middle.`,
    }
  return {
    ...shared,
    verdict: 'pass',
    reason: say`The weight stands at ${at}. ${cold} Left over as the shot starts: ${balance.pull.start}; as it ends: ${balance.pull.end}.${sideways === undefined ? [] : say` Sideways, as the waxes stand round the axis: ${sideways}, and up to ${figure(sideways, sideways.high)} by what is known.`}`,
    remedy: say``,
  }
}

const listed = (parts: readonly Quantity[]): Words =>
  parts.reduce<Words>((words, part, at) => say`${words}${at === 0 ? '' : ', '}${part.title} ${part}`, [])

/** Is everything solid before the arm may stop, and does the arm run that long? */
export const runVerdicts = (
  time: RunTime,
  turnsWhere: string,
  machine: string,
  holding?: Quantity,
): Verdict[] => {
  const { parts, run, lastSolid, coastDown } = time
  const shared = {
    id: 'spin.run',
    part: 'spin',
    title: say`How long it runs`,
    where: '/pour/spin/run_s',
  } as const
  const upper = timeOf(Math.max(...parts.map((part) => part.high)))
  const liquid = parts.filter((part) => part.low > run.value)
  const perhaps = parts.filter((part) => part.low <= run.value && part.high > run.value)
  const runsOut = say`The flask lies on its side: what is liquid when the arm stops runs out.`
  const told = say`The trade's 20 to 30 s suits small sprues only.`
  const verdicts: Verdict[] = []
  if (liquid.length > 0)
    verdicts.push({
      ...shared,
      verdict: 'stop',
      reason: say`At ${run} metal is still liquid: ${listed(liquid)}. ${runsOut}`,
      remedy: say`Let it run ${upper}. ${told}`,
    })
  else if (perhaps.length > 0)
    verdicts.push({
      ...shared,
      verdict: 'check',
      reason: say`At ${run} metal may still be liquid: ${listed(perhaps)}. Too close to call. ${runsOut}`,
      remedy: say`Let it run ${upper}.`,
    })
  else
    verdicts.push({
      ...shared,
      verdict: 'pass',
      reason: say`Everything is solid at ${lastSolid}, ${upper} at the latest, and the arm runs ${run}.${run.value > 30 ? say` ${told}` : say``}`,
      remedy: say``,
    })
  verdicts.push(coastVerdict(run, coastDown, machine, turnsWhere, holding))
  return verdicts
}

const coastVerdict = (
  run: Quantity,
  coastDown: Quantity,
  machine: string,
  turnsWhere: string,
  holding?: Quantity,
): Verdict => {
  const shared = {
    id: 'spin.coast',
    part: 'spin',
    title: say`This arm's own run-down`,
    where: `${machine}/coastDown_s`,
  } as const
  const held: Words = holding
    ? say`When the last metal freezes, the metal at the flask’s mouth is still held with ${holding} times its own weight.`
    : say``
  if (run.value > coastDown.high)
    return {
      ...shared,
      verdict: 'stop',
      reason: say`The arm has to run ${run} and has all but stopped after ${coastDown}: metal still liquid then runs out.`,
      remedy: say`Make the feeds and the button thinner, cast this by gravity or vacuum with the flask upright, or take an arm that is driven.`,
    }
  if (run.value > coastDown.low || (holding !== undefined && holding.value < 1))
    return {
      ...shared,
      verdict: 'check',
      reason: say`The arm has to run ${run} and runs down in about ${coastDown}. ${held} Held with less than its own weight, a liquid button can run out.`,
      remedy: say`Time five spins of the loaded arm; wind a turn more, or make the button smaller.`,
      where: turnsWhere,
    }
  return {
    ...shared,
    verdict: 'pass',
    reason: say`The arm runs ${run} and all but stops after about ${coastDown}. ${held}`,
    remedy: say``,
  }
}

export interface Load {
  readonly charge?: Quantity
  /** stands in while the charge is not known; it can fail the limit and never pass it */
  readonly leastCharge?: Quantity
  readonly flaskDiameter?: Quantity
  readonly flaskHeight?: Quantity
  readonly flask?: Quantity
  readonly most: {
    readonly charge: Quantity
    readonly flaskDiameter: Quantity
    readonly flaskHeight: Quantity
    readonly flask: Quantity
  }
}

/** Is the load within what the machine takes? Each limit that fails is named by itself. */
export const capacityVerdicts = (load: Load): Verdict[] => {
  const { most } = load
  const limits: readonly [
    name: string,
    title: string,
    is: Quantity | undefined,
    limit: Quantity,
    where: string,
  ][] = [
    load.charge
      ? ['charge', 'The charge', load.charge, most.charge, '/pour/machine']
      : ['charge', 'The charge without sprues and button', load.leastCharge, most.charge, '/pour/machine'],
    ['diameter', "The flask's width", load.flaskDiameter, most.flaskDiameter, '/pour/flask'],
    ['height', "The flask's height", load.flaskHeight, most.flaskHeight, '/pour/flask'],
    ['mass', 'The burned-out flask', load.flask, most.flask, '/pour/flask'],
  ]
  const shared = { part: 'spin', title: say`What the machine takes` } as const
  const over = limits.filter(([, , is, limit]) => is !== undefined && is.value > limit.value)
  if (over.length > 0)
    return over.map(([name, title, is, limit, where]) => ({
      ...shared,
      id: `spin.capacity.${name}`,
      verdict: 'stop',
      reason: say`${title} is ${is ?? ''}, and this machine takes ${limit}.`,
      remedy:
        name === 'charge'
          ? say`Cast fewer pieces at once, or use a larger machine.`
          : say`Take a smaller flask, or a larger machine.`,
      where,
    }))
  const seen = limits.filter(([name, , is]) => is !== undefined && (name !== 'charge' || load.charge))
  if (seen.length === 0) return []
  return [
    {
      ...shared,
      id: 'spin.capacity',
      verdict: 'pass',
      reason: say`Within what this machine takes: ${seen.map(([, title]) => title.toLowerCase()).join(', ')}.`,
      remedy: say``,
    },
  ]
}

/** Is the metal pressed into the thinnest wall at all? At the point farthest from the pivot it is pressed hardest. */
export const pressureVerdict = (pressure: Quantity, needed: Quantity): Verdict => {
  const shared = { id: 'spin.pressure', part: 'spin', where: '/pour/spin/turns' } as const
  const range = say`${figure(pressure, pressure.low)} to ${figure(pressure, pressure.high)}`
  const reason = say`As the waxes stand it is ${pressure}, ${range}, at release; the thinnest wall needs ${needed} before metal enters it.`
  if (pressure.low >= needed.high)
    return { ...shared, verdict: 'pass', title: say`Pressure at the farthest metal`, reason, remedy: say`` }
  return {
    ...shared,
    verdict: pressure.high < needed.low ? 'stop' : 'check',
    title: say`Too little pressure for the thinnest wall`,
    reason,
    remedy: say`Wind more turns, or make the thinnest wall thicker.`,
  }
}

const figure = (of: Quantity, value: number): Figure => ({ value, unit: of.unit })
