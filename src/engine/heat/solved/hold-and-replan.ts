import { celsius } from '../../quantity/index.ts'
import { CARBON_BURNS } from '../rule.ts'
import {
  courseOf,
  type DesignedBurnout,
  type DesignQuestion,
  type FoundStage,
  findStages,
  flasksOf,
  followSlow,
  LONGEST,
  lateness,
  lengthOfCourse,
  roundUp,
  stagesOf,
} from './design.ts'
import { type Followed, follow, type KilnCourse } from './follow.ts'

export interface Replanned {
  /** K: the kiln when it goes on again */
  readonly kiln: number
  /** the mould had been hot and has cooled through 270 to 220 °C, where cristobalite shrinks: it may have cracked */
  readonly chilled: boolean
  /** what is still to come [s], from the kiln going on again */
  readonly stages: readonly FoundStage[]
  /** s, from the kiln being switched on first until the casting moment, and until the soonest there could be */
  readonly total: number
  readonly soonest: number
  /** s, by which the casting moment moves; less than 0 only where a sooner one was wished */
  readonly later: number
}

export interface Interrupted {
  /** s from switching on, and s without power; 0 where the caster is late and asks anew */
  readonly at: number
  readonly stopped: number
  /** s from switching on: the casting moment wished now; as planned when left out */
  readonly wished?: number
}

/** A course cut off at a moment. */
const upTo = ({ temperatures, durations }: KilnCourse, moment: number): KilnCourse => {
  const knots = [temperatures[0] ?? Number.NaN]
  const kept: number[] = []
  let left = moment
  for (const [index, duration] of durations.entries()) {
    if (left <= 0) break
    const [from, to] = [temperatures[index] ?? Number.NaN, temperatures[index + 1] ?? Number.NaN]
    const part = Math.min(duration, left)
    kept.push(part)
    knots.push(duration > 0 ? from + ((to - from) * part) / duration : to)
    left -= part
  }
  return { temperatures: knots, durations: kept }
}

/** s that the core stands above a level, straight between readings. */
const timeAbove = ({ times, core }: Followed, level: number): number =>
  times.slice(1).reduce((sum, time, index) => {
    const [from, to] = [core[index] ?? Number.NaN, core[index + 1] ?? Number.NaN]
    const span = time - (times[index] ?? time)
    const [least, most] = [Math.min(from, to), Math.max(from, to)]
    if (least >= level) return sum + span
    return most > level ? sum + (span * (most - level)) / (most - least) : sum
  }, 0)

/** Where cristobalite begins to shrink on cooling, and what is clearly above that; handbooks, 220 to 270 °C. */
const INVERSION = { from: celsius(270), above: celsius(320) } as const

/** Whether the outer mould was above cristobalite's inversion and has cooled into it. */
const hasChilled = ({ wall }: Followed): boolean =>
  Math.max(...wall) > INVERSION.above && (wall.at(-1) ?? Infinity) < INVERSION.from

/** Pieces of a course one after another, from the room or the state that another left. */
const joined = (parts: readonly KilnCourse[]): KilnCourse => ({
  temperatures: parts.flatMap(({ temperatures }, index) =>
    index === 0 ? temperatures : temperatures.slice(1),
  ),
  durations: parts.flatMap(({ durations }) => durations),
})

/**
 * The kiln stops at a moment, falls at its own rate, and goes on again; or stopped for no time, the caster is
 * late and asks anew. What is still to come is found again from the flask as it then stands: water driven out
 * stays out, time at carbon heat counts, a hold that was cut is made up, and the top is held until the core at
 * its latest has burned clean, as in the program itself. Nothing is climbed faster than before. What is ready
 * before its moment waits at casting heat.
 */
export const holdAndReplan = (
  question: DesignQuestion,
  { variant, holds, core, others = [] }: Pick<DesignedBurnout, 'variant' | 'holds' | 'core' | 'others'>,
  { at, stopped, wished }: Interrupted,
): Replanned => {
  const { kiln, ask } = question
  const course = courseOf(question, holds)
  const ids = stagesOf(variant)
  // every stage is a climb and a hold; the one it stands in is done again from where it is
  let ended = 0
  const standing = ids.findIndex((_, index) => {
    ended += (course.durations[2 * index] ?? 0) + (course.durations[2 * index + 1] ?? 0)
    return at < ended
  })
  const stage = ids[standing < 0 ? ids.length - 1 : standing] ?? 'casting'
  const begun = upTo(course, at)
  const reached = begun.temperatures.at(-1) ?? kiln.room
  const fallen = Math.max(kiln.room, reached - kiln.fall * stopped)
  const falling = (reached - fallen) / kiln.fall
  const soFar =
    stopped > 0
      ? joined([begun, { temperatures: [reached, fallen, fallen], durations: [falling, stopped - falling] }])
      : begun
  const runs = followSlow(question, soFar)
  const firstHold = course.durations[0] ?? 0
  const waxSets = Math.max(question.melts.pattern?.at ?? 0, question.melts.sprue?.at ?? 0)
  const found = findStages(question, variant, {
    states: runs.map(({ state }) => state),
    kiln: fallen,
    stage,
    // wax that has set again wants its whole hold
    waxLeft:
      stopped > 0 && fallen < waxSets ? holds.wax : Math.max(0, holds.wax - Math.max(0, at - firstHold)),
    hotSoFar: runs.map((run) => timeAbove(run, CARBON_BURNS)),
    soaked: stopped > 0 ? 0 : Math.max(0, at - (lengthOfCourse(course) - holds.casting)),
  })
  const heats = { wax: kiln.first, drying: kiln.drying, top: kiln.top, casting: kiln.casting }
  const rest = (some: readonly FoundStage[]): KilnCourse => ({
    temperatures: [fallen, ...some.flatMap(({ id }) => [heats[id], heats[id]])],
    durations: some.flatMap(({ climb, hold }) => [climb, hold]),
  })
  const toTop = found.slice(0, found.findIndex(({ id }) => id === 'top') + 1)
  const through = joined([soFar, rest(toTop)])
  const cores = [core, ...others]
  const wanting =
    toTop.length === 0
      ? 0
      : Math.max(
          0,
          ...flasksOf(question).map((flask, index) => {
            const likely = follow(flask, through, kiln.room)
            const late = lateness(question, cores[index] ?? core)
            return ask.clean[variant] + late - timeAbove(likely, CARBON_BURNS)
          }),
        )
  const clean = found.map((one) =>
    one.id === 'top'
      ? {
          ...one,
          hold: roundUp(Math.min(LONGEST, one.hold + wanting)),
          cut: one.cut || one.hold + wanting > LONGEST,
        }
      : one,
  )
  const soonest = at + stopped + clean.reduce((sum, { climb, hold }) => sum + climb + hold, 0)
  const planned = lengthOfCourse(course)
  const waits = Math.max(0, (wished ?? planned) - soonest)
  return {
    kiln: fallen,
    chilled: runs.some(hasChilled),
    stages: clean.map((one) => (one.id === 'casting' ? { ...one, hold: one.hold + waits } : one)),
    total: soonest + waits,
    soonest,
    later: soonest + waits - planned,
  }
}
