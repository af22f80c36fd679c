import { NINE_IN_TEN, type Problem, say, timeOf } from '../../quantity/index.ts'
import { follow, type KilnCourse, type KilnFlask } from './follow.ts'
import type { LogPoint } from './read-log.ts'
import { type CoreQuestion, UNSURE, type Unsure } from './solve-core.ts'

/** What a log from the core can tell: how the dry mould conducts, and what the kiln's air passes to it. */
export const FITTED = ['conductivity', 'film'] as const
export type Fitted = (typeof FITTED)[number]

export interface FittedValue {
  readonly value: number
  readonly low: number
  readonly high: number
}

export interface LogFit {
  readonly values: Readonly<Record<Fitted, FittedValue>>
  /** K, root mean square between log and solver after the fit, and before it */
  readonly left: number
  readonly before: number
  readonly used: number
  readonly problems: readonly Problem[]
  /** what was left out or stood in for */
  readonly notes: readonly Problem[]
  /** the core as measured, and as reckoned before and after the fit [s from the first reading; K] */
  readonly curve: readonly FittedPoint[]
}

export interface FittedPoint {
  readonly s: number
  readonly measured: number
  readonly before: number
  readonly after: number
}

const MOST_POINTS = 240
const MOST_KNOTS = 160
const ROUNDS = 12
/** In the logarithm: wide enough to look across the cells that dry one by one. */
const STEP = 0.05
/** s, how well solver and logger agree on when; where the core leaps this is many degrees */
const TIMING = 300
/** K, what a thermocouple in a hole is off by, at the least */
const LEAST_ERROR = 2
const CELLS = 8
/** Share by which so few cells may shift what is fitted: seen against nearly twice as many. */
const OF_CELLS = 0.03

const thinned = <T>(list: readonly T[], most: number): readonly T[] => {
  const every = Math.max(1, Math.ceil(list.length / most))
  return list.filter((_, index) => index % every === 0 || index === list.length - 1)
}

const planInstead = (logged: number, points: number): Problem => ({
  kind: 'log-kiln-planned',
  where: '/log',
  what:
    logged === 0
      ? say`The kiln itself was not logged: the planned program stands in for it.`
      : say`Only ${logged} of ${points} readings have the kiln: the planned program stands in for it.`,
  remedy: say`A kiln that followed another course throws the fit off. Log it in a third column.`,
})

const afterEnd = (left: number, end: number): Problem => ({
  kind: 'log-past-end',
  where: '/log',
  what: say`${left} readings come after the kiln's course ends at ${timeOf(end)}: they are left out.`,
  remedy: say`Nothing needs doing if the flask was cast then.`,
})

/** The kiln as it was logged, true; the planned course, told, where less than half of the readings give it. */
const courseOf = (
  points: readonly LogPoint[],
  planned: KilnCourse,
  readsHigh: number,
): KilnCourse & { readonly notes: readonly Problem[] } => {
  const logged = points.filter(({ kiln }) => kiln !== undefined)
  if (logged.length < points.length / 2)
    return { ...planned, notes: [planInstead(logged.length, points.length)] }
  const knots = thinned(logged, MOST_KNOTS)
  return {
    temperatures: knots.map(({ kiln = Number.NaN }) => kiln - readsHigh),
    durations: knots.slice(1).map(({ s }, index) => s - (knots[index]?.s ?? s)),
    notes: [],
  }
}

const valueAt = (times: readonly number[], values: readonly number[]): ((s: number) => number) => {
  let index = 0
  return (s) => {
    while (index < times.length - 2 && (times[index + 1] ?? Number.NaN) < s) index += 1
    const [from, to] = [times[index] ?? Number.NaN, times[index + 1] ?? Number.NaN]
    const [a, b] = [values[index] ?? Number.NaN, values[index + 1] ?? Number.NaN]
    return a + ((b - a) * (Math.min(s, to) - from)) / (to - from)
  }
}

const sum = (list: readonly number[]): number => list.reduce((total, each) => total + each, 0)

/** How many readings the log is worth: neighbours repeat each other's error. */
const worthOf = (residuals: readonly number[]): number => {
  const square = sum(residuals.map((each) => each * each))
  const beside = sum(residuals.slice(1).map((each, index) => each * (residuals[index] ?? 0)))
  const alike = Math.min(0.995, Math.max(0, beside / square))
  return Math.max(4, (residuals.length * (1 - alike)) / (1 + alike))
}

/** Solves two equations in two unknowns, the matrix symmetric. */
const solveTwo = (
  [a, b, d]: readonly [number, number, number],
  [one, other]: readonly [number, number],
): readonly [number, number] => {
  const whole = a * d - b * b
  return [(d * one - b * other) / whole, (a * other - b * one) / whole]
}

/**
 * Fits conductivity and film to a log from the core, by least squares over solver runs (Gauss and Newton,
 * damped), in their logarithms so that neither goes below nothing. What was known beforehand counts as one
 * more reading of each. The water's heat is not fitted, since more water and less air look alike at the core;
 * what it and the other unsure numbers may shift is in the intervals, which are nine in ten.
 */
export const fitLog = (
  points: readonly LogPoint[],
  question: Pick<CoreQuestion, 'flask' | 'spread'>,
  planned: KilnCourse,
  readsHigh: number,
): LogFit => {
  const { flask, spread } = question
  const course = courseOf(points, planned, readsHigh)
  const whole = sum(course.durations)
  const within = points.filter(({ s }) => s <= whole)
  const past = points.length - within.length
  const notes = [...course.notes, ...(past > 0 ? [afterEnd(past, whole)] : [])]
  const used = thinned(within, MOST_POINTS)
  const start = used[0]?.core ?? Number.NaN
  const relative = (name: Unsure): number => (spread[name] ?? 0) / flask[name]
  const prior = FITTED.map((name) => ({ at: Math.log(flask[name]), u: Math.max(0.02, relative(name)) }))
  const flaskAt = (logs: readonly number[]): KilnFlask => ({
    ...flask,
    ...Object.fromEntries(FITTED.map((name, index) => [name, Math.exp(logs[index] ?? Number.NaN)])),
  })
  const coreOf = (one: KilnFlask): number[] => {
    const followed = follow(one, course, start, { cells: CELLS })
    const core = valueAt(followed.times, followed.core)
    return used.map((point) => core(point.s))
  }
  const residualsOf = (core: readonly number[]): number[] =>
    used.map((point, index) => point.core - (core[index] ?? Number.NaN))
  const rootMeanSquare = (list: readonly number[]): number =>
    Math.sqrt(sum(list.map((each) => each * each)) / list.length)

  let logs = prior.map(({ at }) => at)
  let core = coreOf(flaskAt(logs))
  const coreBefore = core
  const before = rootMeanSquare(residualsOf(core))
  // from the log itself, so that the weights stand while the core is moved
  const weights = used.map((point, index) => {
    const [back, on] = [used[index - 1] ?? point, used[index + 1] ?? point]
    const rate = on.s > back.s ? (on.core - back.core) / (on.s - back.s) : 0
    return 1 / (LEAST_ERROR ** 2 + (rate * TIMING) ** 2)
  })
  const product = (one: readonly number[], other: readonly number[]): number =>
    sum(one.map((each, index) => (weights[index] ?? 0) * each * (other[index] ?? 0)))
  const slopesAt = (name: Unsure): number[] => {
    const one = flaskAt(logs)
    const moved = coreOf({ ...one, [name]: one[name] * Math.exp(STEP) })
    return moved.map((each, index) => (each - (core[index] ?? Number.NaN)) / STEP)
  }
  const worth = (): number => worthOf(residualsOf(core)) / used.length
  const costOf = (list: readonly number[], at: readonly number[], share: number): number =>
    share * product(list, list) +
    sum(at.map((each, index) => ((each - (prior[index]?.at ?? 0)) / (prior[index]?.u ?? 1)) ** 2))
  const known = prior.map(({ u }) => 1 / u ** 2)
  const matrix = (
    one: readonly number[],
    other: readonly number[],
    share: number,
    more: number,
  ): readonly [number, number, number] => [
    (share * product(one, one) + (known[0] ?? 0)) * (1 + more),
    share * product(one, other),
    (share * product(other, other) + (known[1] ?? 0)) * (1 + more),
  ]
  let damping = 0.01
  for (let round = 0; round < ROUNDS; round += 1) {
    const residuals = residualsOf(core)
    const share = worth()
    const [one, other] = [slopesAt('conductivity'), slopesAt('film')]
    const pull = [one, other].map(
      (slopes, index) =>
        share * product(slopes, residuals) -
        ((logs[index] ?? 0) - (prior[index]?.at ?? 0)) * (known[index] ?? 0),
    )
    const steps = solveTwo(matrix(one, other, share, damping), [pull[0] ?? 0, pull[1] ?? 0])
    const tried = logs.map((at, index) => at + Math.min(0.5, Math.max(-0.5, steps[index] ?? 0)))
    const coreTried = coreOf(flaskAt(tried))
    const moved = Math.max(...steps.map(Math.abs))
    if (costOf(residualsOf(coreTried), tried, share) <= costOf(residuals, logs, share)) {
      logs = tried
      core = coreTried
      damping /= 4
    } else damping *= 8
    if (moved < 1e-3) break
  }
  const share = worth()
  const [one, other] = [slopesAt('conductivity'), slopesAt('film')]
  const normal = matrix(one, other, share, 0)
  const variance = [solveTwo(normal, [1, 0])[0], solveTwo(normal, [0, 1])[1]].map(
    (each) => each + OF_CELLS ** 2,
  )
  for (const name of UNSURE) {
    if (name === 'conductivity' || name === 'film' || !(relative(name) > 1e-3)) continue
    const slopes = slopesAt(name)
    const shift = solveTwo(normal, [share * product(one, slopes), share * product(other, slopes)])
    shift.forEach((each, index) => {
      variance[index] = (variance[index] ?? 0) + (each * relative(name)) ** 2
    })
  }
  const left = rootMeanSquare(residualsOf(core))
  const values = Object.fromEntries(
    FITTED.map((name, index) => {
      const at = logs[index] ?? Number.NaN
      const u = Math.sqrt(variance[index] ?? Number.NaN)
      return [
        name,
        {
          value: Math.exp(at),
          low: Math.exp(at - NINE_IN_TEN * u),
          high: Math.exp(at + NINE_IN_TEN * u),
        },
      ]
    }),
  ) as Record<Fitted, FittedValue>
  return {
    values,
    left,
    before,
    used: used.length,
    problems: judgeFit(left, values.conductivity.value),
    notes,
    curve: used.map(({ s, core: measured }, index) => ({
      s,
      measured,
      before: coreBefore[index] ?? Number.NaN,
      after: core[index] ?? Number.NaN,
    })),
  }
}

/** K left over above which log and program cannot belong together. */
const MOST_LEFT = 40

const judgeFit = (left: number, conductivity: number): Problem[] => [
  ...(left > MOST_LEFT
    ? [
        {
          kind: 'log-does-not-fit',
          where: '/log',
          what: say`Log and reckoning stay ${Math.round(left)} K apart on the average, whatever the mould's properties.`,
          remedy: say`See that the log begins when the kiln is switched on, that it is of this flask and program, and that its units are right.`,
        },
      ]
    : []),
  ...(conductivity < 0.1 || conductivity > 3
    ? [
        {
          kind: 'log-conductivity-outside',
          where: '/log',
          what: say`The mould would pass ${conductivity.toFixed(2)} W/mK, which no investment does.`,
          remedy: say`Look at the thermocouple's place and at the log's units.`,
        },
      ]
    : []),
]
