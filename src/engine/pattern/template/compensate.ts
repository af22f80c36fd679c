import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts'
import { patternLength } from '../../physics/density.ts'
import type { Loop, PatternProblem, Place, Region } from '../drawing.ts'
import { signedArea } from '../loops.ts'
import { RimIndex } from './rim-index.ts'

/** How far the wax is drawn over the casting. Shares of the wax size, as the alloy's own shrink is. */
export interface ShrinkOver {
  /** 0 to 0.1; 0 draws at the finished size */
  readonly shrink: number
  /** nine in ten of castings shrink between these */
  readonly shrinkLow?: number
  readonly shrinkHigh?: number
}

export interface Compensation extends ShrinkOver {
  /** filed off all round the outline and inside every opening, 0 to 2 mm */
  readonly finish_mm: number
}

/** One region as it is cut in wax: millimetres, y up. */
export interface WaxRegion {
  readonly id: string
  readonly outer: Loop
  readonly holes: readonly Loop[]
  readonly at_mm: Place
}

export interface WaxLines {
  /** wax size over cast size */
  readonly scale: number
  readonly regions: readonly WaxRegion[]
  /** the rim of the wax: outside loops anticlockwise, openings clockwise */
  readonly outline: readonly Loop[]
  /** lines between regions, each once; a run may be open */
  readonly inner: readonly { readonly points: Float64Array; readonly closed: boolean; readonly id: string }[]
  /** lines that divide nothing, to be cut as lines; open */
  readonly veins: readonly Float64Array[]
  readonly problems: readonly PatternProblem[]
}

/** Decimals of a millimetre in which loops are joined. */
const DECIMALS = 4
/** What counts as lying on the rim, mm: the joining's last place, doubled and rounded up. */
const ON_RIM = 3e-4
/** Slivers left by the last place, mm2. */
const SLIVER = 1e-3

const pathOf = (points: Loop): { x: number; y: number }[] =>
  Array.from({ length: points.length / 2 }, (_, i) => ({ x: points[2 * i] ?? 0, y: points[2 * i + 1] ?? 0 }))

const loopOf = (path: readonly { x: number; y: number }[]): Loop =>
  Float64Array.from(path.flatMap(({ x, y }) => [x, y]))

/** The rim of everything that is not cut through, as drawn. */
export const rimOf = (regions: readonly Region[], through: ReadonlySet<string>): Loop[] =>
  Clipper.unionD(
    regions.filter(({ id }) => !through.has(id)).flatMap(({ outer, holes }) => [outer, ...holes].map(pathOf)),
    [],
    FillRule.NonZero,
    DECIMALS,
  )
    .map(loopOf)
    .filter((loop) => Math.abs(signedArea(loop)) > SLIVER)

/**
 * A rim through the very corners of its regions: joining rounds them and leaves out those on a straight line,
 * and lines that ought to be one would lie beside one another.
 */
const throughCorners = (rim: readonly Loop[], regions: readonly Region[]): Loop[] => {
  const index = new RimIndex(rim, ON_RIM)
  const onEdge = new Map<number, { x: number; y: number; along: number }[]>()
  for (const { outer, holes } of regions)
    for (const loop of [outer, ...holes])
      for (const { x, y } of pathOf(loop))
        for (const { edge, along } of index.edgesAt(x, y)) {
          const list = onEdge.get(edge)
          if (list) list.push({ x, y, along })
          else onEdge.set(edge, [{ x, y, along }])
        }
  let edge = 0
  return rim.map((loop) => {
    const path = pathOf(loop)
    const corners: { x: number; y: number }[] = []
    path.forEach((start, i) => {
      const end = path[(i + 1) % path.length] ?? start
      const long = Math.hypot(end.x - start.x, end.y - start.y)
      const held = (onEdge.get(edge) ?? [])
        .filter(({ along }) => along < long - ON_RIM)
        .sort((a, b) => a.along - b.along)
      if ((held[0]?.along ?? Infinity) > ON_RIM) corners.push(start)
      for (const { x, y } of held) {
        const last = corners.at(-1)
        if (last === undefined || Math.hypot(last.x - x, last.y - y) > ON_RIM) corners.push({ x, y })
      }
      edge += 1
    })
    return loopOf(corners)
  })
}

/** What a line that the saw only keeps near to may be off by, mm. */
const SAW_LINE = 0.02

/** Loops moved outward by a distance, corners rounded, as coarsely as a saw is led; mm. */
export const grown = (loops: readonly Loop[], by_mm: number): Loop[] =>
  Clipper.inflatePathsD(
    Clipper.simplifyPathsD(loops.map(pathOf), SAW_LINE, true),
    by_mm,
    JoinType.Round,
    EndType.Polygon,
    2,
    DECIMALS,
  ).map(loopOf)

/**
 * The drawing's lines at the size of the wax. What is filed off moves the rim outward and every opening
 * inward; then all is scaled by one over one less the shrink, as `waxSize` and `waxOpening` of the finishing
 * room have it. Lines inside the rim are scaled only, and follow the rim where they meet it.
 */
export const compensate = (
  regions: readonly Region[],
  through: ReadonlySet<string>,
  compensation: Compensation,
  veins: readonly Float64Array[] = [],
): WaxLines => {
  const scale = patternLength(1, [-compensation.shrink])
  const rim = throughCorners(rimOf(regions, through), regions)
  const index = new RimIndex(rim, ON_RIM)
  const finish = compensation.finish_mm
  const wax = (points: Loop): Loop => movedOut(points, index, finish).map((value) => value * scale)
  const outline = rim.map(wax)
  return {
    scale,
    outline,
    regions: regions.map(({ id, outer, holes, at_mm: [x, y] }) => ({
      id,
      outer: wax(outer),
      holes: holes.map(wax),
      at_mm: [x * scale, y * scale],
    })),
    inner: innerLines(regions, index).map(({ points, ...rest }) => ({ ...rest, points: wax(points) })),
    veins: veins.map(wax),
    problems: closedNotches(rim, index, compensation),
  }
}

/** Runs of region edges that do not lie on the rim; an edge shared by two regions is kept once. */
const innerLines = (
  regions: readonly Region[],
  index: RimIndex,
): { points: Float64Array; closed: boolean; id: string }[] => {
  const kept = new Set<string>()
  const key = (x: number, y: number): string => `${Math.round(x * 1e4)},${Math.round(y * 1e4)}`
  const runs: { points: Float64Array; closed: boolean; id: string }[] = []
  // outsides first, so that a line round a region goes by that region and not by what lies about it
  const loops = [
    ...regions.map(({ id, outer }) => ({ id, loop: outer })),
    ...regions.flatMap(({ id, holes }) => holes.map((loop) => ({ id, loop }))),
  ]
  for (const { id, loop } of loops) {
    const n = loop.length / 2
    const at = (i: number): Place => [loop[2 * (i % n)] ?? 0, loop[2 * (i % n) + 1] ?? 0]
    const wanted = Array.from({ length: n }, (_, i) => {
      const [[ax, ay], [bx, by]] = [at(i), at(i + 1)]
      const [a, b] = [key(ax, ay), key(bx, by)]
      const edge = a < b ? `${a} ${b}` : `${b} ${a}`
      if (kept.has(edge) || index.holds(ax, ay, bx, by)) return false
      kept.add(edge)
      return true
    })
    if (wanted.every(Boolean)) {
      runs.push({ points: loop, closed: true, id })
      continue
    }
    // begin after a gap, so that a run that passes the loop's first point stays whole
    const start = wanted.indexOf(false) + 1
    let run: Place[] = []
    for (let step = 0; step < n; step += 1) {
      const i = start + step
      if (wanted[i % n]) run.push(...(run.length === 0 ? [at(i)] : []), at(i + 1))
      if (!wanted[i % n] || step === n - 1) {
        if (run.length > 0) runs.push({ points: Float64Array.from(run.flat()), closed: false, id })
        run = []
      }
    }
  }
  return runs
}

/** A notch that is closed but for this much is closed. */
const BARELY = 0.02
/** What overlaps over more than this many times the move is a notch; less is a tight bend that is filled a little. */
const LONG_OVERLAP = 4

/** Where what is filed off is as much as a notch is wide, the moved rim lies over itself. */
const closedNotches = (
  rim: readonly Loop[],
  index: RimIndex,
  { finish_mm }: Compensation,
): PatternProblem[] => {
  if (finish_mm === 0) return []
  const by_mm = finish_mm + BARELY
  const moved = rim.map((loop) => movedOut(loop, index, by_mm))
  const turned = rim.some((loop, i) => signedArea(loop) * signedArea(moved[i] ?? loop) <= 0)
  const longest = overlapsOf(moved).reduce((most, path) => Math.max(most, extentOf(path)), 0)
  if (!turned && longest <= LONG_OVERLAP * by_mm) return []
  return [
    {
      kind: 'filing-closes-a-notch',
      level: 'stop',
      what: `Moving the outline by ${finish_mm} mm for filing closes a notch or an opening.`,
      where: 'the outline',
      remedy: 'allow less for filing, or draw that place closed and cut it after casting',
    },
  ]
}

type Path = readonly { readonly x: number; readonly y: number }[]

const boundsOf = (path: Path): { left: number; right: number; low: number; high: number } =>
  path.reduce(
    ({ left, right, low, high }, { x, y }) => ({
      left: Math.min(left, x),
      right: Math.max(right, x),
      low: Math.min(low, y),
      high: Math.max(high, y),
    }),
    { left: Infinity, right: -Infinity, low: Infinity, high: -Infinity },
  )

const extentOf = (path: Path): number => {
  const { left, right, low, high } = boundsOf(path)
  return Math.hypot(right - left, high - low)
}

/** Where loops lie over themselves or one another: once round all of them the other way leaves what was there twice. */
const overlapsOf = (loops: readonly Loop[]): Path[] => {
  const paths = loops.map(pathOf)
  const { left, right, low, high } = boundsOf(paths.flat())
  const round = [
    { x: left - 1, y: low - 1 },
    { x: left - 1, y: high + 1 },
    { x: right + 1, y: high + 1 },
    { x: right + 1, y: low - 1 },
  ]
  return Clipper.unionD([...paths, round], [], FillRule.Positive, DECIMALS).filter(
    (path) => Clipper.areaD(path) > 0,
  )
}

/** A loop whose points on the rim are moved outward; those within stay. */
const movedOut = (points: Loop, index: RimIndex, by_mm: number): Loop => {
  const out = new Float64Array(points.length)
  for (let i = 0; i < points.length; i += 2) {
    const [x, y] = [points[i] ?? 0, points[i + 1] ?? 0]
    const [outX, outY] = by_mm === 0 ? [0, 0] : index.outward(x, y)
    out[i] = x + by_mm * outX
    out[i + 1] = y + by_mm * outY
  }
  return out
}
