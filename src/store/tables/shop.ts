import type { Shop } from '../../engine/documents/index.ts'
import type { KeptShop, ShopShelf } from '../store.ts'
import type { Database, Given } from './schema.ts'

/** Which row of the table holds which shop. */
const ROW = { own: 1, demo: 2 } as const

const read = async (database: Database, id: number): Promise<KeptShop | undefined> => {
  const row = await database.selectFrom('shop').selectAll().where('id', '=', id).executeTakeFirst()
  return row && { shop: JSON.parse(row.document) as Shop, revision: row.revision, updated: row.updated }
}

export const shopShelf = (database: Database, { now }: Given, whose: keyof typeof ROW): ShopShelf => ({
  read: () => read(database, ROW[whose]),
  save: (shop, basedOn) =>
    database.transaction().execute(async (transaction) => {
      const stands = await read(transaction, ROW[whose])
      if (stands !== undefined && stands.revision !== basedOn) return { kind: 'conflict', now: stands }
      if (stands === undefined && basedOn !== 0) return { kind: 'missing' }
      const revision = basedOn + 1
      const updated = now().toISOString()
      const document = JSON.stringify(shop)
      await transaction
        .insertInto('shop')
        .values({ id: ROW[whose], revision, document, updated })
        .onConflict((conflict) => conflict.column('id').doUpdateSet({ revision, document, updated }))
        .execute()
      return { kind: 'saved', value: { shop, revision, updated } }
    }),
})
