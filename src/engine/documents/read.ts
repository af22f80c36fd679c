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

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
  record: 'an object',
}

const COMPARE = 'compare with the published schema'

/** A schema's finding as a person says it: what is wrong with the value, and what to do. */
export const issueInWords = (issue: z.core.$ZodIssue): Pick<DocumentProblem, 'what' | 'remedy'> => {
  switch (issue.code) {
    case 'invalid_type': {
      const kind = KINDS[issue.expected] ?? `of the kind ${issue.expected}`
      return issue.message.endsWith('received undefined')
        ? { what: 'is missing', remedy: `give ${kind}` }
        : { what: `is not ${kind}`, remedy: `give ${kind}; numbers are written without quotation marks` }
    }
    case 'too_small':
      return issue.origin === 'number' || issue.origin === 'int'
        ? {
            what: `must be ${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}`,
            remedy: 'look at the figure and its unit, which is in the key',
          }
        : { what: `needs at least ${issue.minimum}`, remedy: 'fill it in' }
    case 'too_big':
      return issue.origin === 'number' || issue.origin === 'int'
        ? {
            what: `must be ${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}`,
            remedy: 'look at the figure and its unit, which is in the key',
          }
        : { what: `holds more than ${issue.maximum}`, remedy: 'shorten it' }
    case 'unrecognized_keys':
      return {
        what: `has a key that is not known: ${issue.keys.join(', ')}`,
        remedy: 'take it out, or check its spelling against the published schema',
      }
    case 'invalid_value':
      return { what: `is none of ${issue.values.map(String).join(', ')}`, remedy: 'give one of those' }
    case 'invalid_format':
      return issue.format === 'datetime'
        ? { what: 'is not a time with its offset', remedy: 'write it as 2030-11-14T15:30:00-07:00' }
        : { what: 'is not written as it should be', remedy: formatRemedy(issue.pattern) }
    case 'custom':
      return { what: issue.message, remedy: String(issue.params?.remedy ?? COMPARE) }
    default:
      return {
        what: 'is not as it should be',
        remedy: COMPARE,
      }
  }
}

const formatRemedy = (pattern: string | undefined): string =>
  pattern?.includes('[0-5]\\d')
    ? 'write a time of day as 15:30'
    : pattern?.includes('A-Z')
      ? 'write a currency as three capitals, such as USD'
      : COMPARE

/** What one row of such a list is called. */
const ROWS: Readonly<Record<string, string>> = { pieces: 'piece' }

const textAt = (row: unknown, key: string): string | undefined => {
  const found = typeof row === 'object' && row !== null ? (row as Record<string, unknown>)[key] : undefined
  return typeof found === 'string' && found.trim() !== '' ? found.trim() : undefined
}

/** "quantity of Tag (piece 3)", where the path leads into a list whose rows have names; undefined elsewhere. */
const subjectOf = (document: unknown, path: readonly PropertyKey[]): string | undefined => {
  let at = document
  for (const [index, key] of path.entries()) {
    const list = path[index - 1]
    const isRow = Array.isArray(at) && typeof key === 'number' && typeof list === 'string'
    at = typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined
    if (!isRow) continue
    const called = textAt(at, 'name') ?? textAt(at, 'id')
    const row = ROWS[list]
    if (called === undefined && row === undefined) continue
    const number = `${row ?? list} ${key + 1}`
    const whose = called === undefined ? number : `${called} (${number})`
    const rest = path.slice(index + 1).map((one) => (typeof one === 'number' ? String(one + 1) : String(one)))
    return rest.length === 0 ? whose : `${rest.join(' ')} of ${whose}`
  }
  return undefined
}

/** The finding with what it is about named in its own words; a sentence of its own follows a colon. */
const told = (document: unknown, path: readonly PropertyKey[], issue: z.core.$ZodIssue): DocumentProblem => {
  const { what, remedy } = issueInWords(issue)
  const subject = subjectOf(document, path)
  return {
    where: `/${path.map(String).join('/')}`,
    what: subject === undefined ? what : `${subject}${issue.code === 'custom' ? ':' : ''} ${what}`,
    remedy,
  }
}

const flatten = (
  document: unknown,
  issues: readonly z.core.$ZodIssue[],
  at: readonly PropertyKey[],
): DocumentProblem[] =>
  issues.flatMap((issue) => {
    const path = [...at, ...issue.path]
    if (issue.code === 'invalid_union' && issue.errors.length > 0) {
      // the branch that got furthest into the document is the one the writer meant
      const best = [...issue.errors].sort(
        (a, b) =>
          Math.max(...b.map((inner) => inner.path.length), 0) -
            Math.max(...a.map((inner) => inner.path.length), 0) || a.length - b.length,
      )[0]
      if (best !== undefined && best.length > 0) return flatten(document, best, path)
    }
    return [told(document, path, issue)]
  })

/** Reads a JSON value against a schema: the document, or everything wrong with it at once. */
export const readDocument = <T>(schema: z.ZodType<T>, value: unknown): Reading<T> => {
  const result = schema.safeParse(value)
  return result.success
    ? { ok: true, value: result.data }
    : { ok: false, problems: flatten(value, result.error.issues, []) }
}
