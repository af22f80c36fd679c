/** Longest id that a HEIGHTS document holds, less room for a number behind it. */
const LONGEST = 110
const MARKS_NAMED = 3

export interface Unnamed {
  readonly name: string
  readonly area_mm2: number
  readonly at: readonly [number, number]
}

/** The name of a face that several lines enclose together: the lines, whatever their order in the file. */
export const nameOfLines = (ids: Iterable<string>): string => {
  const sorted = [...new Set(ids)].sort()
  const shown = sorted.slice(0, MARKS_NAMED).join('+')
  return sorted.length > MARKS_NAMED ? `${shown}+${sorted.length - MARKS_NAMED}` : shown
}

/**
 * Ids by face: its name, and where several share one, `name`, `name/2`, `name/3` from the largest down; of
 * equal ones the higher first, then the one further left. A face elsewhere doesn't change them.
 */
export const idsOf = (faces: readonly Unnamed[]): string[] => {
  const ids = faces.map(() => '')
  const taken = new Set<string>()
  const rank = faces
    .map((face, index) => ({ ...face, index, name: face.name.slice(0, LONGEST) }))
    .sort((a, b) => {
      const size = Math.round(b.area_mm2 * 1e3) - Math.round(a.area_mm2 * 1e3)
      const height = Math.round(b.at[1] * 1e3) - Math.round(a.at[1] * 1e3)
      return size || height || a.at[0] - b.at[0]
    })
  const times = new Map<string, number>()
  // Plain names go first, so that a drawn id that looks like a numbered one keeps its own.
  for (const face of rank) {
    if (taken.has(face.name)) continue
    taken.add(face.name)
    ids[face.index] = face.name
  }
  for (const { name, index } of rank) {
    if (ids[index] !== '') continue
    let next = (times.get(name) ?? 1) + 1
    while (taken.has(`${name}/${next}`)) next += 1
    times.set(name, next)
    taken.add(`${name}/${next}`)
    ids[index] = `${name}/${next}`
  }
  return ids
}
