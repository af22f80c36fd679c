import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { changedFrom, figureOf, openDemo, readFigure, settle, storedPour, textOf } from './steps.ts'

const slipOf = (page: Page): Locator => page.getByRole('dialog', { name: 'What it rests on' })

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, a reckoned number', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await openDemo(page, app.url)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const explainPowder = async (): Promise<Locator> => {
    const slip = slipOf(page)
    if (!(await slip.isVisible())) await figureOf(page.getByRole('main'), 'Powder').click()
    await slip.waitFor()
    return slip
  }
  const afresh = async (): Promise<void> => {
    await page.reload()
    await settle(page)
    await explainPowder()
  }

  const choose = async (input: string, value: string): Promise<Locator> => {
    const trying = slipOf(page).getByRole('region', { name: 'Change it here and see' })
    await trying.getByRole('combobox', { name: 'Which input' }).selectOption({ label: input })
    await trying.getByRole('textbox', { name: `${input}, tried` }).fill(value)
    return trying
  }

  test('says by what formula, from which inputs and on whose word it was reckoned', async () => {
    const slip = await explainPowder()
    const said = await textOf(slip)
    expect(said).toContain('Slurry volume, over the volume that a gram of powder makes with its water.')
    expect(said).toMatch(/\d+ to \d+, nine in ten/)
    expect(said).toMatch(/Source: grains and water add their volumes/)
    const inputs = slip.getByRole('table', { name: 'Inputs' })
    expect(await inputs.getByRole('rowheader').allInnerTexts()).toEqual(
      expect.arrayContaining([
        expect.stringContaining('Slurry to mix'),
        expect.stringContaining('Density of the water'),
        expect.stringContaining('Water to powder'),
      ]),
    )
  })

  test('leads on to the explanation of each input, and back', async () => {
    const slip = await explainPowder()
    await slip.getByRole('table', { name: 'Inputs' }).getByRole('button', { name: 'Slurry to mix' }).click()
    await slip.getByRole('button', { name: 'Back' }).waitFor()
    expect(await textOf(slip)).toContain('Slurry to mix')
    const own = slip.getByRole('table', { name: 'Inputs' }).getByRole('button').first()
    const deeper = await textOf(own)
    await own.click()
    await expect.poll(async () => (await textOf(slip)).replace(/\s+/g, ' ')).toContain(deeper)
    await slip.getByRole('button', { name: 'Back' }).click()
    await slip.getByRole('button', { name: 'Back' }).click()
    expect(await textOf(slip)).toContain('Slurry volume, over')
    await slip.getByRole('button', { name: 'Close', exact: true }).click()
    await slip.waitFor({ state: 'hidden' })
  })

  test('shows before and after for another input, and a trial put back changes nothing', async () => {
    await afresh()
    const before = await readFigure(page.getByRole('main'), 'Powder')
    const stored = await storedPour(page)
    const trying = await choose('Water to powder', '0.42')
    const drawn = trying.getByRole('img', { name: /^now .* with / })
    const words = await drawn.getAttribute('aria-label')
    const [now, then] = [...(words ?? '').matchAll(/(\d+)\s*g/g)].map((match) => Number(match[1]))
    expect(now).toBe(Number.parseInt(before, 10))
    // more water to the same room takes less powder: 1 g makes 1/2.55 + 0.38 cm3, with 0.42 5 in 100 more
    expect(then).toBeLessThan(now ?? 0)
    expect((then ?? 0) / (now ?? 1)).toBeCloseTo((1 / 2.55 + 0.38) / (1 / 2.55 + 0.42), 2)
    expect(await readFigure(page.getByRole('main'), 'Powder'), 'nothing moves until it is kept').toBe(before)
    await trying.getByRole('button', { name: 'Put it back' }).click()
    await drawn.waitFor({ state: 'hidden' })
    expect(await readFigure(page.getByRole('main'), 'Powder')).toBe(before)
    expect(await storedPour(page)).toEqual(stored)
  })

  test('changes with its input when that is kept, and the change outlives the page', async () => {
    await afresh()
    const before = await readFigure(page.getByRole('main'), 'Powder')
    const trying = await choose('Cord slide, wax on the scale', '3')
    await trying.getByRole('button', { name: /^Keep 3/ }).click()
    await changedFrom(page, 'Powder', before)
    await settle(page)
    const after = await readFigure(page.getByRole('main'), 'Powder')
    expect(Number.parseInt(after, 10), 'more wax leaves less room').toBeLessThan(Number.parseInt(before, 10))
    await page.reload()
    await settle(page)
    expect(await readFigure(page.getByRole('main'), 'Powder')).toBe(after)
    const { pieces } = await storedPour(page)
    expect(pieces.map((piece) => piece.source)).toContainEqual(expect.objectContaining({ mass_g: 3 }))
  })

  test('did all this without a fault in the console', () => {
    expect(someone.faults).toEqual([])
  })
})
