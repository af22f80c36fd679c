import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { ask, change, changedFrom, openDemo, pourId, readFigure, settle, storedPour } from './steps.ts'

const WAX = 'Cord slide, wax on the scale'
const CHARGE = 'Charge to melt'

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, a pour that is being changed', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  let first = ''
  let second = ''
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await openDemo(page, app.url)
    first = await readFigure(page, CHARGE)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('is planned afresh at each key, before anything is confirmed', async () => {
    await change(page, WAX, '2.13')
    second = await changedFrom(page, CHARGE, first)
    // a gram of wax more is about eleven of sterling, 10.36 over 0.95
    expect(Number.parseFloat(second) - Number.parseFloat(first)).toBeGreaterThan(10)
    expect(await page.getByRole('textbox', { name: WAX }).isVisible(), 'still being typed').toBe(true)
    // the sprues may follow once places have been found for what was typed
    await settle(page)
    second = await readFigure(page, CHARGE)
    expect(Number.parseFloat(second) - Number.parseFloat(first)).toBeGreaterThan(10)
  })

  test('is kept by itself, and stands so after the page is loaded again', async () => {
    await page.getByRole('textbox', { name: WAX }).press('Enter')
    await settle(page)
    await page.reload()
    await settle(page)
    expect(await readFigure(page, WAX)).toMatch(/^2\.13/)
    expect(await readFigure(page, CHARGE)).toBe(second)
  })

  test('goes back and forth by undo and redo, in the store too', async () => {
    const massOf = async (): Promise<unknown> =>
      (await storedPour(page)).pieces.map(({ source }) => ('mass_g' in source ? source.mass_g : undefined))
    await page.getByRole('button', { name: 'Undo' }).click()
    await expect.poll(() => readFigure(page, CHARGE)).toBe(first)
    await expect.poll(massOf).toContain(1.13)
    await page.getByRole('button', { name: 'Redo' }).click()
    await expect.poll(() => readFigure(page, CHARGE)).toBe(second)
    await expect.poll(massOf).toContain(2.13)
    // once more within one visit, where the steps are the page's own
    await change(page, WAX, '1.63')
    const box = page.getByRole('textbox', { name: WAX })
    await box.press('Enter')
    // as long as it is open, undo is the text's own
    await box.waitFor({ state: 'hidden' })
    await changedFrom(page, CHARGE, second)
    await settle(page)
    const third = await readFigure(page, CHARGE)
    await page.keyboard.press('Control+z')
    await expect.poll(() => readFigure(page, CHARGE)).toBe(second)
    await page.keyboard.press('Control+Shift+z')
    await expect.poll(() => readFigure(page, CHARGE)).toBe(third)
    await settle(page)
  })

  test('is copied, and a change of the copy leaves the first alone', async () => {
    const original = pourId(page)
    const before = await storedPour(page)
    await page.goto(app.url)
    // what is said of the next pour above the button must stand still, or the press may miss it
    await page.getByRole('button', { name: 'Copy Cloak clasp set' }).waitFor()
    await settle(page)
    await page.getByRole('button', { name: 'Copy Cloak clasp set' }).click()
    await page.waitForURL((url) => /\/pours\//.test(url.pathname) && !url.pathname.includes(original))
    await settle(page)
    const charge = await readFigure(page, CHARGE)
    await change(page, WAX, '4')
    await page.getByRole('textbox', { name: WAX }).press('Enter')
    await changedFrom(page, CHARGE, charge)
    await settle(page)
    const kept = await ask(page, `${app.url}api/pours/${original}`)
    expect(((await kept.json()) as { pour: unknown }).pour).toEqual(before)
  })

  test('is taken off the list, and brought back', async () => {
    await page.goto(app.url)
    const pours = page.getByRole('main').getByRole('link', { name: /^Cloak clasp set/ })
    await pours.first().waitFor()
    const count = await pours.count()
    expect(count).toBeGreaterThan(1)
    await page
      .getByRole('button', { name: /^Take off the list ?, Cloak clasp set/ })
      .first()
      .click()
    await expect.poll(() => pours.count()).toBe(count - 1)
    await page.getByRole('button', { name: 'Bring it back' }).click()
    await expect.poll(() => pours.count()).toBe(count)
  })

  test('did all this without a fault in the console', () => {
    expect(someone.faults).toEqual([])
  })
})

describe('a pour in which an entry was refused', () => {
  let app: App
  let browser: Browser
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    page = (await visit(browser, DESKTOP)).page
    await openDemo(page, app.url)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })
  const massOf = async (): Promise<unknown> =>
    (await storedPour(page)).pieces.map(({ source }) => ('mass_g' in source ? source.mass_g : undefined))
  const kept = async (): Promise<void> => {
    await page.getByText('Keeping').waitFor({ state: 'detached' })
  }

  test('steps by undo through what was accepted alone, and stops where the pour began', async () => {
    const whole = await storedPour(page)
    await change(page, WAX, '3')
    await expect.poll(massOf).toContain(3)
    const box = page.getByRole('textbox', { name: WAX })
    await box.fill('300000')
    await box.press('Enter')
    await page.getByRole('button', { name: 'Put it back' }).click()
    await expect.poll(() => storedPour(page)).toEqual(whole)
    await change(page, WAX, '2.5')
    await box.press('Enter')
    await expect.poll(massOf).toContain(2.5)
    for (let presses = 0; presses < 3; presses += 1) {
      await page.keyboard.press('Control+z')
      await expect.poll(() => storedPour(page)).toEqual(whole)
      await kept()
    }
    await page.keyboard.press('Control+Shift+z')
    await expect.poll(massOf).toContain(2.5)
    await page.keyboard.press('Control+Shift+z')
    await kept()
    expect(await massOf()).toContain(2.5)
  })
})
