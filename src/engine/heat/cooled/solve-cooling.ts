import { NINE_IN_TEN } from '../../quantity/index.ts'
import { carry, coolDown, type Readings } from './cool-down.ts'
import { type HotFlask, UNSURE_COOLING, type UnsureCooling } from './hot-flask.ts'

export interface CoolingQuestion {
  readonly flask: HotFlask
  /** standard uncertainty of each that is not known for sure */
  readonly spread: Readonly<Partial<Record<UnsureCooling, number>>>
  /** heats to pass [K]: where the mould leaves its casting range, and where the window opens and closes */
  readonly levels: { readonly leaves: number; readonly opens: number; readonly closes: number }
  /** standard uncertainty of the levels [K] */
  readonly levelSpread: { readonly leaves: number; readonly opens: number; readonly closes: number }
  /** the farthest waxes [m, from the axis and from mid-height] */
  readonly farthest: readonly (readonly [fromAxis: number, height: number])[]
}

/**
 * Moments [s]; Infinity for what does not happen while the flask is followed. The farthest and the core leave
 * counted from the kiln's door, the window from the end of the spin.
 */
export interface CoolingEvents {
  readonly farthestLeaves: number
  readonly coreLeaves: number
  readonly opens: number
  readonly closes: number
}

export type CoolingEvent = keyof CoolingEvents

export interface CooledPoint {
  /** s after the spin, less than 0 before */
  readonly s: number
  /** the hottest of the metal, and the outside of the mould [K] */
  readonly castings: number
  readonly low: number
  readonly high: number
  readonly outer: number
}

export interface CooledFlask {
  readonly events: CoolingEvents
  /** of every event against every unsure number, and against its own level */
  readonly slopes: Readonly<Record<CoolingEvent, Readonly<Record<string, number>>>>
  readonly curve: readonly CooledPoint[]
  readonly energyError: number
}

/** Which level an event waits for. */
export const LEVEL_OF = {
  farthestLeaves: 'leaves',
  coreLeaves: 'leaves',
  opens: 'opens',
  closes: 'closes',
} as const satisfies Record<CoolingEvent, keyof CoolingQuestion['levels']>

export const COOLING_EVENTS = Object.keys(LEVEL_OF) as readonly CoolingEvent[]

/** Cells along the radius, of the answer and of its slopes. Twelve stand within two hundredths of fine ones. */
const CELLS = 12
const SLOPE_CELLS = 4
/** s from the door; a flask that keeps its heat longer than that waits for nobody. */
const LONGEST_CARRY = 2400
/** Under this share of its value a spread moves nothing that shows, and is not run. */
const LEAST_SPREAD = 1e-4

/** What bends the answer most is run to either side; a step to one side does for the rest. */
const BOTH_WAYS = new Set<UnsureCooling>(['conductivity', 'metalAt'])
/** What the flask meets only once it is poured: on the way to the machine nothing moves with it. */
const ONLY_POURED = new Set<UnsureCooling>([
  'charge',
  'metalHeat',
  'freezingHeat',
  'pour',
  'spinTakes',
  'ends',
  'metalAt',
  'spin',
  'kilnToPour',
])

/** When a falling curve last stands above a level; straight in the logarithm over the air. */
const falls = (times: readonly number[], values: readonly number[], level: number, air: number): number => {
  const above = values.findLastIndex((value) => value > level)
  if (above < 0) return times[0] ?? Number.NaN
  const [from, to] = [times[above] ?? Number.NaN, times[above + 1]]
  const [hot, cold] = [values[above] ?? Number.NaN, values[above + 1]]
  if (to === undefined || cold === undefined) return Number.POSITIVE_INFINITY
  if (!(cold > air && level > air)) return from + ((to - from) * (hot - level)) / (hot - cold)
  return from + ((to - from) * Math.log((hot - air) / (level - air))) / Math.log((hot - air) / (cold - air))
}

interface Followed {
  readonly carried: Readings & { readonly energyError: number }
  readonly cooled: Readings & { readonly stretches: number; readonly energyError: number }
  readonly events: CoolingEvents
}

type Levels = CoolingQuestion['levels']

const eventsOf = (
  { carried, cooled }: Pick<Followed, 'carried' | 'cooled'>,
  { air, solidAt, spin }: HotFlask,
  levels: Levels,
): CoolingEvents => {
  const after = (level: number): number =>
    Math.max(0, falls(cooled.times, cooled.metal, Math.min(level, solidAt), air) - spin)
  const leaves = (heats: readonly number[]): number => falls(carried.times, heats, levels.leaves, air)
  return {
    farthestLeaves: Math.min(...carried.places.map(leaves)),
    coreLeaves: leaves(carried.core),
    opens: after(levels.opens),
    closes: after(levels.closes),
  }
}

const followBoth = (
  { flask, levels, levelSpread, farthest }: Omit<CoolingQuestion, 'spread'>,
  cells: number,
  stretches?: number,
  known?: Followed['carried'],
): Followed => {
  const carried = known ?? carry(flask, farthest, LONGEST_CARRY, cells)
  const lowest = levels.closes - 2 * NINE_IN_TEN * levelSpread.closes
  const cooled = coolDown(flask, { until: Math.max(flask.air + 15, lowest), stretches, cells })
  return { carried, cooled, events: eventsOf({ carried, cooled }, flask, levels) }
}

/** The moments alone, on as many cells as the full answer has. */
export const coolingEvents = (question: Omit<CoolingQuestion, 'spread'>): CoolingEvents =>
  followBoth(question, CELLS).events

/**
 * A flask from the kiln's door to the quench: its moments, how each moves with what is not known for sure
 * (from a run a standard uncertainty away), and the metal's curve with a nine-in-ten band.
 */
export const solveCooling = (question: CoolingQuestion): CooledFlask => {
  const { flask, spread, levels, levelSpread } = question
  const { carried, cooled, events } = followBoth(question, CELLS)
  const { stretches } = cooled
  const coarse = followBoth(question, SLOPE_CELLS, stretches)
  const slopes = Object.fromEntries(COOLING_EVENTS.map((event) => [event, {}])) as Record<
    CoolingEvent,
    Record<string, number>
  >
  const variance = new Float64Array(cooled.times.length)
  /** of what both sides of a move reached; a moment beyond the end moves by nothing known */
  const slope = (more: number, less: number, by: number): number =>
    Number.isFinite(more) && Number.isFinite(less) ? (more - less) / by : 0
  for (const name of UNSURE_COOLING) {
    const u = spread[name] ?? 0
    if (!(u > LEAST_SPREAD * Math.abs(flask[name]))) continue
    const at = (by: number): Followed =>
      followBoth(
        { ...question, flask: { ...flask, [name]: flask[name] + by } },
        SLOPE_CELLS,
        stretches,
        ONLY_POURED.has(name) ? coarse.carried : undefined,
      )
    const both = BOTH_WAYS.has(name)
    const [more, less] = [at(u), both ? at(-u) : coarse]
    const apart = both ? 2 : 1
    for (const event of COOLING_EVENTS)
      slopes[event][name] = slope(more.events[event], less.events[event], apart * u)
    for (const index of variance.keys()) {
      const moved = (more.cooled.metal[index] ?? Number.NaN) - (less.cooled.metal[index] ?? Number.NaN)
      variance[index] = (variance[index] ?? 0) + (moved / apart) ** 2
    }
  }
  for (const event of COOLING_EVENTS) {
    const level = LEVEL_OF[event]
    const u = levelSpread[level]
    if (!(u > 0)) continue
    const at = (by: number): number => {
      const moved = { ...levels, [level]: levels[level] + by }
      return eventsOf(coarse, flask, moved)[event]
    }
    slopes[event][level] = slope(at(u), at(-u), 2 * u)
  }
  return {
    events,
    slopes,
    curve: cooled.times.map((time, index) => {
      const castings = cooled.metal[index] ?? Number.NaN
      const off = NINE_IN_TEN * Math.sqrt(variance[index] ?? 0)
      return {
        s: time - flask.spin,
        castings,
        low: Math.max(flask.air, castings - off),
        high: castings + off,
        outer: cooled.outer[index] ?? Number.NaN,
      }
    }),
    energyError: Math.max(carried.energyError, cooled.energyError),
  }
}
