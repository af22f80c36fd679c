import { readdirSync, statSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { extname, join, sep } from 'node:path'
import type { Context, MiddlewareHandler } from 'hono'

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.wasm': 'application/wasm',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
}

const encodings = [
  { name: 'br', ending: '.br' },
  { name: 'gzip', ending: '.gz' },
] as const

interface Asset {
  readonly file: string
  readonly type: string
  readonly encoded: ReadonlySet<string>
}

/** Every file of the built page by the address it is served at; read once, at the start. */
const assetsIn = (folder: string): ReadonlyMap<string, Asset> => {
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return new Map()
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(join(folder, name)).isFile(),
  )
  const known = new Set(files)
  return new Map(
    files
      .filter((name) => !encodings.some(({ ending }) => name.endsWith(ending)))
      .map((name) => [
        `/${name.split(sep).join('/')}`,
        {
          file: join(folder, name),
          type: types[extname(name)] ?? 'application/octet-stream',
          encoded: new Set(
            encodings.filter(({ ending }) => known.has(name + ending)).map(({ name: encoding }) => encoding),
          ),
        },
      ]),
  )
}

const send = async (context: Context, asset: Asset, lasting: boolean): Promise<Response> => {
  const accepted = (context.req.header('accept-encoding') ?? '').split(',').map((part) => part.trim())
  const encoding = encodings.find(
    ({ name }) => asset.encoded.has(name) && accepted.some((part) => part === name || part === `${name};q=1`),
  )
  const bytes = await readFile(asset.file + (encoding?.ending ?? ''))
  return context.body(new Uint8Array(bytes), 200, {
    'content-type': asset.type,
    'content-length': String(bytes.length),
    // names under assets/ carry a hash of their content
    'cache-control': lasting ? 'public, max-age=31536000, immutable' : 'no-cache',
    vary: 'accept-encoding',
    ...(encoding && { 'content-encoding': encoding.name }),
  })
}

/**
 * Serves the built page. An address is looked up among the files that were there at the start and never
 * joined to a path, so none can lead outside the folder. Addresses of pages get the page itself, which
 * finds its own way.
 */
export const staticFiles = (folder: string | undefined): MiddlewareHandler => {
  const assets = folder === undefined ? new Map<string, Asset>() : assetsIn(folder)
  const page = assets.get('/index.html')
  return async (context, next) => {
    const { method, path } = context.req
    if ((method !== 'GET' && method !== 'HEAD') || path.startsWith('/api/')) return next()
    const asset = assets.get(path)
    if (asset !== undefined) return send(context, asset, path.startsWith('/assets/'))
    if (page !== undefined && extname(path) === '') return send(context, page, false)
    return next()
  }
}
