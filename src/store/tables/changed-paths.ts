const isBranch = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

/** The places at which two documents differ, as document paths; a place that is a whole branch in one only
 * counts once. */
export const changedPaths = (before: unknown, after: unknown, at = ''): string[] => {
  if (Object.is(before, after)) return []
  if (!isBranch(before) || !isBranch(after) || Array.isArray(before) !== Array.isArray(after)) return [at]
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])]
  return names.flatMap((name) => changedPaths(before[name], after[name], `${at}/${name}`))
}
