import { Hono } from 'hono'
import { type Pour, restsOnFile } from '../../engine/documents/index.ts'
import type { Store } from '../../store/index.ts'
import { notBuilt } from '../answers.ts'
import type { Demo, Services } from '../services.ts'
import { mostModel } from './models.ts'
import { DEMO_POURS, readDemoPours } from './shop.ts'

const standing = async (store: Store): Promise<string | undefined> => {
  const [first] = await readDemoPours(store)
  if (first === undefined) return undefined
  const kept = await store.pours.recover(first)
  return kept?.id
}

/** Models are known by their hash from here on, as those that a person uploads are. */
const keepModels = async (store: Store, demo: Demo): Promise<ReadonlyMap<string, string>> => {
  const hashes = new Map<string, string>()
  for (const { name, bytes } of demo.models) {
    const added = await store.models.add(name, [bytes], mostModel)
    if (added.kind !== 'kept') throw new Error(`a demo model was not kept: got ${added.kind}, expected kept`)
    hashes.set(name, added.model.sha256)
  }
  return hashes
}

const withHashes = (pour: Pour, hashes: ReadonlyMap<string, string>): Pour => ({
  ...pour,
  pieces: pour.pieces.map((piece) =>
    restsOnFile(piece.source)
      ? {
          ...piece,
          source: { ...piece.source, sha256: piece.source.sha256 ?? hashes.get(piece.source.file) },
        }
      : piece,
  ),
})

/** The demo's pours with the shop they stand in, apart from the caster's own. Asked twice, it leads to the same pour; a demo pour that was deleted comes back. */
export const demoRoutes = (store: Store, services: Services): Hono =>
  new Hono().post('/', async (context) => {
    const demo = services.demo
    if (demo === undefined) throw notBuilt('/demo', 'the demo studio')
    const before = await standing(store)
    if (before !== undefined) return context.json({ id: before })
    const documents = await demo()
    const hashes = await keepModels(store, documents)
    if ((await store.demoShop.read()) === undefined) await store.demoShop.save(documents.shop, 0)
    const ids: string[] = []
    for (const pour of documents.pours) ids.push((await store.pours.create(withHashes(pour, hashes))).id)
    await store.settings.save(DEMO_POURS, ids)
    return context.json({ id: ids[0] }, 201)
  })
