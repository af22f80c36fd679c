import { Hono } from 'hono'
import { bodyLimit } from 'hono/body-limit'
import * as z from 'zod'
import packageFile from '../../package.json' with { type: 'json' }
import type { Store } from '../store/index.ts'
import { mostJson, notBuilt, notFound, Refusal, readJson, refuse } from './answers.ts'
import { guard, securityHeaders } from './guard.ts'
import { backupRoutes } from './resources/backup.ts'
import { demoRoutes } from './resources/demo.ts'
import { modelRoutes } from './resources/models.ts'
import { pourFileRoutes } from './resources/pour-files.ts'
import { pourRoutes } from './resources/pours.ts'
import { printingRoutes, printRoutes } from './resources/prints.ts'
import { shopRoutes } from './resources/shop.ts'
import { templateRoutes } from './resources/templates.ts'
import type { Services } from './services.ts'
import { staticFiles } from './static.ts'

export interface AppOptions {
  readonly store: Store
  readonly services: Services
  /** names with port under which this server is reached, such as `localhost:4747` */
  readonly hosts: () => ReadonlySet<string>
  /** a folder on the store's own disk, for files on their way in or out */
  readonly scratch: string
  /** the built page; without it only the API answers */
  readonly webFolder?: string
  readonly mostModel?: number
  readonly now?: () => Date
  /** told of faults of our own, which the answer does not show */
  readonly onFault?: (error: unknown) => void
}

const makeUpRoutes = (services: Services): Hono =>
  new Hono().post('/', async (context) => {
    const { makeUp } = services
    if (makeUp === undefined) throw notBuilt('/make-up', 'making up a charge')
    const answer = await makeUp(await readJson(context, z.unknown()))
    if (!answer.ok) throw new Refusal(400, answer.problems)
    return context.json(answer.answer as object)
  })

const jsonLimit = bodyLimit({
  maxSize: mostJson,
  onError: () => {
    throw refuse(
      413,
      '',
      `the document is larger than ${mostJson / 1024 / 1024} MB`,
      'send models on their own',
    )
  },
})

/** Models and backups are streamed and have limits of their own. */
const isRaw = (path: string): boolean => path === '/api/models' || path === '/api/restore'

export const createApp = (options: AppOptions): Hono => {
  const { store, services } = options
  const now = options.now ?? (() => new Date())
  const app = new Hono()

  app.onError((error, context) => {
    const refusal =
      error instanceof Refusal
        ? error
        : refuse(
            500,
            '',
            'the program failed at this',
            'try once more; if it happens again, report it with what you did',
          )
    if (!(error instanceof Refusal)) options.onFault?.(error)
    return context.json({ ...refusal.beside, problems: refusal.problems }, refusal.status)
  })

  app.use(securityHeaders)
  app.use(guard(options.hosts))
  app.use('/api/*', async (context, next) => {
    context.header('cache-control', 'no-store')
    return isRaw(context.req.path) ? next() : jsonLimit(context, next)
  })

  app.get('/api/health', (context) => context.json({ ok: true, version: packageFile.version }))
  app.route('/api/shop', shopRoutes(store.shop))
  app.route('/api/pours', pourFileRoutes(store))
  app.route('/api/pours', printingRoutes(store, services, now))
  app.route('/api/pours', templateRoutes(store, services, now))
  app.route('/api/pours', pourRoutes(store))
  app.route('/api/models', modelRoutes(store, services, options.mostModel))
  app.route('/api/make-up', makeUpRoutes(services))
  app.route('/api/prints', printRoutes(store))
  app.route('/api/demo/shop', shopRoutes(store.demoShop))
  app.route('/api/demo', demoRoutes(store, services))
  app.route('/api', backupRoutes(store, options.scratch, now))

  app.use(staticFiles(options.webFolder))
  app.notFound((context) => {
    const { status, problems } = notFound(context.req.path, 'such page')
    return context.json({ problems }, status)
  })
  return app
}
