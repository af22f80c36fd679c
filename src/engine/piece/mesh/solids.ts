import type { TriangleMesh } from './model-reading.ts'

/**
 * Joins solids into one. The engine only says what it needs; the face instantiates a solid modeller
 * (WebAssembly) and hands it in. Each body is closed, faces outward, and may hold hollows of its own.
 */
export type Solids = {
  /** The union, or a plain-word reason why there is none. Never throws for what a file can hold. */
  union(bodies: readonly TriangleMesh[]): JoinedSolid | { failed: string }
  /** What is left of a solid once others are taken out of it. */
  difference(from: TriangleMesh, taken: readonly TriangleMesh[]): JoinedSolid | { failed: string }
}

export type JoinedSolid = { volume_mm3: number; area_mm2: number; mesh: TriangleMesh }
