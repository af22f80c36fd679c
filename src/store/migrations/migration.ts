import type { Migration } from 'kysely'

/** Goes one way only: the way back is the backup. */
export type StoreMigration = Pick<Migration, 'up'>
