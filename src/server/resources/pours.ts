import { Hono } from 'hono'
import * as z from 'zod'
import { pourSchema } from '../../engine/documents/index.ts'
import type { KeptPour, Store } from '../../store/index.ts'
import { notFound, Refusal, readJson } from '../answers.ts'
import { readDemoPours, whoseShop } from './shop.ts'

const creating = z.strictObject({ pour: pourSchema })
const saving = z.strictObject({
  pour: pourSchema,
  revision: z.number().int().min(1),
  editor: z.string().min(1).max(80).default('page'),
  went: z.enum(['back', 'forth', 'taken back']).optional(),
})

export const present = (kept: KeptPour | undefined, id: string): KeptPour => {
  if (kept === undefined) throw notFound(`/pours/${id}`, 'such pour')
  return kept
}

const standing = (kept: KeptPour, revision: number): Refusal =>
  new Refusal(
    409,
    [
      {
        where: '/pour',
        what:
          kept.deleted === undefined
            ? `the pour was changed meanwhile: it is at revision ${kept.revision}, not ${revision}`
            : 'the pour was deleted meanwhile',
        remedy: kept.deleted === undefined ? 'look at both and keep one' : 'recover it from the list first',
      },
    ],
    { ...kept },
  )

export const pourRoutes = (store: Store): Hono =>
  new Hono()
    .get('/', async (context) => context.json({ pours: await store.pours.list({ deleted: true }) }))
    .post('/', async (context) => {
      const { pour } = await readJson(context, creating)
      return context.json(await store.pours.create(pour, await readDemoPours(store)), 201)
    })
    .get('/:id', async (context) => {
      const id = context.req.param('id')
      const kept = present(await store.pours.read(id), id)
      return context.json({ ...kept, shopOf: await whoseShop(store, id) })
    })
    .put('/:id', async (context) => {
      const id = context.req.param('id')
      const { pour, revision, editor, went } = await readJson(context, saving)
      const answer = await store.pours.save(id, pour, { basedOn: revision, editor, went })
      if (answer.kind === 'missing') throw notFound(`/pours/${id}`, 'such pour')
      if (answer.kind === 'conflict') throw standing(answer.now, revision)
      return context.json(answer.value)
    })
    .delete('/:id', async (context) => {
      const id = context.req.param('id')
      return context.json(present(await store.pours.remove(id), id))
    })
    .post('/:id/:step{duplicate|recover|undo|redo}', async (context) => {
      const { id, step } = context.req.param()
      const kept =
        step === 'duplicate'
          ? await store.pours.duplicate(id, await readDemoPours(store))
          : await store.pours[step as 'recover' | 'undo' | 'redo'](id)
      return context.json(present(kept, id))
    })
