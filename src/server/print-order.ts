import type { Pour } from '../engine/documents/index.ts'
import { restsOnFile } from '../engine/documents/index.ts'
import type { PrintAsked, TemplateAsked } from './services.ts'

/** What a thread of its own is given to print: plain data, with the bytes of every file the pour rests on. */
export type PrintOrder = {
  readonly files: ReadonlyMap<string, Uint8Array>
} & (
  | { readonly print: 'sheet'; readonly asked: Omit<PrintAsked, 'readModel'> }
  | { readonly print: 'template'; readonly asked: Omit<TemplateAsked, 'readModel'> }
)

/** The kept files that pieces rest on, by their content. */
export const filesOf = async (
  pieces: Pour['pieces'],
  readModel: PrintAsked['readModel'],
): Promise<ReadonlyMap<string, Uint8Array>> => {
  const files = new Map<string, Uint8Array>()
  for (const { source } of pieces) {
    if (!restsOnFile(source) || source.sha256 === undefined || files.has(source.sha256)) continue
    const bytes = await readModel(source.sha256)
    if (bytes !== undefined) files.set(source.sha256, bytes)
  }
  return files
}
