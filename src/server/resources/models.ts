import { basename } from 'node:path/posix'
import { Hono } from 'hono'
import { stream } from 'hono/streaming'
import type { Store } from '../../store/index.ts'
import { notBuilt, notFound, refuse } from '../answers.ts'
import type { Services } from '../services.ts'

/** The largest model taken [bytes]. */
export const mostModel = 200 * 1024 * 1024

async function* chunksOf(body: ReadableStream<Uint8Array> | null): AsyncGenerator<Uint8Array> {
  if (body === null) return
  const reader = body.getReader()
  try {
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return
      yield value
    }
  } finally {
    await reader.cancel().catch(() => undefined)
  }
}

const nameOf = (asked: string | undefined): string => {
  const name = basename((asked ?? '').replaceAll('\\', '/')).trim()
  if (name === '' || name.length > 200)
    throw refuse(400, 'name', 'the model has no usable name', 'send its file name as ?name=')
  return name
}

const unitsOf = (asked: string | undefined): 'mm' | 'in' | undefined => {
  if (asked === undefined || asked === 'mm' || asked === 'in') return asked
  throw refuse(400, 'units', `"${asked}" is not a unit that models come in`, 'ask for mm or in')
}

export const modelRoutes = (store: Store, services: Services, most: number = mostModel): Hono =>
  new Hono()
    .put('/', async (context) => {
      const name = nameOf(context.req.query('name'))
      const tooLarge = refuse(
        413,
        name,
        `the file is larger than ${Math.floor(most / 1024 / 1024)} MB`,
        'export it with fewer triangles',
      )
      if (Number(context.req.header('content-length') ?? 0) > most) throw tooLarge
      const added = await store.models.add(name, chunksOf(context.req.raw.body), most)
      switch (added.kind) {
        case 'too-large':
          throw tooLarge
        case 'empty':
          throw refuse(400, name, 'the file is empty', 'export it again')
        case 'kept': {
          const { sha256, size } = added.model
          return context.json({ sha256, size, name })
        }
      }
    })
    .get('/:sha', async (context) => {
      const model = await store.models.find(context.req.param('sha'))
      if (model === undefined) throw notFound('/models', 'such model')
      context.header('content-type', 'application/octet-stream')
      context.header('content-length', String(model.size))
      context.header('cache-control', 'private, max-age=31536000, immutable')
      context.header('content-disposition', `attachment; filename*=UTF-8''${encodeURIComponent(model.name)}`)
      return stream(context, async (out) => {
        for await (const part of store.models.parts(model.sha256)) {
          if (out.aborted) return
          await out.write(part)
        }
      })
    })
    .get('/:sha/measure', async (context) => {
      const measure = services.measure
      if (measure === undefined) throw notBuilt('/models/measure', 'measuring a model')
      const { name, units, acceptRepair } = context.req.query()
      const asked = { units: unitsOf(units), acceptRepair: acceptRepair === 'true' || acceptRepair === '1' }
      const sha256 = context.req.param('sha')
      const model = await store.models.find(sha256)
      const bytes = await store.models.read(sha256)
      if (model === undefined || bytes === undefined) throw notFound('/models', 'such model')
      return context.json(
        (await measure(bytes, name === undefined ? model.name : nameOf(name), asked)) as object,
      )
    })
