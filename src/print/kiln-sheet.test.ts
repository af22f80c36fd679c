import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { shapesOf } from '../../examples/shapes-of.ts'
import { pourFileSchema, readDocument } from '../engine/documents/index.ts'
import { coreMarks, setpointKnots } from '../engine/heat/burnout-lines.ts'
import { designBurnout } from '../engine/heat/index.ts'
import { type Plan, planPour } from '../engine/plan.ts'
import { METRIC, type UnitChoice, writeWords } from '../engine/quantity/index.ts'
import { type KilnSheetOptions, printKilnSheet } from './index.ts'
import { layKiln } from './lay-kiln.ts'
import { type PageRead, readBack } from './read-back.ts'

const NOW = Date.UTC(2026, 10, 12, 18, 0)
const INCHES: UnitChoice = { ...METRIC, length: 'in', temperature: 'F' }

const example = (): Plan => {
  const file = new URL('../../examples/cloak-clasp.json', import.meta.url)
  const reading = readDocument(pourFileSchema, JSON.parse(readFileSync(file, 'utf8')))
  if (!reading.ok || reading.value.shop === undefined) throw new Error('the example is no whole pour')
  const { shop, ...pour } = reading.value
  const given = { now: NOW, meshes: shapesOf(pour) }
  const { asked } = planPour(shop, pour, given).burnout
  if (asked === undefined) throw new Error('the example has a flask to burn out')
  return planPour(shop, pour, { ...given, burnouts: { [asked.key]: designBurnout(asked.question) } })
}

const print = async (plan: Plan, options: Partial<KilnSheetOptions> = {}): Promise<PageRead[]> =>
  readBack(
    await printKilnSheet(plan, { paper: 'a4', units: METRIC, printedAt: NOW, compress: false, ...options }),
  )

let plan: Plan
beforeAll(() => {
  plan = example()
})

describe('the sheet beside the kiln', () => {
  test.each(['a4', 'letter'] as const)('is one side of %s in either unit', async (paper) => {
    for (const units of [METRIC, INCHES]) {
      const pages = await print(plan, { paper, units })
      expect(pages).toHaveLength(1)
      const [page] = pages
      // nothing runs off the foot or the sides
      for (const { x, y } of page?.written ?? []) {
        expect(y).toBeGreaterThan(20)
        expect(x).toBeGreaterThan(14)
        expect(x).toBeLessThan((page?.width ?? 0) - 14)
      }
    }
  })

  test('has every step as the kiln displays it, in both scales', async () => {
    const [page] = await print(plan, { units: INCHES })
    const text = page?.text.replaceAll('\u00a0', ' ') ?? ''
    for (const step of plan.burnout.program) {
      const celsius = step.setpoint - 273.15
      expect(text).toContain((celsius * 1.8 + 32).toLocaleString('en-US', { maximumFractionDigits: 0 }))
      expect(text).toContain(celsius.toLocaleString('en-US', { maximumFractionDigits: 0 }))
    }
  })

  test('tells what is to be seen with its range, and warns before anything else', async () => {
    const { core } = plan.burnout
    expect(core?.by).toBe('solver')
    const words = layKiln(plan, METRIC)
    expect(words.events.map(({ what }) => what)).toEqual([
      'Sprue wax melts',
      'Core dry',
      'Wax melts',
      'Carbon burns',
    ])
    const levels = words.signs.map(({ level }) => level)
    expect(levels[0]).toBe('danger')
    expect(words.signs).toHaveLength(plan.cautions.filter(({ part }) => part === 'burnout').length)
    const [page] = await print(plan)
    const text = page?.text.replaceAll('\u00a0', ' ') ?? ''
    for (const { what, between } of words.events) {
      expect(text).toContain(what)
      expect(text).toContain(between.replaceAll('\u00a0', ' '))
    }
    expect(text.indexOf('Danger.')).toBeLessThan(text.indexOf('Step'))
  })

  test('says when the middle is by rule and not solved', async () => {
    const byRule = planPour(plan.shop, plan.pour, { now: NOW, meshes: shapesOf(plan.pour) })
    expect(layKiln(byRule, METRIC).notes.join(' ')).toContain('by rule here, not solved')
    expect(layKiln(plan, METRIC).notes.join(' ')).not.toContain('by rule here, not solved')
    const { crossCheck } = plan.burnout
    if (crossCheck === undefined) throw new Error('a solved burnout has the rule beside it')
    expect(layKiln(plan, METRIC).notes).toContain(writeWords(crossCheck.words, METRIC))
  })

  test('is the same bytes for the same plan', async () => {
    const [one, other] = await Promise.all(
      [0, 1].map(() => printKilnSheet(plan, { paper: 'letter', units: METRIC, printedAt: NOW })),
    )
    expect(one).toEqual(other)
  })
})

describe('the lines of a burnout', () => {
  test('run from the room through the end of every step', () => {
    const knots = setpointKnots(plan.burnout)
    expect(knots).toHaveLength(plan.burnout.program.length + 1)
    expect(knots.at(-1)?.s).toBeCloseTo(plan.burnout.total?.value ?? Number.NaN, 6)
    expect(setpointKnots({ program: [] })).toEqual([])
  })

  test('carry each mark on the core’s own curve', () => {
    const curve = plan.burnout.core?.curve ?? []
    for (const { s, K } of coreMarks(plan.burnout)) {
      const after = curve.findIndex((point) => point.s >= s)
      const [low, high] = [curve[after - 1]?.K ?? -Infinity, curve[after]?.K ?? Infinity]
      expect(K).toBeGreaterThanOrEqual(Math.min(low, high) - 1e-9)
      expect(K).toBeLessThanOrEqual(Math.max(low, high) + 1e-9)
    }
  })
})
