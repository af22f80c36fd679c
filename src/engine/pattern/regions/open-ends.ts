import type { Edge } from './arrangement.ts'
import { boxOf, squaredDistanceToSegment } from './loops.ts'
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

/** Squares along the longer side of the drawing. */
const SQUARES = 256
/** More free ends than this are not looked at one by one. */
const ENDS_AT_MOST = 4000

/**
 * The nearest thing that each free end could close on, nearest first: another free end, wherever it lies, or
 * a line within `offer` that it stops short of. Within `join` several ends may close on one.
 */
export const closeEnds = (
  ends: readonly FreeEnd[],
  edges: readonly Edge[],
  seen: readonly Seen[],
  { join, offer }: { readonly join: number; readonly offer: number },
): Join[] => {
  if (ends.length === 0) return []
  const findLine = lineFinder(edges, seen, offer)
  const joins: Join[] = []
  ends.slice(0, ENDS_AT_MOST).forEach((from, n) => {
    let best: Join | undefined
    ends.slice(0, ENDS_AT_MOST).forEach((to, m) => {
      if (m === n) return
      const apart = Math.hypot(to.x - from.x, to.y - from.y)
      if (best === undefined || apart < best.apart) best = { from, x: to.x, y: to.y, apart, to }
    })
    const line = findLine(from, Math.min(offer, best?.apart ?? offer))
    if (line !== undefined) best = line
    if (best !== undefined) joins.push(best)
  })
  joins.sort((a, b) => a.apart - b.apart || a.from.x - b.from.x || a.from.y - b.from.y)
  const used = new Set<FreeEnd>()
  return joins.filter(({ from, to, apart }) => {
    // Several ends may be joined to one that is near; a wide gap is offered between two ends of their own.
    if (used.has(from) || (to !== undefined && used.has(to) && apart > join)) return false
    used.add(from)
    if (to !== undefined) used.add(to)
    return true
  })
}

/** The nearest visible line within a distance of an end; undefined where there is none. */
type FindLine = (from: FreeEnd, within: number) => Join | undefined

/** Segments are sorted into squares, so that an end looks only at those near it. */
const lineFinder = (edges: readonly Edge[], seen: readonly Seen[], near: number): FindLine => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { path } of edges) {
    const box = boxOf(path)
    minX = Math.min(minX, box.minX)
    minY = Math.min(minY, box.minY)
    maxX = Math.max(maxX, box.maxX)
    maxY = Math.max(maxY, box.maxY)
  }
  const square = Math.max(near, (maxX - minX) / SQUARES, (maxY - minY) / SQUARES, 1)
  const column = (x: number): number => Math.floor((x - minX) / square)
  const row = (y: number): number => Math.floor((y - minY) / square)
  const squares = new Map<number, number[]>()
  edges.forEach(({ path }, index) => {
    if (!seen[index]?.edge) return
    for (let i = 2; i < path.length; i += 2) {
      const [ax, ay] = [path[i - 2] as number, path[i - 1] as number]
      const [bx, by] = [path[i] as number, path[i + 1] as number]
      for (let c = column(Math.min(ax, bx)); c <= column(Math.max(ax, bx)); c += 1)
        for (let r = row(Math.min(ay, by)); r <= row(Math.max(ay, by)); r += 1) {
          const key = c * 4 * SQUARES + r
          const known = squares.get(key)
          if (known === undefined) squares.set(key, [index, i])
          else known.push(index, i)
        }
    }
  })
  return (from, within) => {
    let least = within * within
    let best: Join | undefined
    const look = (index: number, i: number): void => {
      // Its own piece always lies beside it; closing on that would enclose nothing.
      if (index === from.edge) return
      const { path } = edges[index] as Edge
      const [ax, ay] = [path[i - 2] as number, path[i - 1] as number]
      const [bx, by] = [path[i] as number, path[i + 1] as number]
      const squared = squaredDistanceToSegment(from.x, from.y, ax, ay, bx, by)
      if (squared >= least) return
      least = squared
      const span = (bx - ax) ** 2 + (by - ay) ** 2
      const share = Math.min(1, Math.max(0, ((from.x - ax) * (bx - ax) + (from.y - ay) * (by - ay)) / span))
      const x = Math.round(ax + share * (bx - ax))
      const y = Math.round(ay + share * (by - ay))
      best = { from, x, y, apart: Math.sqrt(squared) }
    }
    for (let c = column(from.x - within); c <= column(from.x + within); c += 1)
      for (let r = row(from.y - within); r <= row(from.y + within); r += 1) {
        const here = squares.get(c * 4 * SQUARES + r) ?? []
        for (let n = 0; n < here.length; n += 2) look(here[n] as number, here[n + 1] as number)
      }
    return best
  }
}
