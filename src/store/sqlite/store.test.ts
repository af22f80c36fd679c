import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, test } from 'vitest'
import { storeCases } from '../store-cases.ts'
import { openStore } from './open-store.ts'

describe('the store over embedded SQLite', () => {
  for (const { says, run } of storeCases) {
    test(says, async () => {
      const folder = mkdtempSync(join(tmpdir(), 'pourwright-store-'))
      let now = Date.parse('2026-03-07T09:00:00Z')
      const opened = await openStore({ folder, now: () => new Date(now) })
      if (!opened.ok) throw new Error(opened.problem.what)
      try {
        await run({
          store: opened.store,
          wait: (seconds) => {
            now += seconds * 1000
          },
        })
      } finally {
        await opened.store.close()
        rmSync(folder, { recursive: true })
      }
    })
  }
})
