import { hostname, networkInterfaces } from 'node:os'
import { join, resolve } from 'node:path'
import { serve } from '@hono/node-server'
import { openStore, usualDataFolder } from '../store/index.ts'
import { createApp } from './app.ts'
import type { Fault } from './services.ts'
import { wiredServices } from './wired-services.ts'

export interface StartOptions {
  /** where everything is kept; the person's own data folder otherwise */
  readonly folder?: string
  readonly host: string
  /** exactly this one (0: any that is free); otherwise 4747 or one of the next */
  readonly port?: number
  /** the program's own folder, where the examples lie */
  readonly root: string
  readonly webFolder?: string
  readonly onFault?: (error: unknown) => void
}

export type Started =
  | { readonly ok: true; readonly url: string; readonly close: () => Promise<void> }
  | { readonly ok: false; readonly problem: Fault }

const usualPort = 4747
const portsTried = 20

const wildcards = new Set(['0.0.0.0', '::'])

/** The names under which a server listening there is reached. */
const namesOf = (host: string): string[] => {
  const bracketed = (name: string): string => (name.includes(':') ? `[${name}]` : name)
  const own = ['localhost', '127.0.0.1', '::1']
  const others = wildcards.has(host)
    ? [
        hostname(),
        ...Object.values(networkInterfaces()).flatMap((list) => list?.map((one) => one.address) ?? []),
      ]
    : [host]
  return [...own, ...others].map((name) => bracketed(name).toLowerCase())
}

type Fetch = Parameters<typeof serve>[0]['fetch']
type Listening = { readonly server: ReturnType<typeof serve>; readonly port: number }

const listen = (fetch: Fetch, host: string, port: number): Promise<Listening> =>
  new Promise((settle, fail) => {
    const server = serve({ fetch, hostname: host, port }, (info) => {
      server.off('error', fail)
      settle({ server, port: info.port })
    })
    server.once('error', fail)
  })

const listenNear = async (fetch: Fetch, host: string, asked: number | undefined): Promise<Listening> => {
  if (asked !== undefined) return listen(fetch, host, asked)
  for (let port = usualPort; ; port += 1) {
    try {
      return await listen(fetch, host, port)
    } catch (error) {
      const taken = (error as NodeJS.ErrnoException).code === 'EADDRINUSE'
      if (!taken || port - usualPort >= portsTried) throw error
    }
  }
}

const stop = ({ server }: Listening): Promise<void> =>
  new Promise((settle) => {
    server.close(() => settle())
    // What is being answered may finish; idle connections end at once.
    if ('closeIdleConnections' in server) server.closeIdleConnections()
    setTimeout(() => 'closeAllConnections' in server && server.closeAllConnections(), 2000).unref()
  })

/** Opens what is kept and serves the app from this computer. */
export const startServer = async (options: StartOptions): Promise<Started> => {
  const folder = resolve(options.folder ?? usualDataFolder())
  const opened = await openStore({ folder })
  if (!opened.ok) return { ok: false, problem: opened.problem }
  const { store } = opened
  let hosts: ReadonlySet<string> = new Set()
  const app = createApp({
    store,
    services: wiredServices(options.root),
    hosts: () => hosts,
    scratch: join(folder, 'incoming'),
    webFolder: options.webFolder,
    onFault: options.onFault,
  })
  try {
    const listening = await listenNear(app.fetch, options.host, options.port)
    const { port } = listening
    const names = namesOf(options.host)
    // a browser leaves the port out of Host where it is the usual one for HTTP
    hosts = new Set(names.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`])))
    const shown = ['127.0.0.1', '::1', ...wildcards].includes(options.host)
      ? 'localhost'
      : (names.at(-1) ?? 'localhost')
    return {
      ok: true,
      url: `http://${shown}:${port}/`,
      close: async () => {
        await stop(listening)
        await store.close()
      },
    }
  } catch (error) {
    await store.close()
    const taken = (error as NodeJS.ErrnoException).code === 'EADDRINUSE'
    return {
      ok: false,
      problem: {
        where: taken ? '--port' : '--host',
        what: taken
          ? `port ${options.port ?? usualPort} is taken by another program`
          : `it could not listen on ${options.host}: ${error instanceof Error ? error.message : error}`,
        remedy: taken ? 'leave --port out, or name another' : 'leave --host out',
      },
    }
  }
}
