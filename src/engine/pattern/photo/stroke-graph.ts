/** Where strokes end or meet; in pixels of the straightened sheet. */
export interface Knot {
  x: number
  y: number
  /** half the ink's width here */
  depth: number
  /** set where two strokes meet in a point so sharp that their ink runs together: how far on the point lies */
  tip?: number
}

/** One stroke between two knots, x, y, x, y ... with both knots' places; without knots it is a closed ring. */
export interface Stroke {
  points: number[]
  from: Knot | null
  to: Knot | null
}

export class StrokeGraph {
  readonly strokes = new Set<Stroke>()
  readonly #at = new Map<Knot, Set<Stroke>>()

  add(stroke: Stroke): void {
    this.strokes.add(stroke)
    for (const knot of [stroke.from, stroke.to])
      if (knot !== null) this.#at.set(knot, (this.#at.get(knot) ?? new Set()).add(stroke))
  }

  remove(stroke: Stroke): void {
    this.strokes.delete(stroke)
    for (const knot of [stroke.from, stroke.to]) if (knot !== null) this.#at.get(knot)?.delete(stroke)
  }

  knots(): Knot[] {
    return [...this.#at].filter(([, strokes]) => strokes.size > 0).map(([knot]) => knot)
  }

  at(knot: Knot): Stroke[] {
    return [...(this.#at.get(knot) ?? [])]
  }

  /** How many stroke ends meet here; a stroke that begins and ends here counts twice. */
  degree(knot: Knot): number {
    return this.at(knot).reduce(
      (sum, { from, to }) => sum + (from === knot ? 1 : 0) + (to === knot ? 1 : 0),
      0,
    )
  }

  /** Joins the two strokes of a knot where nothing else meets; one whose own ends meet becomes a ring. */
  dissolve(knot: Knot): void {
    if (this.degree(knot) !== 2) return
    const [first, second] = this.at(knot)
    if (first === undefined) return
    if (second === undefined) {
      this.remove(first)
      this.add({ points: first.points.slice(0, -2), from: null, to: null })
      return
    }
    this.remove(first)
    this.remove(second)
    const before = first.to === knot ? first : reversed(first)
    const after = second.from === knot ? second : reversed(second)
    this.add({ points: [...before.points, ...after.points.slice(2)], from: before.from, to: after.to })
  }

  /** Brings several knots to one place; strokes among them vanish. */
  merge(knots: readonly Knot[], place: Knot): void {
    const old = new Set(knots)
    for (const stroke of new Set(knots.flatMap((knot) => this.at(knot)))) {
      this.remove(stroke)
      const starts = stroke.from !== null && old.has(stroke.from)
      const ends = stroke.to !== null && old.has(stroke.to)
      if (starts && ends && lengthOf(stroke.points) < 4 * place.depth) continue
      const points = stroke.points.slice()
      if (starts) points.splice(0, 2, place.x, place.y)
      if (ends) points.splice(-2, 2, place.x, place.y)
      this.add({ points, from: starts ? place : stroke.from, to: ends ? place : stroke.to })
    }
  }

  /** Cuts a stroke at its point `index` (0 is the first) and returns the knot made there. */
  split(stroke: Stroke, index: number, depth: number): Knot {
    const { points, from, to } = stroke
    const knot: Knot = { x: points[index * 2] as number, y: points[index * 2 + 1] as number, depth }
    this.remove(stroke)
    if (from === null || to === null) {
      const opened = [...points.slice(index * 2), ...points.slice(0, index * 2 + 2)]
      this.add({ points: opened, from: knot, to: knot })
      return knot
    }
    this.add({ points: points.slice(0, index * 2 + 2), from, to: knot })
    this.add({ points: points.slice(index * 2), from: knot, to })
    return knot
  }
}

export function reversed({ points, from, to }: Stroke): Stroke {
  const back: number[] = []
  for (let k = points.length - 2; k >= 0; k -= 2) back.push(points[k] as number, points[k + 1] as number)
  return { points: back, from: to, to: from }
}

export function lengthOf(points: readonly number[]): number {
  let sum = 0
  for (let k = 2; k < points.length; k += 2)
    sum += Math.hypot(
      (points[k] as number) - (points[k - 2] as number),
      (points[k + 1] as number) - (points[k - 1] as number),
    )
  return sum
}

/** The strokes of lines one pixel wide; places are the middles of pixels. */
export function strokesOf(lines: Uint8Array, depth: Float32Array, width: number): StrokeGraph {
  const graph = new StrokeGraph()
  const onLine: number[] = []
  for (let at = 0; at < lines.length; at += 1) if (lines[at] === 1) onLine.push(at)
  const neighbours = neighboursIn(lines, width)
  const knots = new Map<number, Knot>()
  for (const at of onLine)
    if (neighbours(at).length !== 2)
      knots.set(at, { x: (at % width) + 0.5, y: Math.floor(at / width) + 0.5, depth: depth[at] as number })
  const done = new Set<number>()
  const walked = new Uint8Array(lines.length)
  const walk = (from: number, first: number): number[] => {
    const path = [from, first]
    let [before, here] = [from, first]
    while (!knots.has(here) && here !== from) {
      walked[here] = 1
      const next = neighbours(here).find((at) => at !== before)
      if (next === undefined) break
      path.push(next)
      before = here
      here = next
    }
    return path
  }
  const placesOf = (path: readonly number[]): number[] =>
    path.flatMap((at) => [(at % width) + 0.5, Math.floor(at / width) + 0.5])
  for (const [start, knot] of knots)
    for (const first of neighbours(start)) {
      if (done.has(start * 9 + stepCode(first - start, width))) continue
      const path = walk(start, first)
      const [last = start, beforeLast = start] = [path.at(-1), path.at(-2)]
      done.add(start * 9 + stepCode(first - start, width))
      done.add(last * 9 + stepCode(beforeLast - last, width))
      graph.add({ points: placesOf(path), from: knot, to: knots.get(last) ?? knot })
    }
  for (const at of onLine) {
    if (walked[at] === 1 || knots.has(at)) continue
    const [first] = neighbours(at)
    if (first === undefined) continue
    walked[at] = 1
    const path = walk(at, first)
    graph.add({ points: placesOf(path.slice(0, -1)), from: null, to: null })
  }
  return graph
}

const stepCode = (step: number, width: number): number => {
  const row = Math.round(step / width)
  return (row + 1) * 3 + (step - row * width + 1)
}

/** Touching line pixels; corner to corner only where no pixel beside both links them already. */
function neighboursIn(lines: Uint8Array, width: number): (at: number) => number[] {
  return (at) => {
    const found: number[] = []
    for (const step of [-width, 1, width, -1]) if (lines[at + step] === 1) found.push(at + step)
    for (const [down, right] of [
      [-width, 1],
      [width, 1],
      [width, -1],
      [-width, -1],
    ] as const)
      if (lines[at + down + right] === 1 && lines[at + down] !== 1 && lines[at + right] !== 1)
        found.push(at + down + right)
    return found
  }
}

/**
 * Takes away what thinning adds: short spurs inside the ink's own width, the seam in the merged ink of a sharp
 * tip, and crossings split in two.
 */
export function tidyStrokes(graph: StrokeGraph): void {
  const spurs = [...graph.strokes]
    .filter((stroke) => spurOf(graph, stroke) !== undefined)
    .sort((a, b) => lengthOf(a.points) - lengthOf(b.points))
  for (const stroke of spurs) {
    // taking one spur may make a plain point of its base, and another then is the stroke's own end
    const spur = spurOf(graph, stroke)
    if (spur === undefined) continue
    const long = lengthOf(stroke.points)
    if (long + spur.end.depth <= 2 * spur.base.depth + 2) graph.remove(stroke)
    else if (isSeamOfTip(graph, stroke, spur)) {
      graph.remove(stroke)
      spur.base.tip = long
    }
  }
  for (const knot of graph.knots()) if (knot.tip === undefined) graph.dissolve(knot)
  for (const group of nearKnots(graph)) {
    const depth = Math.max(...group.map((knot) => knot.depth))
    const x = group.reduce((sum, knot) => sum + knot.x, 0) / group.length
    const y = group.reduce((sum, knot) => sum + knot.y, 0) / group.length
    graph.merge(group, { x, y, depth })
  }
  for (const knot of graph.knots()) if (knot.tip === undefined) graph.dissolve(knot)
}

interface Spur {
  readonly end: Knot
  readonly base: Knot
}

function spurOf(graph: StrokeGraph, { from, to }: Stroke): Spur | undefined {
  if (from === null || to === null || from === to) return undefined
  const [end, base] = graph.degree(from) === 1 ? [from, to] : [to, from]
  return graph.degree(end) === 1 && graph.degree(base) >= 3 ? { end, base } : undefined
}

/** Longest seam, in half widths of the ink where the strokes part. */
const LONGEST_SEAM = 5
const SHARPEST = Math.cos(Math.PI / 2.4)

/** Whether a spur is where the ink of two strokes, meeting at a sharp angle, has run together. */
function isSeamOfTip(graph: StrokeGraph, stroke: Stroke, { end, base }: Spur): boolean {
  if (end.depth > 0.8 * base.depth || lengthOf(stroke.points) > LONGEST_SEAM * base.depth) return false
  const far = 3 * base.depth
  const outward = headingFrom(stroke, base, far)
  const legs = graph
    .at(base)
    .filter((other) => other !== stroke)
    .map((other) => headingFrom(other, base, far))
  const isBehind = legs.every(([x, y]) => x * outward[0] + y * outward[1] < -0.6)
  const [one, two] = legs
  return isBehind && one !== undefined && two !== undefined && one[0] * two[0] + one[1] * two[1] > SHARPEST
}

function headingFrom(stroke: Stroke, knot: Knot, far: number): readonly [number, number] {
  const { points } = stroke.from === knot ? stroke : reversed(stroke)
  const k = Math.min(points.length / 2 - 1, Math.max(1, Math.round(far))) * 2
  const [x, y] = [(points[k] as number) - knot.x, (points[k + 1] as number) - knot.y]
  const length = Math.hypot(x, y) || 1
  return [x / length, y / length]
}

/** Groups of meeting places linked by strokes no longer than the ink is wide there. */
function nearKnots(graph: StrokeGraph): Knot[][] {
  const group = new Map<Knot, Knot[]>()
  for (const { from, to, points } of graph.strokes) {
    if (from === null || to === null || from === to) continue
    if (graph.degree(from) < 3 || graph.degree(to) < 3) continue
    if (lengthOf(points) > 1.2 * Math.max(from.depth, to.depth) + 1) continue
    const joined = [...new Set([...(group.get(from) ?? [from]), ...(group.get(to) ?? [to])])]
    for (const knot of joined) group.set(knot, joined)
  }
  return [...new Set(group.values())]
}
