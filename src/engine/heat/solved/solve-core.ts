import { celsius, NINE_IN_TEN } from '../../quantity/index.ts'
import { CARBON_BURNS } from '../rule.ts'
import { DRY_ABOVE_BOILING } from './flask-body.ts'
import { type Followed, follow, type KilnCourse, type KilnFlask, passes } from './follow.ts'

/** What is not known for sure, moved one by one to see how the core answers. */
export const UNSURE = [
  'conductivity',
  'wetConductivity',
  'heat',
  'hemihydrate',
  'ratio',
  'particle',
  'waterDoubt',
  'boiling',
  'film',
  'emissivity',
] as const satisfies readonly (keyof KilnFlask)[]

export type Unsure = (typeof UNSURE)[number]

export interface Melting {
  readonly at: number
  readonly u: number
}

export interface CoreQuestion {
  readonly flask: KilnFlask
  /** standard uncertainty of each that is not known for sure */
  readonly spread: Readonly<Partial<Record<Unsure, number>>>
  /** melting points [K] */
  readonly melts: { readonly pattern?: Melting; readonly sprue?: Melting }
  readonly course: KilnCourse
}

/** Moments [s] from the start, Infinity for what the course never reaches; temperatures in kelvin. */
export interface CoreEvents {
  readonly waxMelted: number
  readonly sprueMelted: number
  readonly dry: number
  readonly hot: number
  readonly atCast: number
  /** s from the start of the last step until the core stands within ten degrees of its end */
  readonly settle: number
}

export type CoreEvent = keyof CoreEvents

export interface CoreCurvePoint {
  readonly s: number
  readonly K: number
  readonly low: number
  readonly high: number
  /** the steel at mid-height */
  readonly wall: number
}

export interface CoreAnswer {
  readonly events: CoreEvents
  /** of every event against every unsure number, and against `melts` and `sprueMelts` */
  readonly slopes: Readonly<Record<CoreEvent, Readonly<Record<string, number>>>>
  readonly curve: readonly CoreCurvePoint[]
  readonly energyError: number
}

/** Under this share of its value a spread moves nothing that shows, and is not run. */
const LEAST_SPREAD = 1e-3
/** K within which the core counts as settled. */
const SETTLED = 10
/** m, cells of the answer itself; those of its slopes may be half as many, since only differences count. */
const CELL = 0.0055
const COARSE_CELLS = 4

const EVENTS: readonly CoreEvent[] = ['waxMelted', 'sprueMelted', 'dry', 'hot', 'atCast', 'settle']

const settleTime = ({ times, core }: Followed, course: KilnCourse): number => {
  const last = course.durations.at(-1) ?? 0
  const begins = course.durations.reduce((sum, each) => sum + each, 0) - last
  const aim = course.temperatures.at(-1) ?? Number.NaN
  const off = core.map((kelvins) => Math.abs(kelvins - aim))
  const index = off.findLastIndex((each) => each > SETTLED)
  if (index < 0) return 0
  const [before, after] = [off[index] ?? Number.NaN, off[index + 1]]
  const [from, to] = [times[index] ?? Number.NaN, times[index + 1]]
  if (after === undefined || to === undefined) return last
  return Math.max(0, from + ((to - from) * (before - SETTLED)) / (before - after) - begins)
}

export const eventsOf = (
  followed: Followed,
  question: Pick<CoreQuestion, 'flask' | 'melts' | 'course'>,
): CoreEvents => {
  const { times, core } = followed
  const { melts, flask, course } = question
  const at = (level: number | undefined): number =>
    level === undefined ? Number.POSITIVE_INFINITY : passes(times, core, level)
  return {
    waxMelted: at(melts.pattern?.at),
    sprueMelted: at(melts.sprue?.at),
    dry: at(flask.boiling + DRY_ABOVE_BOILING),
    hot: at(CARBON_BURNS),
    atCast: core.at(-1) ?? Number.NaN,
    settle: settleTime(followed, course),
  }
}

const cellsFor = (radius: number): number => Math.min(12, Math.max(5, Math.round(radius / CELL)))

const startOf = ({ course }: Pick<CoreQuestion, 'course'>): number => course.temperatures[0] ?? celsius(20)

/** The events alone, on as many cells as the full answer has. */
export const followEvents = (question: Omit<CoreQuestion, 'spread'>): CoreEvents =>
  eventsOf(
    follow(question.flask, question.course, startOf(question), { cells: cellsFor(question.flask.radius) }),
    question,
  )

/**
 * The core of a flask through a course of the kiln: events, how each moves with what is not known for sure
 * (from a run a standard uncertainty to either side), and the curve with a nine-in-ten band, upward and
 * downward moves each added in squares.
 */
export const solveCore = (question: CoreQuestion): CoreAnswer => {
  const { flask, spread, melts, course } = question
  const start = startOf(question)
  const fine = follow(flask, course, start, { cells: cellsFor(flask.radius) })
  const coarse = follow(flask, course, start, { cells: COARSE_CELLS })
  const events = eventsOf(fine, question)
  const whole = course.durations.reduce((sum, each) => sum + each, 0)
  const happened = (moment: number): number => Math.min(moment, whole)
  const slopes = Object.fromEntries(EVENTS.map((event) => [event, {}])) as Record<
    CoreEvent,
    Record<string, number>
  >
  const up = new Float64Array(coarse.core.length)
  const down = new Float64Array(coarse.core.length)
  for (const name of UNSURE) {
    const u = spread[name] ?? 0
    if (!(u > LEAST_SPREAD * flask[name])) continue
    const moved = [u, -u].map((by) => {
      const other = { ...flask, [name]: flask[name] + by }
      const followed = follow(other, course, start, { cells: COARSE_CELLS })
      return { core: followed.core, events: eventsOf(followed, { ...question, flask: other }) }
    })
    const [more, less] = moved
    if (more === undefined || less === undefined) continue
    for (const event of EVENTS) {
      const difference =
        event === 'atCast'
          ? more.events.atCast - less.events.atCast
          : happened(more.events[event]) - happened(less.events[event])
      slopes[event][name] = difference / (2 * u)
    }
    for (const [index, middle] of coarse.core.entries()) {
      const [one, two] = [(more.core[index] ?? middle) - middle, (less.core[index] ?? middle) - middle]
      up[index] = (up[index] ?? 0) + Math.max(one, two, 0) ** 2
      down[index] = (down[index] ?? 0) + Math.min(one, two, 0) ** 2
    }
  }
  const meltingSlope = (melting: Melting | undefined): number => {
    if (melting === undefined || melting.u === 0) return 0
    const [later, sooner] = [melting.at + melting.u, melting.at - melting.u].map((level) =>
      happened(passes(fine.times, fine.core, level)),
    )
    return ((later ?? 0) - (sooner ?? 0)) / (2 * melting.u)
  }
  slopes.waxMelted.melts = meltingSlope(melts.pattern)
  slopes.sprueMelted.sprueMelts = meltingSlope(melts.sprue)
  const shift =
    NINE_IN_TEN *
    Math.hypot(...Object.entries(slopes.dry).map(([name, slope]) => slope * (spread[name as Unsure] ?? 0)))
  const band = bandOf(fine, shift, down, up)
  return {
    events,
    slopes,
    curve: fine.times.map((s, index) => ({
      s,
      K: fine.core[index] ?? Number.NaN,
      ...band(index),
      wall: fine.wall[index] ?? Number.NaN,
    })),
    energyError: fine.energyError,
  }
}

/**
 * Low and high of the core at each moment. Where the drying front passes, the core leaps, and what is unsure
 * is when: there squares of temperatures would reach beyond anything the core can be, so the band ends at
 * what the core is as much sooner or later as its drying is unsure, and ten degrees.
 */
const bandOf = (
  { times, core }: Followed,
  shift: number,
  down: Float64Array,
  up: Float64Array,
): ((index: number) => { readonly low: number; readonly high: number }) => {
  const within = (from: number, to: number): readonly number[] =>
    core.filter((_, index) => {
      const time = times[index] ?? Number.NaN
      return time >= from && time <= to
    })
  return (index) => {
    const [time, K] = [times[index] ?? Number.NaN, core[index] ?? Number.NaN]
    const about = within(time - shift, time + shift)
    return {
      low: Math.max(K - NINE_IN_TEN * Math.sqrt(down[index] ?? 0), Math.min(K, ...about) - SETTLED),
      high: Math.min(K + NINE_IN_TEN * Math.sqrt(up[index] ?? 0), Math.max(K, ...about) + SETTLED),
    }
  }
}
