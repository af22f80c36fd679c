import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, visit } from './browser.ts'
import { printSheet } from './sheet.ts'
import { Entries, numberIn, readFigure, settle } from './steps.ts'

const MOST_ENTRIES = 12

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s', (name, size) => {
  let app: App
  let browser: Browser
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('a new user goes from the first page to a printed sheet of their own wax in few entries', async () => {
    const { page, faults, leave } = await visit(browser, size)
    const entries = new Entries()
    await page.goto(app.url)
    await entries.press(page.getByRole('link', { name: 'Start a pour' }))
    await entries.fill(page.getByRole('textbox', { name: /^Wax on the scale/ }), '4.2')
    const when = page.getByRole('textbox', { name: /^When to cast/ })
    const offered = await when.inputValue()
    expect(offered, 'a time is offered').toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d$/)
    await entries.fill(when, offered.replace(/T.*/, 'T16:00'))
    // a ring shank of 1.1 by 0.9 by 0.5 in that takes 4.2 g of carving wax
    for (const [caliper, inches] of [
      ['Length', '1.1'],
      ['Width', '0.9'],
      ['Height', '0.5'],
      ['Thickest section', '0.25'],
      ['Thinnest section', '0.08'],
    ] as const)
      await entries.fill(page.getByRole('textbox', { name: `${caliper}, in` }), inches)
    await entries.press(page.getByRole('radio', { name: /^a flat plate/ }))
    await entries.press(page.getByRole('button', { name: 'Plan it' }))
    await page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
    await settle(page)
    const charge = await readFigure(page.getByRole('main'), 'Charge to melt')
    const powder = await readFigure(page.getByRole('main'), 'Powder')
    const sheet = await printSheet(page, () =>
      entries.press(page.getByRole('button', { name: 'Print run sheet' })),
    )
    process.stdout.write(`Entries from the first page to a printed sheet, on ${name}: ${entries.count}\n`)
    expect(entries.count).toBeLessThanOrEqual(MOST_ENTRIES)

    expect(numberIn(charge)).toBeGreaterThan(0)
    expect(sheet.bytes.subarray(0, 5).toString()).toBe('%PDF-')
    const { metal, investment } = sheet.plan as {
      metal: { toWeigh_g: number }
      investment: { powder_g: number }
    }
    expect(metal.toWeigh_g).toBeCloseTo(numberIn(charge), 1)
    expect(Math.round(investment.powder_g)).toBe(numberIn(powder))
    if (sheet.text !== undefined) {
      expect(sheet.text).toContain(String(numberIn(charge)))
      expect(sheet.text).toContain(powder.replace(/\s*g$/, ''))
      expect(sheet.text).toContain('4:00 pm')
    }
    expect(faults).toEqual([])
    await leave()
  })
})
