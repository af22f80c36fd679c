import type * as z from 'zod'

/** One thing wrong in a document, where, and what to do. */
export interface DocumentProblem {
  readonly where: string
  readonly what: string
  readonly remedy: string
}

export type Reading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly DocumentProblem[] }

const remedyFor = (code: string): string => {
  switch (code) {
    case 'unrecognized_keys':
      return 'take the key out, or check its spelling against the published schema'
    case 'too_small':
    case 'too_big':
      return 'give a value inside the range named'
    case 'invalid_type':
      return 'give a value of the kind named; numbers are written without quotation marks'
    default:
      return 'compare with the published schema'
  }
}

const flatten = (issues: readonly z.core.$ZodIssue[], at: readonly PropertyKey[]): DocumentProblem[] =>
  issues.flatMap((issue) => {
    const path = [...at, ...issue.path]
    if (issue.code === 'invalid_union' && issue.errors.length > 0) {
      // the branch that got furthest into the document is the one the writer meant
      const best = [...issue.errors].sort(
        (a, b) =>
          Math.max(...b.map((inner) => inner.path.length), 0) -
            Math.max(...a.map((inner) => inner.path.length), 0) || a.length - b.length,
      )[0]
      if (best !== undefined && best.length > 0) return flatten(best, path)
    }
    return [
      {
        where: `/${path.map(String).join('/')}`,
        what: issue.message.replace(/^Invalid input: /, ''),
        remedy: remedyFor(issue.code),
      },
    ]
  })

/** Reads a JSON value against a schema: the document, or everything wrong with it at once. */
export const readDocument = <T>(schema: z.ZodType<T>, value: unknown): Reading<T> => {
  const result = schema.safeParse(value)
  return result.success
    ? { ok: true, value: result.data }
    : { ok: false, problems: flatten(result.error.issues, []) }
}
