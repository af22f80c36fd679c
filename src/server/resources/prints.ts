import { Hono } from 'hono'
import * as z from 'zod'
import packageFile from '../../../package.json' with { type: 'json' }
import type { Store } from '../../store/index.ts'
import { notBuilt, notFound, pdfAnswer, Refusal, readJson, refuse } from '../answers.ts'
import type { Services } from '../services.ts'
import { present } from './pours.ts'
import { readShopOf } from './shop.ts'

const asking = z.strictObject({
  paper: z
    .string()
    .transform((name) => name.toLowerCase())
    .pipe(z.enum(['a4', 'letter'])),
  units: z.unknown().optional(),
})

/** `POST /api/pours/:id/print` and `/kiln-sheet`, beside the routes of the pour itself. */
export const printingRoutes = (store: Store, services: Services, now: () => Date): Hono => {
  const printed = async (id: string, asked: z.infer<typeof asking>, sheet: 'run' | 'kiln', name: string) => {
    const { print } = services
    if (print === undefined) throw notBuilt(name, 'printing a sheet')
    const { pour } = present(await store.pours.read(id), id)
    const { shop } = await readShopOf(store, id)
    const answer = await print({
      pour,
      shop,
      units: undefined,
      ...asked,
      sheet,
      now: now(),
      readModel: store.models.read,
    })
    if (!answer.ok) throw new Refusal(400, answer.problems)
    return { pour, shop, ...answer }
  }
  return new Hono()
    .post('/:id/print', async (context) => {
      const id = context.req.param('id')
      const asked = await readJson(context, asking)
      const { pour, shop, plan, pdf } = await printed(id, asked, 'run', '/print')
      const { units, paper } = asked
      const line = await store.prints.add({
        pourId: id,
        pour,
        shop,
        plan,
        engineVersion: packageFile.version,
        units: typeof units === 'string' ? units : JSON.stringify(units ?? null),
        paper,
        pdf,
      })
      return context.json(line, 201)
    })
    .post('/:id/kiln-sheet', async (context) => {
      const id = context.req.param('id')
      const { pour, pdf } = await printed(id, await readJson(context, asking), 'kiln', '/kiln-sheet')
      return pdfAnswer(context, pdf, `${pour.name}, at the kiln.pdf`)
    })
}

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
