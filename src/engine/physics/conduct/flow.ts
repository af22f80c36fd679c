import { STEFAN_BOLTZMANN } from '../radiation.ts'
import type { Body } from './body.ts'
import { type Curves, enthalpyAt, tableAt } from './curves.ts'
import type { HeatState } from './state.ts'
import { type Surroundings, tableOf } from './surroundings.ts'

/** How heat flows in a body at any moment: the right-hand side that the stages call. */
export interface Flow {
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
  /** K between the coldest and hottest of all cells and of all surroundings that are felt */
  spread(): number
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
export const flowOf = (
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
    table: tableOf(one),
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

  const spread = (): number => {
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (let cell = 0; cell < count; cell++) {
      low = Math.min(low, temperatures[cell] as number)
      high = Math.max(high, temperatures[cell] as number)
    }
    for (const [side, one] of met.entries())
      if (one.held === 1 || one.heatTransfer > 0 || one.radiating > 0) {
        low = Math.min(low, ambient[side] as number)
        high = Math.max(high, ambient[side] as number)
      }
    return high - low
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
    spread,
    leastCapacity,
    remember,
    memory: () => ({ reached, taken }),
    temperatures,
    faceTemperatures,
  }
}
