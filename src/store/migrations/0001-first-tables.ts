import type { Kysely } from 'kysely'
import type { Dialect } from '../dialect.ts'
import type { StoreMigration } from './migration.ts'

export const firstTables = ({ bytes, wholeNumber }: Dialect): StoreMigration => ({
  up: async (database: Kysely<unknown>) => {
    const { schema } = database
    await schema
      .createTable('shop')
      .addColumn('id', 'integer', (column) => column.primaryKey())
      .addColumn('revision', 'integer', (column) => column.notNull())
      .addColumn('document', 'text', (column) => column.notNull())
      .addColumn('updated', 'text', (column) => column.notNull())
      .execute()
    await schema
      .createTable('pour')
      .addColumn('id', 'text', (column) => column.primaryKey())
      .addColumn('number', 'integer', (column) => column.notNull())
      .addColumn('name', 'text', (column) => column.notNull())
      .addColumn('alloy', 'text', (column) => column.notNull())
      .addColumn('cast_at', 'text', (column) => column.notNull())
      .addColumn('revision', 'integer', (column) => column.notNull())
      .addColumn('step', 'integer', (column) => column.notNull())
      .addColumn('created', 'text', (column) => column.notNull())
      .addColumn('updated', 'text', (column) => column.notNull())
      .addColumn('deleted', 'text')
      .execute()
    await schema
      .createTable('pour_step')
      .addColumn('pour_id', 'text', (column) => column.notNull().references('pour.id'))
      .addColumn('step', 'integer', (column) => column.notNull())
      .addColumn('parent', 'integer')
      .addColumn('document', 'text', (column) => column.notNull())
      .addColumn('editor', 'text')
      .addColumn('started', 'text', (column) => column.notNull())
      .addColumn('saved', 'text', (column) => column.notNull())
      .addPrimaryKeyConstraint('pour_step_key', ['pour_id', 'step'])
      .execute()
    await schema
      .createTable('model')
      .addColumn('sha256', 'text', (column) => column.primaryKey())
      .addColumn('name', 'text', (column) => column.notNull())
      .addColumn('size', wholeNumber, (column) => column.notNull())
      .addColumn('added', 'text', (column) => column.notNull())
      .execute()
    await schema
      .createTable('model_part')
      .addColumn('sha256', 'text', (column) => column.notNull().references('model.sha256'))
      .addColumn('part', 'integer', (column) => column.notNull())
      .addColumn('bytes', bytes, (column) => column.notNull())
      .addPrimaryKeyConstraint('model_part_key', ['sha256', 'part'])
      .execute()
    await schema
      .createTable('print')
      .addColumn('id', 'text', (column) => column.primaryKey())
      .addColumn('pour_id', 'text', (column) => column.notNull().references('pour.id'))
      .addColumn('made', 'text', (column) => column.notNull())
      .addColumn('engine_version', 'text', (column) => column.notNull())
      .addColumn('units', 'text', (column) => column.notNull())
      .addColumn('paper', 'text', (column) => column.notNull())
      .addColumn('pour', 'text', (column) => column.notNull())
      .addColumn('shop', 'text', (column) => column.notNull())
      .addColumn('plan', 'text', (column) => column.notNull())
      .addColumn('pdf', bytes, (column) => column.notNull())
      .addColumn('pdf_sha256', 'text', (column) => column.notNull())
      .execute()
    await schema.createIndex('print_by_pour').on('print').columns(['pour_id', 'made']).execute()
    await schema
      .createTable('setting')
      .addColumn('name', 'text', (column) => column.primaryKey())
      .addColumn('value', 'text', (column) => column.notNull())
      .execute()
  },
})
