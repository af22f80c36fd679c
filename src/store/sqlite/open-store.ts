import { randomUUID } from 'node:crypto'
import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { Kysely } from 'kysely'
import { sqliteDialect } from '../dialect.ts'
import { inOrder, migrate } from '../migrate.ts'
import { migrations } from '../migrations/index.ts'
import type { Store, StoreOpened, StoreProblem } from '../store.ts'
import { modelShelf } from '../tables/models.ts'
import { pourShelf } from '../tables/pours.ts'
import { printShelf } from '../tables/prints.ts'
import type { Given, Tables } from '../tables/schema.ts'
import { settingShelf } from '../tables/settings.ts'
import { shopShelf } from '../tables/shop.ts'
import { backupInto, restoreFrom } from './backup.ts'
import { applicationId, connect, kyselyDialect, readPragma } from './connection.ts'
import { checkFile } from './file-check.ts'

export const databaseName = 'pourwright.sqlite'

export interface OpenOptions extends Partial<Given> {
  /** made when it is not there */
  readonly folder: string
}

const day_ms = 86_400_000

const prepareFolder = (folder: string, now: Date): StoreProblem | undefined => {
  const incoming = join(folder, 'incoming')
  try {
    // clients' names and prices are nobody else's business on a shared computer
    mkdirSync(incoming, { recursive: true, mode: 0o700 })
    // What an upload cut short by a crash left behind; younger files may be another server's.
    for (const name of readdirSync(incoming)) {
      const file = join(incoming, name)
      if (now.getTime() - statSync(file).mtimeMs > day_ms) rmSync(file, { force: true })
    }
    return undefined
  } catch (error) {
    return {
      kind: 'no-folder',
      where: folder,
      what: `nothing can be kept there: ${error instanceof Error ? error.message : String(error)}`,
      remedy: 'name a folder of your own with --data',
    }
  }
}

/** Opens or makes the database in a folder and brings its tables up to date. */
export const openStore = async (options: OpenOptions): Promise<StoreOpened> => {
  const folder = resolve(options.folder)
  const given: Given = {
    now: options.now ?? (() => new Date()),
    newId: options.newId ?? randomUUID,
  }
  const steps = migrations(sqliteDialect)
  const known = inOrder(steps)
  const file = join(folder, databaseName)
  const problem = prepareFolder(folder, given.now()) ?? checkFile(file, known, false)
  if (problem !== undefined) return { ok: false, problem }

  const connection = connect(file)
  if (readPragma(connection, 'application_id') !== applicationId)
    connection.exec(`pragma application_id = ${applicationId}`)
  const database = new Kysely<Tables>({ dialect: kyselyDialect(connection) })
  await migrate(database as unknown as Kysely<unknown>, steps)

  const store: Store = {
    shop: shopShelf(database, given, 'own'),
    demoShop: shopShelf(database, given, 'demo'),
    pours: pourShelf(database, given),
    models: modelShelf(database, given, join(folder, 'incoming')),
    prints: printShelf(database, given),
    settings: settingShelf(database),
    backup: (target) => backupInto(database, target),
    restore: (source) => restoreFrom({ database, folder, source, known, steps, now: given.now }),
    close: () => database.destroy(),
  }
  return { ok: true, store }
}
