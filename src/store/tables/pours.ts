import type { Pour } from '../../engine/documents/index.ts'
import type { KeptPour, PourLine, PourShelf, SaveOptions } from '../store.ts'
import { changedPaths } from './changed-paths.ts'
import type { Database, Given, Tables } from './schema.ts'

type PourRow = Tables['pour']
type StepRow = Tables['pour_step']

/** Typing that pauses longer than this makes a new step for undo. */
const sameStepFor_ms = 60_000

const columnsOf = (pour: Pour, number: number) => ({
  number,
  name: pour.name,
  alloy: pour.alloy,
  cast_at: JSON.stringify(pour.castAt),
})

const findRow = (database: Database, id: string): Promise<PourRow | undefined> =>
  database.selectFrom('pour').selectAll().where('id', '=', id).executeTakeFirst()

const readStep = (database: Database, id: string, step: number): Promise<StepRow> =>
  database
    .selectFrom('pour_step')
    .selectAll()
    .where('pour_id', '=', id)
    .where('step', '=', step)
    .executeTakeFirstOrThrow()

/** The step that redo goes to: the newest branch from here. */
const stepAfter = async (database: Database, id: string, step: number): Promise<number | undefined> => {
  const row = await database
    .selectFrom('pour_step')
    .select('step')
    .where('pour_id', '=', id)
    .where('parent', '=', step)
    .orderBy('step', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row?.step
}

const keptOf = async (database: Database, row: PourRow): Promise<KeptPour> => {
  const step = await readStep(database, row.id, row.step)
  return {
    id: row.id,
    pour: JSON.parse(step.document) as Pour,
    revision: row.revision,
    created: row.created,
    updated: row.updated,
    ...(row.deleted !== null && { deleted: row.deleted }),
    canUndo: step.parent !== null,
    canRedo: (await stepAfter(database, row.id, row.step)) !== undefined,
  }
}

const newestStep = async (database: Database, id: string): Promise<number> => {
  const { step } = await database
    .selectFrom('pour_step')
    .select((build) => build.fn.max('step').as('step'))
    .where('pour_id', '=', id)
    .executeTakeFirstOrThrow()
  return Number(step)
}

const freeNumber = async (
  database: Database,
  wished: number | undefined,
  apart: readonly string[],
): Promise<number> => {
  const rows = await database.selectFrom('pour').select(['id', 'number']).execute()
  const taken = new Set(rows.map(({ number }) => number))
  if (wished !== undefined && !taken.has(wished)) return wished
  const counted = rows.filter(({ id }) => !apart.includes(id)).map(({ number }) => number)
  let next = Math.max(0, ...counted) + 1
  while (taken.has(next)) next += 1
  return next
}

/** Whether a save changes only the one place that the step before it changed, by the same editor. */
const staysAtPlace = async (
  database: Database,
  step: StepRow,
  pour: Pour,
  editor: string | undefined,
): Promise<boolean> => {
  if (editor === undefined || step.editor !== editor || step.parent === null) return false
  const before = JSON.parse((await readStep(database, step.pour_id, step.parent)).document)
  const stands = JSON.parse(step.document)
  const places = new Set([...changedPaths(before, stands), ...changedPaths(stands, pour)])
  return places.size === 1 && (await stepAfter(database, step.pour_id, step.step)) === undefined
}

const isTypingOn = (step: StepRow, now: Date): boolean =>
  now.getTime() - Date.parse(step.saved) <= sameStepFor_ms

const holds = (step: StepRow, pour: Pour): boolean =>
  changedPaths(JSON.parse(step.document), pour).length === 0

/** The nearest step that holds this document on the way back, or on the way that redo takes. */
const findStep = async (
  database: Database,
  from: StepRow,
  pour: Pour,
  way: 'back' | 'forth',
): Promise<number | undefined> => {
  let at = from
  for (;;) {
    const next = way === 'back' ? at.parent : await stepAfter(database, from.pour_id, at.step)
    if (next === null || next === undefined) return undefined
    at = await readStep(database, from.pour_id, next)
    if (holds(at, pour)) return at.step
  }
}

export const pourShelf = (database: Database, { now, newId }: Given): PourShelf => {
  const touch = async (transaction: Database, row: PourRow, change: Partial<PourRow>): Promise<KeptPour> => {
    const changed = { ...row, ...change, revision: row.revision + 1, updated: now().toISOString() }
    await transaction.updateTable('pour').set(changed).where('id', '=', row.id).execute()
    return keptOf(transaction, changed)
  }

  const change = (
    id: string,
    make: (transaction: Database, row: PourRow) => Promise<KeptPour>,
  ): Promise<KeptPour | undefined> =>
    database.transaction().execute(async (transaction) => {
      const row = await findRow(transaction, id)
      return row && make(transaction, row)
    })

  const create = async (transaction: Database, pour: Pour, apart: readonly string[]): Promise<KeptPour> => {
    const number = await freeNumber(transaction, pour.number, apart)
    const moment = now().toISOString()
    const numbered: Pour = { ...pour, number }
    const row: PourRow = {
      id: newId(),
      ...columnsOf(numbered, number),
      revision: 1,
      step: 1,
      created: moment,
      updated: moment,
      deleted: null,
    }
    await transaction.insertInto('pour').values(row).execute()
    await transaction
      .insertInto('pour_step')
      .values({
        pour_id: row.id,
        step: 1,
        parent: null,
        document: JSON.stringify(numbered),
        editor: null,
        started: moment,
        saved: moment,
      })
      .execute()
    return keptOf(transaction, row)
  }

  const goTo = async (
    transaction: Database,
    row: PourRow,
    step: number | null | undefined,
  ): Promise<KeptPour> => {
    if (step === null || step === undefined) return keptOf(transaction, row)
    const pour = JSON.parse((await readStep(transaction, row.id, step)).document) as Pour
    return touch(transaction, row, { ...columnsOf(pour, pour.number ?? row.number), step })
  }

  const save = async (
    transaction: Database,
    row: PourRow,
    pour: Pour,
    { editor, went }: SaveOptions,
  ): Promise<KeptPour> => {
    const stands = await readStep(transaction, row.id, row.step)
    if (holds(stands, pour)) return keptOf(transaction, row)
    const moment = now()
    const saved = moment.toISOString()
    const document = JSON.stringify(pour)
    const columns = columnsOf(pour, pour.number ?? row.number)
    if (went === 'taken back') {
      const { parent } = stands
      // after "keep mine" the step may be another page's, which stays
      const isOwn = stands.editor === (editor ?? null)
      const isLast = (await stepAfter(transaction, row.id, row.step)) === undefined
      if (parent !== null && isOwn && isLast && holds(await readStep(transaction, row.id, parent), pour)) {
        await transaction
          .deleteFrom('pour_step')
          .where('pour_id', '=', row.id)
          .where('step', '=', row.step)
          .execute()
        return goTo(transaction, row, parent)
      }
    } else if (went !== undefined) {
      const found = await findStep(transaction, stands, pour, went)
      if (found !== undefined) return goTo(transaction, row, found)
    }
    // what was refused may have run on into a step that was accepted, however long ago
    const carriesOn =
      (went === 'taken back' || isTypingOn(stands, moment)) &&
      (await staysAtPlace(transaction, stands, pour, editor))
    if (carriesOn) {
      await transaction
        .updateTable('pour_step')
        .set({ document, saved })
        .where('pour_id', '=', row.id)
        .where('step', '=', row.step)
        .execute()
      return touch(transaction, row, columns)
    }
    const step = (await newestStep(transaction, row.id)) + 1
    await transaction
      .insertInto('pour_step')
      .values({
        pour_id: row.id,
        step,
        parent: row.step,
        document,
        editor: editor ?? null,
        started: saved,
        saved,
      })
      .execute()
    return touch(transaction, row, { ...columns, step })
  }

  return {
    list: async ({ deleted = false } = {}) => {
      const rows = await database
        .selectFrom('pour')
        .selectAll()
        .$if(!deleted, (query) => query.where('deleted', 'is', null))
        .orderBy('updated', 'desc')
        .orderBy('number', 'desc')
        .execute()
      return rows.map(
        (row): PourLine => ({
          id: row.id,
          name: row.name,
          number: row.number,
          alloy: row.alloy,
          castAt: JSON.parse(row.cast_at) as Pour['castAt'],
          created: row.created,
          updated: row.updated,
          ...(row.deleted !== null && { deleted: row.deleted }),
        }),
      )
    },
    read: async (id) => {
      const row = await findRow(database, id)
      return row && keptOf(database, row)
    },
    create: (pour, apart = []) =>
      database.transaction().execute((transaction) => create(transaction, pour, apart)),
    save: (id, pour, options: SaveOptions) =>
      database.transaction().execute(async (transaction) => {
        const row = await findRow(transaction, id)
        if (row === undefined) return { kind: 'missing' }
        if (row.revision !== options.basedOn || row.deleted !== null)
          return { kind: 'conflict', now: await keptOf(transaction, row) }
        return { kind: 'saved', value: await save(transaction, row, pour, options) }
      }),
    undo: (id) =>
      change(id, async (transaction, row) =>
        goTo(transaction, row, (await readStep(transaction, id, row.step)).parent),
      ),
    redo: (id) =>
      change(id, async (transaction, row) =>
        goTo(transaction, row, await stepAfter(transaction, id, row.step)),
      ),
    duplicate: (id, apart = []) =>
      change(id, async (transaction, row) => {
        const { pour } = await keptOf(transaction, row)
        const { number: _number, ...rest } = pour
        return create(transaction, { ...rest, name: `${pour.name}, again`.slice(0, 200) }, apart)
      }),
    remove: (id) =>
      change(id, (transaction, row) =>
        row.deleted === null
          ? touch(transaction, row, { deleted: now().toISOString() })
          : keptOf(transaction, row),
      ),
    recover: (id) =>
      change(id, (transaction, row) =>
        row.deleted === null ? keptOf(transaction, row) : touch(transaction, row, { deleted: null }),
      ),
  }
}
