import type { MiddlewareHandler } from 'hono'
import { refuse } from './answers.ts'

// The page loads nothing from elsewhere and nothing may frame it. WebAssembly needs its own word.
// The two cross-origin policies let a page share memory between its workers.
const headers: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'self'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "style-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'permissions-policy': 'camera=(), microphone=(), geolocation=()',
}

export const securityHeaders: MiddlewareHandler = async (context, next) => {
  await next()
  for (const [name, value] of Object.entries(headers))
    if (!context.res.headers.has(name)) context.res.headers.set(name, value)
}

const reads = new Set(['GET', 'HEAD'])

/**
 * Lets in only what was addressed to this server by name, so that a stranger's page whose own name was
 * made to lead here (DNS rebinding) is refused, and only changes asked for by our own page or by a program
 * that is no browser, so that another site's form or script changes nothing.
 * @param hosts the names with port under which this server is reached, such as `localhost:4747`
 */
export const guard =
  (hosts: () => ReadonlySet<string>): MiddlewareHandler =>
  async (context, next) => {
    const host = context.req.header('host')?.toLowerCase()
    if (host === undefined || !hosts().has(host))
      throw refuse(
        403,
        'Host',
        `this server is not called "${host ?? ''}"`,
        'open the address that was printed when it started',
      )
    const stranger = refuse(
      403,
      'Origin',
      'another site asked for this',
      'use the page of this server itself',
    )
    const site = context.req.header('sec-fetch-site')
    const changes = !reads.has(context.req.method)
    const isApi = context.req.path.startsWith('/api/')
    if (site !== undefined && site !== 'same-origin' && site !== 'none' && (changes || isApi)) throw stranger
    const origin = context.req.header('origin')
    if (changes && origin !== undefined && origin.toLowerCase() !== `http://${host}`) throw stranger
    await next()
  }
