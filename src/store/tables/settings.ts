import type { Store } from '../store.ts'
import type { Database } from './schema.ts'

export const settingShelf = (database: Database): Store['settings'] => ({
  read: async (name) => {
    const row = await database
      .selectFrom('setting')
      .select('value')
      .where('name', '=', name)
      .executeTakeFirst()
    return row && JSON.parse(row.value)
  },
  save: async (name, value) => {
    const text = JSON.stringify(value)
    await database.transaction().execute((transaction) =>
      transaction
        .insertInto('setting')
        .values({ name, value: text })
        .onConflict((conflict) => conflict.column('name').doUpdateSet({ value: text }))
        .execute(),
    )
  },
})
