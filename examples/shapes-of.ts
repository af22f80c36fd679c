import { readFileSync } from 'node:fs'
import type { Pour } from '../src/engine/documents/index.ts'
import { readPattern, shapePattern } from '../src/engine/pattern/index.ts'
import { factsOf, type MeshFacts, shapeKey } from '../src/engine/piece/index.ts'
import { measureModel } from '../src/engine/piece/mesh/index.ts'
import { loadReliefSolids } from '../src/solids/relief-solids.ts'

const solids = await loadReliefSolids()

/** The models and drawings of an example pour, measured: what its plan is given under their keys. For tests and benches. */
export const shapesOf = ({ pieces }: Pick<Pour, 'pieces'>): Record<string, MeshFacts> => {
  const shapes: Record<string, MeshFacts> = {}
  for (const { source } of pieces) {
    const key = shapeKey(source)
    if (key === undefined || !('file' in source)) continue
    const { file } = source
    const bytes = new Uint8Array(readFileSync(new URL(file, import.meta.url)))
    shapes[key] =
      source.from === 'mesh'
        ? factsOf(measureModel(bytes, file, source))
        : shapePattern(readPattern({ bytes, name: file, heights: source.heights }), source.heights, solids)
            .facts
  }
  return shapes
}
