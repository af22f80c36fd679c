import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite'
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDriver,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely'

/** "Pour" in ASCII: how a file says that it is ours, whatever its name. */
export const applicationId = 0x506f7572

/** How long a transaction waits for another one to end. */
const turnWithin_ms = 15_000

/** Opens the file so that a commit is on the disk when it returns, or throws saying which setting failed. */
export const connect = (file: string): DatabaseSyncInstance => {
  const database = new DatabaseSync(file)
  database.exec('pragma busy_timeout = 100')
  database.exec('pragma journal_mode = wal')
  database.exec('pragma synchronous = full')
  database.exec('pragma foreign_keys = on')
  const expected = { journal_mode: 'wal', synchronous: 2, foreign_keys: 1 }
  for (const [name, wanted] of Object.entries(expected)) {
    const got = readPragma(database, name)
    if (got !== wanted) {
      database.close()
      throw new Error(`the database would not set ${name}: got ${String(got)}, expected ${wanted}`)
    }
  }
  return database
}

/** The first value that a pragma answers. */
export const readPragma = (database: DatabaseSyncInstance, name: string): unknown =>
  Object.values((database.prepare(`pragma ${name}`).get() ?? {}) as object)[0]

const isBusy = (error: unknown): boolean =>
  error instanceof Error && error.message.includes('database is locked')

class ImmediateDriver extends SqliteDriver {
  // Plain `begin` takes the write lock at the first write, and fails at once if another connection wrote
  // since our first read; `begin immediate` waits its turn instead. The wait lets other work of this
  // process go on: a second connection of our own could otherwise never finish and free the lock.
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    const giveUp = performance.now() + turnWithin_ms
    for (;;) {
      try {
        await connection.executeQuery(CompiledQuery.raw('begin immediate'))
        return
      } catch (error) {
        if (!isBusy(error) || performance.now() > giveUp) throw error
        await new Promise((resolve) => setTimeout(resolve, 5))
      }
    }
  }
}

class TransactionalAdapter extends SqliteAdapter {
  // SQLite can roll back the making of tables: a migration that fails half-way leaves nothing behind.
  override get supportsTransactionalDdl(): boolean {
    return true
  }
}

type Parameter = string | number | bigint | null | Uint8Array

/** The embedded database in the shape that the query builder's own SQLite driver expects. */
const adapt = (database: DatabaseSyncInstance): SqliteDatabase => ({
  close: () => database.close(),
  prepare: (text) => {
    const statement = database.prepare(text)
    return {
      reader: statement.columns().length > 0,
      all: (parameters) => statement.all(...(parameters as Parameter[])),
      run: (parameters) => statement.run(...(parameters as Parameter[])),
      iterate: (parameters) => statement.iterate(...(parameters as Parameter[])),
    }
  },
})

export const kyselyDialect = (database: DatabaseSyncInstance): Dialect => ({
  createAdapter: () => new TransactionalAdapter(),
  createDriver: () => new ImmediateDriver({ database: adapt(database) }),
  createIntrospector: (kysely) => new SqliteIntrospector(kysely),
  createQueryCompiler: () => new SqliteQueryCompiler(),
})
