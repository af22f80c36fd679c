import type { Kysely } from 'kysely'

/**
 * The tables as the queries see them. Portable on purpose: moments are ISO 8601 text in UTC, documents are
 * JSON text that no query looks into, and what is listed or sorted by has a column of its own.
 */
export interface Tables {
  shop: { id: number; revision: number; document: string; updated: string }
  pour: {
    id: string
    number: number
    name: string
    alloy: string
    /** JSON of the document's castAt */
    cast_at: string
    revision: number
    /** the step that stands now */
    step: number
    created: string
    updated: string
    deleted: string | null
  }
  /** Steps form a tree: a save after an undo starts a new branch, and nothing is ever thrown away. */
  pour_step: {
    pour_id: string
    step: number
    parent: number | null
    document: string
    editor: string | null
    started: string
    saved: string
  }
  model: { sha256: string; name: string; size: number; added: string }
  model_part: { sha256: string; part: number; bytes: Uint8Array }
  print: {
    id: string
    pour_id: string
    made: string
    engine_version: string
    units: string
    paper: string
    pour: string
    shop: string
    plan: string
    pdf: Uint8Array
    pdf_sha256: string
  }
  setting: { name: string; value: string }
}

export type Database = Kysely<Tables>

/** Every table, parents before children: the order in which rows can be put in. */
export const tablesInOrder = ['shop', 'pour', 'pour_step', 'model', 'model_part', 'print', 'setting'] as const

/** The clock and the names of new rows, handed in so that tests can hold them still. */
export interface Given {
  readonly now: () => Date
  readonly newId: () => string
}
