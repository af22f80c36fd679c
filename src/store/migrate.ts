import { type Kysely, Migrator } from 'kysely'
import type { StoreMigration } from './migrations/migration.ts'
import type { StoreProblem } from './store.ts'

const numberOf = (name: string): number => Number(name.slice(0, 4))

/** @throws when the list has a gap, a repeat or a name without its number: our own mistake, not the user's */
export const inOrder = (list: Readonly<Record<string, StoreMigration>>): string[] => {
  const names = Object.keys(list).sort()
  names.forEach((name, index) => {
    if (!/^\d{4}-[a-z0-9-]+$/.test(name) || numberOf(name) !== index + 1)
      throw new Error(`migration ${name} should have number ${index + 1}`)
  })
  return names
}

/** Whether a database with these migrations done is one that this program can carry on from. */
export const judgeVersion = (
  done: readonly string[],
  known: readonly string[],
  where: string,
): StoreProblem | undefined => {
  const stranger = [...done].sort().find((name, index) => name !== known[index])
  if (stranger === undefined) return undefined
  return numberOf(stranger) > known.length
    ? {
        kind: 'newer',
        where,
        what: `it was written by a newer version of this program (${stranger}; known here up to ${known.at(-1)})`,
        remedy: 'start the newer version, or restore a backup made with this one',
      }
    : {
        kind: 'unknown-version',
        where,
        what: `it holds the change ${stranger}, which this program does not know`,
        remedy: 'restore a backup made with this program',
      }
}

/** Brings the tables up to date. @throws when a migration fails; the database is then as it was before */
export const migrate = async (
  database: Kysely<unknown>,
  list: Readonly<Record<string, StoreMigration>>,
): Promise<void> => {
  const migrator = new Migrator({ db: database, provider: { getMigrations: async () => ({ ...list }) } })
  const { error } = await migrator.migrateToLatest()
  if (error !== undefined) throw error
}
