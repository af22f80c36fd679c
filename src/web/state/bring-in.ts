import type { PourFile } from '../../engine/documents/pour.ts'
import { importPour, restoreFrom } from './api.ts'
import { forgetAll } from './documents.tsx'

/**
 * Takes a pour file, or a whole backup. The pour's id, or undefined after a backup has replaced everything.
 *
 * @throws with the place and the remedy when the file is neither
 */
export const bringIn = async (file: File): Promise<string | undefined> => {
  const head = await file.slice(0, 64).text()
  if (!head.trimStart().startsWith('{')) {
    await restoreFrom(file)
    forgetAll()
    return undefined
  }
  let read: unknown
  try {
    read = JSON.parse(await file.text())
  } catch (error) {
    throw new Error(
      `the text is no JSON (${(error as Error).message}); save the pour again and bring that file`,
    )
  }
  if (typeof read !== 'object' || read === null || (read as { kind?: unknown }).kind !== 'pour') {
    await restoreFrom(file)
    forgetAll()
    return undefined
  }
  const { id } = await importPour(read as PourFile)
  return id
}
