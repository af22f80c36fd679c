import { Hono } from 'hono'
import * as z from 'zod'
import { shopSchema } from '../../engine/documents/index.ts'
import { usualShop } from '../../engine/materials/index.ts'
import type { KeptShop, ShopShelf, Store } from '../../store/index.ts'
import { Refusal, readJson } from '../answers.ts'

const saving = z.strictObject({ shop: shopSchema, revision: z.number().int().min(0) })

/** The shop that is kept, or the usual one at revision 0 until somebody saves theirs. */
export const readShop = async (shelf: ShopShelf): Promise<KeptShop> =>
  (await shelf.read()) ?? { shop: usualShop(), revision: 0, updated: '' }

/** Which pours came with the demo; they stand in its shop, and every other one in the caster's own. */
export const DEMO_POURS = 'demoPours'

export const readDemoPours = async (store: Store): Promise<readonly string[]> =>
  ((await store.settings.read(DEMO_POURS)) as string[] | undefined) ?? []

/** Whose shop a pour stands in. */
export const whoseShop = async (store: Store, pourId: string): Promise<'own' | 'demo'> => {
  const demo = await readDemoPours(store)
  return demo.includes(pourId) && (await store.demoShop.read()) !== undefined ? 'demo' : 'own'
}

/** The shop that a pour stands in. */
export const readShopOf = async (store: Store, pourId: string): Promise<KeptShop> =>
  readShop((await whoseShop(store, pourId)) === 'demo' ? store.demoShop : store.shop)

export const shopRoutes = (shelf: ShopShelf): Hono =>
  new Hono()
    .get('/', async (context) => context.json(await readShop(shelf)))
    .put('/', async (context) => {
      const { shop, revision } = await readJson(context, saving)
      const answer = await shelf.save(shop, revision)
      if (answer.kind === 'saved') return context.json(answer.value)
      const stands = answer.kind === 'conflict' ? answer.now : await readShop(shelf)
      throw new Refusal(
        409,
        [
          {
            where: '/shop',
            what: `the shop was changed meanwhile: it is at revision ${stands.revision}, not ${revision}`,
            remedy: 'look at both and keep one',
          },
        ],
        { ...stands },
      )
    })
