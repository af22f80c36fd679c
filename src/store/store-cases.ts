import { expect } from 'vitest'
import { usualShop } from '../engine/materials/index.ts'
import { somePour } from './some-pour.ts'
import type { KeptPour, Saved, Store } from './store.ts'

/** What a case may do besides asking the store. */
export interface StoreBench {
  readonly store: Store
  /** lets so many seconds go by on the store's clock */
  wait(seconds: number): void
}

export interface StoreCase {
  readonly says: string
  readonly run: (bench: StoreBench) => Promise<void>
}

const savedValue = <T>(answer: Saved<T>): T => {
  if (answer.kind !== 'saved') throw new Error(`expected saved, got ${answer.kind}`)
  return answer.value
}

const present = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('expected a value, got none')
  return value
}

const rename = async (store: Store, kept: KeptPour, name: string, editor?: string): Promise<KeptPour> =>
  savedValue(await store.pours.save(kept.id, { ...kept.pour, name }, { basedOn: kept.revision, editor }))

const takeBack = async (store: Store, kept: KeptPour, name: string, editor?: string): Promise<KeptPour> =>
  savedValue(
    await store.pours.save(
      kept.id,
      { ...kept.pour, name },
      { basedOn: kept.revision, editor, went: 'taken back' },
    ),
  )

const gather = async (parts: AsyncIterable<Uint8Array>): Promise<Buffer> => {
  const all: Uint8Array[] = []
  for await (const part of parts) all.push(part)
  return Buffer.concat(all)
}

const somePrint = (kept: KeptPour) => ({
  pourId: kept.id,
  pour: kept.pour,
  shop: usualShop(),
  plan: { metal: { toWeigh_g: 46.4 } },
  engineVersion: '0.1.0',
  units: 'metric',
  paper: 'a4',
  pdf: new TextEncoder().encode('%PDF-1.7 a sheet'),
})

/** One list, run for every database that the store is built on. */
export const storeCases: readonly StoreCase[] = [
  {
    says: 'a new store has no shop, no pours and no settings',
    run: async ({ store }) => {
      expect(await store.shop.read()).toBeUndefined()
      expect(await store.pours.list()).toEqual([])
      expect(await store.settings.read('units')).toBeUndefined()
    },
  },
  {
    says: 'the shop is saved over the revision it was read at, and a stale save is told what stands',
    run: async ({ store }) => {
      const first = savedValue(await store.shop.save(usualShop(), 0))
      expect(first.revision).toBe(1)
      const second = savedValue(await store.shop.save({ ...usualShop(), name: 'Upstairs' }, 1))
      expect(second.revision).toBe(2)
      const stale = await store.shop.save({ ...usualShop(), name: 'Cellar' }, 1)
      expect(stale).toMatchObject({ kind: 'conflict', now: { revision: 2, shop: { name: 'Upstairs' } } })
      expect((await store.shop.read())?.shop.name).toBe('Upstairs')
    },
  },
  {
    says: 'the demo’s shop and one’s own are kept apart',
    run: async ({ store }) => {
      await store.demoShop.save({ ...usualShop(), name: 'Studio' }, 0)
      expect(await store.shop.read()).toBeUndefined()
      await store.shop.save({ ...usualShop(), name: 'Mine' }, 0)
      expect((await store.demoShop.read())?.shop.name).toBe('Studio')
      expect((await store.shop.read())?.shop.name).toBe('Mine')
    },
  },
  {
    says: 'a shop comes back as it was saved, every key of it',
    run: async ({ store }) => {
      await store.shop.save(usualShop(), 0)
      expect((await store.shop.read())?.shop).toEqual(usualShop())
    },
  },
  {
    says: 'pours are numbered one after another, and a number that is taken is replaced by the next',
    run: async ({ store }) => {
      expect((await store.pours.create(somePour())).pour.number).toBe(1)
      expect((await store.pours.create(somePour({ number: 7 }))).pour.number).toBe(7)
      expect((await store.pours.create(somePour({ number: 7 }))).pour.number).toBe(8)
    },
  },
  {
    says: 'pours that stand apart are not counted on from, and their numbers stay theirs',
    run: async ({ store }) => {
      const apart = [(await store.pours.create(somePour({ number: 2 }))).id]
      const first = await store.pours.create(somePour(), apart)
      expect(first.pour.number).toBe(1)
      expect((await store.pours.duplicate(first.id, apart))?.pour.number).toBe(3)
    },
  },
  {
    says: 'the list shows what the document says, newest change first',
    run: async ({ store, wait }) => {
      const first = await store.pours.create(somePour({ name: 'First' }))
      wait(5)
      await store.pours.create(somePour({ name: 'Second' }))
      wait(5)
      await rename(store, first, 'First, changed')
      expect((await store.pours.list()).map(({ name, alloy, castAt }) => ({ name, alloy, castAt }))).toEqual([
        { name: 'First, changed', alloy: 'sterling', castAt: { weekday: 'saturday', time: '14:00' } },
        { name: 'Second', alloy: 'sterling', castAt: { weekday: 'saturday', time: '14:00' } },
      ])
    },
  },
  {
    says: 'a save from a stale revision is refused with what stands, and changes nothing',
    run: async ({ store }) => {
      const kept = await store.pours.create(somePour())
      await rename(store, kept, 'Mine')
      const answer = await store.pours.save(kept.id, somePour({ name: 'Yours' }), { basedOn: 1 })
      expect(answer).toMatchObject({ kind: 'conflict', now: { revision: 2, pour: { name: 'Mine' } } })
      expect((await store.pours.read(kept.id))?.pour.name).toBe('Mine')
    },
  },
  {
    says: 'saving, reading or undoing a pour that is not there says so',
    run: async ({ store }) => {
      expect(await store.pours.read('nobody')).toBeUndefined()
      expect(await store.pours.undo('nobody')).toBeUndefined()
      expect(await store.pours.save('nobody', somePour(), { basedOn: 1 })).toEqual({ kind: 'missing' })
    },
  },
  {
    says: 'undo goes back over each save and redo forth again, to both ends and no further',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      for (const name of ['b', 'c']) {
        wait(90)
        kept = await rename(store, kept, name)
      }
      const names: (string | undefined)[] = []
      for (const go of ['undo', 'undo', 'undo', 'redo', 'redo', 'redo'] as const)
        names.push((await store.pours[go](kept.id))?.pour.name)
      expect(names).toEqual(['b', 'a', 'a', 'b', 'c', 'c'])
      expect(await store.pours.read(kept.id)).toMatchObject({ canUndo: true, canRedo: false })
    },
  },
  {
    says: 'a save after an undo starts from there: redo no longer leads to what was undone',
    run: async ({ store, wait }) => {
      const first = await store.pours.create(somePour({ name: 'a' }))
      const second = await rename(store, first, 'b')
      wait(90)
      const back = present(await store.pours.undo(second.id))
      const other = await rename(store, back, 'c')
      expect(other.canRedo).toBe(false)
      expect((await store.pours.undo(first.id))?.pour.name).toBe('a')
      expect((await store.pours.redo(first.id))?.pour.name).toBe('c')
    },
  },
  {
    says: 'undo counts as a change: a save based on the revision before it is refused',
    run: async ({ store }) => {
      const first = await store.pours.create(somePour({ name: 'a' }))
      const second = await rename(store, first, 'b')
      await store.pours.undo(first.id)
      const answer = await store.pours.save(first.id, somePour({ name: 'c' }), { basedOn: second.revision })
      expect(answer.kind).toBe('conflict')
    },
  },
  {
    says: 'typing on at one place within a minute is one step, and each save still has its own revision',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'Cl' }))
      for (const name of ['Cla', 'Clas', 'Clasp']) {
        wait(2)
        kept = await rename(store, kept, name, 'page-1')
      }
      expect(kept.revision).toBe(4)
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('Cl')
    },
  },
  {
    says: 'another place, another editor or a pause of more than a minute makes a new step',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      kept = await rename(store, kept, 'b', 'page-1')
      kept = savedValue(
        await store.pours.save(
          kept.id,
          { ...kept.pour, notes: 'thin edge' },
          { basedOn: kept.revision, editor: 'page-1' },
        ),
      )
      kept = savedValue(
        await store.pours.save(
          kept.id,
          { ...kept.pour, notes: 'thin edge, take care' },
          { basedOn: kept.revision, editor: 'page-2' },
        ),
      )
      wait(61)
      await store.pours.save(
        kept.id,
        { ...kept.pour, notes: 'none' },
        { basedOn: kept.revision, editor: 'page-2' },
      )
      const notes: (string | undefined)[] = []
      for (let count = 0; count < 4; count += 1) notes.push((await store.pours.undo(kept.id))?.pour.notes)
      expect(notes).toEqual(['thin edge, take care', 'thin edge', undefined, undefined])
      expect((await store.pours.read(kept.id))?.pour.name).toBe('a')
    },
  },
  {
    says: 'a document that the page went back or forth to is that step again, and no new one',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      for (const name of ['b', 'c']) {
        wait(90)
        kept = await rename(store, kept, name)
      }
      const go = async (name: string, went: 'back' | 'forth'): Promise<void> => {
        const pour = { ...kept.pour, name }
        kept = savedValue(await store.pours.save(kept.id, pour, { basedOn: kept.revision, went }))
      }
      await go('a', 'back')
      expect(kept).toMatchObject({ canUndo: false, canRedo: true })
      await go('b', 'forth')
      expect((await store.pours.redo(kept.id))?.pour.name).toBe('c')
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('b')
    },
  },
  {
    says: 'digits that led to a refused entry leave no step, back or forth',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      wait(90)
      kept = await rename(store, kept, 'half a na')
      kept = await takeBack(store, kept, 'a')
      expect(kept).toMatchObject({ pour: { name: 'a' }, canUndo: false, canRedo: false })
      wait(90)
      kept = await rename(store, kept, 'b')
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('a')
    },
  },
  {
    says: 'digits that ran on into an accepted entry and are refused leave that entry, and all before it',
    run: async ({ store, wait }) => {
      let kept = await store.pours.create(somePour({ name: 'x' }))
      wait(90)
      kept = await rename(store, kept, 'y')
      wait(90)
      kept = await rename(store, kept, 'x', 'name')
      wait(5)
      kept = await rename(store, kept, 'x1', 'name')
      wait(90)
      kept = await takeBack(store, kept, 'x', 'name')
      expect(kept).toMatchObject({ pour: { name: 'x' }, canUndo: true, canRedo: false })
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('y')
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('x')
    },
  },
  {
    says: 'digits that are taken back over another page’s change leave that change as a step of its own',
    run: async ({ store }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      kept = await rename(store, kept, 'b', 'page-2')
      kept = await takeBack(store, kept, 'a', 'page-1')
      expect(kept).toMatchObject({ pour: { name: 'a' }, canUndo: true })
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('b')
      expect((await store.pours.undo(kept.id))?.pour.name).toBe('a')
    },
  },
  {
    says: 'digits that are taken back over one’s own change of another value leave that change',
    run: async ({ store }) => {
      let kept = await store.pours.create(somePour({ name: 'a' }))
      kept = await rename(store, kept, 'b', 'page-1')
      const noted = { ...kept.pour, notes: 'thin edge' }
      kept = savedValue(
        await store.pours.save(kept.id, noted, {
          basedOn: kept.revision,
          editor: 'page-1',
          went: 'taken back',
        }),
      )
      expect((await store.pours.undo(kept.id))?.pour).toMatchObject({ name: 'b' })
    },
  },
  {
    says: 'saving an unchanged document is no step and no revision',
    run: async ({ store }) => {
      const kept = await store.pours.create(somePour())
      const same = savedValue(await store.pours.save(kept.id, kept.pour, { basedOn: 1 }))
      expect(same).toMatchObject({ revision: 1, canUndo: false })
    },
  },
  {
    says: 'a removed pour leaves the list, takes no saves, and comes back whole with its undo steps',
    run: async ({ store }) => {
      const first = await store.pours.create(somePour({ name: 'a' }))
      await rename(store, first, 'b')
      const removed = present(await store.pours.remove(first.id))
      expect(removed.deleted).toBeDefined()
      expect(await store.pours.list()).toEqual([])
      expect(await store.pours.list({ deleted: true })).toHaveLength(1)
      const refused = await store.pours.save(first.id, somePour(), { basedOn: removed.revision })
      expect(refused.kind).toBe('conflict')
      const back = present(await store.pours.recover(first.id))
      expect(back).toMatchObject({ pour: { name: 'b' }, canUndo: true })
      expect(back.deleted).toBeUndefined()
      expect(await store.pours.list()).toHaveLength(1)
    },
  },
  {
    says: 'a duplicate is a pour of its own, with the next number',
    run: async ({ store }) => {
      const first = await store.pours.create(somePour({ name: 'a' }))
      const second = present(await store.pours.duplicate(first.id))
      expect(second.id).not.toBe(first.id)
      expect(second.pour).toEqual({ ...first.pour, name: 'a, again', number: 2 })
      await rename(store, second, 'changed')
      expect((await store.pours.read(first.id))?.pour.name).toBe('a')
    },
  },
  {
    says: 'a model of several parts comes back to the byte, under its hash, once however often it is added',
    run: async ({ store }) => {
      const bytes = Uint8Array.from({ length: 2_500_000 }, (_, index) => (index * 31) % 251)
      const chunks = [bytes.subarray(0, 1), bytes.subarray(1, 1_800_000), bytes.subarray(1_800_000)]
      const added = await store.models.add('clasp.stl', chunks, 10_000_000)
      if (added.kind !== 'kept') throw new Error(`expected kept, got ${added.kind}`)
      const { sha256, size } = added.model
      expect(size).toBe(bytes.length)
      expect(Buffer.compare(present(await store.models.read(sha256)), bytes)).toBe(0)
      expect(Buffer.compare(await gather(store.models.parts(sha256)), bytes)).toBe(0)
      const again = await store.models.add('other-name.stl', [bytes], 10_000_000)
      expect(again).toEqual({ kind: 'kept', model: added.model })
    },
  },
  {
    says: 'the hash of a model is SHA-256 of its bytes',
    run: async ({ store }) => {
      const added = await store.models.add('abc.txt', [new TextEncoder().encode('abc')], 100)
      // FIPS 180-4, example of SHA-256 for "abc"
      expect(added).toMatchObject({
        model: { sha256: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad' },
      })
    },
  },
  {
    says: 'a model over the limit, or empty, is refused and leaves nothing',
    run: async ({ store }) => {
      const bytes = new TextEncoder().encode('solid clasp')
      expect(await store.models.add('a.stl', [bytes], 10)).toEqual({ kind: 'too-large', most: 10 })
      expect(await store.models.add('a.stl', [], 10)).toEqual({ kind: 'empty' })
      expect((await store.models.add('a.stl', [bytes], 11)).kind).toBe('kept')
      expect(await store.models.find('0'.repeat(64))).toBeUndefined()
      expect(await store.models.read('0'.repeat(64))).toBeUndefined()
    },
  },
  {
    says: 'a print stays as it was made, whatever happens to its pour and shop afterwards',
    run: async ({ store }) => {
      await store.shop.save(usualShop(), 0)
      const kept = await store.pours.create(somePour({ name: 'a' }))
      const made = await store.prints.add(somePrint(kept))
      await rename(store, kept, 'b')
      await store.shop.save({ ...usualShop(), name: 'Elsewhere' }, 1)
      await store.pours.remove(kept.id)
      expect(await store.prints.list(kept.id)).toEqual([made])
      expect(await store.prints.read(made.id)).toEqual({
        ...made,
        pour: kept.pour,
        shop: usualShop(),
        plan: { metal: { toWeigh_g: 46.4 } },
      })
      expect(Buffer.from(present(await store.prints.pdf(made.id))).toString()).toBe('%PDF-1.7 a sheet')
    },
  },
  {
    says: 'a print of a pour that does not exist is refused',
    run: async ({ store }) => {
      const kept = await store.pours.create(somePour())
      await expect(store.prints.add({ ...somePrint(kept), pourId: 'nobody' })).rejects.toThrow()
    },
  },
  {
    says: 'a setting is any JSON value, and the last one saved stands',
    run: async ({ store }) => {
      await store.settings.save('units', { length: 'mm' })
      await store.settings.save('units', { length: 'in' })
      expect(await store.settings.read('units')).toEqual({ length: 'in' })
    },
  },
  {
    says: 'twenty saves at once from one revision: one is kept, the others are told of it',
    run: async ({ store }) => {
      const kept = await store.pours.create(somePour())
      const answers = await Promise.all(
        Array.from({ length: 20 }, (_, index) =>
          store.pours.save(kept.id, somePour({ name: `n${index}`, number: 1 }), { basedOn: 1 }),
        ),
      )
      expect(answers.filter(({ kind }) => kind === 'saved')).toHaveLength(1)
      expect(answers.filter(({ kind }) => kind === 'conflict')).toHaveLength(19)
    },
  },
]
