import type { Edge } from './arrangement.ts'
import { squaredDistanceToSegment } from './loops.ts'
import type { Seen } from './visible.ts'

/** Where a visible line ends without meeting anything, in grid steps. */
export interface FreeEnd {
  readonly x: number
  readonly y: number
  readonly edge: number
  readonly mark: number
  /** length of the piece that ends here */
  readonly long: number
}

/** A straight line that would close an opening. */
export interface Join {
  readonly from: FreeEnd
  readonly x: number
  readonly y: number
  readonly apart: number
  /** the other free end, when it closes on one */
  readonly to?: FreeEnd
}

const lengthOf = (path: Float64Array): number => {
  let sum = 0
  for (let i = 2; i < path.length; i += 2)
    sum += Math.hypot(
      (path[i] as number) - (path[i - 2] as number),
      (path[i + 1] as number) - (path[i - 1] as number),
    )
  return sum
}

export const freeEndsOf = (edges: readonly Edge[], seen: readonly Seen[]): FreeEnd[] => {
  const meets = new Map<number, number>()
  const showing = edges.flatMap((edge, index) => (seen[index]?.edge ? [{ edge, index }] : []))
  for (const { edge } of showing)
    for (const node of [edge.from, edge.to]) meets.set(node, (meets.get(node) ?? 0) + 1)
  return showing.flatMap(({ edge, index }) => {
    const { path } = edge
    const long = lengthOf(path)
    const mark = edge.lines[0] ?? -1
    return [
      { node: edge.from, at: 0 },
      { node: edge.to, at: path.length - 2 },
    ]
      .filter(({ node }) => meets.get(node) === 1)
      .map(({ at }) => ({ x: path[at] as number, y: path[at + 1] as number, edge: index, mark, long }))
  })
}

/** More free ends than this are not looked at one by one. */
export const ENDS_AT_MOST = 4000

/**
 * The nearest thing that each free end could close on: another free end, or a line it stops short of. A line
 * within `near` of an end is looked for; ends are looked for wherever they lie. Nearest pairs come first.
 */
export const closeEnds = (
  ends: readonly FreeEnd[],
  edges: readonly Edge[],
  seen: readonly Seen[],
  near: number,
): Join[] => {
  const joins: Join[] = []
  ends.slice(0, ENDS_AT_MOST).forEach((from, n) => {
    let best: Join | undefined
    ends.slice(0, ENDS_AT_MOST).forEach((to, m) => {
      if (m === n) return
      const apart = Math.hypot(to.x - from.x, to.y - from.y)
      if (best === undefined || apart < best.apart) best = { from, x: to.x, y: to.y, apart, to }
    })
    const line = nearestLine(from, edges, seen, Math.min(near, best?.apart ?? near))
    if (line !== undefined) best = line
    if (best !== undefined) joins.push(best)
  })
  joins.sort((a, b) => a.apart - b.apart || a.from.x - b.from.x || a.from.y - b.from.y)
  const used = new Set<FreeEnd>()
  return joins.filter(({ from, to }) => {
    if (used.has(from) || (to !== undefined && used.has(to))) return false
    used.add(from)
    if (to !== undefined) used.add(to)
    return true
  })
}

const nearestLine = (
  from: FreeEnd,
  edges: readonly Edge[],
  seen: readonly Seen[],
  within: number,
): Join | undefined => {
  let least = within * within
  let best: Join | undefined
  edges.forEach(({ path }, index) => {
    // Its own piece always lies beside it; closing on that would enclose nothing.
    if (index === from.edge || !seen[index]?.edge) return
    for (let i = 2; i < path.length; i += 2) {
      const [ax, ay] = [path[i - 2] as number, path[i - 1] as number]
      const [bx, by] = [path[i] as number, path[i + 1] as number]
      if (Math.min(ax, bx) - from.x > within || from.x - Math.max(ax, bx) > within) continue
      if (Math.min(ay, by) - from.y > within || from.y - Math.max(ay, by) > within) continue
      const squared = squaredDistanceToSegment(from.x, from.y, ax, ay, bx, by)
      if (squared >= least) continue
      least = squared
      const span = (bx - ax) ** 2 + (by - ay) ** 2
      const share = Math.min(1, Math.max(0, ((from.x - ax) * (bx - ax) + (from.y - ay) * (by - ay)) / span))
      const x = Math.round(ax + share * (bx - ax))
      const y = Math.round(ay + share * (by - ay))
      best = { from, x, y, apart: Math.sqrt(squared) }
    }
  })
  return best
}
