import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { barriersOn } from './access.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { chooseInHead, figureOf, openDemo, readFigure, textOf, walkPages } from './steps.ts'

describe.each([
  [
    'a desktop',
    DESKTOP,
    [
      ['Light', 'all'],
      ['Dark', 'colours'],
      ['Bench', 'colours'],
    ],
  ],
  // the colours are the same on a phone
  ['a phone', PHONE, [['Light', 'all but colours']]],
] as const)('on %s, somebody who opens the app for the first time', (_size, size, themes) => {
  let app: App
  let browser: Browser
  let someone: Visit
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const barriersHere = async (): Promise<string[]> => {
    const { page } = someone
    const found: string[] = []
    for (const [theme, rules] of themes) {
      await chooseInHead(page, theme)
      for (const barrier of await barriersOn(page, rules))
        found.push(`${new URL(page.url()).pathname}, ${theme}: ${barrier}`)
    }
    return found
  }

  test('is told that there are no pours and given three ways to begin', async () => {
    const { page } = someone
    await page.goto(app.url)
    await page.getByRole('heading', { name: 'No pours yet.' }).waitFor()
    for (const way of ['Open the demo', 'Start a pour', 'Bring one in'])
      expect(await page.getByRole('heading', { name: way }).isVisible()).toBe(true)
    expect(await barriersHere()).toEqual([])
    await page.getByRole('link', { name: 'Start a pour' }).click()
    await page.getByRole('heading', { name: 'Start a pour', level: 1 }).waitFor()
    expect(await barriersHere()).toEqual([])
  })

  test('opens the demo in one press and reads charge, powder, water, times and cautions', async () => {
    const { page } = someone
    await openDemo(page, app.url)
    expect(
      await page.getByRole('button', { name: 'Name of the pour: Cloak clasp set, change' }).count(),
    ).toBe(1)
    const main = page.getByRole('main')
    for (const figure of ['Charge to melt', 'Metal needed', 'Powder', 'Water', 'Let it run', 'Window opens'])
      expect(await readFigure(main, figure), figure).toMatch(/^\d/)
    expect(await figureOf(main, 'Powder').isVisible()).toBe(true)
    const said = await textOf(main)
    expect(said, 'when the kiln goes on').toMatch(/kiln on (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+:\d\d [ap]m/)
    for (const danger of [
      'silica',
      'acrid fumes',
      'turns to steam under molten metal',
      'Acid goes into water',
    ])
      expect(said).toContain(danger)
    expect(said).toContain('Visible red outranks any clock')
  })

  test('meets nothing on any page that shuts a reader out, in any light', async () => {
    const found: string[] = []
    await walkPages(someone.page, async () => {
      found.push(...(await barriersHere()))
    })
    expect(found).toEqual([])
  })

  test('sees no fault in the console on the way', () => {
    expect(someone.faults).toEqual([])
  })
})
