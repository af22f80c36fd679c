import type { Knot, Stroke, StrokeGraph } from './stroke-graph.ts'

export interface Joined {
  readonly x: number
  readonly y: number
  readonly gap: number
}

/** A stroke end that meets nothing: how far the next ink is, infinite where none is near. */
export interface LooseEnd {
  readonly knot: Knot
  readonly nearest: number
}

/**
 * Draws a line from a stroke's loose end to the nearest other ink where the paper between is at most `most` wide.
 * @param near  how far the other ends look for ink that they nearly meet
 * @returns what was joined, and the ends still loose, all in pixels
 */
export function joinGaps(
  graph: StrokeGraph,
  most: number,
  near: number,
  ground: InkGround,
  isLoose: (knot: Knot) => boolean,
): { joined: Joined[]; loose: LooseEnd[] } {
  const joined: Joined[] = []
  const search = new InkSearch(graph, ground)
  const looseEnds = (): Knot[] => graph.knots().filter((knot) => graph.degree(knot) === 1 && isLoose(knot))
  for (let isDone = false; !isDone; ) {
    const found = looseEnds()
      .map((knot) => ({ knot, target: search.nearest(knot, most) }))
      .filter((each): each is { knot: Knot; target: Target } => each.target !== undefined)
      .sort((a, b) => a.target.gap - b.target.gap)
    isDone = true
    for (const { knot, target } of found) {
      // an earlier join of this round may have used this end, or cut the stroke it was to reach
      if (graph.degree(knot) !== 1 || !graph.strokes.has(target.stroke)) continue
      isDone = false
      const [ax, ay] = [knot.x, knot.y]
      const meets = knotOf(graph, target)
      joined.push({ x: (ax + meets.x) / 2, y: (ay + meets.y) / 2, gap: Math.max(0, target.gap) })
      graph.add({ points: straight(ax, ay, meets.x, meets.y), from: knot, to: meets })
      graph.dissolve(knot)
      graph.dissolve(meets)
    }
  }
  const loose = looseEnds().map((knot) => ({ knot, nearest: search.nearest(knot, near)?.gap ?? Infinity }))
  return { joined, loose }
}

/** What lies on the sheet, in its pixels. */
export interface InkGround {
  /** half the ink's width at a stroke's point */
  depthAt(x: number, y: number): number
  /** how much of the straight way between two places is bare paper */
  paperBetween(ax: number, ay: number, bx: number, by: number): number
}

interface Target {
  readonly stroke: Stroke
  readonly index: number
  readonly gap: number
  readonly rank: number
}

class InkSearch {
  readonly #boxes = new WeakMap<Stroke, readonly [number, number, number, number, number]>()

  constructor(
    private readonly graph: StrokeGraph,
    private readonly ground: InkGround,
  ) {}

  /** The nearest stroke point, over at most `most` of paper, that is not simply the end's own way back. */
  nearest(knot: Knot, most: number): Target | undefined {
    const [own] = this.graph.at(knot)
    if (own === undefined) return undefined
    const isStart = own.from === knot
    let best: Target | undefined
    for (const stroke of this.graph.strokes) {
      const [left, top, right, bottom, deepest] = this.#box(stroke)
      // thinning may draw an end back by its own depth
      const reach = most + 2 * knot.depth + deepest + 2
      if (knot.x < left - reach || knot.x > right + reach || knot.y < top - reach || knot.y > bottom + reach)
        continue
      const n = stroke.points.length / 2
      for (let j = 0; j < n; j += 1) {
        const index = stroke === own && !isStart ? n - 1 - j : j
        const [x, y] = [stroke.points[index * 2] as number, stroke.points[index * 2 + 1] as number]
        const away = Math.hypot(x - knot.x, y - knot.y)
        // along its own stroke an end is near itself: there the way round must be far longer than the way across
        if (away > reach || (stroke === own && j < Math.max(2.5 * away, 6 * knot.depth))) continue
        const isEnd =
          (index === 0 && isLooseAt(this.graph, stroke.from)) ||
          (index === n - 1 && isLooseAt(this.graph, stroke.to))
        const gap = this.ground.paperBetween(knot.x, knot.y, x, y)
        // without paper between it is the same ink already
        if (gap > most || gap < 0.5) continue
        // an end is preferred to the side of a stroke a little nearer
        const rank = gap + 0.1 * away - (isEnd ? 0.6 * knot.depth : 0)
        if (best === undefined || rank < best.rank) best = { stroke, index, gap, rank }
      }
    }
    return best
  }

  #box(stroke: Stroke): readonly [number, number, number, number, number] {
    const known = this.#boxes.get(stroke)
    if (known !== undefined) return known
    let [left, top, right, bottom, deepest] = [Infinity, Infinity, -Infinity, -Infinity, 0]
    for (let k = 0; k < stroke.points.length; k += 2) {
      const [x, y] = [stroke.points[k] as number, stroke.points[k + 1] as number]
      left = Math.min(left, x)
      right = Math.max(right, x)
      top = Math.min(top, y)
      bottom = Math.max(bottom, y)
      deepest = Math.max(deepest, this.ground.depthAt(x, y))
    }
    const box = [left, top, right, bottom, deepest] as const
    this.#boxes.set(stroke, box)
    return box
  }
}

const isLooseAt = (graph: StrokeGraph, knot: Knot | null): boolean =>
  knot !== null && graph.degree(knot) === 1

function knotOf(graph: StrokeGraph, { stroke, index }: Target): Knot {
  const last = stroke.points.length / 2 - 1
  if (index === 0 && stroke.from !== null) return stroke.from
  if (index === last && stroke.to !== null) return stroke.to
  return graph.split(stroke, index, 0)
}

function straight(ax: number, ay: number, bx: number, by: number): number[] {
  const steps = Math.max(1, Math.round(Math.hypot(bx - ax, by - ay)))
  const points: number[] = []
  for (let k = 0; k <= steps; k += 1) points.push(ax + ((bx - ax) * k) / steps, ay + ((by - ay) * k) / steps)
  return points
}
