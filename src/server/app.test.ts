import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { usualShop } from '../engine/materials/index.ts'
import { openStore, type Store } from '../store/index.ts'
import { somePour } from '../store/some-pour.ts'
import { createApp } from './app.ts'
import type { PrintAsked, Services } from './services.ts'

let folder: string
let store: Store
let faults: unknown[]

const pdf = new TextEncoder().encode('%PDF-1.7 sheet')
const printed: PrintAsked[] = []
const services: Services = {
  measure: async (bytes, name, asked) => ({ name, size: bytes.length, ...asked }),
  print: async (asked) => {
    printed.push(asked)
    return { ok: true, pdf, plan: { name: asked.pour.name, shop: asked.shop.name } }
  },
  demo: async () => ({
    shop: { ...usualShop(), name: 'Demo studio' },
    pours: [
      somePour({
        pieces: [{ id: 'tag', name: 'Tag', quantity: 1, source: { from: 'mesh', file: 'tag.stl' } }],
      }),
    ],
    models: [{ name: 'tag.stl', bytes: new TextEncoder().encode('solid tag') }],
  }),
}

const host = 'localhost:4747'
const appWith = (given: Services = services, webFolder?: string, mostModel?: number) =>
  createApp({
    store,
    services: given,
    hosts: () => new Set([host, '127.0.0.1:4747', '[::1]:4747']),
    scratch: join(folder, 'incoming'),
    webFolder,
    mostModel,
    now: () => new Date('2026-03-07T09:00:00Z'),
    onFault: (error) => faults.push(error),
  })

interface Asking {
  readonly json?: unknown
  readonly body?: BodyInit
  readonly headers?: Record<string, string>
  readonly app?: ReturnType<typeof appWith>
}

const ask = async (method: string, path: string, { json, body, headers, app }: Asking = {}) => {
  const response = await (app ?? appWith()).request(path, {
    method,
    headers: {
      host,
      ...(json !== undefined && { 'content-type': 'application/json' }),
      ...headers,
    },
    body: json === undefined ? body : JSON.stringify(json),
  })
  const text = await response.clone().text()
  const isJson = response.headers.get('content-type')?.includes('json') === true
  return {
    status: response.status,
    headers: response.headers,
    response,
    text,
    body: isJson ? JSON.parse(text) : {},
  }
}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-server-'))
  faults = []
  const opened = await openStore({ folder })
  if (!opened.ok) throw new Error(opened.problem.what)
  store = opened.store
})

afterEach(async () => {
  await store.close()
  rmSync(folder, { recursive: true })
  expect(faults).toEqual([])
})

describe('a template', () => {
  const app = () => appWith({ ...services, template: async () => ({ ok: true, pdf, plan: undefined }) })
  const asked = async (query: string) => {
    await ask('POST', '/api/demo', { app: app() })
    const id = (await store.pours.list())[0]?.id ?? ''
    return ask('POST', `/api/pours/${id}/pieces/tag/template?${query}`, { app: app() })
  }

  test.each(['95', '100', '105'])('takes a 100 mm bar that measured %s', async (bar) => {
    expect((await asked(`bar_mm=${bar}`)).status).toBe(200)
  })

  test.each(['94.9', '105.1', '0', '-100', 'NaN', 'Infinity', '', 'long'])(
    'refuses a bar of "%s", with what it may be',
    async (bar) => {
      const answer = await asked(`bar_mm=${bar}`)
      expect(answer.status).toBe(400)
      expect(answer.text).toContain('95 to 105')
    },
  )

  test('refuses a paper and a unit that it does not have', async () => {
    expect((await asked('paper=a0')).status).toBe(400)
    expect((await asked('unit=ell')).status).toBe(400)
  })
})

describe('who is let in', () => {
  test('the three names of this computer are answered, any other Host is refused', async () => {
    for (const name of ['localhost:4747', '127.0.0.1:4747', '[::1]:4747', 'LOCALHOST:4747'])
      expect((await ask('GET', '/api/health', { headers: { host: name } })).status).toBe(200)
    for (const name of ['evil.example', 'localhost', 'localhost:4748', 'localhost.evil.example:4747', ''])
      expect((await ask('GET', '/api/health', { headers: { host: name } })).status).toBe(403)
  })

  test('a change asked for by another site’s page is refused and changes nothing', async () => {
    const strangers: Record<string, string>[] = [
      { origin: 'http://evil.example' },
      { origin: 'null' },
      { origin: 'https://localhost:4747' },
      { origin: 'http://localhost:4748' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ]
    for (const headers of strangers)
      expect(
        (
          await ask('POST', '/api/pours', {
            json: { pour: somePour() },
            headers,
          })
        ).status,
      ).toBe(403)
    expect(await store.pours.list()).toEqual([])
  })

  test('our own page and a program that is no browser may change', async () => {
    const friends: Record<string, string>[] = [
      {},
      { origin: `http://${host}`, 'sec-fetch-site': 'same-origin' },
    ]
    for (const headers of friends)
      expect(
        (
          await ask('POST', '/api/pours', {
            json: { pour: somePour() },
            headers,
          })
        ).status,
      ).toBe(201)
  })

  test('another site cannot read the API, but may link to a page', async () => {
    const headers = { 'sec-fetch-site': 'cross-site' }
    expect((await ask('GET', '/api/pours', { headers })).status).toBe(403)
    const web = join(folder, 'web')
    mkdirSync(web)
    writeFileSync(join(web, 'index.html'), '<p>page</p>')
    expect((await ask('GET', '/', { headers, app: appWith(services, web) })).status).toBe(200)
  })

  test('every answer, a refusal too, forbids framing, foreign content and guessing of types', async () => {
    for (const path of ['/api/health', '/api/pours/nobody', '/nowhere']) {
      const { headers } = await ask('GET', path)
      expect(headers.get('x-content-type-options')).toBe('nosniff')
      expect(headers.get('content-security-policy')).toContain("frame-ancestors 'none'")
      expect(headers.get('content-security-policy')).toContain("default-src 'self'")
      expect(headers.get('cross-origin-opener-policy')).toBe('same-origin')
      expect(headers.get('cross-origin-embedder-policy')).toBe('require-corp')
      expect(headers.get('access-control-allow-origin')).toBeNull()
    }
  })
})

describe('what is sent', () => {
  test('a body that is not JSON, or not called so, is refused in words', async () => {
    const broken = await ask('POST', '/api/pours', {
      body: '{"pour": ',
      headers: { 'content-type': 'application/json' },
    })
    expect(broken.status).toBe(400)
    expect(broken.body.problems[0].what).toContain('not JSON')
    const form = await ask('POST', '/api/pours', {
      body: JSON.stringify({ pour: somePour() }),
      headers: { 'content-type': 'text/plain' },
    })
    expect(form.status).toBe(415)
  })

  test('everything wrong with a pour is said at once, each with its place and remedy', async () => {
    const pour = {
      ...somePour(),
      name: '',
      pieces: [{ id: 'a', name: 'A', quantity: -1, source: {} }],
      extra: 1,
    }
    const { status, body } = await ask('POST', '/api/pours', { json: { pour } })
    expect(status).toBe(400)
    const places = body.problems.map(({ where }: { where: string }) => where)
    expect(places).toEqual(
      expect.arrayContaining([
        '/pour/name',
        '/pour/pieces/0/quantity',
        '/pour/pieces/0/source/from',
        '/pour',
      ]),
    )
    for (const { what, remedy } of body.problems) expect([what, remedy]).not.toContain('')
  })

  test('a document over the limit is refused', async () => {
    const { status } = await ask('POST', '/api/pours', { json: { pour: 'x'.repeat(5 * 1024 * 1024) } })
    expect(status).toBe(413)
  })

  test('a key that would reach into an object’s prototype is refused like any unknown key', async () => {
    const { status } = await ask('POST', '/api/pours', {
      body: `{"pour": ${JSON.stringify(somePour()).replace('{', '{"__proto__": {"name": "x"},')}, "constructor": 1}`,
      headers: { 'content-type': 'application/json' },
    })
    expect(status).toBe(400)
    expect(({} as { name?: string }).name).toBeUndefined()
  })
})

describe('the shop', () => {
  test('is the usual one at revision 0 until it is saved', async () => {
    const { body } = await ask('GET', '/api/shop')
    expect(body).toMatchObject({ revision: 0, shop: { kind: 'shop' } })
    const shop = { ...usualShop(), name: 'Upstairs' }
    expect((await ask('PUT', '/api/shop', { json: { shop, revision: 0 } })).body.revision).toBe(1)
    expect((await ask('GET', '/api/shop')).body.shop.name).toBe('Upstairs')
  })

  test('saved from a stale revision answers 409 with what stands', async () => {
    const shop = usualShop()
    await ask('PUT', '/api/shop', { json: { shop: { ...shop, name: 'First' }, revision: 0 } })
    const { status, body } = await ask('PUT', '/api/shop', { json: { shop, revision: 0 } })
    expect(status).toBe(409)
    expect(body).toMatchObject({ revision: 1, shop: { name: 'First' }, problems: [{ where: '/shop' }] })
  })
})

describe('pours', () => {
  const create = async (name = 'Clasp') =>
    (await ask('POST', '/api/pours', { json: { pour: somePour({ name }) } })).body

  test('are created, listed, read, saved, undone, redone, duplicated, deleted and recovered', async () => {
    const { id, pour, revision } = await create()
    expect((await ask('GET', '/api/pours')).body.pours).toMatchObject([{ id, name: 'Clasp', number: 1 }])
    const saved = await ask('PUT', `/api/pours/${id}`, {
      json: { pour: { ...pour, name: 'Slide' }, revision },
    })
    expect(saved.body).toMatchObject({ revision: 2, canUndo: true, pour: { name: 'Slide' } })
    expect((await ask('POST', `/api/pours/${id}/undo`)).body.pour.name).toBe('Clasp')
    expect((await ask('POST', `/api/pours/${id}/redo`)).body.pour.name).toBe('Slide')
    expect((await ask('POST', `/api/pours/${id}/duplicate`)).body.pour.number).toBe(2)
    await ask('DELETE', `/api/pours/${id}`)
    const { pours } = (await ask('GET', '/api/pours')).body
    expect(pours.find((row: { id: string }) => row.id === id).deleted).toEqual(expect.any(String))
    expect((await ask('POST', `/api/pours/${id}/recover`)).body.deleted).toBeUndefined()
  })

  test('saved from a stale revision, or while deleted, answer 409 with what stands', async () => {
    const { id, pour } = await create()
    await ask('PUT', `/api/pours/${id}`, { json: { pour: { ...pour, name: 'Mine' }, revision: 1 } })
    const stale = await ask('PUT', `/api/pours/${id}`, { json: { pour, revision: 1 } })
    expect(stale.status).toBe(409)
    expect(stale.body).toMatchObject({ revision: 2, pour: { name: 'Mine' } })
    await ask('DELETE', `/api/pours/${id}`)
    expect((await ask('PUT', `/api/pours/${id}`, { json: { pour, revision: 3 } })).status).toBe(409)
  })

  test('that do not exist answer 404', async () => {
    for (const [method, path] of [
      ['GET', '/api/pours/nobody'],
      ['DELETE', '/api/pours/nobody'],
      ['POST', '/api/pours/nobody/undo'],
      ['GET', '/api/pours/nobody/file'],
    ] as const)
      expect((await ask(method, path)).status).toBe(404)
  })
})

describe('a pour as one file', () => {
  const meshPour = (file: string, sha256?: string) =>
    somePour({
      pieces: [{ id: 'tag', name: 'Tag', quantity: 1, source: { from: 'mesh', file, sha256 } }],
    })

  test('holds its shop, and comes back in as the same pour', async () => {
    const first = (await ask('POST', '/api/pours', { json: { pour: somePour({ number: 4 }) } })).body
    const file = await ask('GET', `/api/pours/${first.id}/file`)
    expect(file.headers.get('content-disposition')).toContain('Cloak-clasp.json')
    expect(file.body).toEqual({ ...first.pour, shop: usualShop() })
    await ask('DELETE', `/api/pours/${first.id}`)
    const second = await ask('POST', '/api/pours/import', { json: file.body })
    expect(second.status).toBe(201)
    expect(second.body.pour).toEqual({ ...first.pour, number: 5 })
  })

  test('brings its shop along only where there is none of one’s own', async () => {
    const shop = { ...usualShop(), name: 'Theirs' }
    expect((await ask('POST', '/api/pours/import', { json: { ...somePour(), shop } })).body.shopTaken).toBe(
      true,
    )
    expect((await ask('GET', '/api/shop')).body.shop.name).toBe('Theirs')
    const other = { ...usualShop(), name: 'Another' }
    const second = await ask('POST', '/api/pours/import', { json: { ...somePour(), shop: other } })
    expect(second.body.shopTaken).toBe(false)
    expect((await ask('GET', '/api/shop')).body.shop.name).toBe('Theirs')
  })

  test('whose models are not here is refused, naming each, until they are sent', async () => {
    const sent = await ask('PUT', '/api/models?name=tag.stl', { body: 'solid tag' })
    const known = sent.body.sha256
    const absent = 'a'.repeat(64)
    const refused = await ask('POST', '/api/pours/import', { json: meshPour('models/tag.stl', absent) })
    expect(refused.status).toBe(400)
    expect(refused.body.missing).toEqual([{ file: 'models/tag.stl', sha256: absent }])
    expect((await ask('POST', '/api/pours/import', { json: meshPour('models/tag.stl') })).status).toBe(400)
    expect((await ask('POST', '/api/pours/import', { json: meshPour('models/tag.stl', known) })).status).toBe(
      201,
    )
  })

  test('never names a model outside its own folder', async () => {
    const known = (await ask('PUT', '/api/models?name=tag.stl', { body: 'solid tag' })).body.sha256
    for (const name of [
      '../tag.stl',
      'a/../../tag.stl',
      '/etc/tag.stl',
      'C:\\tag.stl',
      'a\\..\\..\\tag.stl',
      'file:///tag.stl',
      'https://evil.example/tag.stl',
      '\\\\server\\tag.stl',
    ]) {
      const { status, body } = await ask('POST', '/api/pours/import', { json: meshPour(name, known) })
      expect([name, status]).toEqual([name, 400])
      expect(body.problems[0].what).toContain('outside')
    }
    expect(await store.pours.list()).toEqual([])
  })
})

describe('models', () => {
  test('are kept by the hash of their bytes and come back as they were', async () => {
    const bytes = Uint8Array.from({ length: 1_300_000 }, (_, index) => index % 250)
    const sent = await ask('PUT', '/api/models?name=..%2F..%2Fclasp.stl', { body: bytes })
    expect(sent.body).toMatchObject({ size: bytes.length, name: 'clasp.stl' })
    const back = await ask('GET', `/api/models/${sent.body.sha256}`)
    expect(Buffer.compare(Buffer.from(await back.response.arrayBuffer()), Buffer.from(bytes))).toBe(0)
  })

  test('over the limit are refused, whether the length is announced or not, and leave nothing', async () => {
    const app = appWith(services, undefined, 1000)
    const announced = await ask('PUT', '/api/models?name=a.stl', {
      body: 'x',
      headers: { 'content-length': '1001' },
      app,
    })
    expect(announced.status).toBe(413)
    const silent = await ask('PUT', '/api/models?name=a.stl', { body: new Uint8Array(1001), app })
    expect(silent.status).toBe(413)
    expect(readdirSync(join(folder, 'incoming'))).toEqual([])
    expect((await ask('PUT', '/api/models?name=a.stl', { body: new Uint8Array(1000), app })).status).toBe(200)
  })

  test('empty or nameless are refused', async () => {
    expect((await ask('PUT', '/api/models?name=a.stl')).status).toBe(400)
    expect((await ask('PUT', '/api/models', { body: 'solid' })).status).toBe(400)
    expect((await ask('GET', `/api/models/${'0'.repeat(64)}`)).status).toBe(404)
  })

  test('are measured in the units asked for, under the name asked for', async () => {
    const { sha256 } = (await ask('PUT', '/api/models?name=a.stl', { body: 'solid' })).body
    const { body } = await ask('GET', `/api/models/${sha256}/measure?name=b.stl&units=in&acceptRepair=true`)
    expect(body).toEqual({ name: 'b.stl', size: 5, units: 'in', acceptRepair: true })
    expect((await ask('GET', `/api/models/${sha256}/measure?units=yd`)).status).toBe(400)
    expect((await ask('GET', `/api/models/${'0'.repeat(64)}/measure`)).status).toBe(404)
  })
})

describe('prints', () => {
  test('are frozen: later changes of pour and shop alter neither sheet nor plan', async () => {
    const { id, pour } = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    const made = await ask('POST', `/api/pours/${id}/print`, {
      json: { paper: 'A4', units: { length: 'in' } },
    })
    expect(made.status).toBe(201)
    await ask('PUT', `/api/pours/${id}`, { json: { pour: { ...pour, name: 'Later' }, revision: 1 } })
    await ask('PUT', '/api/shop', { json: { shop: { ...usualShop(), name: 'Later' }, revision: 0 } })
    const print = (await ask('GET', `/api/prints/${made.body.id}`)).body
    expect(print).toMatchObject({ paper: 'a4', pour: { name: 'Cloak clasp' }, plan: { name: 'Cloak clasp' } })
    expect(print.shop).toEqual(usualShop())
    expect(print.engineVersion).toMatch(/^\d+\.\d+\.\d+$/)
    const sheet = await ask('GET', `/api/prints/${made.body.id}.pdf`)
    expect(sheet.headers.get('content-type')).toBe('application/pdf')
    expect(sheet.text).toBe('%PDF-1.7 sheet')
    expect((await ask('GET', `/api/prints?pour=${id}`)).body.prints).toHaveLength(1)
  })

  test('of the kiln alone are answered at once, and nothing is kept of them', async () => {
    const { id } = await store.pours.create(somePour())
    printed.length = 0
    const sheet = await ask('POST', `/api/pours/${id}/kiln-sheet`, { json: { paper: 'A4' } })
    expect(sheet.headers.get('content-type')).toBe('application/pdf')
    expect(sheet.text).toBe('%PDF-1.7 sheet')
    expect(printed).toMatchObject([{ sheet: 'kiln', paper: 'a4' }])
    expect(await store.prints.list(id)).toEqual([])
    const lost = await ask('POST', '/api/pours/none/kiln-sheet', { json: { paper: 'A4' } })
    expect(lost.status).toBe(404)
  })

  test('on other paper, or of no pour, are refused', async () => {
    const { id } = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    expect((await ask('POST', `/api/pours/${id}/print`, { json: { paper: 'A0' } })).status).toBe(400)
    expect((await ask('POST', '/api/pours/nobody/print', { json: { paper: 'a4' } })).status).toBe(404)
    expect((await ask('GET', '/api/prints/nobody.pdf')).status).toBe(404)
  })
})

describe('backup and restore', () => {
  test('what is downloaded brings everything back, and no copy stays behind', async () => {
    const { id } = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    const { sha256 } = (await ask('PUT', '/api/models?name=a.stl', { body: 'solid a' })).body
    const download = await ask('GET', '/api/backup')
    expect(download.headers.get('content-disposition')).toContain('pourwright-2026-03-07.backup')
    const file = await download.response.arrayBuffer()
    expect(file.byteLength).toBe(Number(download.headers.get('content-length')))
    await ask('DELETE', `/api/pours/${id}`)
    const answer = await ask('POST', '/api/restore', { body: file })
    expect(answer.body).toMatchObject({ restored: true, before: expect.stringContaining('before-restore') })
    expect((await ask('GET', `/api/pours/${id}`)).body.deleted).toBeUndefined()
    expect((await ask('GET', `/api/models/${sha256}`)).text).toBe('solid a')
    await expect.poll(() => readdirSync(join(folder, 'incoming'))).toEqual([])
  })

  test('a file that is no backup is refused and nothing changes', async () => {
    const { id } = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    const { status, body } = await ask('POST', '/api/restore', { body: 'a shopping list' })
    expect(status).toBe(400)
    expect(body.problems).toMatchObject([{ where: 'the backup file' }])
    expect((await ask('POST', '/api/restore')).status).toBe(400)
    expect((await ask('GET', `/api/pours/${id}`)).status).toBe(200)
  })
})

describe('the demo', () => {
  test('asked twice leads to the same pour, with its models kept, and comes back when deleted', async () => {
    const { id } = (await ask('POST', '/api/demo')).body
    const { source } = (await ask('GET', `/api/pours/${id}`)).body.pour.pieces[0]
    expect((await ask('GET', `/api/models/${source.sha256}`)).text).toBe('solid tag')
    await ask('DELETE', `/api/pours/${id}`)
    expect((await ask('POST', '/api/demo')).body.id).toBe(id)
    expect((await ask('GET', '/api/pours')).body.pours).toHaveLength(1)
  })

  test('stands in its own studio, which never becomes the caster’s shop', async () => {
    const { id } = (await ask('POST', '/api/demo')).body
    expect((await ask('GET', '/api/shop')).body).toMatchObject({ revision: 0, shop: usualShop() })
    expect((await ask('GET', `/api/pours/${id}`)).body.shopOf).toBe('demo')
    const studio = (await ask('GET', '/api/demo/shop')).body
    expect(studio.shop.name).toBe('Demo studio')
    expect((await ask('GET', `/api/pours/${id}/file`)).body.shop.name).toBe('Demo studio')
    const printed = (await ask('POST', `/api/pours/${id}/print`, { json: { paper: 'a4' } })).body
    expect((await ask('GET', `/api/prints/${printed.id}`)).body.shop.name).toBe('Demo studio')
    const own = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    expect((await ask('GET', `/api/pours/${own.id}`)).body.shopOf).toBe('own')
    // its numbers are the studio's too
    const demo = (await ask('GET', `/api/pours/${id}`)).body.pour.number
    const again = (await ask('POST', `/api/pours/${id}/duplicate`)).body
    expect([own.pour.number, again.pour.number]).toEqual([1, 2].map((n) => (demo <= n ? n + 1 : n)))
    await ask('PUT', '/api/demo/shop', {
      json: { shop: { ...studio.shop, name: 'Changed' }, revision: studio.revision },
    })
    expect((await ask('GET', '/api/demo/shop')).body.shop.name).toBe('Changed')
    expect((await ask('GET', '/api/shop')).body.revision).toBe(0)
  })

  test('leaves a shop of one’s own alone', async () => {
    await ask('PUT', '/api/shop', { json: { shop: { ...usualShop(), name: 'Mine' }, revision: 0 } })
    await ask('POST', '/api/demo')
    expect((await ask('GET', '/api/shop')).body.shop.name).toBe('Mine')
  })
})

describe('a service that is not there', () => {
  test('is said in words with 501', async () => {
    const app = appWith({})
    const { id } = (await ask('POST', '/api/pours', { json: { pour: somePour() } })).body
    const { sha256 } = (await ask('PUT', '/api/models?name=a.stl', { body: 'solid' })).body
    for (const [method, path, json] of [
      ['POST', '/api/make-up', {}],
      ['POST', '/api/demo', undefined],
      ['POST', `/api/pours/${id}/print`, { paper: 'a4' }],
      ['GET', `/api/models/${sha256}/measure`, undefined],
    ] as const) {
      const { status, body } = await ask(method, path, { json, app })
      expect([path, status]).toEqual([path, 501])
      expect(body.problems[0].what).toContain('not built')
    }
  })

  test('a service that fails answers 500 without its inner words, and the fault is told', async () => {
    const app = appWith({
      demo: async () => {
        throw new Error('secret/path')
      },
    })
    const { status, text } = await ask('POST', '/api/demo', { app })
    expect(status).toBe(500)
    expect(text).not.toContain('secret')
    expect(faults.splice(0)).toHaveLength(1)
  })
})

describe('the page', () => {
  const built = () => {
    const web = join(folder, 'web')
    mkdirSync(join(web, 'assets'), { recursive: true })
    writeFileSync(join(web, 'index.html'), '<p>page</p>')
    writeFileSync(join(web, 'assets', 'main-abc.js'), 'plain')
    writeFileSync(join(web, 'assets', 'main-abc.js.br'), 'brotli')
    writeFileSync(join(web, 'assets', 'main-abc.js.gz'), 'gzip')
    writeFileSync(join(folder, 'secret.txt'), 'secret')
    return appWith(services, web)
  }

  test('is served at every address without an ending; files under assets/ may be kept for good', async () => {
    const app = built()
    for (const path of ['/', '/pours/some-id', '/shop'])
      expect((await ask('GET', path, { app })).text).toBe('<p>page</p>')
    const script = await ask('GET', '/assets/main-abc.js', { app })
    expect(script.text).toBe('plain')
    expect(script.headers.get('cache-control')).toContain('immutable')
    expect((await ask('GET', '/', { app })).headers.get('cache-control')).toBe('no-cache')
    expect((await ask('GET', '/assets/gone.js', { app })).status).toBe(404)
    expect((await ask('GET', '/api/gone', { app })).status).toBe(404)
  })

  test('is sent as it was packed at the build, the tightest way that the browser reads', async () => {
    const app = built()
    const packed = async (accept: string) => {
      const { response } = await ask('GET', '/assets/main-abc.js', {
        app,
        headers: { 'accept-encoding': accept },
      })
      return [response.headers.get('content-encoding'), response.headers.get('content-type')]
    }
    expect(await packed('gzip, deflate, br')).toEqual(['br', 'text/javascript; charset=utf-8'])
    expect(await packed('gzip')).toEqual(['gzip', 'text/javascript; charset=utf-8'])
    expect(await packed('br;q=0')).toEqual([null, 'text/javascript; charset=utf-8'])
  })

  test('no address leads outside its folder', async () => {
    const app = built()
    for (const path of [
      '/../secret.txt',
      '/..%2fsecret.txt',
      '/%2e%2e/secret.txt',
      '/assets/..%2f..%2fsecret.txt',
      '/assets/..%5c..%5csecret.txt',
      '/%00/secret.txt',
      '//secret.txt',
    ])
      expect((await ask('GET', path, { app })).text).not.toBe('secret')
  })
})
