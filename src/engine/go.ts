import type { Pour, Shop } from './documents/index.ts'
import { PARTS, type Part, type Problem, say, type Verdict } from './quantity/index.ts'

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

/** Gaps that make every later number doubtful, so that nothing can be called ready. */
const STOPPING = new Set(['mesh-without-volume', 'no-pieces', 'same-id-twice', 'not-in-shop', 'no-such-wax'])

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
    .sort((a, b) => PARTS.indexOf(a.part) - PARTS.indexOf(b.part))
}

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
