import { type Conducted, conduct, type HeatState, temperatureAt } from '../../physics/conduct/index.ts'
import { flaskBody, type WetFlask } from './flask-body.ts'

/** The kiln's own course, true: knots in kelvin, and the seconds between them. */
export interface KilnCourse {
  readonly temperatures: readonly number[]
  readonly durations: readonly number[]
}

/** How heat passes from the kiln to the flask: by air [W/m2K] and by radiation. */
export interface KilnFilm {
  readonly film: number
  readonly emissivity: number
}

export type KilnFlask = WetFlask & KilnFilm

export interface Followed {
  /** s from the start of the course, its first moment included */
  readonly times: readonly number[]
  /** K: the middle of the mould, and the steel at mid-height */
  readonly core: readonly number[]
  readonly wall: readonly number[]
  /** to go on from */
  readonly state: HeatState
  readonly energyError: number
}

const EVERY = 300
/** K, error of a step; the core's times hold to a few tenths of a percent. */
const TOLERANCE = 3

/** Moments between 0 and the end, each knot of the course among them. */
const momentsOf = (durations: readonly number[], every: number): number[] => {
  const moments: number[] = []
  let from = 0
  for (const duration of durations) {
    const pieces = Math.max(1, Math.ceil(duration / every - 1e-9))
    for (let piece = 1; piece <= pieces && duration > 0; piece += 1)
      moments.push(from + (duration * piece) / pieces)
    from += duration
  }
  return moments
}

/** The kiln's temperature over time; steps of no length bend nothing. */
const tableOf = ({ temperatures, durations }: KilnCourse): [number, number][] => {
  const table: [number, number][] = [[0, temperatures[0] ?? Number.NaN]]
  let time = 0
  durations.forEach((duration, index) => {
    if (!(duration > 0)) return
    time += duration
    table.push([time, temperatures[index + 1] ?? Number.NaN])
  })
  return table
}

/**
 * A flask through a course of the kiln, by conduction in its round section.
 * @param from kelvin throughout, or the state an earlier course left
 */
export const follow = (
  flask: KilnFlask,
  course: KilnCourse,
  from: number | HeatState,
  { cells, every = EVERY }: { readonly cells?: number; readonly every?: number } = {},
): Followed => {
  const body = flaskBody(flask, cells)
  const around = {
    heatTransfer: flask.film,
    emissivity: flask.emissivity,
    ambient: tableOf(course),
  }
  const times = momentsOf(course.durations, every)
  const conducted: Conducted = conduct({
    body,
    start: from,
    surroundings: body.sides.map(() => around),
    // the first moment is read off too, a breath after the start
    times: [1e-6, ...times],
    tolerance: TOLERANCE,
  })
  const at = (place: readonly [number, number]): number[] =>
    conducted.moments.map((moment) => temperatureAt(body, moment, place))
  return {
    times: [0, ...times],
    core: at([0, 0]),
    wall: at([flask.radius + flask.wall, 0]),
    state: conducted.state,
    energyError: conducted.energyError,
  }
}

/** First moment [s] at which a curve passes a level; Infinity when it never does. */
export const passes = (times: readonly number[], values: readonly number[], level: number): number => {
  const index = values.findIndex((value) => value >= level)
  if (index < 0) return Number.POSITIVE_INFINITY
  const [after, before] = [values[index] ?? Number.NaN, values[index - 1]]
  const [end, start] = [times[index] ?? Number.NaN, times[index - 1]]
  if (before === undefined || start === undefined) return end
  return start + ((end - start) * (level - before)) / (after - before)
}
