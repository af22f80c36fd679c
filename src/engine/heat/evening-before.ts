import { hourOfDay, lastHour, sayMoment } from '../physics/schedule.ts'
import { say, type Words } from '../quantity/index.ts'

/** Mixing the evening before, offered when the last moment to mix falls in the night. Common practice. */
export interface EveningBefore {
  /** the latest evening hour to begin the mix [ms since 1970] */
  readonly mixAt: number
  /** what is done, and what it asks of the person who does it */
  readonly words: Words
  readonly mind: Words
}

/** Nobody mixes well between these hours of the night; the evening's own ends where they begin [h]. */
const NIGHT = { from: 22, to: 6, evening: 20 }

/** @returns undefined when the last moment to mix stands in the waking day, or the evening before has passed */
export const eveningBefore = (mixBy: number, now: number, timeZone: string): EveningBefore | undefined => {
  const hour = hourOfDay(mixBy, timeZone)
  if (!(hour >= NIGHT.from || hour < NIGHT.to)) return undefined
  const mixAt = lastHour(mixBy, NIGHT.evening, timeZone)
  if (mixAt < now) return undefined
  return {
    mixAt,
    words: say`Common practice: mix the evening before, by ${sayMoment(mixAt, timeZone)}. Leave the flask still until it has set, bag it so that it does not dry out, and let the kiln’s own delay start the program at its time.`,
    mind: say`A kiln that starts by itself runs unattended: its fumes vented outdoors the whole time, nothing that burns near it, a smoke alarm, and only where local rules and its maker allow it. A flask that has dried out may crack: keep it bagged and damp.`,
  }
}
