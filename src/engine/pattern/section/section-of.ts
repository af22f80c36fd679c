import { Clipper, FillRule } from 'clipper2-ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import type { Loop, PatternProblem, Place } from '../drawing.ts'

/** A cut: x along the line from its first end, y up from the flat back; millimetres, same size as the mesh. */
export interface SectionCut {
  /** outsides anticlockwise, hollows clockwise */
  readonly loops: readonly Loop[]
  readonly length_mm: number
  readonly problems: readonly PatternProblem[]
}

const problem = (kind: string, what: string, remedy: string): PatternProblem => ({
  kind,
  level: 'check',
  what,
  where: 'the section',
  remedy,
})

/** Points nearer than this are one, mm. */
const SAME = 1e-7
const DECIMALS = 6

/**
 * Cuts a closed mesh by an upright plane through two places. Each corner counts as on one side or the other,
 * never on the plane itself, so every triangle that is cut gives exactly one piece of line and the pieces close
 * wherever the mesh is closed. One looks to the left of the way from the first place to the second.
 */
export const sectionOf = (mesh: TriangleMesh, from_mm: Place, to_mm: Place): SectionCut => {
  const length_mm = Math.hypot(to_mm[0] - from_mm[0], to_mm[1] - from_mm[1])
  if (!(length_mm > SAME))
    return {
      loops: [],
      length_mm: 0,
      problems: [problem('section-without-length', 'the section’s two ends are one place', 'draw it longer')],
    }
  const [dx, dy] = [(to_mm[0] - from_mm[0]) / length_mm, (to_mm[1] - from_mm[1]) / length_mm]
  const { positions, corners } = mesh
  const count = positions.length / 3
  const side = new Float64Array(count)
  const along = new Float64Array(count)
  for (let i = 0; i < count; i += 1) {
    const [x, y] = [(positions[3 * i] ?? 0) - from_mm[0], (positions[3 * i + 1] ?? 0) - from_mm[1]]
    side[i] = dx * y - dy * x
    along[i] = dx * x + dy * y
  }
  const isLeft = (i: number): boolean => (side[i] ?? 0) >= 0
  /** the next crossed edge, by the crossed edge before it; an edge is named by its corners, left one first */
  const next = new Map<number, number[]>()
  const nameOf = (left: number, right: number): number => left * count + right
  for (let t = 0; t < corners.length; t += 3) {
    const [a = 0, b = 0, c = 0] = [corners[t], corners[t + 1], corners[t + 2]]
    let enter: number | undefined
    let leave: number | undefined
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      if (isLeft(p) === isLeft(q)) continue
      if (isLeft(p)) leave = nameOf(p, q)
      else enter = nameOf(q, p)
    }
    if (enter === undefined || leave === undefined) continue
    // with the triangle seen from outside, going this way keeps the solid to the left of the line
    const list = next.get(leave)
    if (list) list.push(enter)
    else next.set(leave, [enter])
  }
  const placeOf = (edge: number): Place => {
    const [left, right] = [Math.floor(edge / count), edge % count]
    const share = (side[left] ?? 0) / ((side[left] ?? 0) - (side[right] ?? 0))
    const between = (values: Float64Array, stride: number, offset: number): number => {
      const start = values[left * stride + offset] ?? 0
      return start + share * ((values[right * stride + offset] ?? 0) - start)
    }
    return [between(along, 1, 0), between(positions, 3, 2)]
  }
  const found: Loop[] = []
  let open = false
  for (const start of next.keys()) {
    const places: Place[] = []
    let edge: number | undefined = start
    while (edge !== undefined) {
      const onward: number | undefined = next.get(edge)?.pop()
      if (onward === undefined) {
        open ||= places.length > 0 && edge !== start
        break
      }
      const place = placeOf(edge)
      const last = places.at(-1)
      if (last === undefined || Math.hypot(place[0] - last[0], place[1] - last[1]) > SAME) places.push(place)
      edge = onward
    }
    if (places.length > 2) found.push(Float64Array.from(places.flat()))
  }
  const loops = withinEnds(found, length_mm)
  return {
    loops,
    length_mm,
    problems: [
      ...(open
        ? [problem('section-open', 'the solid is open where it is cut', 'mend the drawing, then cut again')]
        : []),
      ...(loops.length === 0
        ? [problem('section-empty', 'the section meets nothing of the piece', 'draw it across the piece')]
        : []),
    ],
  }
}

/** What lies between both ends, overlaps joined and lines that run straight on dropped. */
const withinEnds = (loops: readonly Loop[], length_mm: number): Loop[] => {
  if (loops.length === 0) return []
  const paths = loops.map((points) =>
    Array.from({ length: points.length / 2 }, (_, i) => ({
      x: points[2 * i] ?? 0,
      y: points[2 * i + 1] ?? 0,
    })),
  )
  const strip = [
    { x: 0, y: -1e3 },
    { x: length_mm, y: -1e3 },
    { x: length_mm, y: 1e3 },
    { x: 0, y: 1e3 },
  ]
  return Clipper.intersectD(paths, [strip], FillRule.NonZero, DECIMALS)
    .filter((path) => Math.abs(Clipper.areaD(path)) > 1e-4)
    .map((path) => Float64Array.from(path.flatMap(({ x, y }) => [x, y])))
}
