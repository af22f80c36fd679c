import { mkdtempSync, rmSync } from 'node:fs'
import { createServer, request } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { usualDataFolder } from '../store/index.ts'
import { startServer } from './main.ts'

let folder: string
const closing: (() => Promise<void>)[] = []

const start = async (options: { port?: number; data?: string } = {}) => {
  const started = await startServer({
    folder: options.data ?? folder,
    host: '127.0.0.1',
    port: options.port ?? 0,
    root: folder,
  })
  if (started.ok) closing.push(started.close)
  return started
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-main-'))
})

afterEach(async () => {
  for (const close of closing.splice(0)) await close()
  rmSync(folder, { recursive: true })
})

/** Asks over a real connection; `fetch` would not let a test choose its own Host. */
const statusOf = (
  url: string,
  headers: Record<string, string> = {},
  method = 'GET',
  body = '',
): Promise<number> =>
  new Promise((settle, fail) => {
    const { port, pathname } = new URL(url)
    const asking = request({ host: '127.0.0.1', port, path: pathname, method, headers }, (answer) => {
      answer.resume()
      settle(answer.statusCode ?? 0)
    })
    asking.on('error', fail)
    asking.end(body)
  })

describe('the server on this computer', () => {
  test('answers under its own name and refuses another over a real connection', async () => {
    const started = await start()
    if (!started.ok) throw new Error(started.problem.what)
    const health = `${started.url}api/health`
    const { port } = new URL(started.url)
    expect(await statusOf(health, { host: `localhost:${port}` })).toBe(200)
    expect(await statusOf(health, { host: `rebound.example:${port}` })).toBe(403)
    expect(
      await statusOf(`${started.url}api/demo`, { host: `localhost:${port}`, origin: 'null' }, 'POST'),
    ).toBe(403)
  })

  test('says so when the port asked for is taken', async () => {
    const other = createServer().listen(0, '127.0.0.1')
    await new Promise((resolve) => other.once('listening', resolve))
    const { port } = other.address() as AddressInfo
    const started = await start({ port })
    expect(started).toMatchObject({ ok: false, problem: { where: '--port' } })
    other.close()
  })

  test('a second start beside the first takes a port of its own', async () => {
    const [one, two] = [await start(), await start()]
    if (!one.ok || !two.ok) throw new Error('expected two servers')
    expect(one.url).not.toBe(two.url)
  })

  test('ends tidily: the port is free again and the database whole', async () => {
    const first = await start()
    if (!first.ok) throw new Error(first.problem.what)
    await closing.pop()?.()
    const again = await start({ port: Number(new URL(first.url).port) })
    expect(again.ok).toBe(true)
  })
})

describe('where things are kept', () => {
  test('is the place that each system sets aside for a person’s own data', () => {
    expect(usualDataFolder('linux', {}, '/home/ann')).toBe('/home/ann/.local/share/pourwright')
    expect(usualDataFolder('linux', { XDG_DATA_HOME: '/data' }, '/home/ann')).toBe('/data/pourwright')
    expect(usualDataFolder('darwin', {}, '/Users/ann')).toBe(
      '/Users/ann/Library/Application Support/Pourwright',
    )
    expect(usualDataFolder('win32', { APPDATA: '/roaming' }, '/ann')).toBe('/roaming/Pourwright')
  })
})
