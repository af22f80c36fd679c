import { type Alloy, type Pour, readStated, type Shop } from './documents/index.ts'
import {
  celsius,
  PARTS,
  type Part,
  type Problem,
  type Quantity,
  say,
  temperatureOf,
  type Verdict,
  type Words,
} from './quantity/index.ts'

/** A verdict as the go or no-go list shows it: with the reason the caster accepted it by, if any. */
export interface JudgedVerdict extends Verdict {
  readonly accepted?: string
}

export interface GoList {
  readonly stops: readonly JudgedVerdict[]
  readonly checks: readonly JudgedVerdict[]
  readonly accepted: readonly JudgedVerdict[]
  readonly passes: readonly JudgedVerdict[]
}

/** Have kiln, powder bag and machine cast a scrap-wax trial since they last changed? */
export const judgeTrial = (shop: Shop): Verdict => {
  const { trial } = shop
  const base = { id: 'go.trial', part: 'burnout', where: '/shop/trial/last' } as const
  const changes = [
    ['the kiln', trial.kilnChanged],
    ['the powder bag', trial.powderChanged],
    ['the casting machine', trial.machineChanged],
  ] as const
  if (trial.last === undefined)
    return {
      ...base,
      verdict: 'check',
      title: say`No scrap-wax trial on record`,
      reason: say`Nothing says that this kiln, powder bag and casting machine have cast a piece of scrap wax together.`,
      remedy: say`cast a scrap of wax first and enter the day, or accept it with a reason`,
    }
  const last = trial.last
  const newer = changes.filter(([, changed]) => changed !== undefined && changed > last)
  return newer.length === 0
    ? {
        ...base,
        verdict: 'pass',
        title: say`A scrap-wax trial since the last change`,
        reason: say`Cast on ${last}; nothing has changed since.`,
        remedy: [],
      }
    : {
        ...base,
        verdict: 'check',
        title: say`No scrap-wax trial since ${newer.map(([what]) => what).join(' and ')} changed`,
        reason: say`The last trial was on ${last}.`,
        remedy: say`cast a scrap of wax first and enter the day, or accept it with a reason`,
      }
}

/** A casting time that the clocks skip or show twice is read one way, and the caster should know which. */
export const judgeClocks = (note: Words | undefined): readonly Verdict[] =>
  note === undefined
    ? []
    : [
        {
          id: 'burnout.clocks',
          part: 'burnout',
          verdict: 'check',
          title: say`The clocks change at the casting time`,
          reason: note,
          remedy: say`choose a time well clear of the change, or accept it`,
          where: '/pour/castAt',
        },
      ]

/** Is the flask's heat one that casters use for this alloy at all? */
export const judgeAim = (alloy: Alloy, aim: Quantity): readonly Verdict[] => {
  const rows = [alloy.flask_C.light, alloy.flask_C.medium, alloy.flask_C.heavy].map(readStated)
  const least = celsius(Math.min(...rows.map((row) => row.low)))
  const most = celsius(Math.max(...rows.map((row) => row.high)))
  if (aim.value >= least - 0.5 && aim.value <= most + 0.5) return []
  const cold = aim.value < COLDEST_FLASK
  return [
    {
      id: 'burnout.aim',
      part: 'burnout',
      verdict: cold ? 'stop' : 'check',
      title: say`The flask’s heat is outside what casters use`,
      reason: say`${alloy.name} is cast into flasks of ${temperatureOf(least)} to ${temperatureOf(most)}; ${aim} is asked.${cold ? ' Metal freezes in so cold a mould before it fills it.' : ''}`,
      remedy: say`take a heat inside that, or accept it with a reason`,
      where: '/pour/flask_C',
    },
  ]
}

/** A flask cooler than this is no hot mould at all: 200 °C. */
const COLDEST_FLASK = 473.15

/** Gaps that make every later number doubtful, so that nothing can be called ready. */
const STOPPING = new Set([
  'mesh-without-volume',
  'no-pieces',
  'same-id-twice',
  'not-in-shop',
  'no-such-wax',
  'moment-unreadable',
])

/** A gap in the plan is something to settle before the wax is spent. */
const asVerdict = (problem: Problem): Verdict => ({
  id: `problem.${problem.kind}`,
  part: partOfPath(problem.where),
  verdict: STOPPING.has(problem.kind) ? 'stop' : 'check',
  title: problem.what,
  reason: problem.what,
  remedy: problem.remedy,
  where: problem.where,
})

const PATH_PARTS: readonly (readonly [RegExp, Part])[] = [
  [/^\/(pour\/flask$|shop\/flasks)/, 'flask'],
  [/^\/(pour\/(charge|crucible|torch|alloy)|shop\/(lots|crucibles|torches|alloys))/, 'charge'],
  [/^\/(pour|shop)\/prices?/, 'price'],
  [/^\/(pour\/investment|shop\/(investments|place|clock|vacuum))/, 'mix'],
  [/^\/(pour\/(kiln|castAt|flask_C)|shop\/(kilns|timeZone))/, 'burnout'],
  [/^\/(pour\/(machine|spin)|shop\/machines)/, 'spin'],
  [/^\/shop\/finishing/, 'finish'],
]

/** The part of the pour that a document path belongs to. */
const partOfPath = (path: string): Part => PATH_PARTS.find(([pattern]) => pattern.test(path))?.[1] ?? 'pieces'

/**
 * Gaps that only follow from a larger one: while that one stands they would say the same thing ten times.
 * They stay among the plan's problems.
 */
const FOLLOWS =
  /^(mix-needs|mix-no-room|depth-missing|quench-needs|cast-mass-missing|finished-mass-missing|charge-missing|freezing-missing|flask-missing|burnout-needs-flask)/

/** With every piece measured and no flask that holds the tree, what follows from that waits for the flask alone. */
export const afterFlask = (problem: Problem, noFlaskHolds: boolean): Problem =>
  noFlaskHolds && FOLLOWS.test(problem.kind)
    ? { ...problem, remedy: say`settle the flask first: none of the rack holds this tree` }
    : problem

const LARGER = /^(flask\.(open|rack|room)|charge\.open|problem\.(no-pieces|mesh-without-volume))$/

/** Verdicts in the order of the day, problems among them, each id once. */
export const gatherVerdicts = (
  verdicts: readonly Verdict[],
  problems: readonly Problem[],
): readonly Verdict[] => {
  const once = new Map(problems.map((problem) => [`${problem.kind} ${problem.where}`, problem]))
  const gaps = [...once.values()].map(asVerdict)
  const larger = [...gaps, ...verdicts].some(
    (verdict) => verdict.verdict !== 'pass' && LARGER.test(verdict.id),
  )
  const all = [
    ...gaps.filter((gap) => !(larger && FOLLOWS.test(gap.id.slice('problem.'.length)))),
    ...verdicts,
  ]
  const taken = new Map<string, number>()
  return all
    .map((verdict) => {
      const times = (taken.get(verdict.id) ?? 0) + 1
      taken.set(verdict.id, times)
      return times === 1 ? verdict : { ...verdict, id: `${verdict.id}.${times}` }
    })
    .sort((a, b) => rank(a) - rank(b))
}

/** A pour with no time left is said before all else; the rest stands in the order of the day. */
const rank = ({ id, verdict, part }: Verdict): number =>
  id === 'burnout.start' && verdict !== 'pass' ? -1 : PARTS.indexOf(part)

/**
 * The one list of everything checked. A stop is never hidden and can't be accepted away; an accepted check
 * keeps its place with its reason.
 */
export const goOrNoGo = (verdicts: readonly Verdict[], accepted: Pour['accepted']): GoList => {
  const judged = verdicts.map((verdict): JudgedVerdict => {
    const reason = accepted?.[verdict.id]
    return verdict.verdict === 'check' && reason !== undefined ? { ...verdict, accepted: reason } : verdict
  })
  return {
    stops: judged.filter((one) => one.verdict === 'stop'),
    checks: judged.filter((one) => one.verdict === 'check' && one.accepted === undefined),
    accepted: judged.filter((one) => one.accepted !== undefined),
    passes: judged.filter((one) => one.verdict === 'pass'),
  }
}
