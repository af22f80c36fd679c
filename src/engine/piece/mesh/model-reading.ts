import type { MeshProblem } from './problems.ts'

/** A set of triangles: corner numbers into a list of points. Counter-clockwise seen from outside the metal. */
export type TriangleMesh = {
  /** x, y, z of each point. */
  positions: Float64Array
  /** Three point numbers for each triangle. */
  corners: Uint32Array
}

export type LengthUnit = 'um' | 'mm' | 'cm' | 'm' | 'in' | 'ft'

/** Exact by definition (international inch of 1959). */
export const millimetresPer: Readonly<Record<LengthUnit, number>> = {
  um: 0.001,
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  ft: 304.8,
}

export type ModelFormat = 'stl' | 'obj' | 'ply' | '3mf' | 'glb'

/** How much a reader may unfold before it refuses. All are counts or bytes, so the answer never depends on a clock. */
export type ReadLimits = {
  triangles: number
  inflatedBytes: number
  archiveEntries: number
  nesting: number
}

export const usualLimits: ReadLimits = {
  triangles: 4_000_000,
  inflatedBytes: 256 * 1024 * 1024,
  archiveEntries: 2_000,
  nesting: 32,
}

export type ModelReading = {
  format: ModelFormat | null
  /** In the file's own unit. Empty where nothing could be read. */
  mesh: TriangleMesh
  /** The unit that the file states, or that its format fixes; null where it is silent. */
  units: LengthUnit | null
  problems: MeshProblem[]
}

export const emptyMesh = (): TriangleMesh => ({
  positions: new Float64Array(0),
  corners: new Uint32Array(0),
})

export const readingOf = (
  format: ModelFormat | null,
  mesh: TriangleMesh,
  units: LengthUnit | null,
  problems: MeshProblem[],
): ModelReading => ({ format, mesh, units, problems })

/** Growing lists of points and corners; a plain array of a million numbers costs four times as much. */
export class MeshBuilder {
  private points = new Float64Array(3 * 1024)
  private list = new Uint32Array(3 * 1024)
  pointCount = 0
  triangleCount = 0

  addPoint(x: number, y: number, z: number): void {
    const at = this.pointCount * 3
    if (at + 3 > this.points.length) this.points = grown(this.points, Float64Array)
    this.points[at] = x
    this.points[at + 1] = y
    this.points[at + 2] = z
    this.pointCount++
  }

  addTriangle(a: number, b: number, c: number): void {
    const at = this.triangleCount * 3
    if (at + 3 > this.list.length) this.list = grown(this.list, Uint32Array)
    this.list[at] = a
    this.list[at + 1] = b
    this.list[at + 2] = c
    this.triangleCount++
  }

  /** Coordinates of point `i`, for triangulating a polygon. */
  get positions(): Float64Array {
    return this.points
  }

  finish(): TriangleMesh {
    return {
      positions: this.points.slice(0, this.pointCount * 3),
      corners: this.list.slice(0, this.triangleCount * 3),
    }
  }
}

function grown<T extends Float64Array | Uint32Array>(old: T, Kind: new (n: number) => T): T {
  const bigger = new Kind(old.length * 2)
  bigger.set(old)
  return bigger
}
