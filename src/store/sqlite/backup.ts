import { copyFileSync, rmSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { Kysely, sql } from 'kysely'
import { migrate } from '../migrate.ts'
import type { StoreMigration } from '../migrations/migration.ts'
import type { Restored } from '../store.ts'
import { type Database, type Tables, tablesInOrder } from '../tables/schema.ts'
import { connect, kyselyDialect } from './connection.ts'
import { checkFile } from './file-check.ts'

/** One consistent copy, taken while others read and write. */
export const backupInto = async (database: Database, target: string): Promise<void> => {
  await sql`vacuum into ${resolve(target)}`.execute(database)
}

interface RestoreTask {
  readonly database: Database
  readonly folder: string
  readonly source: string
  readonly known: readonly string[]
  readonly steps: Readonly<Record<string, StoreMigration>>
  readonly now: () => Date
}

/** `2026-03-01T09:30:00.123Z` as part of a file name. */
const stampOf = (moment: Date): string => moment.toISOString().replaceAll(':', '').replace('.', '')

/**
 * The contents are copied in one transaction rather than the file put in place of ours: a crash half-way
 * leaves the old contents whole, and other connections, which hold the old file open, see the new rows.
 */
export const restoreFrom = async (task: RestoreTask): Promise<Restored> => {
  const { database, folder, known, steps, now } = task
  // The backup itself is never written to: it is brought up to date as a copy.
  const copy = join(folder, 'incoming', `restore-${stampOf(now())}.sqlite`)
  copyFileSync(task.source, copy)
  try {
    const problem = checkFile(copy, known, true)
    if (problem !== undefined) return { kind: 'refused', problem: { ...problem, where: task.source } }
    const connection = new Kysely<Tables>({ dialect: kyselyDialect(connect(copy)) })
    await migrate(connection as unknown as Kysely<unknown>, steps).finally(() => connection.destroy())

    const before = join(folder, `before-restore-${stampOf(now())}.sqlite`)
    await backupInto(database, before)
    await copyContents(database, copy)
    return { kind: 'restored', before }
  } finally {
    for (const ending of ['', '-wal', '-shm']) rmSync(`${copy}${ending}`, { force: true })
  }
}

const copyContents = (database: Database, from: string): Promise<void> =>
  database.connection().execute(async (connection) => {
    await sql`attach database ${from} as backup`.execute(connection)
    try {
      await connection.transaction().execute(async (transaction) => {
        for (const table of [...tablesInOrder].reverse()) await transaction.deleteFrom(table).execute()
        for (const table of tablesInOrder) {
          const columns = await sql<{ name: string }>`
            select name from backup.pragma_table_info(${table})`.execute(transaction)
          const names = sql.join(columns.rows.map(({ name }) => sql.ref(name)))
          await sql`
            insert into ${sql.table(`main.${table}`)} (${names})
            select ${names} from ${sql.table(`backup.${table}`)}`.execute(transaction)
        }
      })
    } finally {
      await sql`detach database backup`.execute(connection)
    }
  })
