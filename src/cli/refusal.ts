import type { DocumentProblem } from '../engine/documents/index.ts'

/** Bad input, found before anything was planned: exit status 2, a one-line reason, and all of it as JSON. */
export class Refusal extends Error {
  readonly problems: readonly DocumentProblem[]
  constructor(problems: readonly DocumentProblem[]) {
    const [first] = problems
    const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : ''
    super(first === undefined ? 'bad input' : `${first.where}: ${first.what}; ${first.remedy}${more}`)
    this.problems = problems
  }
}

export const refuse = (where: string, what: string, remedy: string): never => {
  throw new Refusal([{ where, what, remedy }])
}
