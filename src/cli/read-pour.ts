import { createHash } from 'node:crypto'
import { readFile, realpath, stat } from 'node:fs/promises'
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path'
import { type Pour, pourFileSchema, readDocument, type Shop, shopSchema } from '../engine/documents/index.ts'
import type { ModelBytes } from '../settle/index.ts'
import { newerThanKnown, readJson } from './read-json.ts'
import { Refusal, refuse } from './refusal.ts'

const MOST_MODEL_BYTES = 400_000_000

export interface PourAndShop {
  readonly pour: Pour
  readonly shop: Shop
  /** reads a model named by the pour; never outside the pour file's own folder */
  readonly readModel: (source: { readonly file: string; readonly sha256?: string }) => Promise<ModelBytes>
}

/** A pour file with its shop inside or beside it. @throws Refusal naming every fault with its place */
export const readPour = async (path: string, shopPath: string | undefined): Promise<PourAndShop> => {
  const value = await readJson(path)
  newerThanKnown(path, value, 'pour')
  const reading = readDocument(pourFileSchema, value)
  if (!reading.ok) throw new Refusal(reading.problems)
  const { shop: inside, ...pour } = reading.value
  let shop = inside
  if (shopPath !== undefined) {
    const shopValue = await readJson(shopPath)
    newerThanKnown(shopPath, shopValue, 'shop')
    const shopReading = readDocument(shopSchema, shopValue)
    if (!shopReading.ok) throw new Refusal(shopReading.problems)
    shop = shopReading.value
  }
  if (shop === undefined)
    return refuse(
      `${path} /shop`,
      'the pour holds no shop',
      'put the shop in the file, or give it with --shop FILE',
    )
  const folder = dirname(resolve(path))
  return { pour, shop, readModel: (source) => readModelBeside(folder, source) }
}

const readModelBeside = async (
  folder: string,
  source: { readonly file: string; readonly sha256?: string },
): Promise<ModelBytes> => {
  const outside: ModelBytes = {
    unreadable: 'the model lies outside the pour file’s folder',
    remedy: 'put the model beside the pour file and name it by a relative path',
  }
  if (isAbsolute(source.file) || source.file.includes('\\') || source.file.includes('\0')) return outside
  const path = resolve(folder, source.file)
  const [base, target] = await Promise.all([realpath(folder), realpath(path).catch(() => undefined)])
  if (relative(folder, path).startsWith('..')) return outside
  if (target === undefined)
    return { unreadable: 'the model file is not there', remedy: 'put the model beside the pour file' }
  if (target !== base && !target.startsWith(base + sep)) return outside
  const found = await stat(target)
  if (!found.isFile() || found.size > MOST_MODEL_BYTES)
    return {
      unreadable: 'the model is no file, or far too big',
      remedy: 'reduce the mesh and export it again',
    }
  const bytes = new Uint8Array(await readFile(target))
  const sum = createHash('sha256').update(bytes).digest('hex')
  return source.sha256 !== undefined && sum !== source.sha256
    ? {
        unreadable: 'the model file is not the one the pour was planned with: its sha256 differs',
        remedy: 'put the right file back, or give the new sha256',
      }
    : { bytes }
}
