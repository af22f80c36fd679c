import { type BoxTree, buildBoxTree } from './box-tree.ts'
import { type Crossings, findCrossings } from './crossings.ts'
import type { ShellMap } from './edges.ts'
import type { TriangleMesh } from './model-reading.ts'
import { type MeshProblem, type Point, surfaceProblems } from './problems.ts'
import { type Probe, probeInward, windingsAt } from './rays.ts'
import type { Solids } from './solids.ts'
import { areaOf, type Bounds, boundsOf, volumeOf } from './volume.ts'

export type Settled = {
  /** Null where the shells do not enclose a volume that can be trusted. */
  volume_mm3: number | null
  area_mm2: number | null
  /** What was measured: turned right way out, hidden shells left out, overlaps joined. */
  mesh: TriangleMesh
  /** Boxes of that mesh; null without a volume. */
  tree: BoxTree | null
  probes: Probe[]
  problems: MeshProblem[]
}

type Shell = {
  mesh: TriangleMesh
  volume: number
  area: number
  bounds: Bounds
  at: Point
  /** +1 facing outward, -1 inward; changed where a body is turned right way out. */
  sign: 1 | -1
  /** Shells that wholly contain this one. */
  within: Set<number>
}

const PROBES = 1000
/** Folds less deep than this share of the diagonal (0.003 mm on a 30 mm part) are left behind by solid modellers. */
const SHALLOW_SHARE = 1e-4
/** Nor do crossings matter that are no longer than this share in all; what they enclose twice is nothing to weigh. */
const FOLD_SHARE = 2e-3
const MOST_SAMPLES = 12
const ALL_SAMPLES = 40_000

/**
 * Decides what closed shells mean together: which way is out, what is a hollow, what overlaps.
 * A point is metal where the shells enclose it at least once.
 * @param mesh closed and welded, in millimetres
 * @param rough how far rounding may have moved a corner, mm
 * @param solids joins overlapping bodies; null where none was handed in
 */
export function settleShells(
  mesh: TriangleMesh,
  map: ShellMap,
  rough: number,
  solids: Solids | null,
): Settled {
  const problems: MeshProblem[] = []
  const shells = splitShells(mesh, map)
  const untrusted = (...more: MeshProblem[]): Settled => ({
    volume_mm3: null,
    area_mm2: null,
    mesh,
    tree: null,
    probes: [],
    problems: [...problems, ...more],
  })
  const size = Math.cbrt(shells.reduce((sum, s) => Math.max(sum, s.area), 0) ** 1.5)
  if (shells.every((s) => Math.abs(s.volume) <= Math.max(1e-9 * size, s.area * rough * 4)))
    return untrusted(surfaceProblems.noVolume())

  const bounds = boundsOf(mesh)
  const diagonal = bounds
    ? Math.hypot(...bounds.max.map((high, axis) => high - (bounds.min[axis] ?? high)))
    : 0
  const tree = buildBoxTree(mesh)
  const crossings = findCrossings(mesh, tree, map.shellOf, map.count, rough, SHALLOW_SHARE * diagonal)
  if (crossings.selfLength > FOLD_SHARE * diagonal)
    return untrusted(surfaceProblems.selfCrossing(crossings.selfPairs, !crossings.complete, crossings.selfAt))
  if (crossings.selfPairs > 0)
    problems.push(surfaceProblems.smallFolds(crossings.selfPairs, crossings.selfLength, crossings.selfAt))
  if (!crossings.complete) problems.push(surfaceProblems.crossingsNotSought(mesh.corners.length / 3))

  const overlaps = shells.length > 1 ? relateShells(shells, mesh, tree, map, crossings, rough) : new Map()
  const turned = turnOutward(shells, overlaps)
  if (turned > 0) problems.push(surfaceProblems.inverted(turned, shells.length))

  if (overlaps.size > 0) {
    const joined = joinShells(shells, overlaps, solids)
    return 'kind' in joined ? untrusted(joined) : { ...joined, problems: [...problems, ...joined.problems] }
  }

  const shown = shells.map((shell) => countsAs(shell, shells))
  const hollows = shells.filter((_, i) => shown[i] === -1)
  const hidden = shells.filter((_, i) => shown[i] === 0)
  if (hollows.length > 0)
    problems.push(
      surfaceProblems.cavity(
        hollows.length,
        hollows.reduce((sum, s) => sum + Math.abs(s.volume), 0),
        hollows[0]!.at,
      ),
    )
  if (hidden.length > 0) problems.push(surfaceProblems.bodyInBody(hidden.length, hidden[0]!.at))
  const whole =
    shells.length === 1 ? facing(mesh, shells[0]!) : joinMeshes(shells.filter((_, i) => shown[i] !== 0))
  const settledTree = whole === mesh ? tree : buildBoxTree(whole)
  const probes = probeInward(whole, settledTree, PROBES, rough)
  const doubtful = probes.filter((p) => p.inside !== 1 || (p.outside !== 0 && p.outside !== 1))
  // One ray in two hundred may still be fooled by a crease; more than that is a surface in its own way.
  if (doubtful.length >= 2 && doubtful.length > probes.length / 200)
    return untrusted(surfaceProblems.selfOverlap(doubtful.length / probes.length, doubtful[0]!.at))
  return {
    volume_mm3: shells.reduce((sum, s, i) => sum + shown[i]! * Math.abs(s.volume), 0),
    area_mm2: shells.reduce((sum, s, i) => sum + Math.abs(shown[i]!) * s.area, 0),
    mesh: whole,
    tree: settledTree,
    probes,
    problems,
  }
}

/** Each shell as a mesh of its own, sharing the list of points. */
function splitShells(mesh: TriangleMesh, { count, shellOf }: ShellMap): Shell[] {
  const { positions, corners } = mesh
  const starts = new Uint32Array(count + 1)
  for (const shell of shellOf) starts[shell + 1]!++
  for (let s = 0; s < count; s++) starts[s + 1]! += starts[s]!
  const sorted = count === 1 ? corners : new Uint32Array(corners.length)
  if (count > 1) {
    const fill = starts.slice(0, count)
    for (let t = 0; t < shellOf.length; t++) {
      const to = fill[shellOf[t]!]!++ * 3
      sorted[to] = corners[t * 3]!
      sorted[to + 1] = corners[t * 3 + 1]!
      sorted[to + 2] = corners[t * 3 + 2]!
    }
  }
  return Array.from({ length: count }, (_, s) => {
    const own = { positions, corners: sorted.subarray(starts[s]! * 3, starts[s + 1]! * 3) }
    const volume = volumeOf(own)
    const bounds = boundsOf(own)!
    return {
      mesh: own,
      volume,
      area: areaOf(own),
      bounds,
      at: bounds.min.map((low, axis) => (low + bounds.max[axis]!) / 2) as unknown as Point,
      sign: volume < 0 ? -1 : 1,
      within: new Set<number>(),
    }
  })
}

/**
 * Fills in which shells lie within which, and returns the pairs that overlap: found crossing, or with
 * points of the one both inside and outside the other (bodies with flush sides need not cross anywhere).
 */
function relateShells(
  shells: Shell[],
  mesh: TriangleMesh,
  tree: BoxTree,
  { shellOf, count }: ShellMap,
  { shellPairs }: Crossings,
  rough: number,
): Map<number, Point> {
  const overlaps = new Map(shellPairs)
  const samples = Math.max(1, Math.min(MOST_SAMPLES, Math.floor(ALL_SAMPLES / count)))
  for (let s = 0; s < count; s++) {
    const { corners, positions } = shells[s]!.mesh
    const triangles = corners.length / 3
    const inside = new Map<number, number>()
    const touches = new Map<number, number>()
    let taken = 0
    for (let k = 0; k < Math.min(samples, triangles); k++) {
      const t = Math.floor(((k + 0.5) * triangles) / Math.min(samples, triangles)) * 3
      const point = [0, 1, 2].map(
        (axis) =>
          0.4142 * positions[corners[t]! * 3 + axis]! +
          0.3187 * positions[corners[t + 1]! * 3 + axis]! +
          0.2671 * positions[corners[t + 2]! * 3 + axis]!,
      )
      const seen = windingsAt(mesh, tree, shellOf, point, rough)
      if (!seen) continue
      taken++
      for (const other of seen.touching) if (other !== s) touches.set(other, (touches.get(other) ?? 0) + 1)
      for (const other of seen.windings.keys())
        if (other !== s && !seen.touching.has(other)) inside.set(other, (inside.get(other) ?? 0) + 1)
    }
    for (const other of new Set([...inside.keys(), ...touches.keys()])) {
      const sure = taken - (touches.get(other) ?? 0)
      const key = Math.min(s, other) * count + Math.max(s, other)
      const within = inside.get(other) ?? 0
      if (overlaps.has(key)) continue
      // Wholly on each other's surface: the same body written twice, or as good as.
      if (
        sure === 0
          ? boundsAgree(shells[s]!.bounds, shells[other]!.bounds, rough)
          : within > 0 && within < sure
      )
        overlaps.set(key, shells[s]!.at)
      else if (within > 0) shells[s]!.within.add(other)
    }
  }
  return overlaps
}

const boundsAgree = (a: Bounds, b: Bounds, rough: number): boolean =>
  [0, 1, 2].every(
    (k) => Math.abs(a.min[k]! - b.min[k]!) <= 8 * rough && Math.abs(a.max[k]! - b.max[k]!) <= 8 * rough,
  )

/** Turns bodies whose outermost shell faces inward, with all that lies in them; returns how many were turned. */
function turnOutward(shells: Shell[], overlaps: Map<number, Point>): number {
  const outer = shells.filter((shell) => shell.within.size === 0)
  const crossing = new Set(
    [...overlaps.keys()].flatMap((key) => [Math.floor(key / shells.length), key % shells.length]),
  )
  // Where shells overlap, an inward one among outward ones may be meant as a cut: that is not ours to decide.
  const allInward = outer.every((shell) => shell.sign < 0)
  const turned = new Set<number>()
  for (const [i, shell] of shells.entries())
    if (shell.within.size === 0 && shell.sign < 0 && (allInward || !crossing.has(i))) turned.add(i)
  for (const [i, shell] of shells.entries())
    if (turned.has(i) || [...shell.within].some((outerShell) => turned.has(outerShell)))
      shell.sign = shell.sign > 0 ? -1 : 1
  return turned.size
}

/** 1 for the skin of metal, -1 for that of a hollow, 0 for a shell that parts metal from metal or air from air. */
function countsAs(shell: Shell, shells: Shell[]): 1 | 0 | -1 {
  let outside = 0
  for (const other of shell.within) outside += shells[other]!.sign
  const inside = outside + shell.sign
  if (outside <= 0 && inside >= 1) return 1
  return outside >= 1 && inside <= 0 ? -1 : 0
}

function joinShells(
  shells: Shell[],
  overlaps: Map<number, Point>,
  solids: Solids | null,
): Settled | MeshProblem {
  const pairs = [...overlaps].map(([key, at]) => ({
    a: Math.floor(key / shells.length),
    b: key % shells.length,
    at,
  }))
  const hollowCut = pairs.find(({ a, b }) => shells[a]!.sign < 0 || shells[b]!.sign < 0)
  if (hollowCut) return surfaceProblems.crossingHollow(hollowCut.at)
  const crossing = new Set(pairs.flatMap(({ a, b }) => [a, b]))
  const at = pairs[0]!.at
  if (!solids) return surfaceProblems.overlapNotMeasured(crossing.size, 'no solid modeller is at hand', at)
  const problems: MeshProblem[] = []
  const bodies = new Map<number, Shell[]>()
  shells.forEach((shell, i) => {
    if (shell.sign > 0) bodies.set(i, [shell])
  })
  // Each hollow belongs to the smallest body round it.
  for (const shell of shells) {
    if (shell.sign > 0) continue
    const round = [...shell.within].filter((i) => shells[i]!.sign > 0)
    round.sort((i, j) => Math.abs(shells[i]!.volume) - Math.abs(shells[j]!.volume))
    const body = bodies.get(round[0] ?? -1)
    if (!body) return surfaceProblems.crossingHollow(shell.at)
    body.push(shell)
  }
  const joined = solids.union([...bodies.values()].map(joinMeshes))
  if ('failed' in joined) return surfaceProblems.overlapNotMeasured(crossing.size, joined.failed, at)
  const sum = shells.reduce((total, s) => total + s.sign * Math.abs(s.volume), 0)
  if (Math.abs(joined.volume_mm3 - sum) > 1e-6 * Math.abs(sum))
    problems.push(surfaceProblems.overlapping(crossing.size, sum, joined.volume_mm3, at))
  const tree = buildBoxTree(joined.mesh)
  const bounds = boundsOf(joined.mesh)
  const reach = bounds ? Math.max(...bounds.min.map(Math.abs), ...bounds.max.map(Math.abs)) : 0
  return {
    volume_mm3: joined.volume_mm3,
    area_mm2: joined.area_mm2,
    mesh: joined.mesh,
    tree,
    probes: probeInward(joined.mesh, tree, PROBES, 1e-6 * reach),
    problems,
  }
}

const facing = (mesh: TriangleMesh, shell: Shell): TriangleMesh =>
  shell.sign > 0 === shell.volume >= 0 ? mesh : turnAbout(mesh)

function turnAbout({ positions, corners }: TriangleMesh): TriangleMesh {
  const about = corners.slice()
  for (let i = 0; i < about.length; i += 3) {
    about[i + 1] = corners[i + 2]!
    about[i + 2] = corners[i + 1]!
  }
  return { positions, corners: about }
}

/** Shells as one mesh with only the points they use. */
function joinMeshes(shells: readonly Shell[]): TriangleMesh {
  const parts = shells.map((shell) => facing(shell.mesh, shell))
  const corners = new Uint32Array(parts.reduce((sum, part) => sum + part.corners.length, 0))
  const numbers = new Map<number, number>()
  const positions: number[] = []
  let n = 0
  for (const part of parts)
    for (const corner of part.corners) {
      let number = numbers.get(corner)
      if (number === undefined) {
        number = numbers.size
        numbers.set(corner, number)
        for (let axis = 0; axis < 3; axis++) positions.push(part.positions[corner * 3 + axis]!)
      }
      corners[n++] = number
    }
  return { positions: Float64Array.from(positions), corners }
}
