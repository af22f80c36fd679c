import { Said } from '../drawing/problems.ts'
import type { Gap, Mark, PatternProblem, Place, Region, Regions } from '../drawing.ts'
import { isInside, lengthRound, signedArea } from '../loops.ts'
import {
  type Arrangement,
  arrange,
  type Face,
  facesAlong,
  type GridRun,
  OUTSIDE,
  unfaced,
} from './arrangement.ts'
import { findCrossings } from './crossings.ts'
import { type Box, boxOf, placeWellInside } from './loops.ts'
import { idsOf, nameOfLines } from './names.ts'
import { TooTangled } from './noding.ts'
import { closeEnds, type FreeEnd, freeEndsOf, type Join } from './open-ends.ts'
import { regionProblems } from './problems.ts'
import { type Covers, coversOf, type Seen, whatShows } from './visible.ts'

/** Every place is rounded to this grid before lines are cut where they meet. */
export const GRID_MM = 1e-4
const STEPS = 1 / GRID_MM
/** Ends this near one another are joined where nothing else is said. */
export const JOIN_MM = 0.05
const SLIVER_MM2 = 0.01
const FARTHEST_MM = 5000
const NODES_AT_MOST = 2_000_000
const SMALLEST_MM = 1
const LARGEST_MM = 2000
/** A line that stops this short of another is offered to be drawn on to it. */
const OFFER_MM = 1
const ENDS_NAMED = 12

/**
 * The faces of the visible drawing, in millimetres; areas are net of holes. A face counts when a fill covers
 * it or lines enclose it. Ends within `join_mm` are joined and said so; wider gaps are said and offered in
 * `gapsToClose`. Never throws for what is drawn.
 */
export const findRegions = (marks: readonly Mark[], options: { readonly join_mm?: number } = {}): Regions => {
  const join = (options.join_mm ?? JOIN_MM) * STEPS
  const laid = layOnGrid(marks)
  const { problems } = laid
  const nothing = (problem: PatternProblem): Regions => ({
    regions: [],
    bounds_mm: laid.bounds_mm,
    problems: [...problems, problem],
  })
  if (laid.nodes > NODES_AT_MOST) return nothing(regionProblems.tooMany(laid.nodes, NODES_AT_MOST))
  if (laid.runs.length === 0) return nothing(regionProblems.noRegion(false))
  const { placeOf } = laid
  let runs: readonly GridRun[] = laid.runs
  let drawn: Drawn
  let openings: Openings
  try {
    drawn = divide(runs, marks, laid.sizes)
    openings = openingsOf(drawn, join)
    if (openings.joins.length > 0) {
      runs = [...runs, ...openings.joins.map(runOfJoin)]
      drawn = divide(runs, marks, laid.sizes)
      openings = { ...openingsOf(drawn, join), joins: openings.joins }
    }
  } catch (trouble) {
    if (!(trouble instanceof TooTangled)) throw trouble
    return nothing(regionProblems.tooTangled())
  }
  problems.push(...sayOpenings(openings, marks, placeOf))
  problems.push(...findCrossings(drawn.arrangement, runs, drawn.seen, marks, placeOf))
  for (const [index, mark] of marks.entries())
    if (mark.fill && !mark.line && laid.sizes[index] !== undefined && !drawn.covers.filling.has(index))
      problems.push(regionProblems.noArea(mark.id))

  const found: (Omit<Region, 'id'> & { readonly name: string; readonly order: number })[] = []
  let slivers = 0
  let largest: { readonly area_mm2: number; readonly at: Place } | undefined
  const { counting, loose } = countingFaces(drawn, marks)
  for (const { face, name, order } of counting) {
    const loops = [face.outer, ...face.holes]
    const area_mm2 = loops.reduce((sum, loop) => sum + signedArea(loop), 0) * GRID_MM ** 2
    if (area_mm2 < SLIVER_MM2) {
      slivers += 1
      if (largest === undefined || area_mm2 > largest.area_mm2)
        largest = { area_mm2, at: placeOf(face.outer[0] as number, face.outer[1] as number) }
      continue
    }
    const [outer, ...holes] = loops.map(laid.back) as [Float64Array, ...Float64Array[]]
    found.push({
      name,
      order,
      outer,
      holes,
      area_mm2,
      perimeter_mm: loops.reduce((sum, loop) => sum + lengthRound(loop), 0) * GRID_MM,
      at_mm: placeWellInside(outer, holes),
    })
  }
  if (largest !== undefined) problems.push(regionProblems.slivers(slivers, largest.area_mm2, largest.at))
  if (found.length === 0) problems.push(regionProblems.noRegion(openings.ends.length > 0))
  const ids = idsOf(found.map(({ name, area_mm2, at_mm }) => ({ name, area_mm2, at: at_mm })))
  const regions = found
    .map(({ name: _name, order, ...region }, index) => ({
      order,
      region: { id: ids[index] as string, ...region },
    }))
    .sort((a, b) => a.order - b.order || b.region.area_mm2 - a.region.area_mm2)
    .map(({ region }) => region)
  const gaps = openings.gaps.map(
    ({ from, x, y, apart }): Gap => ({
      from_mm: placeOf(from.x, from.y),
      to_mm: placeOf(x, y),
      gap_mm: apart * GRID_MM,
    }),
  )
  const veins = [
    ...loose.filter((path) => lengthOf(path) > join).map(laid.back),
    ...marks.flatMap(({ vein, runs: own }) => (vein ? own.map(({ points }) => points) : [])),
  ].filter((path) => isWithinRegion(regions, path))
  return {
    regions,
    bounds_mm: boundsOf(regions) ?? laid.bounds_mm,
    problems,
    ...(gaps.length > 0 ? { gapsToClose: gaps } : {}),
    ...(veins.length > 0 ? { veins } : {}),
  }
}

const lengthOf = (path: Float64Array): number => {
  let sum = 0
  for (let i = 2; i + 1 < path.length; i += 2)
    sum += Math.hypot(
      (path[i] as number) - (path[i - 2] as number),
      (path[i + 1] as number) - (path[i - 1] as number),
    )
  return sum
}

/** By the middle of its middle piece: its ends may lie on the outline. */
const isWithinRegion = (regions: readonly Region[], path: Float64Array): boolean => {
  const i = 2 * Math.floor((path.length / 2 - 1) / 2)
  const x = ((path[i] as number) + (path[i + 2] as number)) / 2
  const y = ((path[i + 1] as number) + (path[i + 3] as number)) / 2
  return regions.some(({ outer, holes }) => isInside([outer, ...holes], x, y))
}

/** Of the regions, not of stray lines; undefined where there is no region. */
const boundsOf = (regions: readonly Region[]): Regions['bounds_mm'] | undefined => {
  if (regions.length === 0) return undefined
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { outer } of regions)
    for (let i = 0; i < outer.length; i += 2) {
      const [x = 0, y = 0] = [outer[i], outer[i + 1]]
      left = Math.min(left, x)
      right = Math.max(right, x)
      low = Math.min(low, y)
      high = Math.max(high, y)
    }
  return { min: [left, low], max: [right, high] }
}

interface Laid {
  readonly runs: readonly GridRun[]
  /** by mark: the area of the box round it, on the grid; absent where nothing of it could be laid */
  readonly sizes: readonly (number | undefined)[]
  readonly nodes: number
  readonly bounds_mm: Regions['bounds_mm']
  readonly problems: PatternProblem[]
  readonly placeOf: (x: number, y: number) => Place
  readonly back: (path: Float64Array) => Float64Array
}

const isWithin = (value: number): boolean => Math.abs(value) <= FARTHEST_MM

const layOnGrid = (marks: readonly Mark[]): Laid => {
  const said = new Said()
  let box: Box | undefined
  let nodes = 0
  const sound = marks.map((mark) => {
    const good = mark.runs.filter(({ points }) => points.every(isWithin))
    if (good.length < mark.runs.length) said.say(regionProblems.notNumbers(mark.id))
    if (mark.vein || (!mark.line && mark.fill === undefined)) return []
    for (const { points } of good) {
      nodes += points.length / 2
      if (points.length < 4) continue
      const its = boxOf(points)
      box =
        box === undefined
          ? its
          : {
              minX: Math.min(box.minX, its.minX),
              minY: Math.min(box.minY, its.minY),
              maxX: Math.max(box.maxX, its.maxX),
              maxY: Math.max(box.maxY, its.maxY),
            }
    }
    return good
  })
  if (box === undefined) box = { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const { minX, minY, maxX, maxY } = box
  // The grid's origin lies in the middle, so that its numbers stay small.
  const x0 = Math.round(((minX + maxX) / 2) * STEPS)
  const y0 = Math.round(((minY + maxY) / 2) * STEPS)
  const runs: GridRun[] = []
  const sizes = marks.map((mark, index): number | undefined => {
    let span: Box | undefined
    for (const { points, closed } of nodes > NODES_AT_MOST ? [] : (sound[index] ?? [])) {
      const path = onGrid(points, x0, y0)
      const count = path.length / 2
      if (count < 2) continue
      const its = boxOf(path)
      span = span === undefined ? its : around(span, its)
      const ends = Float64Array.of(
        path[2 * count - 2] as number,
        path[2 * count - 1] as number,
        path[0] as number,
        path[1] as number,
      )
      const isShut = ends[0] === ends[2] && ends[1] === ends[3]
      const filled = mark.fill !== undefined
      if (isShut || closed) {
        const shut = isShut ? path : shutPath(path)
        runs.push({ mark: index, path: shut, line: mark.line, winds: true })
      } else {
        // A fill closes an open run by itself; its line stays open.
        runs.push({ mark: index, path, line: mark.line, winds: filled })
        if (filled) runs.push({ mark: index, path: ends, line: false, winds: true })
      }
    }
    return span === undefined ? undefined : (span.maxX - span.minX) * (span.maxY - span.minY)
  })
  const wide = maxX - minX
  const high = maxY - minY
  const problems = said.all()
  if (runs.length > 0 && Math.max(wide, high) < SMALLEST_MM) problems.push(regionProblems.small(wide, high))
  if (runs.length > 0 && Math.max(wide, high) > LARGEST_MM) problems.push(regionProblems.large(wide, high))
  return {
    runs,
    sizes,
    nodes,
    bounds_mm: runs.length === 0 ? null : { min: [minX, minY], max: [maxX, maxY] },
    problems,
    placeOf: (x, y) => [(x + x0) / STEPS, (y + y0) / STEPS],
    back: (path) => path.map((value, i) => (value + (i % 2 === 0 ? x0 : y0)) / STEPS),
  }
}

const around = (a: Box, b: Box): Box => ({
  minX: Math.min(a.minX, b.minX),
  minY: Math.min(a.minY, b.minY),
  maxX: Math.max(a.maxX, b.maxX),
  maxY: Math.max(a.maxY, b.maxY),
})

const shutPath = (path: Float64Array): Float64Array => {
  const shut = new Float64Array(path.length + 2)
  shut.set(path)
  shut.set(path.subarray(0, 2), path.length)
  return shut
}

/** Rounded to the grid, without steps of no length. */
const onGrid = (points: Float64Array, x0: number, y0: number): Float64Array => {
  const path = new Float64Array(points.length)
  let kept = 0
  for (let i = 0; i + 1 < points.length; i += 2) {
    const x = Math.round((points[i] as number) * STEPS) - x0
    const y = Math.round((points[i + 1] as number) * STEPS) - y0
    if (kept > 0 && path[kept - 2] === x && path[kept - 1] === y) continue
    path[kept] = x
    path[kept + 1] = y
    kept += 2
  }
  return path.slice(0, kept)
}

interface Drawn {
  readonly arrangement: Arrangement
  readonly covers: Covers
  readonly seen: readonly Seen[]
}

const divide = (runs: readonly GridRun[], marks: readonly Mark[], sizes: Laid['sizes']): Drawn => {
  const arrangement = arrange(runs)
  const covers = coversOf(arrangement, marks, sizes)
  return { arrangement, covers, seen: whatShows(arrangement, marks, covers.over) }
}

interface Openings {
  /** narrow enough to be joined unasked */
  readonly joins: readonly Join[]
  /** to be offered */
  readonly gaps: readonly Join[]
  /** that neither join nor gap would close */
  readonly ends: readonly FreeEnd[]
}

const openingsOf = ({ arrangement: { edges }, seen }: Drawn, join: number): Openings => {
  // A tail no longer than the join is a line drawn a hair too far.
  const ends = freeEndsOf(edges, seen).filter(({ long }) => long > join)
  const closings = closeEnds(ends, edges, seen, { join, offer: Math.max(join, OFFER_MM * STEPS) })
  const joins = closings.filter(({ apart }) => apart <= join)
  // Closing a line over more than half its own length would be drawing, not mending.
  const gaps = closings.filter(
    ({ apart, from, to }) => apart > join && apart <= Math.max(from.long, to?.long ?? 0) / 2,
  )
  const closed = new Set(
    [...joins, ...gaps].flatMap(({ from, to }) => (to === undefined ? [from] : [from, to])),
  )
  return { joins, gaps, ends: ends.filter((end) => !closed.has(end)) }
}

const runOfJoin = ({ from, x, y }: Join): GridRun => ({
  mark: from.mark,
  path: Float64Array.of(from.x, from.y, x, y),
  line: true,
  winds: false,
})

const sayOpenings = (
  { joins, gaps, ends }: Openings,
  marks: readonly Mark[],
  placeOf: Laid['placeOf'],
): PatternProblem[] => {
  const said: PatternProblem[] = []
  const idOf = ({ mark }: FreeEnd): string => marks[mark]?.id ?? ''
  // Ends that already lie on one another to the grid's own step were drawn to meet.
  const wide = joins.filter(({ apart }) => apart > 2)
  const first = wide[0]
  if (first !== undefined) {
    const widest = Math.max(...wide.map(({ apart }) => apart)) * GRID_MM
    said.push(regionProblems.joined(wide.length, widest, placeOf(first.from.x, first.from.y)))
  }
  for (const { from, apart, to } of gaps.slice(0, ENDS_NAMED)) {
    const say = to === undefined ? regionProblems.shortLine : regionProblems.openOutline
    said.push(say(idOf(from), apart * GRID_MM, placeOf(from.x, from.y)))
  }
  if (gaps.length > ENDS_NAMED) said.push(regionProblems.andMore('open-outline', gaps.length - ENDS_NAMED))
  for (const end of ends.slice(0, ENDS_NAMED))
    said.push(regionProblems.freeEnd(idOf(end), placeOf(end.x, end.y)))
  if (ends.length > ENDS_NAMED) said.push(regionProblems.andMore('free-end', ends.length - ENDS_NAMED))
  return said
}

interface Counting {
  readonly face: Face
  readonly name: string
  /** paint order of the mark it is named after */
  readonly order: number
}

/**
 * The faces between edges that show, of which each is covered by a fill or enclosed by lines; and the lines that
 * show and bound no face.
 */
const countingFaces = (
  { arrangement, covers, seen }: Drawn,
  marks: readonly Mark[],
): { readonly counting: readonly Counting[]; readonly loose: readonly Float64Array[] } => {
  const showing = arrangement.edges.flatMap((edge, index) =>
    seen[index]?.edge
      ? [{ before: edge, line: seen[index]?.line === true, edge: { ...edge, ...unfaced } }]
      : [],
  )
  const faces = facesAlong(showing.map(({ edge }) => edge))
  const parts = partsOf(arrangement, seen)
  const partOf = new Map<number, number>()
  /** by face: the marks whose lines run along its outline */
  const lined = faces.map(() => new Set<number>())
  const beside: { readonly face: number; readonly line: boolean }[][] = Array.from(
    { length: faces.length + 1 },
    () => [],
  )
  for (const { before, line, edge } of showing) {
    if (edge.left >= 0) partOf.set(edge.left, parts.groupOf(before.left))
    if (edge.right >= 0) partOf.set(edge.right, parts.groupOf(before.right))
    if (edge.left < OUTSIDE) continue
    beside[edge.left + 1]?.push({ face: edge.right, line })
    beside[edge.right + 1]?.push({ face: edge.left, line })
    if (!line) continue
    if (edge.leftOutline) for (const mark of edge.lines) lined[edge.left]?.add(mark)
    if (edge.rightOutline) for (const mark of edge.lines) lined[edge.right]?.add(mark)
  }
  const reached = reachedFromOutside(beside)
  const loose = showing.flatMap(({ line, edge }) => (line && edge.left < OUTSIDE ? [edge.path] : []))
  const counting = faces.flatMap((face, at): Counting[] => {
    const members = parts.membersOf(partOf.get(at) ?? OUTSIDE)
    const covered = members.some((one) => (covers.over[one]?.top ?? -1) >= 0)
    // A line drawn across a hollow of a fill closes it, though no line runs all round.
    if (!covered && reached.has(at) && lined[at]?.size === 0) return []
    const shares = new Map<number, number>()
    for (const one of members) {
      const by = covers.over[one]?.namedBy ?? -1
      const { outer, holes } = arrangement.faces[one] as Face
      const size = [outer, ...holes].reduce((sum, loop) => sum + signedArea(loop), 0)
      if (by >= 0) shares.set(by, (shares.get(by) ?? 0) + size)
    }
    const [largest] = [...shares].sort((a, b) => b[1] - a[1] || b[0] - a[0])
    const ring = [...(lined[at] ?? [])]
    const drawn = ring.filter((mark) => marks[mark]?.joins !== true)
    const lines = drawn.length > 0 ? drawn : ring
    const name =
      largest === undefined ? nameOfLines(lines.map((mark) => marks[mark]?.id ?? '')) : marks[largest[0]]?.id
    return [{ face, name: name ?? '', order: largest?.[0] ?? Math.max(...ring) }]
  })
  return { counting, loose }
}

/** Faces of the whole arrangement that nothing visible divides, as groups. */
const partsOf = (
  { edges, faces }: Arrangement,
  seen: readonly Seen[],
): {
  readonly groupOf: (face: number) => number
  readonly membersOf: (group: number) => readonly number[]
} => {
  const parent = Int32Array.from({ length: faces.length + 1 }, (_, i) => i)
  const find = (face: number): number => {
    let at = face + 1
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] as number] as number
      at = parent[at] as number
    }
    return at - 1
  }
  edges.forEach((edge, index) => {
    if (seen[index]?.edge || edge.left < OUTSIDE) return
    parent[find(edge.left) + 1] = find(edge.right) + 1
  })
  const members = new Map<number, number[]>()
  for (let face = 0; face < faces.length; face += 1) {
    const group = find(face)
    const known = members.get(group)
    if (known === undefined) members.set(group, [face])
    else known.push(face)
  }
  return { groupOf: find, membersOf: (group) => members.get(group) ?? [] }
}

/** Faces that can be walked to from the bare paper round the drawing without stepping over a line. */
const reachedFromOutside = (
  beside: readonly (readonly { readonly face: number; readonly line: boolean }[])[],
): Set<number> => {
  const reached = new Set<number>([OUTSIDE])
  const next = [OUTSIDE]
  for (let face = next.pop(); face !== undefined; face = next.pop())
    for (const door of beside[face + 1] ?? [])
      if (!door.line && !reached.has(door.face)) {
        reached.add(door.face)
        next.push(door.face)
      }
  return reached
}
