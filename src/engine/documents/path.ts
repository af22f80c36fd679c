/** A document path: `/pieces/0/source/mass_g`, as in RFC 6901. */
const parts = (path: string): string[] =>
  path
    .split('/')
    .slice(1)
    .map((part) => (part.includes('~') ? part.replaceAll('~1', '/').replaceAll('~0', '~') : part))

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

export const readPath = (document: unknown, path: string): unknown =>
  parts(path).reduce<unknown>((at, part) => (isRecord(at) ? at[part] : undefined), document)

/**
 * A copy of the document with one value changed; everything off the path is shared with the original. A
 * stated number keeps its source: a plain number given for it replaces the value and moves its interval along.
 */
export const withPath = <T>(document: T, path: string, value: unknown): T => {
  const change = (at: unknown, rest: readonly string[]): unknown => {
    const [part, ...deeper] = rest
    if (part === undefined) {
      if (typeof value === 'number' && isRecord(at) && typeof at.value === 'number') {
        const moved = value - at.value
        const along = (bound: unknown): unknown => (typeof bound === 'number' ? bound + moved : bound)
        return {
          ...at,
          value,
          ...('low' in at && { low: along(at.low) }),
          ...('high' in at && { high: along(at.high) }),
        }
      }
      return value
    }
    if (Array.isArray(at))
      return at.map((item, index) => (String(index) === part ? change(item, deeper) : item))
    const record = isRecord(at) ? at : {}
    if (deeper.length === 0 && value === undefined) {
      const { [part]: _removed, ...kept } = record
      return kept
    }
    return { ...record, [part]: change(record[part], deeper) }
  }
  return change(document, parts(path)) as T
}
