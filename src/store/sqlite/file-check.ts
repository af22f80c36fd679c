import { closeSync, existsSync, openSync, readSync } from 'node:fs'
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite'
import { judgeVersion } from '../migrate.ts'
import type { StoreProblem } from '../store.ts'
import { applicationId, readPragma } from './connection.ts'

const damaged = (where: string, what: string): StoreProblem => ({
  kind: 'damaged',
  where,
  what,
  remedy: 'move the file away and restore your last backup',
})

const notOurs = (where: string): StoreProblem => ({
  kind: 'not-ours',
  where,
  what: 'it is not a file that this program wrote',
  remedy: 'choose a backup file that this program made',
})

const startsLikeDatabase = (file: string): boolean => {
  const handle = openSync(file, 'r')
  try {
    const head = Buffer.alloc(16)
    return readSync(handle, head, 0, 16, 0) === 16 && head.toString('latin1') === 'SQLite format 3\0'
  } finally {
    closeSync(handle)
  }
}

const namesIn = (database: DatabaseSyncInstance, table: string): string[] =>
  (database.prepare(`select name from ${table} order by name`).all() as { name: string }[]).map(
    ({ name }) => name,
  )

const firstComplaint = (database: DatabaseSyncInstance): string | undefined => {
  const integrity = readPragma(database, 'integrity_check')
  if (integrity !== 'ok') return `its inner check says: ${String(integrity)}`
  return database.prepare('pragma foreign_key_check').get() === undefined
    ? undefined
    : 'rows in it point at rows that are missing'
}

/**
 * What speaks against a database file: not ours, newer than known, damaged. A file that is not there, or
 * an empty one, is none of these: it is a new shop.
 * @param thorough reads every page; the quick way only reads the head
 */
export const checkFile = (
  file: string,
  known: readonly string[],
  thorough: boolean,
): StoreProblem | undefined => {
  if (!existsSync(file)) return undefined
  let database: DatabaseSyncInstance | undefined
  try {
    if (!startsLikeDatabase(file)) return notOurs(file)
    database = new DatabaseSync(file, { readOnly: thorough })
    const tables = namesIn(database, 'sqlite_master')
    // a first start cut short left an empty database behind: carry on with it
    if (tables.length === 0 && !thorough) return undefined
    if (readPragma(database, 'application_id') !== applicationId) return notOurs(file)
    const done = tables.includes('kysely_migration') ? namesIn(database, 'kysely_migration') : []
    if (thorough && done.length === 0) return notOurs(file)
    const version = judgeVersion(done, known, file)
    if (version !== undefined) return version
    const complaint = thorough ? firstComplaint(database) : undefined
    return complaint === undefined ? undefined : damaged(file, complaint)
  } catch (error) {
    return damaged(file, `it could not be read: ${error instanceof Error ? error.message : String(error)}`)
  } finally {
    database?.close()
  }
}
