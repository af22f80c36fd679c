import type { FileSource } from '../../engine/documents/pour.ts'
import { shapeKey } from '../../engine/piece/mesh-facts.ts'
import type { Triangles } from '../scene/model-form.ts'

export type PatternSource = Extract<FileSource, { from: 'pattern' }>

interface Kept {
  readonly sha256: string
  readonly mesh: Triangles
}

/** Solids kept to be shown; a pour has few drawings, and only their newest heights are looked at. */
const MOST_KEPT = 16

/** by drawing and heights, oldest first */
const kept = new Map<string, Kept>()
const listeners = new Set<() => void>()

/** Keeps what was built of a drawing, so that lists and the flask can show it. */
export const keepMesh = (key: string, sha256: string, mesh: Triangles): void => {
  kept.delete(key)
  kept.set(key, { sha256, mesh })
  const [oldest] = kept.keys()
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest)
  for (const listener of listeners) listener()
}

/** The solid of a drawing at these heights; while they are worked out, the last that was built of it. */
export const meshOfDrawing = (source: PatternSource): Triangles | undefined => {
  const exact = kept.get(shapeKey(source) ?? '')
  if (exact !== undefined) return exact.mesh
  return [...kept.values()].findLast(({ sha256 }) => sha256 === source.sha256)?.mesh
}

/** @returns stops listening */
export const onMeshKept = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
