/** The whole of what differs between databases in our schema; another database gives its own values. */
export interface Dialect {
  /** the column type for bytes */
  readonly bytes: 'blob' | 'bytea'
  /** the column type for whole numbers past two thousand million */
  readonly wholeNumber: 'integer' | 'bigint'
}

export const sqliteDialect: Dialect = { bytes: 'blob', wholeNumber: 'integer' }
