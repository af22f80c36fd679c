import { Hono } from 'hono'
import { type FileSource, type PourFile, pourFileSchema, restsOnFile } from '../../engine/documents/index.ts'
import type { Store } from '../../store/index.ts'
import { Refusal, readJson } from '../answers.ts'
import type { Fault } from '../services.ts'
import { present } from './pours.ts'
import { readDemoPours, readShopOf } from './shop.ts'

const filesIn = (file: Pick<PourFile, 'pieces'>): { source: FileSource; at: string }[] =>
  file.pieces.flatMap(({ source }, index) =>
    restsOnFile(source) ? [{ source, at: `/pieces/${index}/source` }] : [],
  )

/** Whether a model's name stays inside the folder of the file that names it. */
export const staysInside = (name: string): boolean =>
  !/^([/\\]|[a-z]:)/i.test(name) &&
  !name.includes('\0') &&
  !name.split(/[/\\]/).includes('..') &&
  !/^[a-z][a-z0-9+.-]*:/i.test(name)

const outside = (file: PourFile): Fault[] =>
  filesIn(file)
    .filter(({ source }) => !staysInside(source.file))
    .map(({ source, at }) => ({
      where: `${at}/file`,
      what: `"${source.file}" lies outside the folder of the pour's file`,
      remedy: 'put the model beside the file and name it by a relative path',
    }))

const missing = async (store: Store, file: PourFile): Promise<FileSource[]> => {
  const found = await Promise.all(
    filesIn(file).map(async ({ source }) => ({
      source,
      known: source.sha256 !== undefined && (await store.models.find(source.sha256)) !== undefined,
    })),
  )
  return found.filter(({ known }) => !known).map(({ source }) => source)
}

const fileName = (pour: PourFile): string =>
  `${pour.name.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'pour'}.json`

export const pourFileRoutes = (store: Store): Hono =>
  new Hono()
    .get('/:id/file', async (context) => {
      const id = context.req.param('id')
      const { pour } = present(await store.pours.read(id), id)
      const { shop } = await readShopOf(store, id)
      const file: PourFile = { ...pour, shop }
      return context.body(`${JSON.stringify(file, undefined, 2)}\n`, 200, {
        'content-type': 'application/json; charset=utf-8',
        'content-disposition': `attachment; filename*=UTF-8''${encodeURIComponent(fileName(file))}`,
      })
    })
    .post('/import', async (context) => {
      const file = await readJson(context, pourFileSchema)
      const faults = outside(file)
      if (faults.length > 0) throw new Refusal(400, faults)
      const absent = await missing(store, file)
      if (absent.length > 0)
        throw new Refusal(
          400,
          absent.map((source) => ({
            where: source.file,
            what:
              source.sha256 === undefined
                ? 'the pour names this file without its SHA-256, so it cannot be told from another'
                : 'the pour needs this file, and it is not here',
            remedy: source.sha256 === undefined ? 'add its sha256 to the file' : 'send that file first',
          })),
          { missing: absent.map(({ file: name, sha256 }) => ({ file: name, sha256 })) },
        )
      const { shop, ...pour } = file
      const kept = await store.shop.read()
      // A shop of one's own is never replaced by somebody's file.
      const takesShop = shop !== undefined && kept === undefined
      if (takesShop) await store.shop.save(shop, 0)
      return context.json(
        { ...(await store.pours.create(pour, await readDemoPours(store))), shopTaken: takesShop },
        201,
      )
    })
