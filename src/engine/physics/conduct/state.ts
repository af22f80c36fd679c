import type { Body } from './body.ts'
import { curvesOf, enthalpyAt, segmentAt } from './curves.ts'

/** A body's heat at one moment: enough to go on from under other surroundings. */
export interface HeatState {
  /** J/m3 of every cell, each material counted from its own curve */
  readonly enthalpy: Float64Array
  /** enthalpy above which a cell still reacts; irreversible reactions stay done below it */
  readonly reached: Float64Array
  /** J/m3 that irreversible reactions have taken so far */
  readonly taken: Float64Array
}

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
