import { readPath, withPath } from '../../engine/documents/path.ts'

const isStated = (
  value: unknown,
): value is { value: number; low?: number; high?: number; source?: string; measured?: string } =>
  typeof value === 'object' && value !== null && 'value' in value && typeof value.value === 'number'

/** A stated value that only marks an empty place: what the caster types there needs no range of it. */
const PLACEHOLDER = 'not yet set'

/**
 * The document with one value changed by the caster. A number typed over a stated one is theirs from then
 * on: its range moves along, and the old source, which spoke of the old value, goes. The very document where the
 * value is what stands there already: that is no step to undo.
 */
export const changed = <T>(document: T, path: string, value: unknown): T => {
  const at = readPath(document, path)
  if (Object.is(at, value)) return document
  if (typeof value !== 'number' || !isStated(at)) return withPath(document, path, value)
  if (at.source === PLACEHOLDER) return withPath(withPath(document, path, undefined), path, value)
  const moved = withPath(document, path, value)
  const withoutSource = withPath(moved, `${path}/source`, undefined)
  return withPath(withoutSource, `${path}/measured`, undefined)
}

/** Splits `/shop/rules/x` into the document it stands in and the place inside that document. */
export const placeOf = (path: string): { in: 'shop' | 'pour'; inside: string } => ({
  in: path.startsWith('/shop') ? 'shop' : 'pour',
  inside: path.replace(/^\/(shop|pour)/, ''),
})
