import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, visit } from './browser.ts'
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

test('no two labels of a chart touch, and none runs off it, on a desktop and on a phone', async () => {
  const { page, leave } = await visit(browser, DESKTOP)
  await openDemo(page, app.url)
  for (const [size, part, chart] of [
    [DESKTOP, 'burnout', 'svg[aria-label^="Kiln from"]'],
    [DESKTOP, 'spin', 'svg[aria-label^="Let it run"]'],
    [PHONE, 'spin', 'svg[aria-label^="Let it run"]'],
    [PHONE, 'burnout', 'svg[aria-label^="Kiln from"]'],
  ] as const) {
    await page.setViewportSize(size)
    await turnTo(page, part)
    const touching = await page.locator(chart).evaluate((svg) => {
      const frame = svg.getBoundingClientRect()
      const labels = [...svg.querySelectorAll('text')].map((text) => {
        const { left, right, top, bottom } = text.getBoundingClientRect()
        // letters fill about the middle two thirds of the box of their line
        const slack = (bottom - top) / 6
        return { words: text.textContent ?? '', left, right, top: top + slack, bottom: bottom - slack }
      })
      const off = labels.filter(({ left, right }) => left < frame.left - 1 || right > frame.right + 1)
      const pairs = labels.flatMap((one, index) =>
        labels
          .slice(index + 1)
          .filter(
            (two) =>
              one.left < two.right + 3 &&
              two.left < one.right + 3 &&
              one.top < two.bottom &&
              two.top < one.bottom,
          )
          .map((two) => `${one.words} | ${two.words}`),
      )
      return [...pairs, ...off.map(({ words }) => `off: ${words}`)]
    })
    expect([part, size.width, touching]).toEqual([part, size.width, []])
  }
  await leave()
})

test('the burnout is printed for the kiln, on the paper chosen for the run sheet', async () => {
  const { page, faults, leave } = await visit(browser, DESKTOP)
  await page.goto(app.url)
  await page
    .getByRole('link', { name: /Cloak clasp/ })
    .first()
    .click()
  await page.waitForURL(/\/pours\//)
  await turnTo(page, 'burnout')
  await page.getByRole('button', { name: 'A4', exact: true }).click()
  const answered = page.waitForResponse((response) => response.url().endsWith('/kiln-sheet'))
  await page.getByRole('button', { name: 'Print the kiln’s sheet' }).click()
  const answer = await answered
  expect(answer.status()).toBe(200)
  expect(answer.request().postDataJSON()).toMatchObject({ paper: 'A4' })
  expect(answer.headers()['content-type']).toBe('application/pdf')
  expect(Number(answer.headers()['content-length'])).toBeGreaterThan(5000)
  await page.getByRole('link', { name: 'Open the kiln’s sheet' }).waitFor()
  expect(faults).toEqual([])
  await leave()
})
