import { readFile } from 'node:fs/promises'
import type { Browser, Download, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { pourFileSchema } from '../src/engine/documents/index.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, type Visit, visit } from './browser.ts'
import { printSheet } from './sheet.ts'
import {
  ask,
  change,
  changedFrom,
  openDemo,
  planOwnWax,
  pourId,
  readFigure,
  settle,
  storedPour,
  textOf,
} from './steps.ts'

const CHARGE = 'Charge to melt'

describe('carried to another computer', () => {
  let here: App
  let there: App
  let browser: Browser
  let someone: Visit
  let another: Visit
  beforeAll(async () => {
    ;[here, there, browser] = await Promise.all([startApp(), startApp(), openBrowser()])
    someone = await visit(browser, DESKTOP)
    another = await visit(browser, DESKTOP)
  })
  afterAll(async () => {
    await browser?.close()
    await here?.stop()
    await there?.stop()
  })

  const taken = async (page: Page, press: () => Promise<void>): Promise<Download> => {
    const [download] = await Promise.all([page.waitForEvent('download'), press()])
    return download
  }
  const bring = async (page: Page, label: string, file: Download): Promise<void> => {
    await page.getByLabel(label).setInputFiles({
      name: file.suggestedFilename(),
      mimeType: 'application/octet-stream',
      buffer: await readFile(await file.path()),
    })
  }

  test('a pour’s file holds the pour and its shop, and gives the same plan where nothing was', async () => {
    const { page } = someone
    await page.goto(here.url)
    await planOwnWax(page, { mass: '3.1', calipers: ['1', '0.8', '0.4', '0.2', '0.08'], name: 'Seal ring' })
    const charge = await readFigure(page, CHARGE)
    const stored = await storedPour(page)
    await page.goto(here.url)
    const file = await taken(page, () =>
      page.getByRole('link', { name: /^Save as a file ?, Seal ring/ }).click(),
    )
    expect(file.suggestedFilename()).toBe('Seal-ring.json')
    const read = pourFileSchema.parse(JSON.parse(await readFile(await file.path(), 'utf8')))
    expect(read).toMatchObject({ kind: 'pour', version: 1, name: 'Seal ring' })
    expect(read.shop?.flasks.length).toBeGreaterThan(0)

    await another.page.goto(there.url)
    await another.page.getByRole('heading', { name: 'No pours yet.' }).waitFor()
    await bring(another.page, 'A pour file or a backup', file)
    await another.page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
    await settle(another.page)
    expect(await readFigure(another.page, CHARGE)).toBe(charge)
    expect(await storedPour(another.page)).toEqual(stored)
  })

  test('a file that is no pour is refused by name and changes nothing', async () => {
    const { page } = another
    await page.goto(new URL('/shop', there.url).href)
    await settle(page)
    await page.getByLabel('A backup, or a pour file').setInputFiles({
      name: 'accounts.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"kind": "pour", "version": 1, "pieces": "three"}'),
    })
    const said = page.getByRole('status').filter({ hasText: 'accounts.json' })
    await said.waitFor()
    expect(await textOf(said)).toContain('What stands here is unchanged')
    const pours = (await (await ask(page, `${there.url}api/pours`)).json()) as { pours: unknown[] }
    expect(pours.pours.length).toBe(1)
  })

  test('a backup carries pours, models and printed sheets, and restoring it puts them back', async () => {
    const { page } = someone
    const demo = await page.request.post(`${here.url}api/demo`, {
      headers: { origin: here.url.slice(0, -1) },
      maxRetries: 3,
    })
    const { id } = (await demo.json()) as { id: string }
    await page.goto(`${here.url}pours/${id}`)
    await settle(page)
    const charge = await readFigure(page, CHARGE)
    const sheet = await printSheet(page, () => page.getByRole('button', { name: 'Print run sheet' }).click())
    await page.goto(new URL('/shop', here.url).href)
    const backup = await taken(page, () => page.getByRole('link', { name: 'Save a backup' }).click())

    // what is done after the backup is undone by restoring it
    await page.goto(`${here.url}pours/${id}`)
    await settle(page)
    await change(page, 'Cord slide, wax on the scale', '5')
    await page.getByRole('textbox', { name: 'Cord slide, wax on the scale' }).press('Enter')
    await changedFrom(page, CHARGE, charge)
    await settle(page)

    for (const [app, visitor] of [
      [here, someone],
      [there, another],
    ] as const) {
      await visitor.page.goto(new URL('/shop', app.url).href)
      await settle(visitor.page)
      await bring(visitor.page, 'A backup, or a pour file', backup)
      await visitor.page.waitForURL(app.url)
      await visitor.page.getByRole('link', { name: 'Cloak clasp set', exact: true }).click()
      await visitor.page.waitForURL(new RegExp(`/pours/${id}`))
      await settle(visitor.page)
      expect(await readFigure(visitor.page, CHARGE)).toBe(charge)
      const pdf = await ask(visitor.page, `${app.url}api/prints/${sheet.id}.pdf`)
      expect(Buffer.compare(await pdf.body(), sheet.bytes)).toBe(0)
    }
    expect(pourId(another.page)).toBe(id)
  })

  test('a pour with models comes by its file where its models are, and elsewhere says what it lacks', async () => {
    const { page } = someone
    await page.goto(here.url)
    const file = await taken(page, () =>
      page
        .getByRole('link', { name: /^Save as a file ?, Cloak clasp set/ })
        .first()
        .click(),
    )
    const bare = await startApp()
    try {
      const third = await visit(browser, DESKTOP)
      await third.page.goto(bare.url)
      await third.page.getByRole('heading', { name: 'No pours yet.' }).waitFor()
      await bring(third.page, 'A pour file or a backup', file)
      const said = third.page.getByRole('status').filter({ hasText: 'Cloak-clasp-set.json' })
      await said.waitFor()
      expect(await textOf(said)).toMatch(/clasp-drawing\.svg/)
      expect(await textOf(said)).toMatch(/needs this file, and it is not here/)
      // after the demo has brought the same models, the file is taken
      await openDemo(third.page, bare.url)
      await third.page.goto(new URL('/shop', bare.url).href)
      await settle(third.page)
      await bring(third.page, 'A backup, or a pour file', file)
      await third.page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
      await third.leave()
    } finally {
      await bare.stop()
    }
    expect(someone.faults).toEqual([])
  })
})
