import type { Knot, Stroke, StrokeGraph } from './stroke-graph.ts'

/** What the ink's darkness says of a stroke's true middle. */
export interface InkField {
  readonly share: Float32Array
  readonly width: number
  readonly height: number
  readonly depth: Float32Array
}

export interface LineFacts {
  /** median width of the strokes, pixels; undefined where there are none */
  readonly width_px: number | undefined
  /** how far the width wanders from place to place, pixels (standard deviation) */
  readonly widthWander_px: number
}

/**
 * Moves strokes from pixel middles to the true middle of the ink: half way between the two places across the
 * stroke where the darkness has fallen by half. Near meetings, where one side is missing, it keeps the course of
 * what lies next to it. Then corners and meetings blunted by thinning are made sharp again.
 */
export function refineStrokes(graph: StrokeGraph, field: InkField): LineFacts {
  const widths: number[] = []
  for (const stroke of graph.strokes) {
    if (stroke.points.length < 10) continue
    soften(stroke, 6)
    centre(stroke, field, widths)
    soften(stroke, 4)
    centre(stroke, field, [])
    soften(stroke, 8)
  }
  widths.sort((a, b) => a - b)
  const width_px = widths[widths.length >> 1]
  if (width_px === undefined) return { width_px, widthWander_px: 0 }
  const low = widths[Math.floor(widths.length * 0.16)] ?? width_px
  const high = widths[Math.floor(widths.length * 0.84)] ?? width_px
  const half = width_px / 2
  for (const stroke of graph.strokes) sharpenCorners(stroke, half)
  for (const knot of graph.knots()) sharpenMeeting(graph, knot, half)
  for (const knot of graph.knots()) graph.dissolve(knot)
  return { width_px, widthWander_px: (high - low) / 2 }
}

const valueAt = ({ share, width, height }: InkField, x: number, y: number): number => {
  const px = Math.min(width - 1.001, Math.max(0, x - 0.5))
  const py = Math.min(height - 1.001, Math.max(0, y - 0.5))
  const left = px | 0
  const top = py | 0
  const fx = px - left
  const at = top * width + left
  const upper = (share[at] as number) * (1 - fx) + (share[at + 1] as number) * fx
  const lower = (share[at + width] as number) * (1 - fx) + (share[at + width + 1] as number) * fx
  return upper + (lower - upper) * (py - top)
}

/** How far from a place, along a direction, the darkness has fallen by half; NaN where it does not within `far`. */
function halfWay(field: InkField, x: number, y: number, dx: number, dy: number, level: number, far: number) {
  let before = valueAt(field, x, y)
  if (before >= level) return Number.NaN
  for (let t = 0.5; t <= far; t += 0.5) {
    const here = valueAt(field, x + dx * t, y + dy * t)
    if (here >= level) return t - (0.5 * (here - level)) / (here - before)
    before = here
  }
  return Number.NaN
}

function centre(stroke: Stroke, field: InkField, widths: number[]): void {
  const { points } = stroke
  const n = points.length / 2
  const isRing = stroke.from === null
  const index = (k: number): number => (isRing ? (k + n) % n : Math.min(n - 1, Math.max(0, k)))
  const shifts = new Float64Array(n)
  const across = new Float64Array(n)
  const known = new Uint8Array(n)
  const normals = new Float64Array(n * 2)
  for (let k = 0; k < n; k += 1) {
    const [a, b] = [index(k - 2), index(k + 2)]
    const tx = (points[b * 2] as number) - (points[a * 2] as number)
    const ty = (points[b * 2 + 1] as number) - (points[a * 2 + 1] as number)
    const length = Math.hypot(tx, ty)
    if (length === 0) continue
    const [nx, ny] = [-ty / length, tx / length]
    normals[k * 2] = nx
    normals[k * 2 + 1] = ny
    const [x, y] = [points[k * 2] as number, points[k * 2 + 1] as number]
    const depth = field.depth[Math.floor(y) * field.width + Math.floor(x)] ?? 0
    const level = (1 + valueAt(field, x, y)) / 2
    const far = 1.8 * depth + 3
    const plus = halfWay(field, x, y, nx, ny, level, far)
    const minus = halfWay(field, x, y, -nx, -ny, level, far)
    if (!(Math.abs(plus - minus) <= 2 * depth + 2)) continue
    known[k] = 1
    shifts[k] = (plus - minus) / 2
    across[k] = plus + minus
  }
  const sorted = across.filter((_, k) => known[k] === 1).sort()
  const usual = sorted[sorted.length >> 1]
  if (usual === undefined) return
  for (let k = 0; k < n; k += 1) {
    if ((across[k] as number) > 1.35 * usual) known[k] = 0
    else if (known[k] === 1) widths.push(across[k] as number)
  }
  bridge(shifts, known, isRing)
  const first = isRing ? 0 : 1
  for (let k = first; k < n - first; k += 1) {
    points[k * 2] = (points[k * 2] as number) + (shifts[k] as number) * (normals[k * 2] as number)
    points[k * 2 + 1] = (points[k * 2 + 1] as number) + (shifts[k] as number) * (normals[k * 2 + 1] as number)
  }
}

/** Fills unknown values between known ones along a straight line; at the ends of an open stroke they fade to 0. */
function bridge(values: Float64Array, known: Uint8Array, isRing: boolean): void {
  const n = values.length
  if (!known.includes(1)) return
  const start = isRing ? known.indexOf(1) : 0
  const at = (k: number): number => (isRing ? k % n : k)
  let last = isRing ? start : -1
  for (let k = start; k <= start + (isRing ? n : n); k += 1) {
    const isEnd = !isRing && k === n
    if (!isEnd && (at(k) >= n || known[at(k)] === 0)) continue
    const before = last < 0 ? 0 : (values[at(last)] as number)
    const after = isEnd ? 0 : (values[at(k)] as number)
    for (let j = last + 1; j < k; j += 1)
      values[at(j)] = before + ((after - before) * (j - last)) / (k - last)
    last = k
  }
}

/**
 * Takes the small steps out of a line without shrinking it; the ends stay.
 * Source: Taubin 1995, curve and surface smoothing without shrinkage.
 */
function soften(stroke: Stroke, passes: number): void {
  const { points } = stroke
  const n = points.length / 2
  const isRing = stroke.from === null
  if (n < 5) return
  for (let pass = 0; pass < passes * 2; pass += 1) {
    const share = pass % 2 === 0 ? 0.5 : -0.52
    const from = points.slice()
    for (let k = isRing ? 0 : 1; k < (isRing ? n : n - 1); k += 1) {
      const [a, b] = [((k + n - 1) % n) * 2, ((k + 1) % n) * 2]
      for (let axis = 0; axis < 2; axis += 1) {
        const here = from[k * 2 + axis] as number
        const middle = ((from[a + axis] as number) + (from[b + axis] as number)) / 2
        points[k * 2 + axis] = here + share * (middle - here)
      }
    }
  }
}

/** A straight line through points by least squares: a place on it and its direction. */
interface Course {
  readonly x: number
  readonly y: number
  readonly dx: number
  readonly dy: number
  /** greatest distance of a point from it */
  readonly off: number
}

function courseOf(points: readonly (readonly [number, number])[]): Course | undefined {
  if (points.length < 4) return undefined
  const x = points.reduce((sum, p) => sum + p[0], 0) / points.length
  const y = points.reduce((sum, p) => sum + p[1], 0) / points.length
  let [xx, xy, yy] = [0, 0, 0]
  for (const [px, py] of points) {
    xx += (px - x) ** 2
    xy += (px - x) * (py - y)
    yy += (py - y) ** 2
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)]
  const off = Math.max(...points.map(([px, py]) => Math.abs((px - x) * dy - (py - y) * dx)))
  return { x, y, dx, dy, off }
}

/** Thinning cuts a corner by up to this many half widths; the course is read beyond it. */
const CUT = 1.3
const READ = 2.2
const LEAST_TURN = Math.PI / 5

/** Puts a sharp corner back where two courses of a stroke meet at an angle that its own curve does not explain. */
function sharpenCorners(stroke: Stroke, half: number): void {
  const { points } = stroke
  const n = points.length / 2
  const isRing = stroke.from === null
  const cut = Math.max(2, Math.round(CUT * half))
  const read = Math.max(5, Math.round(READ * half))
  const reach = cut + read
  if (n < 2 * reach + 3) return
  const at = (k: number): readonly [number, number] => {
    const j = isRing ? ((k % n) + n) % n : k
    return [points[j * 2] as number, points[j * 2 + 1] as number]
  }
  const heading = (k: number, l: number): number => {
    const [a, b] = [at(k), at(l)]
    return Math.atan2(b[1] - a[1], b[0] - a[0])
  }
  const turn = (from: number, to: number): number => {
    const angle = to - from
    return Math.atan2(Math.sin(angle), Math.cos(angle))
  }
  const sharpness = new Float64Array(n)
  for (let k = isRing ? 0 : reach; k < (isRing ? n : n - reach); k += 1) {
    const mid = (read / 2) | 0
    const within = Math.abs(turn(heading(k - reach, k - cut), heading(k + cut, k + reach)))
    const own =
      Math.abs(turn(heading(k - reach, k - reach + mid), heading(k - reach + mid, k - cut))) +
      Math.abs(turn(heading(k + cut, k + cut + mid), heading(k + cut + mid, k + reach)))
    // the legs' own bend, carried over the way from the middle of one to the middle of the other
    const bend = (own / read) * (2 * cut + read)
    if (within > LEAST_TURN && within > 1.6 * bend) sharpness[k] = within
  }
  const corners: number[] = []
  for (let k = 0; k < n; k += 1) {
    const here = sharpness[k] as number
    if (here === 0) continue
    let isTop = true
    for (let j = k - reach; j <= k + reach && isTop; j += 1) {
      const other = sharpness[isRing ? ((j % n) + n) % n : Math.min(n - 1, Math.max(0, j))] as number
      isTop = other < here || (other === here && j >= k)
    }
    if (isTop) corners.push(k)
  }
  for (const k of corners) {
    const legs = [
      courseOf(Array.from({ length: read }, (_, j) => at(k - cut - j))),
      courseOf(Array.from({ length: read }, (_, j) => at(k + cut + j))),
    ]
    const [one, two] = legs
    if (one === undefined || two === undefined) continue
    const tip = crossing([one, two], at(k), 0)
    if (tip === undefined || Math.hypot(tip[0] - at(k)[0], tip[1] - at(k)[1]) > 4 * half + 2) continue
    const [start, end] = [at(k - cut), at(k + cut)]
    for (let j = -cut + 1; j < cut; j += 1) {
      const share = j <= 0 ? (j + cut) / cut : (cut - j) / cut
      const foot = j <= 0 ? start : end
      const to = isRing ? (((k + j) % n) + n) % n : k + j
      points[to * 2] = foot[0] + (tip[0] - foot[0]) * share
      points[to * 2 + 1] = foot[1] + (tip[1] - foot[1]) * share
    }
  }
}

/**
 * The place nearest to all courses, held weakly to where it was found.
 * @param hold  weight of the old place against one course; 0 lets it go free
 */
function crossing(
  courses: readonly Course[],
  place: readonly [number, number],
  hold: number,
): [number, number] | undefined {
  let [a, b, c, p, q] = [hold, 0, hold, hold * place[0], hold * place[1]]
  for (const { x, y, dx, dy } of courses) {
    const [nx, ny] = [-dy, dx]
    const along = nx * x + ny * y
    a += nx * nx
    b += nx * ny
    c += ny * ny
    p += nx * along
    q += ny * along
  }
  const span = a * c - b * b
  if (!(span > 1e-3)) return undefined
  return [(c * p - b * q) / span, (a * q - b * p) / span]
}

/** Brings a meeting of strokes to where their courses, read away from the thickened ink, meet. */
function sharpenMeeting(graph: StrokeGraph, knot: Knot, half: number): void {
  if (graph.degree(knot) < (knot.tip === undefined ? 3 : 2)) return
  const cut = Math.max(2, Math.round(CUT * Math.max(half, knot.depth)))
  const read = Math.max(5, Math.round(READ * half))
  const courses: Course[] = []
  for (const stroke of graph.at(knot))
    for (const isStart of [true, false]) {
      if ((isStart ? stroke.from : stroke.to) !== knot) continue
      const n = stroke.points.length / 2
      if (n < cut + 6) continue
      const leg: [number, number][] = []
      for (let k = cut; k < Math.min(n - 1, cut + read); k += 1) {
        const j = isStart ? k : n - 1 - k
        leg.push([stroke.points[j * 2] as number, stroke.points[j * 2 + 1] as number])
      }
      const course = courseOf(leg)
      if (course !== undefined && course.off < half * 0.6 + 1) courses.push(course)
    }
  if (courses.length < 2) return
  const place = crossing(courses, [knot.x, knot.y], knot.tip === undefined ? 0.02 : 0)
  if (place === undefined) return
  const farthest = 2 * Math.max(half, knot.depth) + 2 + (knot.tip ?? 0)
  if (Math.hypot(place[0] - knot.x, place[1] - knot.y) > farthest) return
  knot.x = place[0]
  knot.y = place[1]
  for (const stroke of graph.at(knot)) {
    const n = stroke.points.length / 2
    const legs = Math.min(cut, Math.floor(n / 2))
    for (const isStart of [true, false]) {
      if ((isStart ? stroke.from : stroke.to) !== knot) continue
      const at = (k: number): number => (isStart ? k : n - 1 - k) * 2
      const [footX, footY] = [stroke.points[at(legs)] as number, stroke.points[at(legs) + 1] as number]
      for (let k = 0; k < legs; k += 1) {
        stroke.points[at(k)] = place[0] + ((footX - place[0]) * k) / legs
        stroke.points[at(k) + 1] = place[1] + ((footY - place[1]) * k) / legs
      }
    }
  }
}

/**
 * Leaves out points that lie within `off` of the line between their neighbours; ends and corners stay.
 * Source: Douglas and Peucker 1973.
 */
export function thinOut(points: readonly number[], off: number, isRing: boolean): number[] {
  const n = points.length / 2
  if (n < 3) return points.slice()
  const keep = new Uint8Array(n + 1)
  const at = (k: number, axis: number): number => points[(k % n) * 2 + axis] as number
  const stack: [number, number][] = []
  if (isRing) {
    let far = 0
    for (let k = 1; k < n; k += 1)
      if (
        Math.hypot(at(k, 0) - at(0, 0), at(k, 1) - at(0, 1)) >
        Math.hypot(at(far, 0) - at(0, 0), at(far, 1) - at(0, 1))
      )
        far = k
    keep[0] = 1
    keep[far] = 1
    stack.push([0, far], [far, n])
  } else {
    keep[0] = 1
    keep[n - 1] = 1
    stack.push([0, n - 1])
  }
  while (stack.length > 0) {
    const [from, to] = stack.pop() as [number, number]
    const [ax, ay] = [at(from, 0), at(from, 1)]
    const [dx, dy] = [at(to, 0) - ax, at(to, 1) - ay]
    const length = Math.hypot(dx, dy)
    let worst = off
    let worstAt = -1
    for (let k = from + 1; k < to; k += 1) {
      const [px, py] = [at(k, 0) - ax, at(k, 1) - ay]
      const away = length === 0 ? Math.hypot(px, py) : Math.abs(px * dy - py * dx) / length
      if (away > worst) {
        worst = away
        worstAt = k
      }
    }
    if (worstAt < 0) continue
    keep[worstAt] = 1
    stack.push([from, worstAt], [worstAt, to])
  }
  const out: number[] = []
  for (let k = 0; k < n; k += 1) if (keep[k] === 1) out.push(at(k, 0), at(k, 1))
  return out
}
