import { type FileSource, type Pour, restsOnFile } from '../engine/documents/index.ts'
import type { TriangleMesh } from '../engine/piece/mesh/index.ts'
import { shapeKey } from '../engine/piece/mesh-facts.ts'

/**
 * Reads the models and drawings of a pour, each once, by `shapeKey`. Only what could be read is kept: a model that did
 * not come is asked for again the next time.
 */
export const meshShelf = (
  read: (source: FileSource) => Promise<TriangleMesh | undefined>,
): ((pour: Pick<Pour, 'pieces'>) => Promise<Record<string, TriangleMesh>>) => {
  const known = new Map<string, TriangleMesh>()
  return async ({ pieces }) => {
    const meshes: Record<string, TriangleMesh> = {}
    for (const { source } of pieces) {
      const key = shapeKey(source)
      if (key === undefined || meshes[key] !== undefined || !restsOnFile(source)) continue
      const mesh = known.get(key) ?? (await read(source))
      if (mesh === undefined) continue
      known.set(key, mesh)
      meshes[key] = mesh
    }
    return meshes
  }
}
