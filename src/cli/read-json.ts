import { readFile, stat } from 'node:fs/promises'
import { refuse } from './refusal.ts'

const MOST_DOCUMENT_BYTES = 20_000_000

/** A JSON file's value. @throws Refusal where it is missing, no file, far too big or not JSON */
export const readJson = async (path: string): Promise<unknown> => {
  const size = await stat(path).then(
    (found) => (found.isFile() ? found.size : refuse(path, 'not a file', 'give the path of a JSON file')),
    () => refuse(path, 'no such file', 'check the path'),
  )
  if (size > MOST_DOCUMENT_BYTES)
    refuse(path, 'far too big for such a document', 'give the JSON document, not a model')
  // some editors begin a file with a byte-order mark, which is no part of the JSON
  const text = (await readFile(path, 'utf8')).replace(/^\uFEFF/, '')
  try {
    return JSON.parse(text) as unknown
  } catch (error) {
    return refuse(path, `not JSON: ${(error as Error).message}`, 'mend the file at that place')
  }
}

/** Refuses a document of another kind, or of a version this program does not know yet. */
export const newerThanKnown = (path: string, value: unknown, kind: string): void => {
  if (typeof value !== 'object' || value === null) return
  const { kind: found, version } = value as { kind?: unknown; version?: unknown }
  if (found !== undefined && found !== kind)
    refuse(`${path} /kind`, `this is a ${String(found)}, not a ${kind}`, `give a ${kind} file`)
  if (typeof version === 'number' && version > 1)
    refuse(`${path} /version`, `written by a newer version (${version})`, 'update this program')
}
