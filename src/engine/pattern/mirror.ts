import type { Mark, Place, Run } from './drawing.ts'

const IMAGE = '-mirrored'

/** The id of the half that an image was made from; the id itself where it is no image. */
export const halfOf = (id: string): string => (id.endsWith(IMAGE) ? id.slice(0, -IMAGE.length) : id)

/** A point this near the mirror line lies on it. */
const ON_LINE_MM = 1e-6

/**
 * Keeps what lies to the left of the line from one place to another and mirrors it to the right. Lines that
 * cross are cut on the line and go on as their own image, so that a crossing outline comes out closed.
 * @returns undefined where nothing lies to the left, or the two places are one
 */
export function mirrorMarks(marks: readonly Mark[], from: Place, to: Place): Mark[] | undefined {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1])
  if (long < 1e-3) return undefined
  const axis: Axis = { from, dx: (to[0] - from[0]) / long, dy: (to[1] - from[1]) / long }
  const out = marks.flatMap((mark) => mirrorMark(mark, axis))
  return out.length > 0 ? out : undefined
}

interface Axis {
  readonly from: Place
  readonly dx: number
  readonly dy: number
}

/** A part of a run on the left; `starts` and `ends` say which of its ends lie on the line. */
interface Part {
  readonly points: number[]
  readonly starts: boolean
  readonly ends: boolean
}

function mirrorMark(mark: Mark, axis: Axis): Mark[] {
  const whole: Run[] = []
  const across: Run[] = []
  for (const run of mark.runs) {
    const sides = sidesOf(run, axis)
    if (sides.every((side) => side >= 0) && (run.closed || (sides.at(0) !== 0 && sides.at(-1) !== 0))) {
      const halves = run.closed ? partsOffAxis(run, sides, axis) : []
      if (halves.length > 0) across.push(...halves.map((part) => withImage(part, axis)))
      else if (sides.some((side) => side > 0)) whole.push(run)
      else across.push(run)
      continue
    }
    for (const part of partsOnLeft(run, sides, axis)) across.push(withImage(part, axis))
  }
  const images = whole.map((run) => ({ points: imageOf([...run.points], axis), closed: run.closed }))
  if (across.length > 0) return [{ ...mark, runs: [...across, ...whole, ...images] }]
  if (whole.length === 0) return []
  return [
    { ...mark, runs: whole },
    { ...mark, id: `${mark.id}${IMAGE}`, runs: images },
  ]
}

/** Distance to the left of the line, point by point; to the right is negative. */
function sidesOf({ points }: Run, { from, dx, dy }: Axis): number[] {
  const sides: number[] = []
  for (let k = 0; k < points.length; k += 2) {
    const side = dx * ((points[k + 1] as number) - from[1]) - dy * ((points[k] as number) - from[0])
    sides.push(Math.abs(side) < ON_LINE_MM ? 0 : side)
  }
  return sides
}

/** A half that is closed along the mirror line, without its sides on it: none where it has no side there. */
function partsOffAxis({ points }: Run, sides: readonly number[], axis: Axis): Part[] {
  const count = sides.length
  const isOnAxis = (k: number): boolean => sides[k % count] === 0 && sides[(k + 1) % count] === 0
  const first = sides.findIndex((_, k) => isOnAxis(k) && !isOnAxis(k + 1))
  if (first < 0) return []
  const parts: Part[] = []
  let part: number[] = []
  for (let step = 1; step <= count; step += 1) {
    const k = (first + step) % count
    part.push(...ontoAxisIf(sides[k] === 0, [points[k * 2] as number, points[k * 2 + 1] as number], axis))
    if (!isOnAxis(k)) continue
    if (part.length >= 6) parts.push({ points: part, starts: true, ends: true })
    part = []
  }
  return parts
}

function partsOnLeft(run: Run, sides: readonly number[], axis: Axis): Part[] {
  const count = sides.length
  const start = run.closed
    ? Math.max(
        0,
        sides.findIndex((side) => side < 0),
      )
    : 0
  const parts: Part[] = []
  let points: number[] | undefined
  let starts = false
  const finish = (ends: boolean): void => {
    if (points !== undefined && points.length >= 4) parts.push({ points, starts, ends })
    points = undefined
  }
  const steps = run.closed ? count + 1 : count
  for (let step = 0; step < steps; step += 1) {
    const k = (start + step) % count
    const [x, y] = [run.points[k * 2] as number, run.points[k * 2 + 1] as number]
    const side = sides[k] as number
    if (step > 0) {
      const before = (start + step - 1) % count
      const was = sides[before] as number
      if (was * side < 0) {
        const t = was / (was - side)
        const [bx, by] = [run.points[before * 2] as number, run.points[before * 2 + 1] as number]
        const cut = ontoAxis([bx + (x - bx) * t, by + (y - by) * t], axis)
        if (side > 0) {
          points = [...cut]
          starts = true
        } else {
          points?.push(...cut)
          finish(true)
        }
      }
    }
    if (side < 0) {
      finish(points !== undefined && (sides[(start + step - 1 + count) % count] as number) === 0)
      continue
    }
    if (points === undefined) {
      points = []
      starts = side === 0
    }
    points.push(...(side === 0 ? ontoAxis([x, y], axis) : [x, y]))
  }
  finish((sides[(start + steps - 1) % count] as number) === 0)
  // a line that only touches from the right leaves nothing
  return parts.filter((part) => lengthOf(part.points) > ON_LINE_MM)
}

function withImage({ points, starts, ends }: Part, axis: Axis): Run {
  const image = [...imageOf(points, axis)]
  const liesOnAxis = points.every(
    (value, k) => Math.abs(value - (image[image.length - 2 - (k & ~1) + (k & 1)] ?? 0)) < ON_LINE_MM,
  )
  if (liesOnAxis || (!starts && !ends)) return { points: Float64Array.from(points), closed: false }
  if (starts && ends) return { points: Float64Array.from([...points, ...image.slice(2, -2)]), closed: true }
  if (ends) return { points: Float64Array.from([...points, ...image.slice(2)]), closed: false }
  return { points: Float64Array.from([...image, ...points.slice(2)]), closed: false }
}

/** Mirrored, in the opposite order, so that what ran anticlockwise still does. */
function imageOf(points: readonly number[], { from, dx, dy }: Axis): Float64Array {
  const out = new Float64Array(points.length)
  for (let k = 0; k < points.length; k += 2) {
    const [x, y] = [(points[k] as number) - from[0], (points[k + 1] as number) - from[1]]
    const along = 2 * (x * dx + y * dy)
    out.set([from[0] + along * dx - x, from[1] + along * dy - y], points.length - 2 - k)
  }
  return out
}

const ontoAxisIf = (isOn: boolean, place: Place, axis: Axis): Place => (isOn ? ontoAxis(place, axis) : place)

function ontoAxis([x, y]: Place, { from, dx, dy }: Axis): Place {
  const along = (x - from[0]) * dx + (y - from[1]) * dy
  return [from[0] + along * dx, from[1] + along * dy]
}

function lengthOf(points: readonly number[]): number {
  let sum = 0
  for (let k = 2; k < points.length; k += 2)
    sum += Math.hypot(
      (points[k] as number) - (points[k - 2] as number),
      (points[k + 1] as number) - (points[k - 1] as number),
    )
  return sum
}
