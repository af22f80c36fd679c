import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readModel } from '../src/engine/piece/mesh/index.ts'
import { barriersOn, sidewaysOf } from './access.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { chooseInHead, openDemo, settle, turnTo } from './steps.ts'

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, where each wax goes', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await openDemo(page, app.url)
    await turnTo(page, 'flask')
    await chooseInHead(page, 'mm')
    await page
      .getByRole('region', { name: 'Where each wax goes' })
      .getByRole('img', { name: /from above and from the side/ })
      .waitFor({ timeout: 60_000 })
    await settle(page)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })
  const rowsOf = (caption: RegExp): Promise<string[][]> =>
    page
      .getByRole('table', { name: caption })
      .locator('tbody tr')
      .evaluateAll((rows) =>
        rows.map((row) => [...row.querySelectorAll('th, td')].map((cell) => cell.textContent ?? '')),
      )

  test('lists distances tightest first, each no less than what is needed', async () => {
    const rows = await rowsOf(/^Tightest distances, mm/)
    expect(rows.length).toBeGreaterThan(5)
    const spare = rows.map(([between, apart, needed]) => {
      expect(between).toMatch(/ and /)
      return Number(apart) - Number(needed)
    })
    for (const left of spare) expect(left).toBeGreaterThanOrEqual(0)
    // by room to spare; distance and need are each written to a tenth or finer
    for (const [at, left] of spare.entries()) expect(left).toBeGreaterThanOrEqual((spare[at - 1] ?? 0) - 0.11)
    expect(rows.flat().join()).toContain('the wall')
    // waxes as the caster calls them, whichever come nearest
    expect(rows.flat().join()).toMatch(/Clasp|Cord slide|Tag/)
    expect(rows.flat().join()).not.toMatch(/(clasp|slide|tag|sprue)\/\d/)
  })

  test('tells where each sprue goes, as it is built at the bench', async () => {
    const rows = await rowsOf(/^Sprues, mm/)
    expect(rows.length).toBeGreaterThanOrEqual(3)
    for (const [, angle, up, tilt, long, thick] of rows) {
      expect(angle).toMatch(/^\d+°$/)
      expect(tilt).toMatch(/^\d+°$/)
      // a sprue slopes so that wax drains and metal does not turn sharply
      expect(Number.parseFloat(tilt ?? '')).toBeGreaterThanOrEqual(30)
      for (const length of [up, long, thick]) expect(Number(length)).toBeGreaterThan(0)
    }
  })

  test('draws each wax where it was placed in the measured views, and no longer by outside boxes', async () => {
    const views = page.getByRole('region', { name: 'Measured views' })
    for (const from of ['From above', 'From the side'])
      await views.getByRole('img', { name: new RegExp(`^${from}, each wax where it was placed`) }).waitFor()
    const said = (await views.textContent()) ?? ''
    expect(said).toContain('each wax and sprue where it was placed by its own shape')
    expect(said).not.toContain('outside boxes')
    // the clasp, the cord slide and the tag by their letters, once in each view
    for (const letter of ['A', 'B', 'C'])
      expect(
        await views
          .locator('svg text')
          .filter({ hasText: new RegExp(`^${letter}$`) })
          .count(),
      ).toBe(2)
  })

  test('shows its drawing', async () => {
    const drawing = page.getByRole('img', { name: /from above and from the side/ })
    const wide = await drawing.evaluate((image: HTMLImageElement) => image.naturalWidth)
    expect(wide).toBeGreaterThan(300)
  })

  test('shows at its edge that the drawing goes on, as long as it does', async () => {
    const cut = page.locator('.bench-cut')
    const sheet = cut.locator('.bench-drawing')
    const signed = () => cut.evaluate((box) => getComputedStyle(box, '::after').content !== 'none')
    const isCut = await sheet.evaluate((box) => box.scrollWidth > box.clientWidth + 1)
    expect(isCut).toBe(size === PHONE)
    expect(await signed()).toBe(isCut)
    await sheet.evaluate((box) => box.scrollTo({ left: box.scrollWidth }))
    await expect.poll(signed).toBe(false)
    await sheet.evaluate((box) => box.scrollTo({ left: 0 }))
    await expect.poll(signed).toBe(isCut)
  })

  test('is judged by the plan', async () => {
    await page.getByText(/The tightest distance between real surfaces is from/).waitFor()
  })

  test('gives the drawing, the metal and the investment as files', async () => {
    const section = page.getByRole('region', { name: 'Where each wax goes' })
    await section.getByRole('button', { name: 'Work out the investment as one solid' }).click()
    for (const [name, ending] of [
      [/^Drawing in mm, SVG/, 'svg'],
      [/^Page 1, SVG/, 'svg'],
      [/^Metal as one solid in mm, STL/, 'stl'],
      [/^Investment as one solid in mm, STL/, 'stl'],
    ] as const) {
      const coming = page.waitForEvent('download')
      await section.getByRole('link', { name }).click()
      const download = await coming
      expect(download.suggestedFilename()).toMatch(new RegExp(`\\.${ending}$`))
      const bytes = readFileSync(await download.path())
      if (ending === 'svg') expect(bytes.toString('utf8')).toMatch(/^<svg[\s\S]*from the side/)
      else expect(readModel(bytes, 'metal.stl').mesh.corners.length / 3).toBeGreaterThan(1000)
    }
  })

  test('stands in nobody’s way and moves nothing sideways', async () => {
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    expect(await barriersOn(page, 'all')).toEqual([])
  })

  test('is not covered by its own view while an explanation stands open', async () => {
    const main = page.getByRole('main')
    await main
      .getByRole('button', { name: /what it rests on/i })
      .first()
      .click()
    await page.getByRole('heading', { name: 'What it rests on' }).waitFor()
    const drawing = page.locator('.bench-drawing')
    await drawing.evaluate((box) => box.scrollIntoView({ block: 'center' }))
    const boxes = await Promise.all(
      [page.locator('.arrangement-field'), drawing].map((one) => one.boundingBox()),
    )
    const [view, sheet] = boxes
    if (view == null || sheet == null) throw new Error('view or sheet is not drawn')
    expect(view.y + view.height).toBeLessThanOrEqual(sheet.y)
    await page.getByRole('button', { name: 'Close' }).click()
  })

  test('slides its drawing sideways where it is wider than the page', async () => {
    const slid = await page.locator('.bench-drawing').evaluate((box) => {
      box.scrollLeft = box.scrollWidth
      const picture = box.querySelector('img')?.getBoundingClientRect()
      return {
        right: picture?.right ?? 0,
        edge: box.getBoundingClientRect().right,
        wide: picture?.width ?? 0,
      }
    })
    expect(slid.right).toBeLessThanOrEqual(slid.edge + 1)
    expect(slid.wide).toBeGreaterThanOrEqual(900)
  })

  test('is worked out again in the flask that is chosen', async () => {
    const main = page.getByRole('main')
    const wished = { name: /^Flask from the rack/ }
    await main.getByRole('button', wished).or(main.getByRole('combobox', wished)).first().waitFor()
    const box = main.getByRole('combobox', wished)
    if ((await box.count()) === 0) await main.getByRole('button', wished).click()
    const before = await rowsOf(/^Tightest distances, mm/)
    expect(before.length).toBeGreaterThan(5)
    await box.selectOption({ label: '89 × 102 mm' })
    await settle(page)
    // the flask it had found by itself: another tree to the plan, and the same places
    await expect.poll(() => rowsOf(/^Tightest distances, mm/)).toEqual(before)
    await page.getByText(/The tightest distance between real surfaces is from/).waitFor()
    expect(someone.faults).toEqual([])
  })
})
