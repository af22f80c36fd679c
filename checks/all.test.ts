import { writeFileSync } from 'node:fs'
import { afterAll, describe, expect, test } from 'vitest'
import { type Check, rowOf, tableOf, weigh } from './check.ts'

// Every module in cases/ exports `checks`; a new file there is run and counted by itself.
const modules = import.meta.glob<{ checks: Check[] }>('./cases/*.ts', { eager: true })
const all = Object.values(modules).flatMap((module) => module.checks)

const rowsIn = (section: string): number =>
  new Set(all.filter((check) => check.section === section).map(rowOf)).size

describe('published checks', () => {
  for (const check of all) {
    test(`${check.id}: ${check.says}`, () => {
      const { got, allowed, holds } = weigh(check)
      expect(
        holds,
        `${check.id}: got ${got}, want ${check.want} give or take ${allowed}. ${check.source}`,
      ).toBe(true)
    })
  }
})

describe('what the checks cover', () => {
  test('at least 60 published rows are held against', () => {
    expect(new Set(all.map(rowOf)).size).toBeGreaterThanOrEqual(60)
  })

  test('at most 5 checks are unit conversions', () => {
    expect(all.filter((check) => check.section === '1').length).toBeLessThanOrEqual(5)
  })

  for (const section of ['2', '3', '4', '5', '6', '11', '12', '13', '14']) {
    test(`section ${section} is held to at least 4 published rows`, () => {
      expect(rowsIn(section)).toBeGreaterThanOrEqual(4)
    })
  }

  test('no two checks share id and sentence, and each names its source', () => {
    // one published row may hold two implementations, each under its own sentence
    const ids = all.map((check) => `${check.id}: ${check.says}`)
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([])
    expect(all.filter((check) => check.source.trim().length < 4).map((check) => check.id)).toEqual([])
  })
})

// CHECKS_TABLE=FILE.md writes the whole table there; CHECKS_TABLE=1 prints it.
const wanted = process.env.CHECKS_TABLE
if (wanted) {
  afterAll(() => {
    const table = tableOf(all)
    if (wanted === '1') console.log(table)
    else writeFileSync(wanted, table)
  })
}
