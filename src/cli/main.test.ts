import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runCommandLine } from './main.ts'

let folder: string
const weighedOnly = new URL('../../examples/weighed-only.json', import.meta.url).pathname

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-cli-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const call = async (...args: string[]) => {
  let out = ''
  const told: string[] = []
  const status = await runCommandLine(args, {
    write: (text) => {
      out += text
    },
    tell: (line) => told.push(line),
    now: () => new Date('2026-03-07T09:00:00Z'),
    root: folder,
  })
  return { status, out, told }
}

describe('the command line', () => {
  test('says what it can do when asked, and when asked nothing', async () => {
    for (const args of [[], ['--help'], ['help']]) {
      const { status, out, told } = await call(...args)
      expect(status).toBe(0)
      expect(told).toEqual([])
      for (const command of ['measure', 'open']) expect(out).toContain(command)
    }
    expect((await call('measure', '--help')).out).toContain('--accept-repair')
    expect((await call('--version')).out).toMatch(/^\d+\.\d+\.\d+\n$/)
  })

  test('names its units, and says why a charge is open', async () => {
    expect((await call('--help')).out).toContain('--length mm|in')
    expect((await call('plan', '--help')).out).toContain('--temperature C|F')
    const { out } = await call('charge', weighedOnly)
    expect(out).toContain('charge open')
    expect(out).toContain('The sprues have no size yet')
    expect(out).toContain('measure each piece by calipers')
  })

  test('names the choices where a value is none of them', async () => {
    for (const [command, option] of [
      ['arrange', '--length'],
      ['arrange', '--units'],
      ['plan', '--length'],
      ['charge', '--length'],
    ] as const) {
      const { status, out, told } = await call(command, weighedOnly, option, 'cm')
      expect([status, out], command).toEqual([2, ''])
      expect(told, command).toEqual([expect.stringMatching(new RegExp(`${option}: "cm" .*mm(, | or )in`))])
    }
  })

  test('refuses an unknown command with one line of reason and, asked for JSON, with nothing but JSON', async () => {
    const words = await call('melt')
    expect(words).toMatchObject({ status: 2, out: '' })
    expect(words.told).toHaveLength(1)
    const json = await call('melt', '--json')
    expect(json.status).toBe(2)
    expect(JSON.parse(json.out).problems).toHaveLength(1)
  })

  test('names of every object’s own are no commands', async () => {
    for (const name of ['constructor', 'toString', '__proto__']) expect((await call(name)).status).toBe(2)
  })
})

describe('measure', () => {
  // a tetrahedron with corners 0, x, y, z at 6 mm: volume 6 * 6 * 6 / 6
  const corners = ['0 0 0', '6 0 0', '0 6 0', '0 0 6']
  const faces = [
    [0, 2, 1],
    [0, 1, 3],
    [0, 3, 2],
    [1, 2, 3],
  ]
  const stl = `solid a\n${faces
    .map(
      (face) =>
        `facet normal 0 0 0\nouter loop\n${face.map((corner) => `vertex ${corners[corner]}`).join('\n')}\nendloop\nendfacet`,
    )
    .join('\n')}\nendsolid a\n`

  test('measures a file from disk and gives its mass in sterling', async () => {
    const file = join(folder, 'a.stl')
    writeFileSync(file, stl)
    const { status, out, told } = await call('measure', file, '--json', '--units', 'mm')
    const [model] = JSON.parse(out).models
    expect(status).toBe(0)
    expect(told).toEqual([])
    expect(model.closed).toBe(true)
    expect(model.volume_mm3).toBeCloseTo(36, 9)
    // 36 mm3 at the 10.36 g/cm3 that handbooks give for sterling silver, within half a per cent
    expect(Math.abs(model.mass_g.sterling / 0.373 - 1)).toBeLessThan(0.005)
  })

  test('a file that is not there, a folder, no file and a strange unit are bad input', async () => {
    const cases = [
      ['measure', join(folder, 'nowhere.stl'), '--json'],
      ['measure', folder, '--json'],
      ['measure', '--json'],
      ['measure', 'a.stl', '--units', 'yd', '--json'],
      ['measure', '--strange', '--json'],
    ]
    for (const args of cases) {
      const { status, out, told } = await call(...args)
      expect([args, status]).toEqual([args, 2])
      expect(told).toHaveLength(1)
      expect(() => JSON.parse(out)).not.toThrow()
    }
  })
})

describe('open', () => {
  test('refuses a port that is none before it starts anything', async () => {
    for (const port of ['high', '-1', '65536', '1.5'])
      expect((await call('open', `--port=${port}`)).status).toBe(2)
  })
})
