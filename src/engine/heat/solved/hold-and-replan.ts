import { CARBON_BURNS } from '../rule.ts'
import {
  courseOf,
  type DesignedBurnout,
  type DesignQuestion,
  findStages,
  followSlow,
  lengthOfCourse,
  type StageId,
  stagesOf,
} from './design.ts'
import type { Followed, KilnCourse } from './follow.ts'

export interface Replanned {
  /** K: the kiln when it goes on again */
  readonly kiln: number
  /** what is still to come [s], from the kiln going on again; `cut` where even the longest hold does not do */
  readonly stages: readonly {
    readonly id: StageId
    readonly climb: number
    readonly hold: number
    readonly cut?: true
  }[]
  /** s, of the last hold, only to wait for the wished casting moment */
  readonly waits: number
  /** s, from the kiln being switched on first until the casting moment */
  readonly total: number
  /** s, by which the casting moment comes later than wished; 0 when it is kept */
  readonly later: number
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

const timeAbove = ({ times, core }: Followed, level: number): number =>
  times.slice(1).reduce((sum, time, index) => {
    const hot = (core[index] ?? 0) >= level && (core[index + 1] ?? 0) >= level
    return hot ? sum + time - (times[index] ?? time) : sum
  }, 0)

/**
 * The kiln stops at a moment, falls at its own rate, and goes on again; or stopped for no time, the caster is
 * late and asks anew. What is still to come is found again from the flask as it then stands: water driven out
 * stays out, time at carbon heat counts, a hold that was cut is made up. Nothing is climbed faster than before.
 * @param at s from switching on; @param stopped s without power; @param wished s from switching on, the casting
 * moment: that of the program when left out. A flask that is ready sooner waits at its casting heat.
 */
export const holdAndReplan = (
  question: DesignQuestion,
  { variant, holds, late }: Pick<DesignedBurnout, 'variant' | 'holds' | 'late'>,
  at: number,
  stopped: number,
  wished?: number,
): Replanned => {
  const { kiln } = question
  const course = courseOf(question, holds)
  const ids = stagesOf(variant)
  // every stage is a climb and a hold; the one it stands in is done again from where it is
  let ended = 0
  const standing = ids.findIndex((_, index) => {
    ended += (course.durations[2 * index] ?? 0) + (course.durations[2 * index + 1] ?? 0)
    return at < ended
  })
  const stage = ids[standing < 0 ? ids.length - 1 : standing] ?? 'casting'
  const run = followSlow(question, upTo(course, at), kiln.room)
  const reached = upTo(course, at).temperatures.at(-1) ?? kiln.room
  const fallen = Math.max(kiln.room, reached - kiln.fall * stopped)
  const falling = (reached - fallen) / kiln.fall
  const rest =
    stopped > 0
      ? followSlow(
          question,
          { temperatures: [reached, fallen, fallen], durations: [falling, stopped - falling] },
          run.state,
        )
      : run
  const firstHold = course.durations[0] ?? 0
  const found = findStages(question, variant, {
    state: rest.state,
    kiln: fallen,
    stage,
    waxLeft: Math.max(0, holds.wax - Math.max(0, at - firstHold)),
    hotSoFar: timeAbove(run, CARBON_BURNS) + (stopped > 0 ? timeAbove(rest, CARBON_BURNS) : 0),
  })
  // what the first design added to the top for a core that comes late is wanted again
  const stages = found.map((one) => (one.id === 'top' ? { ...one, hold: one.hold + late } : one))
  const ready = at + stopped + stages.reduce((sum, { climb, hold }) => sum + climb + hold, 0)
  const moment = wished ?? lengthOfCourse(course)
  const waits = Math.max(0, moment - ready)
  return {
    kiln: fallen,
    stages: stages.map((one, index) =>
      index === stages.length - 1 ? { ...one, hold: one.hold + waits } : one,
    ),
    waits,
    total: ready + waits,
    later: Math.max(0, ready - moment),
  }
}
