import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test, vi } from 'vitest'
import { runCommandLine } from './main.ts'
import { checkWritable } from './write-file.ts'

// whatever is slow fails here, so that a refusal told all the same was told before it
const begun = () => {
  throw new Error('work was begun')
}
vi.mock('../settle/index.ts', () => ({ settlePlan: begun, readShape: begun }))
vi.mock('../engine/arrange-plan.ts', () => ({ arrangePlan: begun }))

const folder = mkdtempSync(join(tmpdir(), 'write-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
writeFileSync(join(folder, 'a-file'), 'stands here')

test('a file that can’t be written is told with why, and none is made or changed by asking', async () => {
  const asked = (path: string) => checkWritable([['--drawing', path]])
  await expect(asked(join(folder, 'none', 'a.svg'))).rejects.toThrow(
    `--drawing ${join(folder, 'none', 'a.svg')}: can’t be written: there is no folder ${join(folder, 'none')}`,
  )
  await expect(asked(join(folder, 'a-file', 'a.svg'))).rejects.toThrow('a file, not a folder')
  await expect(asked(folder)).rejects.toThrow('a folder, not a file')
  await asked(join(folder, 'new.svg'))
  await asked(join(folder, 'a-file'))
  expect(() => readFileSync(join(folder, 'new.svg'))).toThrow()
  expect(readFileSync(join(folder, 'a-file'), 'utf8')).toBe('stands here')
})

test.each([
  ['arrange', '--drawing', 'examples/cloak-clasp.json'],
  ['arrange', '--body', 'examples/cloak-clasp.json'],
  ['arrange', '--cavity', 'examples/cloak-clasp.json'],
  ['plan', '--pdf', 'examples/cloak-clasp.json'],
  ['burnout', '--pdf', 'examples/cloak-clasp.json'],
  ['pattern', '--template', 'examples/clasp-drawing.svg'],
])('%s tells of a bad %s before it works anything out, with status 2', async (command, option, input) => {
  const told: string[] = []
  const written: string[] = []
  const status = await runCommandLine([command, input, option, join(folder, 'none', 'out.pdf')], {
    write: (text) => written.push(text),
    tell: (line) => told.push(line),
    now: () => new Date(0),
    root: '.',
  })
  expect([status, written]).toEqual([2, []])
  expect(told.join()).toContain('there is no folder')
})
