import type { Correction } from '../documents/heights.ts'
import type { Mark, PatternProblem, Place, Run } from './drawing.ts'
import { mirrorMarks } from './mirror.ts'

/** A correction by hand reaches for ink no further away than this. */
const REACH_MM = 3

/**
 * Works corrections by hand into a drawing, one after the other.
 * @returns the marks as corrected, and a problem for each correction that found nothing to work on
 */
export function applyCorrections(
  marks: readonly Mark[],
  corrections: readonly Correction[],
): { marks: Mark[]; problems: PatternProblem[] } {
  let now = [...marks]
  const problems: PatternProblem[] = []
  corrections.forEach((correction, k) => {
    const next = correct(now, correction, k)
    if (next === undefined) problems.push(withoutEffect(correction, k))
    else now = next
  })
  return { marks: now, problems }
}

function correct(marks: readonly Mark[], correction: Correction, k: number): Mark[] | undefined {
  switch (correction.do) {
    case 'drop':
      return drop(marks, correction.at_mm)
    case 'join':
      return join(marks, correction.from_mm, correction.to_mm, `join-${k + 1}`)
    case 'move':
      return move(marks, correction.from_mm, correction.to_mm, correction.reach_mm)
    case 'mirror':
      return mirrorMarks(marks, correction.from_mm, correction.to_mm)
  }
}

function withoutEffect(correction: Correction, k: number): PatternProblem {
  const at_mm = correction.do === 'drop' ? correction.at_mm : correction.from_mm
  const what =
    correction.do === 'mirror'
      ? 'Nothing is drawn to the left of the mirror line, so there is nothing to mirror.'
      : correction.do === 'join'
        ? 'Both ends of the line to be joined fall on one place.'
        : `Nothing is drawn near the place to ${correction.do}.`
  return {
    kind: 'correction-without-effect',
    level: 'check',
    what,
    where: `corrections/${k}`,
    remedy: 'Take this correction out, or place it again on the drawing as it is now.',
    at_mm,
  }
}

const pointOf = (run: Run, k: number): Place => {
  const j = (k % (run.points.length / 2)) * 2
  return [run.points[j] as number, run.points[j + 1] as number]
}

const segmentsOf = (run: Run): number => Math.max(0, run.points.length / 2 - (run.closed ? 0 : 1))

interface Near {
  readonly mark: number
  readonly run: number
  readonly segment: number
  /** from the segment's start, 0 to 1 */
  readonly along: number
  readonly away: number
  readonly at: Place
}

function nearestOn(marks: readonly Mark[], [x, y]: Place, allow: (mark: Mark) => boolean): Near | undefined {
  let best: Near | undefined
  marks.forEach((mark, m) => {
    if (!allow(mark)) return
    mark.runs.forEach((run, r) => {
      for (let k = 0; k < segmentsOf(run); k += 1) {
        const [ax, ay] = pointOf(run, k)
        const [bx, by] = pointOf(run, k + 1)
        const [dx, dy] = [bx - ax, by - ay]
        const square = dx * dx + dy * dy
        const along = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
        const at: Place = [ax + along * dx, ay + along * dy]
        const away = Math.hypot(x - at[0], y - at[1])
        if (best === undefined || away < best.away) best = { mark: m, run: r, segment: k, along, away, at }
      }
    })
  })
  return best
}

/** The nearest line goes; of a filled shape its hole or, with its outside, the whole shape. */
function drop(marks: readonly Mark[], at: Place): Mark[] | undefined {
  const near = nearestOn(marks, at, () => true)
  const inside = marks.findLastIndex((mark) => mark.fill !== undefined && isInside(mark, at))
  if ((near === undefined || near.away > REACH_MM / 3) && inside >= 0)
    return marks.filter((_, m) => m !== inside)
  if (near === undefined || near.away > REACH_MM) return undefined
  const mark = marks[near.mark]
  const run = mark?.runs[near.run]
  if (mark === undefined || run === undefined) return undefined
  const isOutside = mark.fill !== undefined && mark.runs.every((other) => isWithin(other, run))
  const left = isOutside ? [] : mark.runs.filter((_, r) => r !== near.run)
  return marks.flatMap((each, m) =>
    m !== near.mark ? [each] : left.length > 0 ? [{ ...each, runs: left }] : [],
  )
}

function isInside(mark: Mark, [x, y]: Place): boolean {
  let inside = false
  for (const run of mark.runs)
    for (let k = 0; k < run.points.length / 2; k += 1) {
      const [ax, ay] = pointOf(run, k)
      const [bx, by] = pointOf(run, k + 1)
      if (ay <= y !== by <= y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside
    }
  return inside
}

function boxOf({ points }: Run): readonly [number, number, number, number] {
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let k = 0; k < points.length; k += 2) {
    left = Math.min(left, points[k] as number)
    right = Math.max(right, points[k] as number)
    low = Math.min(low, points[k + 1] as number)
    high = Math.max(high, points[k + 1] as number)
  }
  return [left, low, right, high]
}

function isWithin(inner: Run, outer: Run): boolean {
  const [a, b] = [boxOf(inner), boxOf(outer)]
  return a[0] >= b[0] && a[1] >= b[1] && a[2] <= b[2] && a[3] <= b[3]
}

/** A straight line between two places, each taken to the nearest line end or, failing that, the nearest line. */
function join(marks: readonly Mark[], from: Place, to: Place, id: string): Mark[] | undefined {
  const first = snap([...marks], from)
  const second = snap(first.marks, to)
  if (Math.hypot(first.at[0] - second.at[0], first.at[1] - second.at[1]) < 1e-3) return undefined
  const meets = ({ runs }: Mark): boolean =>
    runs.some(({ points }) => [first.at, second.at].some(([x, y]) => holds(points, x, y)))
  return [
    // a vein that is joined to something may bound a region
    ...second.marks.map(({ vein, ...mark }) => (vein && !meets(mark) ? { ...mark, vein } : mark)),
    {
      id,
      runs: [{ points: Float64Array.of(...first.at, ...second.at), closed: false }],
      line: true,
      joins: true,
    },
  ]
}

const holds = (points: Float64Array, x: number, y: number): boolean => {
  for (let i = 0; i < points.length; i += 2) if (points[i] === x && points[i + 1] === y) return true
  return false
}

function snap(marks: Mark[], place: Place): { marks: Mark[]; at: Place } {
  let end: { at: Place; away: number } | undefined
  for (const { runs } of marks)
    for (const run of runs) {
      if (run.closed || run.points.length < 2) continue
      for (const at of [pointOf(run, 0), pointOf(run, run.points.length / 2 - 1)]) {
        const away = Math.hypot(at[0] - place[0], at[1] - place[1])
        if (away <= REACH_MM && (end === undefined || away < end.away)) end = { at, away }
      }
    }
  const near = nearestOn(marks, place, (mark) => mark.line || mark.fill !== undefined)
  // an end a little further off is meant rather than the line's side
  if (end !== undefined && (near === undefined || end.away <= near.away + 0.5 * REACH_MM))
    return { marks, at: end.at }
  if (near === undefined || near.away > REACH_MM) return { marks, at: place }
  const mark = marks[near.mark]
  const run = mark?.runs[near.run]
  if (mark === undefined || run === undefined) return { marks, at: place }
  const [a, b] = [pointOf(run, near.segment), pointOf(run, near.segment + 1)]
  if (near.along < 1e-6) return { marks, at: a }
  if (near.along > 1 - 1e-6) return { marks, at: b }
  // the place becomes a point of the line, so that both lie on it exactly
  const points = new Float64Array(run.points.length + 2)
  const cut = (near.segment + 1) * 2
  points.set(run.points.subarray(0, cut))
  points.set(near.at, cut)
  points.set(run.points.subarray(cut), cut + 2)
  const runs = mark.runs.map((each, r) => (r === near.run ? { points, closed: run.closed } : each))
  return { marks: marks.map((each, m) => (m === near.mark ? { ...mark, runs } : each)), at: near.at }
}

/** Steps in which a line is divided where it is moved, so that it bends smoothly. */
const STEPS_IN_REACH = 10

/**
 * Draws the lines near one place along to another: wholly there, and less and less toward the reach.
 * Fall-off (1 - (d/r)^2)^2; it folds nothing over as long as the way is shorter than about 0.6 of the reach.
 */
function move(marks: readonly Mark[], from: Place, to: Place, reach: number): Mark[] | undefined {
  let some = false
  const [wayX, wayY] = [to[0] - from[0], to[1] - from[1]]
  const shifted = (x: number, y: number): Place => {
    const share = 1 - ((x - from[0]) ** 2 + (y - from[1]) ** 2) / reach ** 2
    if (share <= 0) return [x, y]
    some = true
    return [x + wayX * share * share, y + wayY * share * share]
  }
  const moved = marks.map((mark) => ({
    ...mark,
    runs: mark.runs.map((run): Run => {
      const points: number[] = []
      const count = run.points.length / 2
      for (let k = 0; k < count; k += 1) {
        const [ax, ay] = pointOf(run, k)
        points.push(...shifted(ax, ay))
        if (k >= segmentsOf(run)) continue
        const [bx, by] = pointOf(run, k + 1)
        if (awayFrom([ax, ay], [bx, by], from) >= reach) continue
        const parts = Math.ceil((Math.hypot(bx - ax, by - ay) * STEPS_IN_REACH) / reach)
        for (let part = 1; part < Math.min(parts, 4000); part += 1) {
          const t = part / Math.min(parts, 4000)
          const [x, y] = [ax + (bx - ax) * t, ay + (by - ay) * t]
          if (Math.hypot(x - from[0], y - from[1]) < reach) points.push(...shifted(x, y))
        }
      }
      return { points: Float64Array.from(points), closed: run.closed }
    }),
  }))
  return some ? moved : undefined
}

function awayFrom(a: Place, b: Place, place: Place): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const square = dx * dx + dy * dy
  const t = square === 0 ? 0 : ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / square
  const at = Math.min(1, Math.max(0, t))
  return Math.hypot(place[0] - a[0] - at * dx, place[1] - a[1] - at * dy)
}
