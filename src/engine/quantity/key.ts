/** JSON with sorted keys, so that equal documents give equal text. */
export const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`
  if (typeof value === 'object' && value !== null) {
    const fields = Object.entries(value)
      .filter(([, field]) => field !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .map(([name, field]) => `${JSON.stringify(name)}:${canonical(field)}`)
    return `{${fields.join(',')}}`
  }
  return JSON.stringify(value) ?? 'null'
}

/**
 * A short key for a slow result's inputs: FNV-1a run twice over the canonical text, 64 bits in hex. It
 * tells stale from fresh; it is no guard against forgery.
 */
export const keyOf = (value: unknown): string => {
  const text = canonical(value)
  let first = 0x811c9dc5
  let second = 0xcbf29ce4
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index)
    first = Math.imul(first ^ code, 0x01000193)
    second = Math.imul(second ^ (code + index), 0x01000193)
  }
  return [first, second].map((half) => (half >>> 0).toString(16).padStart(8, '0')).join('')
}
