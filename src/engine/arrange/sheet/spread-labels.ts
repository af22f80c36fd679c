import type { Flat } from './silhouette.ts'

/**
 * Places in a row for labels that want to stand at these places, each at least `apart` from the next, none moved
 * farther than it must be: neighbours that would meet are put in one block about the middle of what they want.
 */
export const spreadApart = (
  wanted: readonly number[],
  apart: number,
  low: number,
  high: number,
): number[] => {
  const order = wanted.map((at, index) => ({ at, index })).sort((a, b) => a.at - b.at || a.index - b.index)
  const blocks: { sum: number; count: number }[] = []
  order.forEach(({ at }, k) => {
    let block = { sum: at - k * apart, count: 1 }
    for (
      let last = blocks.at(-1);
      last !== undefined && last.sum / last.count > block.sum / block.count;
      last = blocks.at(-1)
    ) {
      blocks.pop()
      block = { sum: block.sum + last.sum, count: block.count + last.count }
    }
    blocks.push(block)
  })
  const most = Math.max(low, high - (wanted.length - 1) * apart)
  const spread = blocks.flatMap(({ sum, count }) =>
    Array.from({ length: count }, () => Math.min(most, Math.max(low, sum / count))),
  )
  const places: number[] = []
  order.forEach(({ index }, k) => {
    places[index] = (spread[k] ?? 0) + k * apart
  })
  return places
}

/** The same round a ring, in degrees: cut open where the labels leave the widest gap. */
export const spreadRound = (wanted: readonly number[], apart: number): number[] => {
  const sorted = [...wanted].sort((a, b) => a - b)
  const [first = 0] = sorted
  let [cut, widest] = [first, -1]
  sorted.forEach((at, k) => {
    const next = sorted[k + 1] ?? first + 360
    if (next - at > widest) [cut, widest] = [next, next - at]
  })
  const opened = wanted.map((at) => (at - cut + 720) % 360)
  const close = Math.min(apart, 360 / Math.max(1, wanted.length))
  const low = -widest / 2
  return spreadApart(opened, close, low, low + 360 - close).map((at) => (at + cut + 720) % 360)
}

const apartBy = ([x, y]: Flat, [u, v]: Flat): number => Math.hypot(u - x, v - y)

/**
 * The same places, given to the labels so that no two of their leaders cross: two that cross are longer together than
 * with their places changed, so they are changed as long as that shortens any two, which comes to an end.
 */
export const uncrossed = (places: readonly Flat[], ends: readonly Flat[]): Flat[] => {
  const given = [...places]
  for (let changed = true; changed; ) {
    changed = false
    for (let one = 0; one < given.length; one += 1)
      for (let other = 0; other < one; other += 1) {
        const [a, b, to, there] = [given[one], given[other], ends[one], ends[other]]
        if (a === undefined || b === undefined || to === undefined || there === undefined) continue
        if (apartBy(b, to) + apartBy(a, there) > apartBy(a, to) + apartBy(b, there) - 1e-9) continue
        given[one] = b
        given[other] = a
        changed = true
      }
  }
  return given
}
