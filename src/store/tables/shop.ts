import type { Shop } from '../../engine/documents/index.ts'
import type { KeptShop, Store } from '../store.ts'
import type { Database, Given } from './schema.ts'

const onlyShop = 1

const read = async (database: Database): Promise<KeptShop | undefined> => {
  const row = await database.selectFrom('shop').selectAll().where('id', '=', onlyShop).executeTakeFirst()
  return row && { shop: JSON.parse(row.document) as Shop, revision: row.revision, updated: row.updated }
}

export const shopShelf = (database: Database, { now }: Given): Store['shop'] => ({
  read: () => read(database),
  save: (shop, basedOn) =>
    database.transaction().execute(async (transaction) => {
      const stands = await read(transaction)
      if (stands !== undefined && stands.revision !== basedOn) return { kind: 'conflict', now: stands }
      if (stands === undefined && basedOn !== 0) return { kind: 'missing' }
      const revision = basedOn + 1
      const updated = now().toISOString()
      const document = JSON.stringify(shop)
      await transaction
        .insertInto('shop')
        .values({ id: onlyShop, revision, document, updated })
        .onConflict((conflict) => conflict.column('id').doUpdateSet({ revision, document, updated }))
        .execute()
      return { kind: 'saved', value: { shop, revision, updated } }
    }),
})
