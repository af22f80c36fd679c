import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, visit } from './browser.ts'
import { openDemo, turnTo } from './steps.ts'

let app: App
let browser: Browser
beforeAll(async () => {
  app = await startApp()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser.close()
  await app.stop()
})

test('a larger flask put beside this one draws its own core and lengthens the burnout, until it is taken off', async () => {
  const { page, leave } = await visit(browser, DESKTOP)
  await openDemo(page, app.url)
  await turnTo(page, 'burnout')
  const chart = page.locator('svg[aria-label^="Kiln from"]')
  const hours = async (): Promise<number> =>
    Number(/, ([\d.]+) hours/.exec((await chart.getAttribute('aria-label')) ?? '')?.[1])
  const legend = page.getByText('Heavy: its core, solved')
  await legend.waitFor()
  const alone = await hours()
  await page.getByLabel('Put a flask beside it').selectOption('flask-3.5x4')
  await page.getByText('Thin red: the cores beside it.').waitFor()
  expect(await hours()).toBeGreaterThan(alone)
  expect(await page.getByText('The other flasks of the load.').count()).toBe(1)
  await page.getByLabel(/^Take .* off the load$/).click()
  await page.getByText('Thin red: the cores beside it.').waitFor({ state: 'detached' })
  await expect.poll(hours).toBe(alone)
  // the way from the kiln and the quench are solved beside the burnout
  await page.getByText('Out of the kiln, at most').waitFor()
  await turnTo(page, 'quench')
  await page.getByText('By two lumps of heat: opens').waitFor()
  await leave()
})
