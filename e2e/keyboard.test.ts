import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, type Visit, visit } from './browser.ts'
import { figureOf, openDemo, PARTS, readFigure, settle, turnTo } from './steps.ts'

interface Focused {
  readonly what: string
  /** px of outline; a frame or bar of the element's own does not count */
  readonly ring: number
  readonly inView: boolean
}

const focused = (page: Page): Promise<Focused | undefined> =>
  page.evaluate(() => {
    const element = document.activeElement
    if (element === null || element === document.body) return undefined
    const style = getComputedStyle(element)
    const box = element.getBoundingClientRect()
    return {
      what: `${element.tagName.toLowerCase()} ${element.getAttribute('aria-label') ?? element.textContent?.trim().slice(0, 50)}`,
      ring: style.outlineStyle === 'none' ? 0 : Number.parseFloat(style.outlineWidth),
      inView: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
    }
  })

describe('by the keyboard alone', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, DESKTOP)
    page = someone.page
    await openDemo(page, app.url)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('digits and brackets open the parts in order, and ? lists the keys', async () => {
    for (const [index, part] of PARTS.entries()) {
      await page.keyboard.press(String((index + 1) % 10))
      await page.waitForURL(new RegExp(`/${part}$`))
    }
    const current = page
      .getByRole('navigation', { name: 'The pour, in order' })
      .locator('[aria-current=step]')
    for (const [key, part] of [
      ['[', 'Quench'],
      [']', 'Finish'],
    ] as const) {
      await settle(page)
      await page.keyboard.press(key)
      await expect.poll(() => current.textContent()).toContain(part)
    }
    await page.keyboard.press('?')
    const keys = page.getByRole('dialog', { name: 'Keys on a plan' })
    await keys.waitFor()
    await page.keyboard.press('Escape')
    await keys.waitFor({ state: 'hidden' })
  })

  test('U changes the units, and no key acts while something is being typed', async () => {
    await turnTo(page, 'mix')
    const imperial = await readFigure(page, 'Temperature of the water')
    await page.keyboard.press('u')
    await expect.poll(() => readFigure(page, 'Temperature of the water')).not.toBe(imperial)
    await page.keyboard.press('u')
    await figureOf(page, 'Temperature of the water').focus()
    await page.keyboard.press('Enter')
    await page.getByRole('textbox', { name: 'Temperature of the water' }).waitFor()
    await page.keyboard.press('7')
    await page.keyboard.press('5')
    expect(page.url()).toMatch(/\/mix$/)
    await page.keyboard.press('Escape')
    await expect.poll(() => readFigure(page, 'Temperature of the water')).toBe(imperial)
  })

  test('Tab reaches every part of the plan, and what has the focus is ringed and in view', async () => {
    await turnTo(page, '')
    await page.reload()
    await settle(page)
    const met: Focused[] = []
    for (let presses = 0; presses < 140; presses += 1) {
      await page.keyboard.press('Tab')
      const now = await focused(page)
      if (now === undefined) break
      met.push(now)
    }
    const names = met.map(({ what }) => what).join('\n')
    expect(met[0]?.what).toContain('Past the head')
    for (const [index, part] of PARTS.entries())
      expect(names, part).toMatch(new RegExp(`^a ${index + 1} ?${part}`, 'im'))
    expect(names).toContain('Print run sheet')
    expect(
      met.filter(({ ring }) => ring < 2).map(({ what }) => what),
      'without a ring',
    ).toEqual([])
    expect(
      met.filter(({ inView }) => !inView).map(({ what }) => what),
      'out of view',
    ).toEqual([])
  })

  test('a part is opened from the rule with Enter', async () => {
    await turnTo(page, '')
    const link = page
      .getByRole('navigation', { name: 'The pour, in order' })
      .getByRole('link', { name: /Burnout/ })
    await link.focus()
    await page.keyboard.press('Enter')
    await page.waitForURL(/\/burnout$/)
  })

  test('an explanation opens with Enter, takes the focus, and gives it back on Escape', async () => {
    await turnTo(page, '')
    const powder = figureOf(page.getByRole('main'), 'Powder')
    await powder.focus()
    await page.keyboard.press('Enter')
    const slip = page.getByRole('dialog', { name: 'What it rests on' })
    await slip.waitFor()
    expect(await slip.evaluate((one) => one.contains(document.activeElement))).toBe(true)
    await page.keyboard.press('Tab')
    expect((await focused(page))?.what).toMatch(/^button (Close|Back)/)
    await page.keyboard.press('Escape')
    await slip.waitFor({ state: 'hidden' })
    expect(await powder.evaluate((one) => one === document.activeElement)).toBe(true)
    await settle(page)
    expect(someone.faults).toEqual([])
  })

  test('the wait for an explanation of an input ends where it began', async () => {
    await turnTo(page, '')
    const water = figureOf(page.getByRole('main'), 'Water')
    await water.focus()
    await page.keyboard.press('Enter')
    const slip = page.getByRole('dialog', { name: 'What it rests on' })
    await slip.getByRole('table', { name: 'Inputs' }).getByRole('button').first().focus()
    await page.keyboard.press('Enter')
    await slip.getByRole('button', { name: 'Back' }).waitFor()
    await page.keyboard.press('Escape')
    await slip.waitFor({ state: 'hidden' })
    expect(await water.evaluate((one) => one === document.activeElement)).toBe(true)
  })
})
