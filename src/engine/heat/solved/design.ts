import type { HeatState } from '../../physics/conduct/index.ts'
import { NINE_IN_TEN } from '../../quantity/index.ts'
import { type Followed, follow, type KilnCourse, type KilnFlask } from './follow.ts'
import { type CoreAnswer, type CoreQuestion, eventsOf, solveCore, type Unsure } from './solve-core.ts'

export type Variant = 'gentle' | 'shortest'

/** Another flask in the same load [m]; its mix is this one's. */
export type BesideFlask = Pick<KilnFlask, 'radius' | 'height' | 'wall'>

export interface DesignQuestion extends Omit<CoreQuestion, 'course'> {
  readonly variant: Variant
  readonly others?: readonly BesideFlask[]
  /** the kiln, true [K] and [K/s] */
  readonly kiln: {
    readonly room: number
    readonly first: number
    readonly drying: number
    readonly top: number
    readonly casting: number
    readonly rise: number
    readonly fall: number
  }
  /** s */
  readonly ask: {
    readonly wax: number
    readonly leastDrying: number
    /** how long the core stands where carbon burns, and the shortest soak at casting heat */
    readonly clean: Readonly<Record<Variant, number>>
    readonly leastSoak: Readonly<Record<Variant, number>>
  }
}

/** Lengths of the holds [s]; no drying hold in the shortest program. */
export interface Holds {
  readonly wax: number
  readonly drying?: number
  readonly top: number
  readonly casting: number
}

export interface DesignedBurnout {
  readonly variant: Variant
  readonly holds: Holds
  readonly core: CoreAnswer
  /** the cores of the other flasks, in their order; none where the flask stands alone */
  readonly others?: readonly CoreAnswer[]
  /** s, of the whole program of each variant */
  readonly totals: Readonly<Record<Variant, number>>
  /** stages whose hold would have to be longer than any is drawn out */
  readonly cut: readonly StageId[]
}

/** A kiln's clock is set by five minutes. */
export const roundUp = (seconds: number): number => Math.ceil(seconds / 300 - 1e-6) * 300

/** No hold is drawn out further [s]; where even this does not do, the checks of the plan say so. */
export const LONGEST = 16 * 3600

/**
 * The same flask with everything that slows it moved against it, to about the 95th percentile: mostly its
 * conductivity, then the water, then what the kiln passes on. The weights are a unit vector.
 */
export const slowest = ({ flask, spread }: Pick<CoreQuestion, 'flask' | 'spread'>): KilnFlask => {
  const against = (name: 'conductivity' | 'waterDoubt' | 'film', weight: number): number =>
    flask[name] + weight * NINE_IN_TEN * (spread[name] ?? 0)
  return {
    ...flask,
    conductivity: against('conductivity', -0.8),
    waterDoubt: against('waterDoubt', 0.45),
    film: against('film', -0.4),
  }
}

const CELLS = 5
/** s between readings while a hold is sought; it is rounded up to five minutes, on the slow side already. */
const TRIED_EVERY = 600
/** s; the core may be hot enough before the kiln reaches its top, and the mouth still wants its time there. */
const LEAST_TOP = 3600

/** A longer hold moves the next one's events a little, so that it is looked at once more. */
const ROUNDS = 2

/** Knots and lengths of a program with these holds. */
export const courseOf = ({ kiln }: Pick<DesignQuestion, 'kiln'>, holds: Holds): KilnCourse => {
  const temperatures = [kiln.room]
  const durations: number[] = []
  const stage = (to: number, hold: number): void => {
    const from = temperatures.at(-1) ?? Number.NaN
    durations.push(Math.abs(to - from) / (to < from ? kiln.fall : kiln.rise), hold)
    temperatures.push(to, to)
  }
  stage(kiln.first, holds.wax)
  if (holds.drying !== undefined) stage(kiln.drying, holds.drying)
  stage(kiln.top, holds.top)
  stage(kiln.casting, holds.casting)
  return { temperatures, durations }
}

export const lengthOfCourse = ({ durations }: KilnCourse): number =>
  durations.reduce((sum, each) => sum + each, 0)

export type StageId = 'wax' | 'drying' | 'top' | 'casting'

export const stagesOf = (variant: Variant): readonly StageId[] =>
  variant === 'gentle' ? ['wax', 'drying', 'top', 'casting'] : ['wax', 'top', 'casting']

/** Every flask of the load, this pour's first. */
export const flasksOf = ({ flask, others = [] }: Pick<DesignQuestion, 'flask' | 'others'>): KilnFlask[] => [
  flask,
  ...others.map((other) => ({ ...flask, ...other })),
]

/** Where a program goes on from: the heat of each flask, the kiln's, and what is done already. */
export interface Standing {
  readonly states: readonly (number | HeatState)[]
  readonly kiln: number
  /** the first stage still to be done */
  readonly stage: StageId
  /** s, of the wax hold still wanted, and that each core has stood where carbon burns */
  readonly waxLeft: number
  readonly hotSoFar: readonly number[]
  /** s, that it has stood at casting heat already */
  readonly soaked: number
}

export interface FoundStage {
  readonly id: StageId
  /** s */
  readonly climb: number
  readonly hold: number
  /** whether even the longest hold does not do what it is for */
  readonly cut: boolean
}

/**
 * Holds still to come, found one after another on the slow flasks, each going on from the state the last one
 * left; of several flasks the slowest decides.
 */
export const findStages = (question: DesignQuestion, variant: Variant, standing: Standing): FoundStage[] => {
  const { kiln, ask, melts } = question
  const flasks = flasksOf(question).map((flask) => slowest({ ...question, flask }))
  let { states, kiln: at } = standing
  const heats = { wax: kiln.first, drying: kiln.drying, top: kiln.top, casting: kiln.casting }
  const until = (moment: number, climb: number, least: number): number => Math.max(least, moment - climb)
  const wanted = (index: number, id: StageId, climb: number, course: KilnCourse): number => {
    const flask = flasks[index] as KilnFlask
    const state = states[index] ?? Number.NaN
    const tried = follow(flask, course, state, { cells: CELLS, every: TRIED_EVERY })
    const events = eventsOf(tried, { flask, melts, course })
    switch (id) {
      case 'wax':
        return standing.waxLeft
      case 'drying':
        return until(events.dry, climb, ask.leastDrying)
      case 'top':
        return until(events.hot + ask.clean[variant] - (standing.hotSoFar[index] ?? 0), climb, LEAST_TOP)
      case 'casting':
        return until(events.settle, 0, Math.max(0, ask.leastSoak[variant] - standing.soaked))
    }
  }
  const all = stagesOf(variant)
  return all.slice(all.indexOf(standing.stage)).map((id) => {
    const to = heats[id]
    const climb = Math.abs(to - at) / (to < at ? kiln.fall : kiln.rise)
    const course = (hold: number): KilnCourse => ({ temperatures: [at, to, to], durations: [climb, hold] })
    const long = course(LONGEST)
    const needed = Math.max(...flasks.map((_, index) => wanted(index, id, climb, long)))
    // a wish is set as it is, a need to the next five minutes
    const hold = id === 'wax' ? needed : roundUp(Math.min(LONGEST, needed))
    states = flasks.map(
      (flask, index) => follow(flask, course(hold), states[index] ?? Number.NaN, { cells: CELLS }).state,
    )
    at = to
    return { id, climb, hold, cut: needed > LONGEST }
  })
}

/** Each flask with its slow properties through part of a course from cold, on the cells that holds are found on. */
export const followSlow = (question: DesignQuestion, course: KilnCourse): readonly Followed[] =>
  flasksOf(question).map((flask) =>
    follow(slowest({ ...question, flask }), course, question.kiln.room, { cells: CELLS }),
  )

const findHolds = (
  question: DesignQuestion,
  variant: Variant,
): { readonly holds: Holds; readonly cut: readonly StageId[] } => {
  const { kiln, ask } = question
  const found = findStages(question, variant, {
    states: flasksOf(question).map(() => kiln.room),
    kiln: kiln.room,
    stage: 'wax',
    waxLeft: ask.wax,
    hotSoFar: [],
    soaked: 0,
  })
  const hold = (id: StageId): number | undefined => found.find((stage) => stage.id === id)?.hold
  return {
    holds: {
      wax: hold('wax') ?? Number.NaN,
      drying: hold('drying'),
      top: hold('top') ?? Number.NaN,
      casting: hold('casting') ?? Number.NaN,
    },
    cut: found.filter(({ cut }) => cut).map(({ id }) => id),
  }
}

/** Over the straight line, and for one root that moves several of the solver's numbers together; tried on flasks of 2 to 8 in. */
const OVER = { hot: 1.05, settle: 1.25 } as const

/** s, how late the core may be hot, or settled, over its middle value: nine in ten, and a little for what is not a straight line. */
export const lateness = (
  { spread }: Pick<DesignQuestion, 'spread'>,
  { slopes }: Pick<CoreAnswer, 'slopes'>,
  event: 'hot' | 'settle' = 'hot',
): number =>
  OVER[event] *
  NINE_IN_TEN *
  Math.hypot(...Object.entries(slopes[event]).map(([name, slope]) => slope * (spread[name as Unsure] ?? 0)))

/**
 * A program for this flask and the core's history through it. The gentle one waits in a low hold until even a
 * slow flask's core is dry; the shortest dries on the way up, as the trade's schedules do. Both stay at the
 * top until the core, at its latest, has stood where carbon burns for the time asked, and at casting heat until it
 * has settled at its latest.
 */
export const designBurnout = (question: DesignQuestion): DesignedBurnout => {
  const { variant, ask, kiln } = question
  const found = { gentle: findHolds(question, 'gentle'), shortest: findHolds(question, 'shortest') }
  let { holds } = found[variant]
  let { cut } = found[variant]
  const { others: _, ...alone } = question
  const solved = (): CoreAnswer[] =>
    flasksOf(question).map((flask) => solveCore({ ...alone, flask, course: courseOf(question, holds) }))
  let cores = solved()
  const fall = Math.abs(kiln.top - kiln.casting) / kiln.fall
  const drawnOut = (id: 'top' | 'casting', more: number): number => {
    if (!(more > 0 && Number.isFinite(more))) return holds[id]
    if (holds[id] + more > LONGEST && !cut.includes(id)) cut = [...cut, id]
    return roundUp(Math.min(LONGEST, holds[id] + more))
  }
  for (let round = 0; round < ROUNDS; round += 1) {
    const topEnds = lengthOfCourse(courseOf(question, holds)) - holds.casting - fall
    const wanting = (event: 'hot' | 'settle', until: number): number =>
      Math.max(...cores.map((each) => each.events[event] + lateness(question, each, event) - until))
    const top = drawnOut('top', wanting('hot', topEnds - ask.clean[variant]))
    const casting = drawnOut('casting', wanting('settle', holds.casting))
    if (top === holds.top && casting === holds.casting) break
    holds = { ...holds, top, casting }
    cores = solved()
  }
  const total = (some: Holds): number => lengthOfCourse(courseOf(question, some))
  const totals = {
    gentle: total(found.gentle.holds),
    shortest: total(found.shortest.holds),
    [variant]: total(holds),
  }
  const [core, ...others] = cores as [CoreAnswer, ...CoreAnswer[]]
  return { variant, holds, core, ...(others.length > 0 && { others }), totals, cut }
}
