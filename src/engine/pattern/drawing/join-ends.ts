import type { Mark, Run } from '../drawing.ts'
import { turned } from '../loops.ts'

interface Piece {
  readonly mark: number
  readonly points: Float64Array
}

interface End {
  readonly piece: number
  readonly atStart: boolean
  readonly x: number
  readonly y: number
}

export interface Joined {
  readonly marks: readonly Mark[]
  /** wider than rounding, and how wide the widest was */
  readonly gaps: number
  readonly widest_mm: number
}

/** Ends nearer than this were meant to be the same point. */
const ROUNDING_MM = 2e-4

/**
 * Chains single open runs end to end into one mark, named after the first of them in the file. Two ends are
 * joined where they lie within `join_mm` and no third end does; where three meet they stay as they are.
 */
export const joinEnds = (marks: readonly Mark[], join_mm: number): Joined => {
  const pieces: Piece[] = []
  marks.forEach(({ runs }, mark) => {
    const [run] = runs
    if (runs.length === 1 && run !== undefined && !run.closed) pieces.push({ mark, points: run.points })
  })
  const ends = pieces.flatMap(({ points }, piece): End[] => [
    { piece, atStart: true, x: points[0] as number, y: points[1] as number },
    { piece, atStart: false, x: points.at(-2) as number, y: points.at(-1) as number },
  ])
  const partner = partnersOf(ends, join_mm)
  const endOf = (piece: number, atStart: boolean): number => 2 * piece + (atStart ? 0 : 1)
  const done = new Set<number>()
  const chained = new Map<number, Run>()
  const absorbed = new Set<number>()
  let gaps = 0
  let widest_mm = 0
  pieces.forEach((piece, first) => {
    if (done.has(first)) return
    // Back to the beginning of its chain, or once round when it is closed.
    let [at, fromStart] = [first, true]
    for (let steps = 0; steps < pieces.length; steps += 1) {
      const back = partner.get(endOf(at, fromStart))
      if (back === undefined) break
      const { piece: before, atStart } = ends[back] as End
      if (before === first && atStart === false) break
      at = before
      fromStart = !atStart
    }
    const points: number[] = []
    let closed = false
    const members: number[] = []
    for (;;) {
      done.add(at)
      const here = pieces[at] as Piece
      members.push(here.mark)
      const path = fromStart ? here.points : turned(here.points)
      const gap = points.length === 0 ? 0 : apart(points, points.length - 2, path)
      // Where the ends are one point already it is put once.
      append(points, path, points.length > 0 && gap <= ROUNDING_MM ? 2 : 0)
      const next = partner.get(endOf(at, !fromStart))
      if (next === undefined) break
      const { piece: after, atStart, x, y } = ends[next] as End
      const width = Math.hypot((points.at(-2) as number) - x, (points.at(-1) as number) - y)
      if (width > ROUNDING_MM) {
        gaps += 1
        widest_mm = Math.max(widest_mm, width)
      }
      if (done.has(after)) {
        closed = true
        if (width <= ROUNDING_MM && points.length > 6) points.splice(points.length - 2)
        break
      }
      at = after
      fromStart = atStart
    }
    const owner = members.reduce((least, mark) => Math.min(least, mark))
    for (const mark of members) if (mark !== owner) absorbed.add(mark)
    if (members.length > 1 || closed) chained.set(owner, { points: Float64Array.from(points), closed })
    else chained.set(owner, { points: piece.points, closed: false })
  })
  return {
    marks: marks.flatMap((mark, index): Mark[] => {
      if (absorbed.has(index)) return []
      const run = chained.get(index)
      return run === undefined ? [mark] : [{ ...mark, runs: [run] }]
    }),
    gaps,
    widest_mm,
  }
}

const append = (points: number[], path: Float64Array, from: number): void => {
  for (let i = from; i < path.length; i += 1) points.push(path[i] as number)
}

const apart = (points: readonly number[], at: number, path: Float64Array): number =>
  Math.hypot((points[at] as number) - (path[0] as number), (points[at + 1] as number) - (path[1] as number))

/** By end: the one other end that it meets. Ends at one point come first; only what meets none looks farther. */
const partnersOf = (ends: readonly End[], join_mm: number): Map<number, number> => {
  const partner = new Map<number, number>()
  const all = ends.map((_, index) => index)
  const meeting = nearOnes(ends, all, ROUNDING_MM)
  pair(ends, meeting, partner)
  const alone = all.filter((index) => meeting.get(index)?.length === 0)
  if (join_mm > ROUNDING_MM) pair(ends, nearOnes(ends, alone, join_mm), partner)
  return partner
}

const pair = (
  ends: readonly End[],
  near: ReadonlyMap<number, readonly number[]>,
  partner: Map<number, number>,
): void => {
  for (const [index, found] of near) {
    const [other] = found
    if (other === undefined || found.length > 1 || near.get(other)?.length !== 1) continue
    // A short line's own two ends lie near one another without closing anything.
    if (ends[index]?.piece !== ends[other]?.piece) partner.set(index, other)
  }
}

/** By end: the others within reach, at most three of them. */
const nearOnes = (ends: readonly End[], among: readonly number[], reach: number): Map<number, number[]> => {
  const cells = new Map<string, number[]>()
  const cell = (value: number): number => Math.floor(value / reach)
  for (const index of among) {
    const { x, y } = ends[index] as End
    const key = `${cell(x)} ${cell(y)}`
    const known = cells.get(key)
    if (known === undefined) cells.set(key, [index])
    else known.push(index)
  }
  const near = new Map<number, number[]>()
  for (const index of among) {
    const { x, y } = ends[index] as End
    const found: number[] = []
    for (let i = -1; i <= 1; i += 1)
      for (let j = -1; j <= 1; j += 1)
        for (const other of cells.get(`${cell(x) + i} ${cell(y) + j}`) ?? []) {
          const { x: ox, y: oy } = ends[other] as End
          if (other !== index && found.length < 3 && Math.hypot(ox - x, oy - y) <= reach) found.push(other)
        }
    near.set(index, found)
  }
  return near
}
