import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { checkFile } from './file-check.ts'
import { databaseName, openStore } from './open-store.ts'

// The bundle lies inside the checkout, so that the native database is found from it.
const program = fileURLToPath(new URL('../../../.cache/kill-writer.mjs', import.meta.url))
let folder: string

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-kill-'))
  await build({
    entryPoints: [fileURLToPath(new URL('./kill-writer.ts', import.meta.url))],
    outfile: program,
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    logLevel: 'error',
  })
})

afterAll(() => rmSync(folder, { recursive: true }))

/** Runs the writer, kills it after so many acknowledged saves, and gives what it had acknowledged. */
const writeUntilKilled = async (saves: number): Promise<Map<string, number>> => {
  const writer = spawn(process.execPath, [program, folder], { stdio: ['ignore', 'pipe', 'inherit'] })
  let said = ''
  writer.stdout.setEncoding('utf8')
  writer.stdout.on('data', (text: string) => {
    said += text
    if (said.split('\n').length > saves) writer.kill('SIGKILL')
  })
  const [, signal] = await once(writer, 'close')
  expect(signal).toBe('SIGKILL')
  const lines = said.split('\n').slice(0, -1)
  expect(lines.length).toBeGreaterThanOrEqual(saves)
  return new Map(lines.map((line) => [line.split(' ')[0] ?? '', Number(line.split(' ')[1])]))
}

describe('a process killed while it saves', () => {
  test('loses nothing that was acknowledged, five times over', async () => {
    const known = ['0001-first-tables']
    const acknowledged = new Map<string, number>()
    for (const saves of [3, 14, 25, 37, 48]) {
      for (const [id, revision] of await writeUntilKilled(saves)) acknowledged.set(id, revision)
      const opened = await openStore({ folder })
      if (!opened.ok) throw new Error(opened.problem.what)
      for (const [id, revision] of acknowledged)
        expect((await opened.store.pours.read(id))?.revision).toBeGreaterThanOrEqual(revision)
      await opened.store.close()
      expect(checkFile(join(folder, databaseName), known, true)).toBeUndefined()
    }
    expect(acknowledged.size).toBeGreaterThan(50)
  })
})
