import { expect, test } from 'vitest'
import { readPath } from '../../engine/documents/path.ts'
import { changed } from './change.ts'
import { DocumentStore } from './document-store.ts'
import { HalfTyped } from './half-typed.ts'

interface Row {
  readonly grams?: unknown
  readonly notes?: string
}

const opened = (row: Row) => {
  const store = new DocumentStore<Row>({ document: row, revision: 1 }, async (_, revision) => ({
    ok: true,
    revision: revision + 1,
  }))
  const documents = {
    read: (path: string) => readPath(store.view().document, path),
    change: (path: string, value: unknown, group?: string) =>
      void store.change(changed(store.view().document, path, value), group),
    takeBack: (_path: string, group: string) => store.takeBack(group),
  }
  return { store, documents, entry: new HalfTyped('/grams', 'entry 1', documents) }
}

const usual = { value: 4.2, low: 4, high: 4.4, source: 'the usual shop' }

test('what was half typed is taken back and leaves no step', () => {
  const { store, documents, entry } = opened({ grams: usual })
  entry.write(documents, 5)
  entry.write(documents, 50)
  entry.restore(documents)
  expect(store.view()).toMatchObject({ document: { grams: usual }, canUndo: false })
})

test('it is put right also where something else was changed since, and stays right', () => {
  const { store, documents, entry } = opened({ grams: usual })
  entry.write(documents, 5)
  documents.change('/notes', 'thin edge')
  entry.restore(documents)
  expect(store.view().document).toEqual({ grams: usual, notes: 'thin edge' })
  // refused once by its digits and once more when the entry is left
  entry.restore(documents)
  expect(store.view().document.grams).toEqual(usual)
  // typed on, and refused again
  entry.write(documents, 7)
  entry.restore(documents)
  expect(store.view().document).toEqual({ grams: usual, notes: 'thin edge' })
})

test('what another wrote there meanwhile stays', () => {
  const { store, documents, entry } = opened({ grams: 4 })
  documents.change('/grams', 6)
  entry.restore(documents)
  expect(store.view().document.grams).toBe(6)
  entry.write(documents, 5)
  documents.change('/grams', 7, 'another entry')
  entry.restore(documents)
  expect(store.view().document.grams).toBe(7)
})

test('an empty place is empty again', () => {
  const { store, documents, entry } = opened({})
  entry.write(documents, 5)
  documents.change('/notes', 'thin edge')
  entry.restore(documents)
  expect(store.view().document).toEqual({ notes: 'thin edge' })
})

test('where the other screen’s version was taken meanwhile, that is not taken back', async () => {
  const theirs = { document: { grams: 9, notes: 'theirs' }, revision: 5 }
  const store = new DocumentStore<Row>({ document: { grams: 4 }, revision: 1 }, async () => ({
    ok: false,
    theirs,
  }))
  const documents = {
    read: (path: string) => readPath(store.view().document, path),
    change: (path: string, value: unknown, group?: string) =>
      void store.change(changed(store.view().document, path, value), group),
    takeBack: (_path: string, group: string) => store.takeBack(group),
  }
  const entry = new HalfTyped('/grams', 'entry 1', documents)
  entry.write(documents, 5)
  await store.keepNow()
  store.takeTheirs()
  entry.restore(documents)
  expect(store.view().document).toEqual(theirs.document)
})
