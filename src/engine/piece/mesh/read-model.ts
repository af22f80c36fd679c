import { emptyMesh, type ModelReading, type ReadLimits, readingOf, usualLimits } from './model-reading.ts'
import { fileProblems } from './problems.ts'
import { read3mf } from './read-3mf.ts'
import { readGlb } from './read-glb.ts'
import { readObj } from './read-obj.ts'
import { readPly } from './read-ply.ts'
import { kindOfStl, looksLikeText, readStl } from './read-stl.ts'
import { TextCursor, textOf } from './text-cursor.ts'

/**
 * Reads a model file of any known format, told by its contents first and by its name only where these are
 * silent (OBJ has no mark of its own).
 * @param bytes the whole file
 * @param fileName its name, for the format and for messages; never opened
 * @returns triangles in the file's own unit, the unit if the file knows it, and everything found wrong
 */
export function readModel(
  bytes: Uint8Array,
  fileName: string,
  limits: Partial<ReadLimits> = {},
): ModelReading {
  const all = { ...usualLimits, ...limits }
  const ending = /\.([a-z0-9]+)$/i.exec(fileName)?.[1]?.toLowerCase() ?? ''
  if (bytes.length === 0) return readingOf(null, emptyMesh(), null, [fileProblems.empty()])
  const mark = textOf(bytes, 0, Math.min(4, bytes.length))
  if (mark.startsWith('PK')) return read3mf(bytes, all)
  if (mark === 'glTF') return readGlb(bytes, all)
  if (/^ply[\r\n]/.test(mark)) return readPly(bytes, all)
  if (ending === 'gltf')
    return readingOf(null, emptyMesh(), null, [
      fileProblems.notRead('glTF as text keeps its triangles in other files', 'the file', 'export it as GLB'),
    ])
  if (kindOfStl(bytes) === 'text') return readStl(bytes, all)
  if (ending === 'obj' || (ending !== 'stl' && looksLikeText(bytes) && looksLikeObj(bytes)))
    return looksLikeText(bytes)
      ? readObj(bytes, all)
      : readingOf(null, emptyMesh(), null, [fileProblems.unknownFormat('the file, named as OBJ,')])
  if (ending === 'stl') return readStl(bytes, all)
  if (kindOfStl(bytes) === 'binary' && isExactStl(bytes)) return readStl(bytes, all)
  return readingOf(null, emptyMesh(), null, [fileProblems.unknownFormat(`"${fileName}"`)])
}

function looksLikeObj(bytes: Uint8Array): boolean {
  const cursor = new TextCursor(bytes, 0, Math.min(bytes.length, 100_000))
  while (cursor.at < cursor.end) {
    if (cursor.toWordOnLine() && cursor.isWord('v')) return true
    cursor.toNextLine()
  }
  return false
}

function isExactStl(bytes: Uint8Array): boolean {
  return new DataView(bytes.buffer, bytes.byteOffset).getUint32(80, true) * 50 + 84 === bytes.length
}
