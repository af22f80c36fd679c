import { Hono } from 'hono'
import * as z from 'zod'
import { shopSchema } from '../../engine/documents/index.ts'
import { usualShop } from '../../engine/materials/index.ts'
import type { KeptShop, Store } from '../../store/index.ts'
import { Refusal, readJson } from '../answers.ts'

const saving = z.strictObject({ shop: shopSchema, revision: z.number().int().min(0) })

/** The shop that is kept, or the usual one at revision 0 until somebody saves theirs. */
export const readShop = async (store: Store): Promise<KeptShop> =>
  (await store.shop.read()) ?? { shop: usualShop(), revision: 0, updated: '' }

export const shopRoutes = (store: Store): Hono =>
  new Hono()
    .get('/', async (context) => context.json(await readShop(store)))
    .put('/', async (context) => {
      const { shop, revision } = await readJson(context, saving)
      const answer = await store.shop.save(shop, revision)
      if (answer.kind === 'saved') return context.json(answer.value)
      const stands = answer.kind === 'conflict' ? answer.now : await readShop(store)
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
