import type { Body } from './body.ts'
import { curvesOf } from './curves.ts'
import { flowOf } from './flow.ts'
import { fewestStages, type Stages, spanOf, stagesOf } from './stages.ts'
import { type HeatState, stateAt } from './state.ts'
import { bendsOf, type Surroundings, steady } from './surroundings.ts'

export interface Conduction {
  readonly body: Body
  /** K: everywhere, or of each region; or a state to go on from */
  readonly start: number | readonly number[] | HeatState
  /** one for each of the body's sides */
  readonly surroundings: readonly Surroundings[]
  /** s, of the tables' time; 0 when left out */
  readonly from?: number
  /** s, rising, none before `from` */
  readonly times: readonly number[]
  /** K, error allowed in each step: root mean square over the body's volume */
  readonly tolerance: number
  /** most stages times cells before it gives up; 2e10 (some minutes) when left out */
  readonly mostWork?: number
}

export interface Moment {
  readonly time: number
  /** K of every cell's middle */
  readonly cells: Float64Array
  /** K of every outer face */
  readonly faces: Float64Array
}

export interface Conducted {
  /** one for each time asked for; fewer where the work ran out */
  readonly moments: readonly Moment[]
  readonly state: HeatState
  /** J: heat that came in through the sides, gained by the cells, and all that passed in either direction */
  readonly throughSides: number
  readonly stored: number
  readonly exchanged: number
  /** |stored - through the sides| over exchanged, or over a millionth of a kelvin where that is more */
  readonly energyError: number
  readonly steps: number
  readonly rejected: number
  readonly stages: number
}

const MOST_STAGES = 10_001
/** K between coldest and hottest of body and surroundings, under which all counts as at rest. */
const REST = 1e-5
/** Slack on the stability bound for what conductivity and radiation may gain within a step. */
const SLACK = 1.15

const isState = (start: Conduction['start']): start is HeatState =>
  typeof start === 'object' && 'enthalpy' in start

/**
 * Follows the heat through a body. The enthalpy of every cell is carried forward in steps of many explicit
 * stages; each step's error is estimated from the rates at both its ends and held under the tolerance; steps
 * end on the times asked for and where a table bends. What leaves one cell enters its neighbour in the same
 * operation, so heat is kept to rounding.
 */
export const conduct = (conduction: Conduction): Conducted => {
  const { body, surroundings, from = 0, times, tolerance, mostWork = 2e10 } = conduction
  const start = isState(conduction.start) ? conduction.start : stateAt(body, conduction.start)
  const curves = curvesOf(body.regions.map(({ material }) => material))
  const count = body.volume.length
  const flow = flowOf(body, curves, surroundings, start)

  const known = new Map<number, Stages>()
  const stagesFor = (span: number): Stages => {
    const fewest = fewestStages(span)
    const found = known.get(fewest) ?? stagesOf(fewest)
    known.set(fewest, found)
    return found
  }

  let now = Float64Array.from(start.enthalpy)
  let trial = new Float64Array(count)
  const [one, two, three] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  let rateNow = new Float64Array(count)
  let rate = new Float64Array(count)
  flow.look(from, from)
  let throughNow = flow.rates(now, from, rateNow)
  let throughSides = 0
  let exchanged = 0
  let [steps, rejected, stages] = [0, 0, 1]
  const moments: Moment[] = []
  const bends = bendsOf(surroundings)
  let time = from
  let length = 1 / flow.stiffness()
  let unfinished = false

  for (const wanted of times) {
    const stops: number[] = bends.filter((bend) => bend > time && bend < wanted)
    stops.push(wanted)
    for (const stop of stops) {
      flow.look(time, stop)
      const quiet = steady(surroundings, time, stop)
      while (time < stop && !unfinished) {
        const explicit = 1 / (SLACK * flow.stiffness())
        const left = stop - time
        // no cell can leave the range of body and surroundings, so at rest it stays
        if (quiet && flow.spread() < REST) {
          time = stop
          continue
        }
        const capped = Math.min(length, explicit * spanOf(MOST_STAGES))
        // equal pieces up to the stop, so that no sliver is left over
        const pieces = Math.ceil(left / capped - 1e-9)
        const step = pieces <= 1 ? left : left / pieces
        const end = pieces <= 1 ? stop : time + step
        const plan = stagesFor(step / explicit)

        // stage 1, then the recursion; the heat through the sides is carried in the same weights
        let [before, secondBefore, next] = [one, two, three]
        secondBefore.fill(0)
        let heatBefore = 0
        const firstWeight = step * (plan.rateBefore[1] as number)
        let heat = firstWeight * throughNow
        combine(before, secondBefore, secondBefore, rateNow, rateNow, now, trial, 0, 0, firstWeight, 0)
        for (let j = 2; j <= plan.count; j++) {
          const through = flow.rates(trial, time + step * (plan.time[j - 1] as number), rate)
          const a = plan.before[j] as number
          const b = plan.secondBefore[j] as number
          const d = step * (plan.rateBefore[j] as number)
          const e = step * (plan.rateStart[j] as number)
          combine(next, before, secondBefore, rate, rateNow, now, trial, a, b, d, e)
          const heatNext = a * heat + b * heatBefore + d * through + e * throughNow
          heatBefore = heat
          heat = heatNext
          const spare = secondBefore
          secondBefore = before
          before = next
          next = spare
        }
        const throughEnd = flow.rates(trial, end, rate)
        stages += plan.count
        const error = flow.errorOf(now, trial, rateNow, rate, step) / tolerance
        const factor = Math.min(4, Math.max(0.2, 0.9 * error ** (-1 / 3)))
        if (!(error <= 1)) {
          rejected++
          length = step * (Number.isNaN(error) ? 0.1 : Math.min(factor, 0.9))
          // leaves the temperatures of the start in place for the stability bound
          throughNow = flow.rates(now, time, rateNow)
          if (step < 1e-12 * Math.max(1, Math.abs(stop))) unfinished = true
        } else {
          steps++
          ;[now, trial] = [trial, now]
          ;[rateNow, rate] = [rate, rateNow]
          throughNow = throughEnd
          throughSides += heat
          exchanged += Math.abs(heat)
          time = end
          flow.remember(now)
          // a piece shortened to meet a stop says little about how long the next may be
          length = Math.max(step * factor, pieces <= 1 && factor >= 1 ? length : 0)
        }
        if (stages * count > mostWork) unfinished = true
      }
    }
    if (unfinished) break
    moments.push({
      time: wanted,
      cells: Float64Array.from(flow.temperatures),
      faces: Float64Array.from(flow.faceTemperatures),
    })
  }
  let stored = 0
  for (let cell = 0; cell < count; cell++)
    stored += (body.volume[cell] ?? 0) * ((now[cell] ?? Number.NaN) - (start.enthalpy[cell] ?? Number.NaN))
  const difference = Math.abs(stored - throughSides)
  return {
    moments,
    state: { enthalpy: now, ...flow.memory() },
    throughSides,
    stored,
    exchanged,
    energyError: difference / Math.max(exchanged, 1e-6 * flow.leastCapacity()),
    steps,
    rejected,
    stages,
  }
}

/**
 * One stage, cell by cell, as growth since the step's start: a + b + the start's weight are 1, so the start
 * drops out of the recursion, and rounding stays that of the growth.
 */
const combine = (
  next: Float64Array,
  before: Float64Array,
  secondBefore: Float64Array,
  rate: Float64Array,
  rateStart: Float64Array,
  start: Float64Array,
  reachedNow: Float64Array,
  a: number,
  b: number,
  d: number,
  e: number,
): void => {
  for (let cell = 0; cell < next.length; cell++) {
    const grown =
      a * (before[cell] as number) +
      b * (secondBefore[cell] as number) +
      d * (rate[cell] as number) +
      e * (rateStart[cell] as number)
    next[cell] = grown
    reachedNow[cell] = (start[cell] as number) + grown
  }
}
