import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, fileOf, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import {
  ask,
  chooseInHead,
  figureOf,
  numberIn,
  planOwnWax,
  readFigure,
  settle,
  storedPour,
  textOf,
  turnTo,
} from './steps.ts'

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, a model file', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  /** sterling, as this shop has it [g/cm3] */
  let density = Number.NaN
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await page.goto(app.url)
    await planOwnWax(page, { mass: '2', name: 'Plain wax' })
    await turnTo(page, 'pieces')
    await chooseInHead(page, 'mm')
    const answer = (await (await ask(page, `${app.url}api/shop`)).json()) as {
      shop: { alloys: { name: string; density_g_cm3: number | { value: number } }[] }
    }
    const stated = answer.shop.alloys.find(({ name }) => name === 'Sterling silver')?.density_g_cm3
    density = typeof stated === 'object' ? stated.value : (stated ?? Number.NaN)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const send = async (path: string, name: string): Promise<void> => {
    const main = page.getByRole('main')
    await main.getByRole('button', { name: 'a model file' }).click()
    await main.getByRole('textbox', { name: 'Name', exact: true }).fill(name)
    await main.getByLabel(/^Model file/).setInputFiles(fileOf(path))
    await main.getByRole('button', { name: 'Add it' }).click()
  }

  const bring = async (path: string, name: string): Promise<Locator> => {
    await send(path, name)
    const piece = page.getByRole('main').getByRole('region', { name, exact: true })
    await piece.waitFor()
    await piece
      .getByText(/triangles/)
      .first()
      .waitFor()
    await settle(page)
    return piece
  }

  test('with its own units is measured and weighed at once', async () => {
    const piece = await bring('examples/tag.3mf', 'Name tag')
    expect(await textOf(piece)).toContain('closed')
    expect(await piece.getByRole('region', { name: 'Which size is it?' }).count()).toBe(0)
    const cast = numberIn(await readFigure(piece, 'Name tag, as cast'))
    const volume = numberIn(await readFigure(piece, 'Volume of Name tag'))
    // the two are written to three figures, and the wax shrinks a little before it is metal
    expect(cast / volume).toBeGreaterThan(density * 0.96)
    expect(cast / volume).toBeLessThan(density * 1.01)
  })

  test('that is not closed has no weight until the repair it shows is accepted', async () => {
    const piece = await bring('fixtures/meshes/files/open.stl', 'Open box')
    const listed = page.getByRole('main').getByRole('button', { name: /B? ?Open box model file/ })
    expect(await textOf(piece)).toContain('not closed')
    expect(await textOf(piece)).toContain('Until it is closed it has no weight')
    expect(await figureOf(piece, 'Open box, as cast').count()).toBe(0)
    expect(await textOf(listed)).toContain('open')
    await turnTo(page, 'go')
    expect(await textOf(page.getByRole('region', { name: 'To settle' }))).toContain('Open box')
    await turnTo(page, 'pieces')
    await page
      .getByRole('main')
      .getByRole('button', { name: /Open box model file/ })
      .click()
    const again = page.getByRole('main').getByRole('region', { name: 'Open box', exact: true })
    await again.getByRole('button', { name: 'Close it as shown' }).click()
    // its missing corner back, it is a cube of 10 mm: one cubic centimetre
    await again.getByRole('button', { name: /^Volume of Open box: 1\.0+ cm³/ }).waitFor()
    const cast = numberIn(await readFigure(again, 'Open box, as cast'))
    expect(cast).toBeGreaterThan(density * 0.96)
    expect(cast).toBeLessThan(density * 1.01)
    await settle(page)
    expect((await storedPour(page)).pieces.at(-1)?.source).toMatchObject({ acceptRepair: true })
  })

  test('that names no unit shows both readings, and the one pressed counts', async () => {
    const piece = await bring('fixtures/meshes/files/inches.stl', 'Half-inch box')
    const sizes = piece.getByRole('region', { name: 'Which size is it?' })
    const inMillimetres = sizes.getByRole('button', { name: /^Millimetres 0\.50? × 0\.50? × 0\.50? mm/ })
    const inInches = sizes.getByRole('button', { name: /^Inches 12\.70? × 12\.70? × 12\.70? mm/ })
    expect(await inMillimetres.getAttribute('aria-pressed')).toBe('true')
    const small = numberIn(await readFigure(piece, 'Half-inch box, as cast'))
    await inInches.click()
    await expect.poll(() => inInches.getAttribute('aria-pressed')).toBe('true')
    await expect
      .poll(async () => numberIn(await readFigure(piece, 'Half-inch box, as cast').catch(() => '')))
      .toBeGreaterThan(small * 1000)
    await settle(page)
    // 12.7 mm cubed is 2.048 cm3
    expect(numberIn(await readFigure(piece, 'Volume of Half-inch box'))).toBeCloseTo(2.048, 1)
  })

  test('that holds no model is refused by name, with what would work', async () => {
    const main = page.getByRole('main')
    await main.getByRole('button', { name: 'a model file' }).click()
    await main.getByRole('button', { name: 'Add it' }).click()
    await main.getByText(/No file is chosen yet\. STL, OBJ, PLY, 3MF and GLB/).waitFor()
    await main.getByRole('button', { name: 'Leave it' }).click()
    await send('fixtures/meshes/files/notes.stl', 'Notes')
    const piece = main.getByRole('region', { name: 'Notes', exact: true })
    await piece
      .getByText(/notes\.stl/)
      .first()
      .waitFor()
    await settle(page)
    expect(await textOf(piece)).toMatch(/export|save|STL/i)
    expect(await figureOf(piece, 'Notes, as cast').count()).toBe(0)
  })

  test('brings no fault into the console', () => {
    expect(someone.faults).toEqual([])
  })
})
