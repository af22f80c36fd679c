import type { Pour, Shop } from './documents/index.ts'
import { PARTS, type Problem, say, type Verdict } from './quantity/index.ts'

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

/** A gap in the plan is something to settle before the wax is spent. */
const asVerdict = (problem: Problem, index: number): Verdict => ({
  id: `problem.${problem.kind}${index === 0 ? '' : `.${index + 1}`}`,
  part: 'pieces',
  verdict:
    problem.kind === 'mesh-without-volume' || problem.kind === 'no-pieces' || problem.kind === 'same-id-twice'
      ? 'stop'
      : 'check',
  title: problem.what,
  reason: problem.what,
  remedy: problem.remedy,
  where: problem.where,
})

/** Verdicts in the order of the day, problems among them, each id once. */
export const gatherVerdicts = (
  verdicts: readonly Verdict[],
  problems: readonly Problem[],
): readonly Verdict[] => {
  const all = [...problems.map((problem, index) => asVerdict(problem, index)), ...verdicts]
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
