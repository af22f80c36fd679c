import { say, type Words } from '../../quantity/index.ts'
import { nameElement } from './lots.ts'
import type { ChargeProblem } from './problems.ts'
import { sayRemedy, sayTrouble } from './problems.ts'

/** One thing in the way, however many limits it breaks, and what would mend all of them. */
export interface Cause {
  readonly lead: ChargeProblem
  readonly trouble: Words
  readonly remedy: Words
}

const OF_COMPOSITION: readonly ChargeProblem['kind'][] = [
  'fineness-out-of-reach',
  'too-fine',
  'element-out-of-limits',
  'too-much-returned',
]

const limitOf = (problem: ChargeProblem): string => {
  switch (problem.kind) {
    case 'fineness-out-of-reach':
      return problem.counted === 'expected' ? 'the fineness' : 'the fineness at its lowest'
    case 'element-out-of-limits':
      return nameElement(problem.element)
    case 'too-much-returned':
      return 'the share melted before'
    default:
      return 'the most fineness'
  }
}

const purchaseOf = (problem: ChargeProblem): string | undefined =>
  'buy' in problem && problem.buy !== undefined && problem.buy.length > 0
    ? JSON.stringify(problem.buy)
    : undefined

/**
 * Problems gathered by cause: limits of the composition that one and the same purchase would all meet are one
 * cause, told by its first with the others named. Everything else is a cause by itself.
 */
export const causesOf = (problems: readonly ChargeProblem[]): readonly Cause[] => {
  const causes = new Map<string, ChargeProblem[]>()
  problems.forEach((problem, index) => {
    const bought = purchaseOf(problem)
    const composition = OF_COMPOSITION.includes(problem.kind)
    const key = composition && bought !== undefined ? bought : `${problem.kind} ${index}`
    causes.set(key, [...(causes.get(key) ?? []), problem])
  })
  return [...causes.values()].flatMap(([lead, ...others]): Cause[] => {
    if (lead === undefined) return []
    const names = [...new Set(others.map(limitOf))]
    const also = names.length === 0 ? [] : say`. Also outside its limits: ${names.join(', ')}`
    return [{ lead, trouble: say`${sayTrouble(lead)}${also}`, remedy: sayRemedy(lead) }]
  })
}
