import { type Edges, findEdges, findRims, findShells, isClosed, nextSide, type ShellMap } from './edges.ts'
import {
  emptyMesh,
  type LengthUnit,
  type ModelFormat,
  type ModelReading,
  millimetresPer,
  type ReadLimits,
  type TriangleMesh,
} from './model-reading.ts'
import { fileProblems, type MeshProblem, type Point, surfaceProblems, unitProblems } from './problems.ts'
import { readModel } from './read-model.ts'
import { dropDoubles, type Mending, mendSurface } from './repair.ts'
import { type Settled, settleShells } from './settle-shells.ts'
import type { Solids } from './solids.ts'
import { thickPlacesIn } from './thick-places.ts'
import { type Thickness, thicknessOf } from './thickness.ts'
import { type Bounds, boundsOf } from './volume.ts'
import { weldExactly, weldWithin } from './weld.ts'

export type MeasureOptions = {
  /** For files that name no unit; millimetres otherwise. */
  units?: LengthUnit
  /** Whether the user has accepted the repair shown. */
  acceptRepair?: boolean
  /** Joins overlapping shells; without it they are not measured. */
  solids?: Solids | null
  limits?: Partial<ReadLimits>
}

export type Repair = Omit<Mending, 'mesh'> & {
  accepted: boolean
  volume_mm3: number
  area_mm2: number
}

export type ModelMeasure = {
  file: string
  format: ModelFormat | null
  units: LengthUnit
  /** Whether millimetres were taken because neither file nor user named a unit. */
  unitsAssumed: boolean
  triangles: number
  shells: number
  /** As the file gives it: after welding, every edge is shared by exactly two opposed triangles. */
  closed: boolean
  /** Null where the mesh cannot be trusted. */
  volume_mm3: number | null
  area_mm2: number | null
  bounds_mm: Bounds | null
  /** Sides of that box, longest first. */
  extents_mm: Point | null
  /** Volume over whole surface. */
  modulus_mm: number | null
  thickness_mm: Thickness | null
  /** Where metal is thick, thickest first: how thick, and volume over cooling area of its own metal. */
  thick_places: readonly { thickness_mm: number; modulus_mm: number }[]
  problems: MeshProblem[]
  /** A repair that would give a volume, whether accepted or not; null where none is needed or found. */
  repair: Repair | null
  /** What was measured, or what there is to draw, in millimetres. */
  mesh: TriangleMesh
}

/** Corners nearer than this share of the model's diagonal are one corner if that closes the surface. */
const WELD_SHARE = 1e-6
/** Half the last place of a 32-bit float, doubled for the arithmetic on top of it. */
const ROUNDING = 1e-7
/** Below this a model without a unit was more likely drawn in inches; above it nothing fits a small flask. */
const SMALLEST_LIKELY_MM = { assumed: 5, known: 2 }
const LARGEST_LIKELY_MM = 200

/**
 * Measures a model file: volume, area, bounds, thickness, and whether they can be trusted.
 * A file that is open, partly flipped, cut short, not finite or self-crossing gets no volume; where a repair
 * is found it is described, and used only once accepted. Cut-short and non-finite files are never repaired.
 */
export function measureModel(
  bytes: Uint8Array,
  fileName: string,
  options: MeasureOptions = {},
): ModelMeasure {
  return measureReading(readModel(bytes, fileName, options.limits), fileName, options)
}

/** The same, for triangles already read. Problems come gravest first. */
export function measureReading(
  reading: ModelReading,
  fileName: string,
  options: MeasureOptions = {},
): ModelMeasure {
  const measure = judge(reading, fileName, options)
  const rank = { stop: 0, check: 1, note: 2 }
  return { ...measure, problems: measure.problems.toSorted((a, b) => rank[a.level] - rank[b.level]) }
}

function judge(reading: ModelReading, fileName: string, options: MeasureOptions): ModelMeasure {
  const units = reading.units ?? options.units ?? 'mm'
  const problems = [...reading.problems]
  const finite = dropNonFinite(scaled(reading.mesh, millimetresPer[units]))
  if (finite.problem && !problems.some((p) => p.kind === 'not-a-number')) problems.push(finite.problem)
  const measure: ModelMeasure = {
    file: fileName,
    format: reading.format,
    units,
    unitsAssumed: reading.units === null && options.units === undefined,
    triangles: reading.mesh.corners.length / 3,
    shells: 0,
    closed: false,
    volume_mm3: null,
    area_mm2: null,
    bounds_mm: boundsOf(finite.mesh),
    extents_mm: null,
    modulus_mm: null,
    thickness_mm: null,
    thick_places: [],
    problems,
    repair: null,
    mesh: finite.mesh,
  }
  const { bounds_mm } = measure
  if (!bounds_mm) return measure
  const sides = bounds_mm.max.map((high, axis) => high - bounds_mm.min[axis]!) as [number, number, number]
  measure.extents_mm = [...sides].sort((a, b) => b - a) as unknown as Point
  problems.push(...judgeUnits(reading, options.units, measure.unitsAssumed, units, sides))

  const readWhole = !problems.some((p) => p.level === 'stop')
  const size = Math.hypot(...sides)
  const surface = sew(finite.mesh, size)
  problems.push(...surface.problems)
  measure.mesh = surface.mesh
  measure.closed = isClosed(surface.edges) && readWhole && surface.mesh.corners.length > 0
  const map = findShells(surface.edges)
  measure.shells = map.count
  const rough =
    surface.joinedWithin + ROUNDING * Math.max(...bounds_mm.min.map(Math.abs), ...bounds_mm.max.map(Math.abs))

  if (isClosed(surface.edges)) {
    if (!readWhole) return measure
    const settled = settleShells(surface.mesh, map, rough, options.solids ?? null)
    problems.push(...settled.problems)
    if (settled.volume_mm3 !== null) take(measure, settled, rough)
    return measure
  }

  const mending = readWhole ? mendSurface(surface.mesh, size) : null
  const settled =
    mending && settleShells(mending.mesh, findShells(findEdges(mending.mesh)), rough, options.solids ?? null)
  const mendable = settled?.volume_mm3 != null
  problems.push(...describeFaults(surface.mesh, surface.edges, map, mendable))
  if (mending === null || settled?.volume_mm3 == null || settled.area_mm2 === null) return measure
  const { mesh: _, ...shown } = mending
  const accepted = options.acceptRepair === true
  measure.repair = { ...shown, accepted, volume_mm3: settled.volume_mm3, area_mm2: settled.area_mm2 }
  if (!accepted) return measure
  measure.problems = [
    ...problems.map((p): MeshProblem => (p.level === 'stop' ? { ...p, level: 'check' } : p)),
    surfaceProblems.repaired(mending.steps, mending.patchShare),
    ...settled.problems,
  ]
  take(measure, settled, rough)
  return measure
}

function take(
  measure: ModelMeasure,
  { mesh, tree, volume_mm3, area_mm2, probes }: Settled,
  rough: number,
): void {
  measure.mesh = mesh
  measure.volume_mm3 = volume_mm3
  measure.area_mm2 = area_mm2
  measure.modulus_mm = volume_mm3 !== null && area_mm2 ? volume_mm3 / area_mm2 : null
  measure.thickness_mm = tree && thicknessOf(mesh, tree, probes)
  measure.thick_places = tree === null ? [] : thickPlacesIn({ mesh, tree, rough })
}

function scaled(mesh: TriangleMesh, factor: number): TriangleMesh {
  return factor === 1 ? mesh : { positions: mesh.positions.map((v) => v * factor), corners: mesh.corners }
}

/** Points that are not finite, or so large that their cubes are not, take their triangles with them. */
function dropNonFinite({ positions, corners }: TriangleMesh): {
  mesh: TriangleMesh
  problem: MeshProblem | null
} {
  let bad = 0
  let firstBad = -1
  for (let i = 0; i < positions.length; i++)
    if (!(Math.abs(positions[i]!) < 1e15)) {
      bad++
      if (firstBad < 0) firstBad = i
    }
  if (bad === 0) return { mesh: { positions, corners }, problem: null }
  const sound = (corner: number): boolean =>
    [0, 1, 2].every((axis) => Math.abs(positions[corner * 3 + axis]!) < 1e15)
  const list: number[] = []
  let firstTriangle = -1
  for (let i = 0; i < corners.length; i += 3) {
    const three = [corners[i]!, corners[i + 1]!, corners[i + 2]!]
    if (three.every(sound)) list.push(...three)
    else if (firstTriangle < 0) firstTriangle = i / 3
  }
  const where =
    firstTriangle < 0 ? `corner ${Math.floor(firstBad / 3) + 1}` : `first in triangle ${firstTriangle + 1}`
  return {
    mesh: list.length > 0 ? { positions, corners: Uint32Array.from(list) } : emptyMesh(),
    problem: fileProblems.notFinite(bad, where),
  }
}

function judgeUnits(
  reading: ModelReading,
  asked: LengthUnit | undefined,
  assumed: boolean,
  units: LengthUnit,
  sides: [number, number, number],
): MeshProblem[] {
  const problems: MeshProblem[] = []
  const largest = Math.max(...sides)
  if (assumed) problems.push(unitProblems.assumed(sides))
  if (reading.units !== null && asked !== undefined && asked !== reading.units)
    problems.push(unitProblems.fileKnows(units))
  if (largest < SMALLEST_LIKELY_MM[assumed ? 'assumed' : 'known']) problems.push(unitProblems.tiny(largest))
  if (largest > LARGEST_LIKELY_MM) problems.push(unitProblems.huge(largest, units))
  return problems
}

type Sewn = { mesh: TriangleMesh; edges: Edges; joinedWithin: number; problems: MeshProblem[] }

/** Welds corners at the same place; if that leaves the surface open, those that lie apart by rounding too. */
function sew(mesh: TriangleMesh, size: number): Sewn {
  const exact = weldExactly(mesh)
  const problems: MeshProblem[] = []
  let sewn = exact.mesh
  let edges = findEdges(sewn)
  let joinedWithin = 0
  let collapsed = exact.collapsed
  if (!isClosed(edges)) {
    const wide = weldWithin(sewn, size * WELD_SHARE)
    const then = wide.joined > 0 ? findEdges(wide.mesh) : edges
    if (wide.joined > 0 && then.open.length + then.tangled < edges.open.length + edges.tangled) {
      sewn = wide.mesh
      edges = then
      joinedWithin = size * WELD_SHARE
      collapsed += wide.collapsed
      problems.push(surfaceProblems.joined(wide.joined, joinedWithin))
    }
  }
  if (collapsed > 0) problems.push(surfaceProblems.collapsed(collapsed))
  if (edges.crowded > 0)
    problems.push(surfaceProblems.sharedByMany(edges.crowded, placeOf(sewn, edges.crowdedAt)))
  return { mesh: sewn, edges, joinedWithin, problems }
}

function describeFaults(mesh: TriangleMesh, edges: Edges, map: ShellMap, mendable: boolean): MeshProblem[] {
  const problems: MeshProblem[] = []
  if (edges.open.length > 0) {
    const rims = findRims(mesh, edges.open) ?? []
    const lengths = rims.map((rim) => rimLength(mesh, rim))
    const longest = lengths.reduce((best, value, i) => (value > (lengths[best] ?? -1) ? i : best), -1)
    const at = longest < 0 ? placeOf(mesh, edges.open[0]!) : middleOf(mesh, rims[longest]!)
    problems.push(surfaceProblems.open(edges.open.length, rims.length, lengths[longest] ?? 0, at, mendable))
  }
  if (map.oneSided.size > 0) {
    problems.push(surfaceProblems.oneSided(placeOf(mesh, edges.misdirectedAt)))
  } else if (edges.misdirected > 0) {
    const flipped = map.turned.reduce((sum, v) => sum + v, 0)
    const fewer = Math.min(flipped, map.turned.length - flipped)
    problems.push(
      surfaceProblems.partlyFlipped(fewer, edges.misdirected, placeOf(mesh, edges.misdirectedAt), mendable),
    )
  }
  if (edges.tangled > 0) {
    problems.push(surfaceProblems.tangled(edges.tangled, placeOf(mesh, edges.tangledAt), mendable))
    const doubled = dropDoubles(mesh).dropped
    if (doubled > 0) problems.push(surfaceProblems.duplicates(doubled, placeOf(mesh, edges.tangledAt)))
  }
  return problems
}

/** The middle of a side. */
function placeOf({ positions, corners }: TriangleMesh, side: number): Point | null {
  if (side < 0) return null
  const a = corners[side]! * 3
  const b = corners[nextSide(side)]! * 3
  return [0, 1, 2].map((axis) => (positions[a + axis]! + positions[b + axis]!) / 2) as unknown as Point
}

function middleOf({ positions }: TriangleMesh, rim: readonly number[]): Point {
  return [0, 1, 2].map(
    (axis) => rim.reduce((sum, point) => sum + positions[point * 3 + axis]!, 0) / rim.length,
  ) as unknown as Point
}

function rimLength({ positions }: TriangleMesh, rim: readonly number[]): number {
  return rim.reduce((sum, point, i) => {
    const next = rim[(i + 1) % rim.length]! * 3
    return (
      sum + Math.hypot(...[0, 1, 2].map((axis) => positions[next + axis]! - positions[point * 3 + axis]!))
    )
  }, 0)
}
