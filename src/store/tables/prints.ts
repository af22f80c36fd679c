import { createHash } from 'node:crypto'
import type { Pour, Shop } from '../../engine/documents/index.ts'
import type { PrintLine, PrintShelf } from '../store.ts'
import type { Database, Given } from './schema.ts'

const lineColumns = ['id', 'pour_id', 'made', 'engine_version', 'units', 'paper', 'pdf_sha256'] as const

interface LineRow {
  id: string
  pour_id: string
  made: string
  engine_version: string
  units: string
  paper: string
  pdf_sha256: string
}

const lineOf = (row: LineRow): PrintLine => ({
  id: row.id,
  pourId: row.pour_id,
  made: row.made,
  engineVersion: row.engine_version,
  units: row.units,
  paper: row.paper,
  pdfSha256: row.pdf_sha256,
})

/** Rows are put in and read; there is no query here that changes one. */
export const printShelf = (database: Database, { now, newId }: Given): PrintShelf => ({
  add: async (print) => {
    const row: LineRow = {
      id: newId(),
      pour_id: print.pourId,
      made: now().toISOString(),
      engine_version: print.engineVersion,
      units: print.units,
      paper: print.paper,
      pdf_sha256: createHash('sha256').update(print.pdf).digest('hex'),
    }
    const documents = {
      pour: JSON.stringify(print.pour),
      shop: JSON.stringify(print.shop),
      plan: JSON.stringify(print.plan),
    }
    await database.transaction().execute((transaction) =>
      transaction
        .insertInto('print')
        .values({ ...row, ...documents, pdf: print.pdf })
        .execute(),
    )
    return lineOf(row)
  },
  list: async (pourId) => {
    const rows = await database
      .selectFrom('print')
      .select(lineColumns)
      .where('pour_id', '=', pourId)
      .orderBy('made', 'desc')
      .execute()
    return rows.map(lineOf)
  },
  read: async (id) => {
    const row = await database
      .selectFrom('print')
      .select([...lineColumns, 'pour', 'shop', 'plan'])
      .where('id', '=', id)
      .executeTakeFirst()
    return (
      row && {
        ...lineOf(row),
        pour: JSON.parse(row.pour) as Pour,
        shop: JSON.parse(row.shop) as Shop,
        plan: JSON.parse(row.plan) as unknown,
      }
    )
  },
  pdf: async (id) => {
    const row = await database.selectFrom('print').select('pdf').where('id', '=', id).executeTakeFirst()
    return row?.pdf
  },
})
