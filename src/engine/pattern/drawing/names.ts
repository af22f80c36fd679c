import type { Mark } from '../drawing.ts'

const LONGEST = 80
const short = (value: number): string => (Math.round(value * 10) / 10 + 0).toFixed(1)

/**
 * The id of something drawn without one: what it is, where its middle lies and how large it is, to a tenth of
 * a millimetre. A count would shift when something else is drawn before it; this stays.
 */
export const idByPlace = (kind: string, runs: Mark['runs']): string => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { points } of runs)
    for (let i = 0; i < points.length; i += 2) {
      minX = Math.min(minX, points[i] as number)
      maxX = Math.max(maxX, points[i] as number)
      minY = Math.min(minY, points[i + 1] as number)
      maxY = Math.max(maxY, points[i + 1] as number)
    }
  return `${kind}@${short((minX + maxX) / 2)},${short((minY + maxY) / 2)}:${short(maxX - minX)}x${short(maxY - minY)}`
}

/** Shortens ids, and tells apart those that come twice, in paint order. */
export const tellApart = (marks: readonly Mark[]): Mark[] => {
  const times = new Map<string, number>()
  return marks.map((mark) => {
    const id = mark.id.slice(0, LONGEST)
    const time = (times.get(id) ?? 0) + 1
    times.set(id, time)
    return { ...mark, id: time === 1 ? id : `${id}~${time}` }
  })
}
