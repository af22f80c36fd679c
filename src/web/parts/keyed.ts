/**
 * Rows with a key each: what a row is called, and which of those called alike it is. A row keeps its key when one
 * before it comes or goes, unless that one is called alike.
 */
export const keyed = <T>(
  rows: readonly T[],
  nameOf: (row: T) => string,
): readonly { readonly key: string; readonly row: T; readonly index: number }[] => {
  const met = new Map<string, number>()
  return rows.map((row, index) => {
    const name = nameOf(row)
    const before = met.get(name) ?? 0
    met.set(name, before + 1)
    return { key: `${name} ${before}`, row, index }
  })
}
