import { STEFAN_BOLTZMANN } from '../radiation.ts'
import type { Body } from './body.ts'
import { type Curves, curvesOf, enthalpyAt, segmentAt, type Table, tableAt } from './curves.ts'
import { fewestStages, type Stages, spanOf, stagesOf } from './stages.ts'

/** What a side of the body meets. Tables run over time [s]; a coefficient and emissivity of 0 insulate. */
export type Surroundings =
  | {
      /** W/m2K */
      readonly heatTransfer: number
      readonly emissivity: number
      /** K, of the air and of the walls around */
      readonly ambient: Table
    }
  | { readonly held: Table }

/** A body's heat at one moment: enough to go on from under other surroundings. */
export interface HeatState {
  /** J/m3 of every cell, each material counted from its own curve */
  readonly enthalpy: Float64Array
  /** enthalpy above which a cell still reacts; irreversible reactions stay done below it */
  readonly reached: Float64Array
  /** J/m3 that irreversible reactions have taken so far */
  readonly taken: Float64Array
}

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

const MOST_STAGES = 2001
/** K: less than this to come until the next stop, and the body counts as at rest. */
const STILL = 1e-7
/** Slack on the stability bound for what conductivity and radiation may gain within a step. */
const SLACK = 1.15

/** The moments [s] at which some table bends. */
const bendsOf = (surroundings: readonly Surroundings[]): number[] => {
  const all = surroundings.flatMap((one) => {
    const table = 'held' in one ? one.held : one.ambient
    return typeof table === 'number' ? [] : table.map(([at]) => at)
  })
  return [...new Set(all)].sort((a, b) => a - b)
}

/** Whether nothing outside changes from one moment to another between which no table bends. */
const steady = (surroundings: readonly Surroundings[], from: number, to: number): boolean =>
  surroundings.every((one) => {
    const table = 'held' in one ? one.held : one.ambient
    return typeof table === 'number' || tableAt(table, from) === tableAt(table, to)
  })

/** All cells at given temperatures, nothing reacted beyond them. */
export const stateAt = (body: Body, temperatures: number | readonly number[]): HeatState => {
  const curves = curvesOf(body.regions.map(({ material }) => material))
  const count = body.volume.length
  const state = {
    enthalpy: new Float64Array(count),
    reached: new Float64Array(count),
    taken: new Float64Array(count),
  }
  for (let cell = 0; cell < count; cell++) {
    const region = body.region[cell] ?? 0
    const temperature = typeof temperatures === 'number' ? temperatures : (temperatures[region] ?? Number.NaN)
    const segment = segmentAt(curves, region, temperature)
    const fresh = enthalpyAt(curves, curves.fresh, segment, temperature)
    state.enthalpy[cell] = fresh
    state.reached[cell] = curves.remembers[region] ? fresh : Number.NEGATIVE_INFINITY
    state.taken[cell] = curves.remembers[region]
      ? fresh - enthalpyAt(curves, curves.spent, segment, temperature)
      : 0
  }
  return state
}

/** A state with some regions put anew at temperatures [K], as metal poured into a hot mould; the rest stays. */
export const withRegionsAt = (
  body: Body,
  state: HeatState,
  temperatures: Readonly<Record<string, number>>,
): HeatState => {
  const anew = stateAt(
    body,
    body.regions.map(({ name }) => temperatures[name] ?? 273.15),
  )
  const pick = (key: keyof HeatState): Float64Array =>
    state[key].map((value, cell) => {
      const name = body.regions[body.region[cell] ?? 0]?.name ?? ''
      return name in temperatures ? (anew[key][cell] ?? Number.NaN) : value
    })
  return { enthalpy: pick('enthalpy'), reached: pick('reached'), taken: pick('taken') }
}

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
        if (quiet && flow.fastestDrift(rateNow) * left < STILL) {
          for (let cell = 0; cell < count; cell++)
            now[cell] = (now[cell] as number) + left * (rateNow[cell] as number)
          throughSides += left * throughNow
          exchanged += Math.abs(left * throughNow)
          time = stop
          throughNow = flow.rates(now, time, rateNow)
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

interface Flow {
  /** reads the surroundings for a span of time in which no table bends */
  look(from: number, to: number): void
  /** J/m3s of every cell into `out`; the answer is the heat coming in through the sides [W] */
  rates(enthalpy: Float64Array, time: number, out: Float64Array): number
  /** 1/s, bound on the fastest mode, at the temperatures last seen */
  stiffness(): number
  /** K, root mean square over the volume, from the values and rates at both ends of a step */
  errorOf(
    from: Float64Array,
    to: Float64Array,
    rateFrom: Float64Array,
    rateTo: Float64Array,
    step: number,
  ): number
  /** K/s, how fast the quickest cell moves at such rates */
  fastestDrift(rate: Float64Array): number
  /** J/K of the whole body without its reactions */
  leastCapacity(): number
  /** takes note of what has reacted for good, at the temperatures last seen */
  remember(enthalpy: Float64Array): void
  memory(): Pick<HeatState, 'reached' | 'taken'>
  readonly temperatures: Float64Array
  readonly faceTemperatures: Float64Array
}

/**
 * The right-hand side. In the loops every index lies within its array by construction, which the compiler
 * cannot see: hence `as number`.
 */
const flowOf = (
  body: Body,
  curves: Curves,
  surroundings: readonly Surroundings[],
  start: HeatState,
): Flow => {
  const { volume, region, first, second, firstPath, secondPath, outerCell, outerPath, outerArea, outerSide } =
    body
  const { fresh, spent, anchor, capacitySlope } = curves
  const [count, faces, outers] = [volume.length, first.length, outerCell.length]
  const reached = Float64Array.from(start.reached)
  const taken = Float64Array.from(start.taken)
  const temperatures = new Float64Array(count)
  const conductivity = new Float64Array(count)
  const segments = Int32Array.from(region, (one) => curves.start[one] ?? 0)
  const faceTemperatures = new Float64Array(outers)
  const inverseVolume = volume.map((one) => 1 / one)
  const remembering = body.regions.some((_, index) => curves.remembers[index] === 1)
  const conductances = new Float64Array(count)
  const outerConductance = new Float64Array(outers)
  const met = surroundings.map((one) => ({
    table: 'held' in one ? one.held : one.ambient,
    held: 'held' in one ? 1 : 0,
    heatTransfer: 'held' in one ? 0 : one.heatTransfer,
    radiating: 'held' in one ? 0 : one.emissivity * STEFAN_BOLTZMANN,
  }))
  const sides = met.length
  const ambient = new Float64Array(sides)
  const aroundStart = new Float64Array(sides)
  const aroundRate = new Float64Array(sides)
  const held = Uint8Array.from(outerSide, (side) => met[side]?.held ?? 0)
  const convection = outerArea.map((area, face) => area * (met[outerSide[face] ?? 0]?.heatTransfer ?? 0))
  const radiation = outerArea.map((area, face) => area * (met[outerSide[face] ?? 0]?.radiating ?? 0))
  let windowStart = 0

  const look: Flow['look'] = (from, to) => {
    windowStart = from
    for (const [side, { table }] of met.entries()) {
      const here = tableAt(table, from)
      aroundStart[side] = here
      aroundRate[side] = to > from ? (tableAt(table, to) - here) / (to - from) : 0
    }
  }

  const { conductivity: conductivityAt, conductivitySlope } = curves
  const { low: freshLow, high: freshHigh, enthalpy: freshEnthalpy, capacity: freshCapacity } = fresh
  const { low: spentLow, high: spentHigh, enthalpy: spentEnthalpy, capacity: spentCapacity } = spent

  const readTemperatures = (enthalpy: Float64Array): void => {
    for (let cell = 0; cell < count; cell++) {
      let segment = segments[cell] as number
      let above = enthalpy[cell] as number
      let capacity: number
      if (above >= (reached[cell] as number)) {
        while (above >= (freshHigh[segment] as number)) segment++
        while (above < (freshLow[segment] as number)) segment--
        above -= freshEnthalpy[segment] as number
        capacity = freshCapacity[segment] as number
      } else {
        above -= taken[cell] as number
        while (above >= (spentHigh[segment] as number)) segment++
        while (above < (spentLow[segment] as number)) segment--
        above -= spentEnthalpy[segment] as number
        capacity = spentCapacity[segment] as number
      }
      segments[cell] = segment
      const slope = capacitySlope[segment] as number
      // the root of capacity x + slope x²/2 = above, in the form that stays exact where the slope is nothing
      const rise =
        slope === 0
          ? above / capacity
          : (2 * above) / (capacity + Math.sqrt(capacity * capacity + 2 * slope * above))
      temperatures[cell] = (anchor[segment] as number) + rise
      conductivity[cell] = (conductivityAt[segment] as number) + (conductivitySlope[segment] as number) * rise
    }
  }

  const rates: Flow['rates'] = (enthalpy, time, out) => {
    readTemperatures(enthalpy)
    for (let side = 0; side < sides; side++)
      ambient[side] = (aroundStart[side] as number) + (aroundRate[side] as number) * (time - windowStart)
    out.fill(0)
    for (let face = 0; face < faces; face++) {
      const a = first[face] as number
      const b = second[face] as number
      const ka = conductivity[a] as number
      const kb = conductivity[b] as number
      const passing =
        (((temperatures[b] as number) - (temperatures[a] as number)) * ka * kb) /
        ((firstPath[face] as number) * kb + (secondPath[face] as number) * ka)
      out[a] = (out[a] as number) + passing
      out[b] = (out[b] as number) - passing
    }
    let through = 0
    for (let face = 0; face < outers; face++) {
      const cell = outerCell[face] as number
      const around = ambient[outerSide[face] as number] as number
      const inside = temperatures[cell] as number
      const inward = (conductivity[cell] as number) / (outerPath[face] as number)
      let passing: number
      if (held[face] === 1) {
        faceTemperatures[face] = around
        outerConductance[face] = inward
        passing = inward * (around - inside)
      } else {
        const convecting = convection[face] as number
        const radiating = radiation[face] as number
        let outside = faceTemperatures[face] as number
        let outward = convecting
        if (radiating === 0) outside = (inward * inside + convecting * around) / (inward + convecting)
        else {
          if (outside === 0) outside = inside
          const fromWalls =
            radiating * around * around * around * around + convecting * around + inward * inside
          // Newton on a rising convex curve, from the last face temperature: one turn as a rule. What is left
          // after a change d is about 1.5 d²/T, so a change of 1e-4 T leaves 1.5e-8 T.
          for (let turn = 0; turn < 30; turn++) {
            const last = outside
            const cube = radiating * last * last * last
            outward = 4 * cube + convecting
            outside = (fromWalls + 3 * cube * last) / (inward + outward)
            if (Math.abs(outside - last) < 1e-4 * last) break
          }
        }
        faceTemperatures[face] = outside
        outerConductance[face] = 1 / (1 / inward + 1 / outward)
        passing = inward * (outside - inside)
      }
      out[cell] = (out[cell] as number) + passing
      through += passing
    }
    for (let cell = 0; cell < count; cell++)
      out[cell] = (out[cell] as number) * (inverseVolume[cell] as number)
    return through
  }

  const stiffness = (): number => {
    conductances.fill(0)
    for (let face = 0; face < faces; face++) {
      const a = first[face] as number
      const b = second[face] as number
      const both =
        1 /
        ((firstPath[face] as number) / (conductivity[a] as number) +
          (secondPath[face] as number) / (conductivity[b] as number))
      conductances[a] = (conductances[a] as number) + both
      conductances[b] = (conductances[b] as number) + both
    }
    for (let face = 0; face < outers; face++) {
      const cell = outerCell[face] as number
      conductances[cell] = (conductances[cell] as number) + (outerConductance[face] as number)
    }
    let fastest = 0
    for (let cell = 0; cell < count; cell++) {
      const capacity = curves.leastCapacity[segments[cell] as number] as number
      // Gershgorin: no mode is faster than twice a cell's conductance over its capacity; half of that is
      // the rate whose inverse is the explicit step
      fastest = Math.max(
        fastest,
        ((conductances[cell] as number) * (inverseVolume[cell] as number)) / capacity,
      )
    }
    return fastest
  }

  const errorOf: Flow['errorOf'] = (before, after, rateBefore, rateAfter, step) => {
    let sum = 0
    let whole = 0
    for (let cell = 0; cell < count; cell++) {
      const miss =
        0.8 * ((before[cell] as number) - (after[cell] as number)) +
        0.4 * step * ((rateBefore[cell] as number) + (rateAfter[cell] as number))
      const kelvins = miss / (curves.leastCapacity[segments[cell] as number] as number)
      sum += kelvins * kelvins * (volume[cell] as number)
      whole += volume[cell] as number
    }
    return Math.sqrt(sum / whole)
  }

  const fastestDrift: Flow['fastestDrift'] = (rate) => {
    let fastest = 0
    for (let cell = 0; cell < count; cell++)
      fastest = Math.max(
        fastest,
        Math.abs(rate[cell] as number) / (curves.leastCapacity[segments[cell] as number] as number),
      )
    return fastest
  }

  const leastCapacity = (): number => {
    let sum = 0
    for (let cell = 0; cell < count; cell++)
      sum += (volume[cell] as number) * (curves.leastCapacity[segments[cell] as number] as number)
    return sum
  }

  const remember: Flow['remember'] = (enthalpy) => {
    if (!remembering) return
    for (let cell = 0; cell < count; cell++) {
      const value = enthalpy[cell] as number
      if (curves.remembers[region[cell] as number] === 0 || value <= (reached[cell] as number)) continue
      reached[cell] = value
      taken[cell] = value - enthalpyAt(curves, spent, segments[cell] as number, temperatures[cell] as number)
    }
  }

  return {
    look,
    rates,
    stiffness,
    errorOf,
    fastestDrift,
    leastCapacity,
    remember,
    memory: () => ({ reached, taken }),
    temperatures,
    faceTemperatures,
  }
}
