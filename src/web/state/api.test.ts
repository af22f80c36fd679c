import { afterEach, expect, test, vi } from 'vitest'
import { samplePour } from '../../engine/sample-pour.ts'

afterEach(() => {
  vi.unstubAllGlobals()
  vi.resetModules()
})

test('every page saves under a name of its own, and the same each time', async () => {
  const editors: unknown[] = []
  // a page that is read over the shop's own network, not encrypted, is given this one function alone
  const { crypto: whole } = globalThis
  vi.stubGlobal('crypto', {
    getRandomValues: (into: Uint32Array<ArrayBuffer>) => whole.getRandomValues(into),
  })
  vi.stubGlobal('fetch', async (_path: string, { body }: RequestInit) => {
    editors.push(JSON.parse(String(body)).editor)
    return Response.json({ revision: 2 })
  })
  for (const _page of ['one', 'another']) {
    vi.resetModules()
    const { savePour } = await import('./api.ts')
    await savePour('clasp', samplePour(), 1)
    await savePour('clasp', samplePour(), 2)
  }
  const [one, again, another] = editors
  expect(one).toMatch(/^page .{10,70}$/)
  expect(again).toBe(one)
  expect(another).not.toBe(one)
})
