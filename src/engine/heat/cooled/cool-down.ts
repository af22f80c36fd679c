import {
  type Body,
  type Conducted,
  conduct,
  type HeatState,
  type Moment,
  stateAt,
  temperatureAt,
  withRegionsAt,
} from '../../physics/conduct/index.ts'
import { type CutFlask, cutFlask, type HotFlask } from './hot-flask.ts'

/** K, error of a step: the moments hold to a few tenths of a per cent. */
const TOLERANCE = 1

/** Readings of a flask in air, of one stretch after another [s; K]. */
export interface Readings {
  readonly times: readonly number[]
  readonly core: readonly number[]
  readonly metal: readonly number[]
  readonly outer: readonly number[]
  /** at the places asked for, each over all times */
  readonly places: readonly (readonly number[])[]
}

interface Stretch {
  readonly state: HeatState
  readonly moments: readonly Moment[]
  readonly energyError: number
}

const inAir = (
  body: Body,
  flask: HotFlask,
  start: HeatState,
  takes: number,
  ends: number,
  times: readonly number[],
): Stretch => {
  const { air: ambient, emissivity } = flask
  const conducted: Conducted = conduct({
    body,
    start,
    // of the body's two sides the first is the wall, the second an end
    surroundings: [
      { heatTransfer: takes, emissivity, ambient },
      { heatTransfer: ends * takes, emissivity: ends * emissivity, ambient },
    ],
    times,
    tolerance: TOLERANCE,
  })
  return { state: conducted.state, moments: conducted.moments, energyError: conducted.energyError }
}

/** The hottest of the metal, which stands at mid-height. */
const hottest = (body: Body, moment: Moment): number => {
  const metal = body.regions.findIndex(({ name }) => name === 'metal')
  let most = Number.NEGATIVE_INFINITY
  for (const [cell, region] of body.region.entries())
    if (region === metal) most = Math.max(most, moment.cells[cell] ?? Number.NaN)
  return most
}

const read = (
  { poured, outside }: Pick<CutFlask, 'poured' | 'outside'>,
  moments: readonly Moment[],
  places: readonly (readonly [number, number])[],
): Omit<Readings, 'times'> => {
  const at = (place: readonly [number, number]): number[] =>
    moments.map((moment) => temperatureAt(poured, moment, place))
  return {
    core: at([0, 0]),
    metal: moments.map((moment) => hottest(poured, moment)),
    outer: at([0.98 * outside, 0]),
    places: places.map(at),
  }
}

/** Where a flask of this many cells begins: through and through at the mould's heat, nothing poured. */
const soaked = ({ hollow }: CutFlask, { mould }: HotFlask): HeatState => stateAt(hollow, mould)

/** Moments between two, even. */
const between = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, index) => from + ((to - from) * (index + 1)) / count)

/**
 * The empty flask from the kiln's door, bare on all sides, for as long as is asked.
 * @param places [from the axis, from mid-height] whose heat is read [m]
 */
export const carry = (
  flask: HotFlask,
  places: readonly (readonly [number, number])[],
  length: number,
  cells: number,
): Readings & { readonly energyError: number } => {
  const cut = cutFlask(flask, cells)
  // closest at first: what stands near the wall is lost soonest
  const times = between(0, 1, 24).map((share) => length * share ** 2)
  const { moments, energyError } = inAir(cut.hollow, flask, soaked(cut, flask), flask.airTakes, 1, times)
  const { core, metal, outer, places: found } = read({ ...cut, poured: cut.hollow }, moments, places)
  const withStart = (list: readonly number[]): readonly number[] => [flask.mould, ...list]
  return {
    times: [0, ...times],
    core: withStart(core),
    metal: withStart(metal),
    outer: withStart(outer),
    places: found.map(withStart),
    energyError,
  }
}

/** s, the first stretch after the spin; each one after it is half as long as all of them so far. */
const FIRST = 240
const READINGS = 8
/** No flask is followed for longer after its spin [s]. */
const LONGEST = 8 * 3600

/**
 * The flask carried to the machine, poured, spun, and left in air until its metal has fallen far enough.
 * Times count from the pour. How many stretches that takes is answered, so that a flask slightly other can be
 * followed through the same.
 */
export const coolDown = (
  flask: HotFlask,
  {
    until,
    stretches,
    cells,
    conductivity,
  }: {
    /** K */
    readonly until: number
    readonly stretches?: number
    readonly cells: number
    readonly conductivity?: number
  },
): Readings & { readonly stretches: number; readonly energyError: number } => {
  const cut = cutFlask(flask, cells, conductivity)
  const { airTakes, spinTakes, kilnToPour, spin, ends } = flask
  const carried =
    kilnToPour > 0
      ? inAir(cut.hollow, flask, soaked(cut, flask), airTakes, 1, [kilnToPour]).state
      : soaked(cut, flask)
  let state = withRegionsAt(cut.poured, carried, { metal: flask.pour })
  const times: number[] = []
  const moments: Moment[] = []
  let energyError = 0
  const go = (takes: number, share: number, wanted: readonly number[]): void => {
    const from = times.at(-1) ?? 0
    const stretch = inAir(
      cut.poured,
      flask,
      state,
      takes,
      share,
      wanted.map((time) => time - from),
    )
    state = stretch.state
    times.push(...wanted)
    moments.push(...stretch.moments)
    energyError = Math.max(energyError, stretch.energyError)
  }
  const spun = Math.max(1, spin)
  go(spinTakes, ends, between(0, spun, 4))
  let [done, length] = [0, FIRST]
  const goesOn = (): boolean => {
    if (stretches !== undefined) return done < stretches
    const last = moments.at(-1)
    return last !== undefined && hottest(cut.poured, last) > until && (times.at(-1) ?? 0) < LONGEST
  }
  while (done === 0 || goesOn()) {
    const from = times.at(-1) ?? 0
    go(airTakes, ends, between(from, from + length, READINGS))
    done += 1
    length = ((times.at(-1) ?? 0) - spun) * 0.5
  }
  return { times, ...read(cut, moments, []), stretches: done, energyError }
}
