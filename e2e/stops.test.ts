import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { printSheet } from './sheet.ts'
import { planOwnWax, settle, storedPour, textOf, turnTo } from './steps.ts'

const REASON = 'Tried on the bench last week, it holds'

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, a wax too big for every flask of the shop', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await page.goto(app.url)
    // a slab of 10 by 8 by 0.2 in, 250 g of carving wax
    await planOwnWax(page, { mass: '250', calipers: ['10', '8', '0.2', '0.2', '0.15'], name: 'Wall panel' })
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('stops the pour in the foot of the page and in the list', async () => {
    const foot = page.getByRole('region', { name: 'Where the plan stands' })
    expect(await textOf(foot)).toMatch(/Stop\. ?(One stop|\d+ stops)\./)
    await foot.getByRole('link', { name: 'Go or no-go' }).click()
    const toSettle = page.getByRole('region', { name: 'To settle' })
    await toSettle.waitFor()
    await settle(page)
    expect(await textOf(toSettle)).toMatch(/[1-9]\d* stops?/)
    const stops = toSettle.getByRole('listitem').filter({ has: page.getByRole('img', { name: 'Stop' }) })
    expect(await stops.count()).toBeGreaterThan(0)
    expect((await stops.allTextContents()).join(' ')).toMatch(/flask/i)
  })

  test('prints a sheet that says it is not ready', async () => {
    const sheet = await printSheet(page, () => page.getByRole('button', { name: 'Print run sheet' }).click())
    const { verdicts } = sheet.plan as { verdicts: { verdict: string; id: string }[] }
    expect(verdicts.filter(({ verdict }) => verdict === 'stop').length).toBeGreaterThan(0)
    if (sheet.text !== undefined) expect(sheet.text).toContain('NOT READY')
  })

  test('offers no way to accept a stop, and keeps the reason for which a check was accepted', async () => {
    await turnTo(page, 'go')
    const toSettle = page.getByRole('region', { name: 'To settle' })
    const items = toSettle.getByRole('listitem')
    const stops = items.filter({ has: page.getByRole('img', { name: 'Stop' }) })
    const goOn = { name: 'Go on as it is, and say why' }
    expect(await stops.getByRole('button', goOn).count()).toBe(0)

    const checks = items.filter({ has: page.getByRole('button', goOn) })
    const count = await checks.count()
    expect(count).toBeGreaterThan(0)
    const title = (await checks.first().locator('b').first().textContent())?.replace(/\.$/, '') ?? ''
    await checks.first().getByRole('button', goOn).click()
    // without a reason it stays open
    await toSettle.getByRole('button', { name: 'Accept the check' }).click()
    await toSettle.getByText('A few words of why').waitFor()
    await toSettle.getByRole('textbox', { name: 'Reason' }).fill(REASON)
    await toSettle.getByRole('button', { name: 'Accept the check' }).click()
    await expect.poll(() => checks.count()).toBe(count - 1)

    await settle(page)
    await page.reload()
    await settle(page)
    const accepted = page
      .getByRole('region', { name: 'Passed' })
      .getByRole('listitem')
      .filter({ has: page.getByRole('img', { name: 'Check, accepted' }) })
    expect(await accepted.count()).toBe(1)
    expect(await textOf(accepted)).toContain(`accepted: ${REASON}`)
    expect((await textOf(accepted)).toLowerCase()).toContain(title.toLowerCase())
    expect(Object.values((await storedPour(page)).accepted ?? {})).toEqual([REASON])

    await accepted.getByRole('button', { name: 'open it again' }).click()
    await expect.poll(() => checks.count()).toBe(count)
    expect(someone.faults).toEqual([])
  })

  test('is told as stopped in the list of pours, one press from why', async () => {
    await page.goto(app.url)
    await page.getByRole('button', { name: 'Copy Wall panel' }).click()
    await page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
    await settle(page)
    await page.goto(app.url)
    const row = page.getByRole('listitem').filter({ hasText: 'Wall panel' }).first()
    await row.getByText(/One stop|\d+ stops/).waitFor()
    expect(await textOf(row)).toMatch(/too large for any flask/)
    await row.getByRole('link', { name: /stops? ?: Wall panel/ }).click()
    await page.waitForURL(/\/go$/)
    expect(someone.faults).toEqual([])
  })
})
