import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { sidewaysOf } from './access.ts'
import { type App, fileOf, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { chooseInHead, figureOf, openDemo, pourId, settle, turnTo, walkPages } from './steps.ts'

/** 320 is a screen of 1280 at 400 in 100. */
const WIDTHS = [320, 390, 834, 1024, 1440] as const

describe('no page moves sideways', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  let pour = ''
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, { width: 1440, height: 900 })
    await someone.page.goto(app.url)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const movingHere = async (): Promise<string[]> => {
    const { page } = someone
    const found: string[] = []
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: width < 700 ? 844 : 900 })
      const { by, past } = await sidewaysOf(page)
      if (by > 0) found.push(`${new URL(page.url()).pathname} at ${width}: by ${by} px, ${past.join(' | ')}`)
    }
    return found
  }

  test('with the longest units in the head', async () => {
    const { page } = someone
    await settle(page)
    for (const choice of ['mm', '°F', 'oz t']) await chooseInHead(page, choice)
    expect(await movingHere()).toEqual([])
  })

  test('before there is a pour', async () => {
    const { page } = someone
    expect(await movingHere()).toEqual([])
    await page.getByRole('link', { name: 'Start a pour' }).click()
    await page.getByRole('heading', { name: 'Start a pour', level: 1 }).waitFor()
    expect(await movingHere()).toEqual([])
  })

  test('with the demo, on every page', async () => {
    await openDemo(someone.page, app.url)
    pour = `/pours/${pourId(someone.page)}`
    const found: string[] = []
    await walkPages(someone.page, async () => {
      found.push(...(await movingHere()))
    })
    expect(found).toEqual([])
  })

  test('with an explanation open', async () => {
    const { page } = someone
    const found: string[] = []
    await page.goto(new URL(pour, app.url).href)
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 844 })
      await settle(page)
      await figureOf(page.getByRole('main'), 'Powder').click()
      const slip = page.getByRole('dialog', { name: 'What it rests on' })
      await slip.waitFor()
      const { by, past } = await sidewaysOf(page)
      if (by > 0) found.push(`at ${width}: by ${by} px, ${past.join(' | ')}`)
      await page.keyboard.press('Escape')
      await slip.waitFor({ state: 'hidden' })
    }
    expect(found).toEqual([])
    expect(someone.faults).toEqual([])
  })

  test('though the rule does, on a phone, with the part in hand in sight', async () => {
    const { page } = someone
    await page.setViewportSize({ width: 390, height: 844 })
    await page.goto(new URL(`${pour}/quench`, app.url).href)
    await settle(page)
    const rule = page.getByRole('navigation', { name: 'The pour, in order' })
    expect(await rule.evaluate((one) => one.scrollWidth > one.clientWidth)).toBe(true)
    const box = await rule.locator('[aria-current=step]').boundingBox()
    expect(box?.x).toBeGreaterThanOrEqual(0)
    expect((box?.x ?? 390) + (box?.width ?? 0)).toBeLessThanOrEqual(390)
  })
})

describe('on a phone', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, PHONE)
    await openDemo(someone.page, app.url)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const heightOf = (selector: string): Promise<number> =>
    someone.page.locator(selector).evaluate((one) => one.getBoundingClientRect().height)

  test('head, title, rule and foot leave the page most of the height, and the foot gives way on the way down', async () => {
    const { page } = someone
    await turnTo(page, 'mix')
    const bars = await Promise.all(['.head', '.title', '.rule', '.foot'].map(heightOf))
    expect(bars.reduce((sum, bar) => sum + bar, 0)).toBeLessThan(0.4 * PHONE.height)
    await page.evaluate(() => scrollTo(0, 600))
    await expect.poll(() => heightOf('.foot')).toBeLessThanOrEqual(60)
    await page.evaluate(() => scrollTo(0, 0))
    await expect.poll(() => heightOf('.foot')).toBeGreaterThan(60)
  })

  test('every cell of the kiln’s and the sprues’ table is in sight, and the foot says its whole sentence', async () => {
    const { page } = someone
    for (const [part, caption] of [
      ['burnout', 'What to enter in the kiln'],
      ['freeze', 'Sprues, and what they feed'],
    ] as const) {
      await turnTo(page, part)
      const table = page.getByRole('main').locator('table').filter({ hasText: caption })
      const past = await table.locator('tbody').evaluate((body) =>
        [...body.querySelectorAll('th, td')].flatMap((cell) => {
          const { left, right, width } = cell.getBoundingClientRect()
          return width > 0 && (left < 0 || right > innerWidth) ? [cell.textContent] : []
        }),
      )
      expect(past).toEqual([])
      expect(await table.evaluate((one) => (one.parentElement?.scrollWidth ?? 0) <= innerWidth)).toBe(true)
      const cut = await page
        .locator('.foot .mind > div')
        .evaluate((words) => words.scrollHeight > words.clientHeight + 1)
      expect(cut).toBe(false)
    }
    await turnTo(page, 'burnout')
    expect(await page.getByRole('main').locator('td[data-label^="Climb"]').first().isVisible()).toBe(true)
  })

  test('the paper can be chosen there too', async () => {
    const { page } = someone
    const paper = page.getByRole('group', { name: 'Paper' })
    await paper.getByRole('button', { name: 'A4' }).click()
    expect(await paper.getByRole('button', { name: 'A4' }).getAttribute('aria-pressed')).toBe('true')
    expect(someone.faults).toEqual([])
  })
})

test('every choice in the head is large enough for a finger', async () => {
  const [app, browser] = await Promise.all([startApp(), openBrowser()])
  try {
    const { page } = await visit(browser, DESKTOP)
    await page.goto(app.url)
    const choices = page.getByRole('banner').getByRole('group').getByRole('button')
    await choices.first().waitFor()
    const sizes = await choices.evaluateAll((all) =>
      all
        .filter((one) => one.checkVisibility())
        .map((one) => [one.getBoundingClientRect().width, one.getBoundingClientRect().height]),
    )
    expect(sizes.length).toBeGreaterThanOrEqual(10)
    expect(Math.min(...sizes.flat())).toBeGreaterThanOrEqual(44)
  } finally {
    await browser.close()
    await app.stop()
  }
})

describe('nothing lies over a control of the head or the title', () => {
  const SWEPT = [320, 640, 760, 880, 980, 1100, 1240, 1420, 1440, 1500, 1600]
  let app: App
  let browser: Browser
  let someone: Visit
  let demo: string
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, DESKTOP)
    await openDemo(someone.page, app.url)
    demo = someone.page.url()
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const coveredHere = async (widths: readonly number[]): Promise<string[]> => {
    const { page } = someone
    const found: string[] = []
    for (const width of widths) {
      await page.setViewportSize({ width, height: 900 })
      const covered = await page.evaluate(() => {
        scrollTo(0, 0)
        return [
          ...document.querySelectorAll(
            '.head a:not(.skip), .head button, .head summary, .title a, .title button',
          ),
        ]
          .filter((one) => one.checkVisibility())
          .flatMap((one) => {
            const { left, top, width: wide, height } = one.getBoundingClientRect()
            return [3, wide / 2, wide - 3].flatMap((across) => {
              const hit = document.elementFromPoint(left + across, top + height / 2)
              if (hit !== null && one.contains(hit)) return []
              return [`${one.textContent} under ${hit === null ? 'the edge' : hit.textContent.slice(0, 20)}`]
            })
          })
      })
      found.push(...covered.map((one) => `at ${width}: ${one}`))
    }
    return found
  }

  test('on the plan', async () => {
    expect(await coveredHere(SWEPT)).toEqual([])
  })

  test('on the page of a pattern', async () => {
    const { page } = someone
    await page.setViewportSize({ width: 1440, height: 900 })
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles(fileOf('examples/clasp-drawing.svg'))
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    await settle(page)
    expect(await coveredHere(SWEPT)).toEqual([])
  })

  test('with an explanation beside it', async () => {
    const { page } = someone
    await page.setViewportSize({ width: 1440, height: 900 })
    await page.goto(demo)
    await settle(page)
    await figureOf(page.getByRole('main'), 'Powder').click()
    await page.getByRole('dialog', { name: 'What it rests on' }).waitFor()
    // on narrower screens it lies over the whole page
    expect(await coveredHere(SWEPT.filter((width) => width > 960))).toEqual([])
  })
})
