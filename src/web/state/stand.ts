import { isShape, type Plan } from '../../engine/plan.ts'
import type { Words } from '../../engine/quantity/words.ts'

/** Whether a pour is a go, as a line of the list says it. */
export interface Stand {
  readonly level: 'stop' | 'check' | 'pass'
  readonly words: string
  /** the first stop, by name */
  readonly first?: Words
  /** what the plan had to leave to a rule, so that opening the pour may change this */
  readonly unsure?: string
}

const unsureOf = (plan: Plan): string | undefined => {
  if (plan.wanted.some(isShape)) return 'a model is not measured until it is opened'
  const isPlaced = plan.arranged !== undefined || plan.verdicts.some(({ id }) => id === 'flask.arranged')
  if (!isPlaced && plan.tree.layouts.length > 0)
    return 'by outside boxes until it is opened, not by where its waxes stand'
  return plan.wanted.length > 0 ? 'in part by rule until it is opened' : undefined
}

export const standOf = (plan: Plan): Stand => {
  const { stops, checks } = plan.go
  const unsure = unsureOf(plan)
  if (stops.length > 0)
    return {
      level: 'stop',
      words: stops.length === 1 ? 'One stop' : `${stops.length} stops`,
      first: stops[0]?.title,
      unsure,
    }
  if (checks.length > 0)
    return {
      level: 'check',
      words: checks.length === 1 ? 'One thing to settle' : `${checks.length} things to settle`,
      unsure,
    }
  if (unsure !== undefined) return { level: 'check', words: 'Nothing is open so far', unsure }
  return { level: 'pass', words: 'Go: nothing is open' }
}

const waiting: (() => void)[] = []
let running = false

const next = (): void => {
  const work = waiting.shift()
  running = work !== undefined
  if (work === undefined) return
  work()
  setTimeout(next)
}

/** Does pieces of work one at a time, with room between them for presses and drawing. @returns takes this one out again */
export const inTurn = (work: () => void): (() => void) => {
  waiting.push(work)
  if (!running) {
    running = true
    setTimeout(next)
  }
  return () => {
    const at = waiting.indexOf(work)
    if (at >= 0) waiting.splice(at, 1)
  }
}
