/**
 * What is kept: the shop, pours with every step of their editing, models by content hash, frozen prints.
 * Needs a folder on a disk that honours a sync. Gives one interface, today over embedded SQLite. Does not
 * know what a plan is, nor check a document against its schema: its callers do. Read store.ts first, then
 * tables/ (the queries, the same for every database) and sqlite/ (what only that database needs).
 */
export { usualDataFolder } from './data-folder.ts'
export { openStore } from './sqlite/open-store.ts'
export type * from './store.ts'
