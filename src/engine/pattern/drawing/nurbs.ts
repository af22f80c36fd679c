import { type Affine, movedX, movedY } from './affine.ts'
import { CHORD_MM, FINEST_CHORD_MM, type Pen, TURN } from './flatten.ts'

export interface Nurbs {
  readonly degree: number
  readonly knots: readonly number[]
  readonly points: readonly (readonly [number, number])[]
  /** one for each point, all above zero */
  readonly weights: readonly number[]
}

/** What keeps these numbers from being a curve; undefined when nothing does. */
export const faultOf = ({ degree, knots, points, weights }: Nurbs): string | undefined => {
  if (!Number.isInteger(degree) || degree < 1 || degree > 25) return 'its degree is not between 1 and 25'
  if (points.length <= degree) return 'it has too few control points'
  if (knots.length !== points.length + degree + 1) return 'its knots and control points do not fit together'
  if (weights.length !== points.length) return 'its weights and control points do not fit together'
  if (![...knots, ...weights, ...points.flat()].every(Number.isFinite))
    return 'it has values that are no numbers'
  if (weights.some((weight) => weight <= 0)) return 'a weight is not above zero'
  if (knots.some((knot, i) => i > 0 && knot < (knots[i - 1] as number))) return 'its knots run backward'
  if (!((knots[degree] as number) < (knots[points.length] as number))) return 'it has no length of parameter'
  return undefined
}

/** A point of the curve, by de Boor's algorithm on weighted points; `span` holds t: knots[span] <= t <= knots[span + 1]. */
const pointAt = ({ degree, knots, points, weights }: Nurbs, span: number, t: number): [number, number] => {
  const d = Array.from({ length: degree + 1 }, (_, j): [number, number, number] => {
    const at = span - degree + j
    const [x, y] = points[at] as readonly [number, number]
    const w = weights[at] as number
    return [x * w, y * w, w]
  })
  for (let r = 1; r <= degree; r += 1)
    for (let j = degree; j >= r; j -= 1) {
      const from = knots[j + span - degree] as number
      const to = knots[j + 1 + span - r] as number
      const share = to === from ? 0 : (t - from) / (to - from)
      const [a, b] = [d[j - 1], d[j]] as [[number, number, number], [number, number, number]]
      d[j] = [
        (1 - share) * a[0] + share * b[0],
        (1 - share) * a[1] + share * b[1],
        (1 - share) * a[2] + share * b[2],
      ]
    }
  const [x, y, w] = d[degree] as [number, number, number]
  return [x / w, y / w]
}

const DEEPEST = 14
/** Up to this degree, that of most drawings, looking at a point counts as one. */
const EASY_DEGREE = 3
/** Places between the ends of a piece at which it is looked at. */
const SHARES = [0.25, 0.5, 0.75]

/**
 * Points along the curve in its own numbers, ends included. Each knot span is halved until three points
 * between the ends of a piece lie within the chord error, and the turn, after scaling; four pieces to a span at least. What is
 * worked out on the way is counted by the pen, by the square of the degree as de Boor's algorithm has it.
 */
export const flattenNurbs = (curve: Nurbs, to_mm: Affine, pen: Pick<Pen, 'spend'>): [number, number][] => {
  const { degree, knots, points } = curve
  const flat: [number, number][] = []
  const inMm = ([x, y]: readonly [number, number]): [number, number] => [
    movedX(to_mm, x, y),
    movedY(to_mm, x, y),
  ]
  const strays = (a: [number, number], b: [number, number], c: [number, number]): boolean => {
    const [dx, dy] = [c[0] - a[0], c[1] - a[1]]
    const long = Math.hypot(dx, dy)
    const off =
      long < CHORD_MM / 10
        ? Math.hypot(b[0] - a[0], b[1] - a[1])
        : Math.abs((b[0] - a[0]) * dy - (b[1] - a[1]) * dx) / long
    // A piece that turns by an angle strays from its chord by an eighth of that angle times its length.
    const within = Math.min(CHORD_MM, Math.max(FINEST_CHORD_MM, (TURN / 8) * long))
    return off > within * 0.9
  }
  const halve = (
    span: number,
    t0: number,
    p0: [number, number],
    t1: number,
    p1: [number, number],
    depth: number,
  ): void => {
    pen.spend(SHARES.length * Math.max(1, (degree / EASY_DEGREE) ** 2))
    const between = SHARES.map((share) => pointAt(curve, span, t0 + share * (t1 - t0)))
    const [a, c] = [inMm(p0), inMm(p1)]
    if (depth >= DEEPEST || !between.some((point) => strays(a, inMm(point), c))) {
      flat.push(p1)
      return
    }
    const middle = between[1] as [number, number]
    halve(span, t0, p0, (t0 + t1) / 2, middle, depth + 1)
    halve(span, (t0 + t1) / 2, middle, t1, p1, depth + 1)
  }
  for (let span = degree; span < points.length; span += 1) {
    const [t0, t1] = [knots[span] as number, knots[span + 1] as number]
    if (!(t1 > t0)) continue
    let before = pointAt(curve, span, t0)
    if (flat.length === 0) flat.push(before)
    for (let i = 1; i <= 4; i += 1) {
      pen.spend(Math.max(1, (degree / EASY_DEGREE) ** 2))
      const after = pointAt(curve, span, t0 + ((t1 - t0) * i) / 4)
      halve(span, t0 + ((t1 - t0) * (i - 1)) / 4, before, t0 + ((t1 - t0) * i) / 4, after, 0)
      before = after
    }
  }
  return flat
}
