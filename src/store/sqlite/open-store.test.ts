import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DatabaseSync } from '@photostructure/sqlite'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { usualShop } from '../../engine/materials/index.ts'
import { inOrder } from '../migrate.ts'
import { somePour } from '../some-pour.ts'
import type { Store } from '../store.ts'
import { connect, readPragma } from './connection.ts'
import { databaseName, openStore } from './open-store.ts'

let folder: string
const open: Store[] = []

const storeIn = async (place: string): Promise<Store> => {
  const opened = await openStore({ folder: place })
  if (!opened.ok) throw new Error(opened.problem.what)
  open.push(opened.store)
  return opened.store
}

const problemIn = async (place: string) => {
  const opened = await openStore({ folder: place })
  if (opened.ok) {
    await opened.store.close()
    throw new Error('expected a problem, got an open store')
  }
  return opened.problem
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-open-'))
})

afterEach(async () => {
  for (const store of open.splice(0)) await store.close()
  rmSync(folder, { recursive: true })
})

describe('the connection', () => {
  test('a commit waits for the disk, readers go on beside a writer, and rows cannot point at nothing', () => {
    const database = connect(join(folder, 'x.sqlite'))
    expect(readPragma(database, 'synchronous')).toBe(2)
    expect(readPragma(database, 'journal_mode')).toBe('wal')
    expect(readPragma(database, 'foreign_keys')).toBe(1)
    database.close()
  })

  test('the library is past the release that repaired losing a commit while two connections checkpoint', () => {
    const database = connect(join(folder, 'x.sqlite'))
    const { version } = database.prepare('select sqlite_version() as version').get() as { version: string }
    const [major = 0, minor = 0, patch = 0] = version.split('.').map(Number)
    expect(major * 1e6 + minor * 1e3 + patch).toBeGreaterThanOrEqual(3_051_003)
    database.close()
  })
})

describe('opening', () => {
  test('what was saved is there at the next start', async () => {
    const first = await storeIn(folder)
    const { id } = await first.pours.create(somePour({ name: 'Kept' }))
    await open.pop()?.close()
    expect((await (await storeIn(folder)).pours.read(id))?.pour.name).toBe('Kept')
  })

  test('two stores on one folder see and respect each other', async () => {
    const [one, two] = [await storeIn(folder), await storeIn(folder)]
    const kept = await one.pours.create(somePour())
    await Promise.all(
      Array.from({ length: 20 }, (_, index) => (index % 2 ? one : two).pours.create(somePour())),
    )
    const numbers = (await two.pours.list()).map(({ number }) => number).sort((a, b) => a - b)
    expect(numbers).toEqual(Array.from({ length: 21 }, (_, index) => index + 1))
    await one.pours.save(kept.id, { ...kept.pour, name: 'one' }, { basedOn: 1 })
    const answer = await two.pours.save(kept.id, { ...kept.pour, name: 'two' }, { basedOn: 1 })
    expect(answer.kind).toBe('conflict')
  })

  test('a database from a newer version is refused in so many words and not touched', async () => {
    await storeIn(folder)
    await open.pop()?.close()
    const file = join(folder, databaseName)
    const database = new DatabaseSync(file)
    database.exec("insert into kysely_migration values ('0099-something-new', '2030-01-01T00:00:00Z')")
    database.close()
    const before = readFileSync(file)
    expect(await problemIn(folder)).toMatchObject({
      kind: 'newer',
      where: file,
      what: expect.stringMatching(/newer version.*0099-something-new/),
    })
    expect(Buffer.compare(readFileSync(file), before)).toBe(0)
  })

  test('a database with a change that no version of ours made is told apart from a newer one', async () => {
    await storeIn(folder)
    await open.pop()?.close()
    const database = new DatabaseSync(join(folder, databaseName))
    database.exec("update kysely_migration set name = '0001-other-tables'")
    database.close()
    expect((await problemIn(folder)).kind).toBe('unknown-version')
  })

  test('a file that is no database, or another program’s, is refused and left as it is', async () => {
    const file = join(folder, databaseName)
    writeFileSync(file, 'a shopping list')
    expect((await problemIn(folder)).kind).toBe('not-ours')
    expect(readFileSync(file, 'utf8')).toBe('a shopping list')
    rmSync(file)
    const other = new DatabaseSync(file)
    other.exec('create table song (title text)')
    other.close()
    expect((await problemIn(folder)).kind).toBe('not-ours')
  })

  test('a first start cut short before any table was made is carried on', async () => {
    const cut = new DatabaseSync(join(folder, databaseName))
    cut.exec('pragma journal_mode = wal')
    cut.close()
    expect(await (await storeIn(folder)).pours.list()).toEqual([])
  })

  test('a folder that cannot be made is said', async () => {
    const file = join(folder, 'a-file')
    writeFileSync(file, '')
    expect((await problemIn(join(file, 'inside'))).kind).toBe('no-folder')
  })
})

describe('migrations', () => {
  const up = async () => undefined

  test('are put in order by number, and a gap, a repeat or a name without number is refused', () => {
    expect(inOrder({ '0002-b': { up }, '0001-a': { up } })).toEqual(['0001-a', '0002-b'])
    expect(() => inOrder({ '0001-a': { up }, '0003-c': { up } })).toThrow(/0003-c should have number 2/)
    expect(() => inOrder({ '0001-a': { up }, '0001-b': { up } })).toThrow(/should have number 2/)
    expect(() => inOrder({ first: { up } })).toThrow()
  })
})

describe('backup and restore', () => {
  const fill = async (store: Store) => {
    await store.shop.save({ ...usualShop(), name: 'Before' }, 0)
    const kept = await store.pours.create(somePour({ name: 'Before' }))
    const saved = await store.pours.save(kept.id, { ...kept.pour, name: 'Changed' }, { basedOn: 1 })
    if (saved.kind !== 'saved') throw new Error(saved.kind)
    const bytes = Uint8Array.from({ length: 1_500_000 }, (_, index) => index % 253)
    const added = await store.models.add('clasp.stl', [bytes], 2_000_000)
    if (added.kind !== 'kept') throw new Error(added.kind)
    return { id: kept.id, sha256: added.model.sha256, bytes }
  }

  test('one file carries everything to another computer, meshes and undo steps included', async () => {
    const store = await storeIn(folder)
    const { id, sha256, bytes } = await fill(store)
    const file = join(folder, 'my.backup')
    await store.backup(file)

    const elsewhere = join(folder, 'elsewhere')
    const other = await storeIn(elsewhere)
    const gone = await other.pours.create(somePour({ name: 'Only here' }))
    const restored = await other.restore(file)
    if (restored.kind !== 'restored') throw new Error(restored.problem.what)
    expect((await other.shop.read())?.shop.name).toBe('Before')
    expect(await other.pours.read(gone.id)).toBeUndefined()
    expect((await other.pours.read(id))?.pour.name).toBe('Changed')
    expect((await other.pours.undo(id))?.pour.name).toBe('Before')
    expect(Buffer.compare((await other.models.read(sha256)) ?? new Uint8Array(), bytes)).toBe(0)
    // nothing stays behind of the copy that was checked
    expect(readdirSync(join(elsewhere, 'incoming'))).toEqual([])

    // what stood before was kept aside, and is a backup itself
    const again = await other.restore(restored.before)
    expect(again.kind).toBe('restored')
    expect((await other.pours.list()).map(({ name }) => name)).toEqual(['Only here'])
  })

  test('the backup of a store that goes on changing is one moment of it', async () => {
    const store = await storeIn(folder)
    await fill(store)
    const [, kept] = await Promise.all([
      store.backup(join(folder, 'a.backup')),
      store.pours.create(somePour({ name: 'Meanwhile' })),
    ])
    expect((await store.pours.read(kept.id))?.pour.name).toBe('Meanwhile')
    const other = await storeIn(join(folder, 'elsewhere'))
    expect((await other.restore(join(folder, 'a.backup'))).kind).toBe('restored')
  })

  test('a backup is never written over a file that is there', async () => {
    const store = await storeIn(folder)
    writeFileSync(join(folder, 'mine.txt'), 'mine')
    await expect(store.backup(join(folder, 'mine.txt'))).rejects.toThrow()
    expect(readFileSync(join(folder, 'mine.txt'), 'utf8')).toBe('mine')
  })

  test('a damaged, truncated, foreign, empty or newer file is refused, and what stands stays', async () => {
    const store = await storeIn(folder)
    const { id } = await fill(store)
    const good = join(folder, 'good.backup')
    await store.backup(good)
    const bytes = readFileSync(good)
    const bad = join(folder, 'bad')
    mkdirSync(bad)
    const place = (name: string, content: Uint8Array | string) => {
      writeFileSync(join(bad, name), content)
      return join(bad, name)
    }
    const overwritten = Buffer.from(bytes)
    overwritten.fill(0xff, 4096, 4096 * 6)
    const newer = place('newer', bytes)
    const database = new DatabaseSync(newer)
    database.exec("insert into kysely_migration values ('0002-later', '2030-01-01T00:00:00Z')")
    database.close()
    const kinds: Record<string, string> = {}
    for (const [name, file] of Object.entries({
      overwritten: place('overwritten', overwritten),
      truncated: place('truncated', bytes.subarray(0, Math.floor(bytes.length / 2))),
      text: place('text', 'not a backup'),
      empty: place('empty', ''),
      newer,
    })) {
      const answer = await store.restore(file)
      kinds[name] = answer.kind === 'refused' ? answer.problem.kind : answer.kind
    }
    expect(kinds).toEqual({
      overwritten: 'damaged',
      truncated: 'damaged',
      text: 'not-ours',
      empty: 'not-ours',
      newer: 'newer',
    })
    expect((await store.pours.read(id))?.pour.name).toBe('Changed')
    expect(readdirSync(folder).filter((name) => name.startsWith('before-restore'))).toEqual([])
    expect(statSync(good).size).toBe(bytes.length)
  })
})
