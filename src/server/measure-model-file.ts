import { measureModel } from '../engine/piece/mesh/index.ts'
import { loadSolids } from '../solids/manifold.ts'
import type { MeasureAsked } from './services.ts'

/** Measures a model and leaves out what is no plain JSON: its triangles. */
export const measureModelFile = async (
  bytes: Uint8Array,
  name: string,
  { units, acceptRepair }: MeasureAsked,
): Promise<unknown> => {
  const solids = await loadSolids().catch(() => null)
  const { mesh: _mesh, repair, ...facts } = measureModel(bytes, name, { units, acceptRepair, solids })
  if (repair === null) return { ...facts, repair }
  const { patch: _patch, ...shown } = repair
  return { ...facts, repair: shown }
}
