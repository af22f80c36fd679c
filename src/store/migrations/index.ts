import type { Dialect } from '../dialect.ts'
import { firstTables } from './0001-first-tables.ts'
import type { StoreMigration } from './migration.ts'

/** Numbered without gaps and never edited once released: the next change is the next number. */
export const migrations = (dialect: Dialect): Readonly<Record<string, StoreMigration>> => ({
  '0001-first-tables': firstTables(dialect),
})
