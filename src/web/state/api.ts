import type { Pour, PourFile } from '../../engine/documents/pour.ts'
import type { Shop } from '../../engine/documents/shop.ts'
import type { UnitChoice } from '../../engine/quantity/units.ts'
import type { Kept, Saved, Went } from './document-store.ts'

export class Refused extends Error {
  readonly status: number
  readonly body: unknown
  constructor(status: number, body: unknown, message: string) {
    super(message)
    this.status = status
    this.body = body
  }
}

const messageIn = (body: unknown, fallback: string): string => {
  if (typeof body !== 'object' || body === null) return fallback
  const { message, error, what, problems } = body as Record<string, unknown>
  for (const words of [message, error, what]) if (typeof words === 'string') return words
  if (typeof error === 'object') return messageIn(error, fallback)
  const [first] = Array.isArray(problems) ? (problems as Record<string, unknown>[]) : []
  if (first !== undefined) return [first.where, first.what, first.remedy].filter(Boolean).join(': ')
  return fallback
}

const ask = async (method: string, path: string, body?: unknown): Promise<Response> => {
  const raw = body instanceof Blob
  const response = await fetch(path, {
    method,
    headers: body === undefined || raw ? {} : { 'content-type': 'application/json' },
    ...(body !== undefined && { body: raw ? body : JSON.stringify(body) }),
  })
  if (response.ok) return response
  const said: unknown = await response.json().catch(() => undefined)
  throw new Refused(
    response.status,
    said,
    messageIn(said, `the local server answered ${response.status} to ${method} ${path}`),
  )
}

const json = async <T>(method: string, path: string, body?: unknown): Promise<T> =>
  (await ask(method, path, body)).json() as Promise<T>

export interface PourRow {
  readonly id: string
  readonly name: string
  readonly number?: number
  readonly updated?: string
  /** when it was taken off the list */
  readonly deleted?: string
  readonly pour?: Pour
  readonly shopOf?: ShopOf
}

export interface KeptPour {
  readonly id: string
  readonly pour: Pour
  readonly revision: number
  /** whose shop it stands in, where the server was asked for the pour itself */
  readonly shopOf?: ShopOf
}

/** The caster's own shop, or the studio that came with the demo. */
export type ShopOf = 'own' | 'demo'

const shopPath = (of: ShopOf): string => (of === 'demo' ? '/api/demo/shop' : '/api/shop')

export const readShop = async (of: ShopOf): Promise<Kept<Shop>> => {
  const { shop, revision } = await json<{ shop: Shop; revision: number }>('GET', shopPath(of))
  return { document: shop, revision }
}

const saved = async <T>(
  sending: () => Promise<{ revision: number }>,
  theirs: (body: unknown) => Kept<T> | undefined,
): Promise<Saved<T>> => {
  try {
    return { ok: true, revision: (await sending()).revision }
  } catch (trouble) {
    if (trouble instanceof Refused && trouble.status === 409)
      return { ok: false, theirs: theirs(trouble.body) }
    throw trouble
  }
}

export const saveShop = (of: ShopOf, shop: Shop, revision: number): Promise<Saved<Shop>> =>
  saved(
    () => json('PUT', shopPath(of), { shop, revision }),
    (body) => {
      const { shop: theirs, revision: at } = body as { shop?: Shop; revision?: number }
      return theirs === undefined || at === undefined ? undefined : { document: theirs, revision: at }
    },
  )

export const readPours = async (): Promise<readonly PourRow[]> => {
  const answer = await json<{ pours: PourRow[] } | PourRow[]>('GET', '/api/pours')
  return Array.isArray(answer) ? answer : answer.pours
}

export const readPour = (id: string): Promise<KeptPour> => json('GET', `/api/pours/${id}`)

/**
 * This page among all that are open: what one types is never taken for what another did. Drawn by lot: a ready-made
 * name of that kind is given only to pages that are read from this machine or encrypted.
 */
const EDITOR = `page ${[...crypto.getRandomValues(new Uint32Array(4))].map((part) => part.toString(36)).join('-')}`

export const savePour = (id: string, pour: Pour, revision: number, went?: Went): Promise<Saved<Pour>> =>
  saved(
    () => json('PUT', `/api/pours/${id}`, { pour, revision, editor: EDITOR, went }),
    (body) => {
      const { pour: theirs, revision: at } = body as { pour?: Pour; revision?: number }
      return theirs === undefined || at === undefined ? undefined : { document: theirs, revision: at }
    },
  )

export const addPour = (pour: Pour): Promise<KeptPour> => json('POST', '/api/pours', { pour })
export const removePour = (id: string): Promise<Response> => ask('DELETE', `/api/pours/${id}`)
export const recoverPour = (id: string): Promise<Response> => ask('POST', `/api/pours/${id}/recover`)
export const duplicatePour = (id: string): Promise<KeptPour> => json('POST', `/api/pours/${id}/duplicate`)
export const stepPour = (id: string, step: 'undo' | 'redo'): Promise<KeptPour> =>
  json('POST', `/api/pours/${id}/${step}`)
export const importPour = (file: PourFile): Promise<KeptPour> => json('POST', '/api/pours/import', file)
export const openDemo = (): Promise<{ id: string }> => json('POST', '/api/demo')
export const restoreFrom = (file: Blob): Promise<Response> => ask('POST', '/api/restore', file)

export const printPour = (id: string, paper: 'A4' | 'Letter', units: UnitChoice): Promise<{ id: string }> =>
  json('POST', `/api/pours/${id}/print`, { paper, units })

/** The sheet that hangs beside the kiln; nothing is kept of it. */
export const printKilnSheet = async (id: string, paper: 'A4' | 'Letter', units: UnitChoice): Promise<Blob> =>
  (await ask('POST', `/api/pours/${id}/kiln-sheet`, { paper, units })).blob()

/** The carving template of a piece that is still a drawing; `bar_mm` is what the 100 mm bar of the last print measured. */
export const printTemplate = async (
  id: string,
  piece: string,
  asked: { paper: 'A4' | 'Letter'; units: UnitChoice; bar_mm?: number },
): Promise<Blob> => {
  const query = new URLSearchParams({ paper: asked.paper, unit: asked.units.length })
  if (asked.bar_mm !== undefined) query.set('bar_mm', String(asked.bar_mm))
  const path = `/api/pours/${id}/pieces/${encodeURIComponent(piece)}/template?${query}`
  return (await ask('POST', path)).blob()
}

export const sendModel = (file: File): Promise<{ sha256: string }> =>
  json('PUT', `/api/models?name=${encodeURIComponent(file.name)}`, file)

export const measureModel = <T>(
  sha256: string,
  asked: { name: string; units?: 'mm' | 'in'; acceptRepair?: boolean },
): Promise<T> => {
  const query = new URLSearchParams({ name: asked.name })
  if (asked.units !== undefined) query.set('units', asked.units)
  if (asked.acceptRepair === true) query.set('acceptRepair', 'true')
  return json('GET', `/api/models/${sha256}/measure?${query}`)
}

export const workOutMakeUp = <T>(request: unknown): Promise<T> => json('POST', '/api/make-up', request)
