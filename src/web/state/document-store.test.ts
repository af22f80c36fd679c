import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { DocumentStore, type Saved, type Went } from './document-store.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

const counting = () => {
  const sent: [string, number][] = []
  const save = async (document: string, revision: number): Promise<Saved<string>> => {
    sent.push([document, revision])
    return { ok: true, revision: revision + 1 }
  }
  return { sent, save }
}

test('several changes within the pause are kept as one, the last', async () => {
  const { sent, save } = counting()
  const store = new DocumentStore({ document: 'a', revision: 1 }, save)
  store.change('b')
  await vi.advanceTimersByTimeAsync(300)
  store.change('c')
  await vi.advanceTimersByTimeAsync(399)
  expect(sent).toEqual([])
  await vi.advanceTimersByTimeAsync(2)
  expect(sent).toEqual([['c', 1]])
  expect(store.view().state).toBe('kept')
})

test('undo and redo walk the changes, and a new change forgets what was undone', () => {
  const { save } = counting()
  const store = new DocumentStore({ document: 'a', revision: 1 }, save)
  store.change('b')
  store.change('c')
  expect(store.undo()).toBe(true)
  expect(store.view().document).toBe('b')
  expect(store.redo()).toBe(true)
  expect(store.view().document).toBe('c')
  store.undo()
  store.change('d')
  expect(store.redo()).toBe(false)
  store.undo()
  store.undo()
  expect(store.view().document).toBe('a')
  expect(store.undo()).toBe(false)
})

test('the key presses of one entry are undone together', () => {
  const { save } = counting()
  const store = new DocumentStore({ document: '1', revision: 1 }, save)
  store.change('10', 'entry 1')
  store.change('105', 'entry 1')
  store.change('105.2', 'entry 2')
  store.undo()
  expect(store.view().document).toBe('105')
  store.undo()
  expect(store.view().document).toBe('1')
})

test('what another screen wrote is shown beside ours and nothing is overwritten until one is picked', async () => {
  const sent: number[] = []
  const save = async (_document: string, revision: number): Promise<Saved<string>> => {
    sent.push(revision)
    return revision === 1
      ? { ok: false, theirs: { document: 'theirs', revision: 5 } }
      : { ok: true, revision: revision + 1 }
  }
  const store = new DocumentStore({ document: 'a', revision: 1 }, save)
  store.change('mine')
  await store.keepNow()
  expect(store.view()).toMatchObject({ state: 'conflict', document: 'mine', theirs: 'theirs' })
  await vi.advanceTimersByTimeAsync(10_000)
  expect(sent).toEqual([1])
  store.keepMine()
  await vi.advanceTimersByTimeAsync(500)
  expect(sent).toEqual([1, 5])
  expect(store.view()).toMatchObject({ state: 'kept', document: 'mine' })
})

test('taking the other screen’s version can itself be undone', async () => {
  const save = async (): Promise<Saved<string>> => ({
    ok: false,
    theirs: { document: 'theirs', revision: 5 },
  })
  const store = new DocumentStore({ document: 'a', revision: 1 }, save)
  store.change('mine')
  await store.keepNow()
  store.takeTheirs()
  expect(store.view().document).toBe('theirs')
  store.undo()
  expect(store.view().document).toBe('mine')
})

test('a save that fails is said and tried again', async () => {
  let tries = 0
  const save = async (): Promise<Saved<string>> => {
    tries += 1
    if (tries === 1) throw new Error('no answer')
    return { ok: true, revision: 2 }
  }
  const store = new DocumentStore({ document: 'a', revision: 1 }, save)
  store.change('b')
  await store.keepNow()
  expect(store.view().state).toBe('failed')
  await vi.advanceTimersByTimeAsync(5000)
  expect(store.view().state).toBe('kept')
})

test('an entry that is refused leaves no step, nor takes away what could be done again', async () => {
  const went: (Went | undefined)[] = []
  const save = async (_document: string, revision: number, how?: Went): Promise<Saved<string>> => {
    went.push(how)
    return { ok: true, revision: revision + 1 }
  }
  const store = new DocumentStore({ document: '12', revision: 1 }, save)
  store.change('13')
  store.undo()
  store.change('5', 'entry 1')
  store.change('50', 'entry 1')
  await store.keepNow()
  expect(store.takeBack('entry 1')).toBe(true)
  await store.keepNow()
  expect(store.view()).toMatchObject({ document: '12', canUndo: false, canRedo: true })
  expect(went).toEqual([undefined, 'taken back'])
  expect(store.takeBack('entry 1')).toBe(false)
  // digits typed on after that, and good ones, are a step of their own
  expect(store.change('14', 'entry 1')).toBe(true)
  store.undo()
  expect(store.view().document).toBe('12')
})
