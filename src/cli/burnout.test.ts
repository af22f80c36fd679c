import { describe, expect, test } from 'vitest'
import { burnoutJsonSchema } from '../engine/plan-schema.ts'
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
