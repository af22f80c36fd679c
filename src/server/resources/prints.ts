import { Hono } from 'hono'
import * as z from 'zod'
import packageFile from '../../../package.json' with { type: 'json' }
import type { Store } from '../../store/index.ts'
import { notBuilt, notFound, Refusal, readJson, refuse } from '../answers.ts'
import type { Services } from '../services.ts'
import { present } from './pours.ts'
import { readShopOf } from './shop.ts'

const asking = z.strictObject({
  paper: z
    .string()
    .transform((name) => name.toLowerCase())
    .pipe(z.enum(['a4', 'letter'])),
  units: z.unknown().optional(),
  /** find a place for every wax as well, as the page has */
  arrange: z.boolean().optional(),
})

/** `POST /api/pours/:id/print`, beside the routes of the pour itself. */
export const printingRoutes = (store: Store, services: Services, now: () => Date): Hono =>
  new Hono().post('/:id/print', async (context) => {
    const print = services.print
    if (print === undefined) throw notBuilt('/print', 'printing the run sheet')
    const id = context.req.param('id')
    const { paper, units, arrange } = await readJson(context, asking)
    const { pour } = present(await store.pours.read(id), id)
    const { shop } = await readShopOf(store, id)
    const printed = await print({
      pour,
      shop,
      paper,
      units,
      arrange,
      now: now(),
      readModel: store.models.read,
    })
    if (!printed.ok) throw new Refusal(400, printed.problems)
    const line = await store.prints.add({
      pourId: id,
      pour,
      shop,
      plan: printed.plan,
      engineVersion: packageFile.version,
      units: typeof units === 'string' ? units : JSON.stringify(units ?? null),
      paper,
      pdf: printed.pdf,
    })
    return context.json(line, 201)
  })

export const printRoutes = (store: Store): Hono =>
  new Hono()
    .get('/', async (context) => {
      const pour = context.req.query('pour')
      if (pour === undefined)
        throw refuse(400, 'pour', 'prints are listed by pour', 'name the pour as ?pour=')
      return context.json({ prints: await store.prints.list(pour) })
    })
    .get('/:file{.+\\.pdf}', async (context) => {
      const pdf = await store.prints.pdf(context.req.param('file').replace(/\.pdf$/, ''))
      if (pdf === undefined) throw notFound('/prints', 'such print')
      return context.body(new Uint8Array(pdf), 200, {
        'content-type': 'application/pdf',
        'content-length': String(pdf.length),
        'content-disposition': 'inline',
        // the browser's own PDF viewer does not start under the page's policy
        'content-security-policy': "frame-ancestors 'self'",
        'x-frame-options': 'SAMEORIGIN',
      })
    })
    .get('/:id', async (context) => {
      const print = await store.prints.read(context.req.param('id'))
      if (print === undefined) throw notFound('/prints', 'such print')
      return context.json(print)
    })
