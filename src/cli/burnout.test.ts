import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readDocument, shopSchema } from '../engine/documents/index.ts'
import { burnoutJsonSchema, burnoutLogJsonSchema, burnoutStoppedJsonSchema } from '../engine/plan-schema.ts'
import { runCommandLine } from './main.ts'

const call = async (...args: string[]) => {
  let out = ''
  const told: string[] = []
  const status = await runCommandLine(['burnout', ...args], {
    write: (text) => {
      out += text
    },
    tell: (line) => told.push(line),
    now: () => new Date('2026-03-07T09:00:00Z'),
    root: '.',
  })
  return { status, out, told }
}

const NOW = ['--now', '2026-11-12T18:00:00Z'] as const

describe('burnout', () => {
  test('tells the clasp’s program as solved, by the published form', async () => {
    const { status, out, told } = await call('examples/cloak-clasp.json', '--json', ...NOW)
    expect([status, told]).toEqual([0, []])
    const answer = burnoutJsonSchema.parse(JSON.parse(out))
    expect(answer.by).toBe('solver')
    expect(answer.events.map(({ id }) => id)).toEqual(['sprueMelted', 'waxMelted', 'coreDry', 'coreHot'])
    expect(answer.variants.filter(({ chosen }) => chosen).map(({ id }) => id)).toEqual(['gentle'])
    expect(answer.core.at(-1)?.min).toBeCloseTo(answer.total_min ?? Number.NaN, 1)
    expect(answer.core.every(({ low_C, core_C, high_C }) => low_C <= core_C && core_C <= high_C)).toBe(true)
  })

  test('says the same in words, with the rule beside it and the cautions', async () => {
    const { out } = await call('examples/cloak-clasp.json', ...NOW)
    expect(out).toMatch(/in the kiln +1\d h.*solved/)
    expect(out).toContain('By the rule of flask size')
    expect(out).toContain('Wax vapour can flash')
  })

  test('refuses a pour that is not there, and says where', async () => {
    const { status, out } = await call('examples/nothing.json', '--json')
    expect(status).toBe(2)
    expect(JSON.parse(out).problems[0].where).toContain('nothing.json')
  })
})

describe('burnout with a log', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'pourwright-log-'))
  })
  afterAll(() => rmSync(folder, { recursive: true }))
  const logAs = (text: string): string => {
    const path = join(folder, 'log.csv')
    writeFileSync(path, text)
    return path
  }

  test('fits the mould to a log, and says what to keep in the shop as the shop holds it', async () => {
    const planned = JSON.parse((await call('examples/cloak-clasp.json', '--json', ...NOW)).out)
    // the planned core itself, logged: the fit must leave the shop's own figures where they are
    const rows = planned.core.map(({ min, core_C }: { min: number; core_C: number }) => `${min},${core_C}`)
    const path = logAs(['time_min,core_C', ...rows].join('\n'))
    const { status, out } = await call('examples/cloak-clasp.json', '--json', '--log', path, ...NOW)
    expect(status).toBe(0)
    const { keep, left_K, curve, used } = burnoutLogJsonSchema.parse(JSON.parse(out))
    expect(curve.length).toBe(used)
    expect(left_K).toBeLessThan(12)
    const shop = JSON.parse(readFileSync('examples/cloak-clasp.json', 'utf8')).shop
    const kept = {
      ...shop,
      investments: [
        { ...shop.investments[0], ...keep.investment, id: shop.investments[0].id },
        ...shop.investments.slice(1),
      ],
      kilns: [{ ...shop.kilns[0], ...keep.kiln, id: shop.kilns[0].id }, ...shop.kilns.slice(1)],
    }
    expect(readDocument(shopSchema, kept).ok).toBe(true)
    const before = shop.investments[0].dryConductivity_W_mK
    expect(Math.abs(keep.investment.dryConductivity_W_mK.value / (before.value ?? before) - 1)).toBeLessThan(
      0.1,
    )
  })

  test('refuses a log whose units are not said, naming both', async () => {
    const path = logAs('0,20\n1,21\n2,22\n')
    const { status, out } = await call('examples/cloak-clasp.json', '--json', '--log', path, ...NOW)
    expect(status).toBe(2)
    expect(JSON.parse(out).problems.map(({ what }: { what: string }) => what)).toEqual([
      expect.stringContaining('seconds, minutes or hours'),
      expect.stringContaining('Celsius or Fahrenheit'),
    ])
  })
})

describe('burnout after a stop of the kiln', () => {
  test('tells what is still to come, and moves the cast back', async () => {
    const stopped = ['--stopped-at', '240', '--stopped-for', '60', ...NOW]
    const { status, out } = await call('examples/cloak-clasp.json', '--json', ...stopped)
    expect(status).toBe(0)
    const { stages, later_min, castAt, soonest_min, total_min } = burnoutStoppedJsonSchema.parse(
      JSON.parse(out),
    )
    expect(soonest_min).toBe(total_min)
    expect(stages.map(({ id }: { id: string }) => id)).toEqual(['drying', 'top', 'casting'])
    expect(later_min).toBeGreaterThan(30)
    expect(Date.parse(castAt ?? '')).toBeGreaterThan(Date.parse('2026-11-14T12:00:00-07:00'))
    const inWords = await call('examples/cloak-clasp.json', ...stopped)
    expect(inWords.out).toContain('Still to come')
  })

  test('waits for a caster who is late, and says where a wish is too soon', async () => {
    const wished = async (castAt: string) => {
      const late = ['--stopped-at', '240', '--stopped-for', '0', '--cast-at', castAt, ...NOW]
      const { out } = await call('examples/cloak-clasp.json', '--json', ...late)
      return burnoutStoppedJsonSchema.parse(JSON.parse(out))
    }
    const late = await wished('2026-11-14T19:00:00-07:00')
    expect([late.missed, Date.parse(late.castAt ?? '')]).toEqual([
      false,
      Date.parse('2026-11-14T19:00:00-07:00'),
    ])
    expect(late.soonest_min).toBeLessThan(late.total_min)
    const start = Date.parse(late.castAt ?? '') - late.total_min * 60_000
    const soon = await wished(new Date(start + 300 * 60_000).toISOString())
    expect([soon.missed, soon.total_min]).toEqual([true, soon.soonest_min])
  })

  test.each([
    [['--stopped-at', '240'], '--stopped-for'],
    [['--stopped-at', 'noon', '--stopped-for', '60'], '--stopped-at'],
    [['--stopped-at', '9000', '--stopped-for', '60'], '--stopped-at'],
    [['--stopped-at', '240', '--stopped-for', '0', '--cast-at', 'tomorrow'], '--cast-at'],
  ])('refuses %j, naming %s', async (args, where) => {
    const { status, out } = await call('examples/cloak-clasp.json', '--json', ...args, ...NOW)
    expect(status).toBe(2)
    expect(JSON.parse(out).problems[0].where).toBe(where)
  })
})
