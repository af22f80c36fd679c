import { type Roots, readStated } from '../documents/index.ts'
import { celsius, type Quantity, root, say, timeOf, type Verdict } from '../quantity/index.ts'
import type { CoolingQuantities } from './cooled/index.ts'
import { usual } from './program.ts'
import type { QuenchInput } from './quench.ts'

/** How long the flask may be out of the kiln before the metal goes in [s]. */
export interface Transfer {
  /** until the mould at the farthest wax is too cool */
  readonly seconds: Quantity
  /** until its middle is too cool as well, where that comes within the time it is followed */
  readonly core?: Quantity
  /** what this shop takes */
  readonly planned: Quantity
  /** the heat the mould must keep [K] */
  readonly leaves: Quantity
  readonly verdicts: readonly Verdict[]
}

/** Door open, flask out and seated, wired, let go. */
export const kilnToPour = (roots: Roots): Quantity =>
  roots.has('/shop/clock/kilnToPour_s')
    ? roots.at('/shop/clock/kilnToPour_s', 'From the kiln’s door to the pour')
    : usual(
        'transfer.planned',
        'From the kiln’s door to the pour',
        's',
        45,
        'a guess; time yourself with a cold flask',
        25,
        80,
      )

/** K under the heat aimed at, where casters' own range begins there or nowhere. */
const LEAST_FALL = 25

/** The coolest mould that casters pour such work into; a little under the aim where that is no cooler. */
export const leavesRange = ({
  shop,
  alloyIndex,
  work = 'medium',
  castingTemperature,
}: Pick<QuenchInput, 'shop' | 'alloyIndex' | 'work' | 'castingTemperature'>): Quantity => {
  const stated = shop.alloys[alloyIndex]?.flask_C[work]
  const aim = castingTemperature.value
  const low = stated === undefined ? Number.NaN : celsius(readStated(stated).low)
  const inRange = low <= aim - LEAST_FALL
  return root({
    id: 'transfer.leaves',
    title: 'Coolest mould to pour into',
    unit: 'K',
    value: inRange ? low : aim - LEAST_FALL,
    kind: 'usual',
    source: inRange
      ? `the low end of what casters use for ${work} work`
      : `${LEAST_FALL} degrees under the aim, a guess: casters’ own range does not reach lower`,
  })
}

/** The seconds as solved, held against what the shop takes. */
export const transferOf = (
  { flask, levels }: CoolingQuantities,
  moments: { readonly farthestLeaves?: Quantity; readonly coreLeaves?: Quantity },
): Transfer | undefined => {
  const { farthestLeaves: seconds, coreLeaves: core } = moments
  if (seconds === undefined) return undefined
  const { kilnToPour: planned } = flask
  const { leaves } = levels
  return { seconds, core, planned, leaves, verdicts: [judge(seconds, planned, leaves)] }
}

const judge = (seconds: Quantity, planned: Quantity, leaves: Quantity): Verdict => {
  const base = {
    id: 'transfer.seconds',
    part: 'burnout',
    title: say`From the kiln to the pour in time`,
    where: '/pour/flask_C',
  } as const
  const range = say`The mould at the farthest wax keeps ${leaves} for ${timeOf(seconds.low)} to ${timeOf(seconds.high)} out of the kiln; ${timeOf(planned.value)} is planned.`
  // a usual time must do even where the mould keeps its heat for the shortest
  return planned.value <= seconds.low
    ? { ...base, verdict: 'pass', reason: range, remedy: [] }
    : {
        ...base,
        verdict: 'check',
        reason: range,
        remedy: say`Set the machine beside the kiln and practise with a cold flask, or aim at a hotter flask.`,
      }
}
