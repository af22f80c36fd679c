import { readFileSync } from 'node:fs'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { barriersOn, sidewaysOf } from './access.ts'
import { type App, fileOf, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { chooseInHead, numberIn, readFigure, settle, storedPour, textOf, turnTo } from './steps.ts'

/** The outermost line of the drawing from which the photo was made, by the numbers in the file itself. */
const drawnSize = (): { wide: number; high: number } => {
  const svg = readFileSync(fileOf('examples/clasp-drawing.svg'), 'utf8')
  const path = /id="border" d="([^"]+)"/.exec(svg)?.[1] ?? ''
  const [outer = ''] = path.split('Z')
  const places = [...outer.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(
    ([, x, y]) => [Number(x), Number(y)] as const,
  )
  const span = (axis: 0 | 1): number =>
    Math.max(...places.map((place) => place[axis])) - Math.min(...places.map((place) => place[axis]))
  return { wide: span(0), high: span(1) }
}

/** Where the card's corners lie in the photo, px: they were put there when the photo was made. */
const corners = (
  JSON.parse(readFileSync(fileOf('examples/clasp-photo-heights.json'), 'utf8')) as {
    photo: { scale: { corners_px: [number, number][] } }
  }
).photo.scale.corners_px

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, a photo of a drawing', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await page.goto(app.url)
    await chooseInHead(page, 'mm')
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const mark = (number: number): Locator =>
    page.getByRole('button', { name: new RegExp(`^Mark ${number}, `) })
  const placeOf = async (number: number): Promise<[number, number]> => {
    const said = (await mark(number).getAttribute('aria-label')) ?? ''
    const [, x, y] = /: (\d+) across, (\d+) down/.exec(said) ?? []
    return [Number(x), Number(y)]
  }
  const comesOut = async (): Promise<{ wide: number; high: number }> => {
    const text = await textOf(page.locator('.comes-out'))
    const [, wide, high] = /([\d.]+) × ([\d.]+)/.exec(text) ?? []
    return { wide: Number(wide), high: Number(high) }
  }
  const row = (name: RegExp): Locator =>
    page.getByRole('table', { name: 'Regions' }).getByRole('row', { name })

  test('is taken from the first page, and lies there with marks to be moved', async () => {
    await page.getByRole('link', { name: 'Start a pour' }).click()
    await page.getByRole('textbox', { name: /^What is it/ }).fill('Cloak clasp')
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.getByText(/No file is chosen yet\. SVG, DXF, PNG, JPEG and WebP/).waitFor()
    await page.getByLabel(/^Drawing or photo/).setInputFiles(fileOf('examples/clasp-photo.jpg'))
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pours\/[0-9a-f-]{36}\/pattern\/piece-1$/)
    await mark(4).waitFor()
    await settle(page)
  })

  test('has no size, weight or price while its marks lie where they were first put', async () => {
    await page.getByText(/The picture has no scale yet/).waitFor()
    await page.getByRole('button', { name: 'These are the corners' }).waitFor()
    expect(await page.locator('.comes-out').count()).toBe(0)
    expect(await page.getByRole('button', { name: /^Print the template/ }).isDisabled()).toBe(true)
    const source = (await storedPour(page)).pieces[0]?.source
    if (source?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
    expect(source.heights.photo).toBeUndefined()
  })

  test('is straightened by four marks on the card, by pointer and then by arrow keys', async () => {
    for (const [index, [x, y]] of corners.entries()) {
      const field = await page.locator('.drawing-surface img').boundingBox()
      const [wide] = await page
        .locator('.drawing-surface img')
        .evaluate((image) => [(image as HTMLImageElement).naturalWidth])
      if (field === null || wide === undefined) throw new Error('the photo does not show')
      const scale = field.width / wide
      const button = mark(index + 1)
      await button.scrollIntoViewIfNeeded()
      const surface = (await page.locator('.drawing-surface img').boundingBox()) ?? field
      const from = await button.boundingBox()
      if (from === null) throw new Error('a mark does not show')
      await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2)
      await page.mouse.down()
      await page.mouse.move(surface.x + x * scale + 3, surface.y + y * scale - 2, { steps: 3 })
      await page.mouse.move(surface.x + x * scale, surface.y + y * scale)
      await page.mouse.up()
      await button.focus()
      for (const [axis, less, more] of [
        [0, 'ArrowLeft', 'ArrowRight'],
        [1, 'ArrowUp', 'ArrowDown'],
      ] as const) {
        for (let presses = 0; presses < 40; presses += 1) {
          const off = ([x, y][axis] ?? 0) - ((await placeOf(index + 1))[axis] ?? 0)
          if (off === 0) break
          await page.keyboard.press(off < 0 ? less : more)
        }
      }
      expect(await placeOf(index + 1)).toEqual([x, y])
    }
    await settle(page)
    // pencil on a card by a hand that wavers: a hundredth
    const drawn = drawnSize()
    await expect.poll(async () => (await comesOut()).wide / drawn.wide).toBeGreaterThan(0.99)
    const out = await comesOut()
    expect(out.wide / drawn.wide).toBeLessThan(1.01)
    expect(out.high / drawn.high).toBeGreaterThan(0.99)
    expect(out.high / drawn.high).toBeLessThan(1.01)
  })

  test('shows its regions, and heights change what it weighs and costs', async () => {
    await row(/^1 ?Raised/).waitFor()
    expect(await textOf(page.locator('.found'))).toMatch(/1[5-8] regions/)
    const before = numberIn(await readFigure(page, 'Cloak clasp, as cast'))
    await page.getByRole('button', { name: '1 Raised', exact: true }).click()
    await page.getByRole('combobox', { name: '1 Raised, role' }).selectOption('ground')
    await page.getByRole('button', { name: /^1 Ground, height: / }).click()
    await page.getByRole('textbox', { name: '1 Ground, height' }).fill('1.3')
    await page.keyboard.press('Enter')
    await settle(page)
    await expect
      .poll(async () => numberIn(await readFigure(page, 'Cloak clasp, as cast').catch(() => '')))
      .toBeLessThan(before)
    const stored = (await storedPour(page)).pieces[0]?.source
    if (stored?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
    expect(Object.values(stored.heights.regions)).toContainEqual({ role: 'ground', height_mm: 1.3 })
    const means = page.getByRole('region', { name: 'What it means' })
    expect(await textOf(means)).toMatch(/Price of the pour\s*\$\d/)
    expect(await textOf(means)).toMatch(/± ?\d/)
    await page
      .getByRole('button', { name: /^Price.*what it rests on|^.*ask.*what it rests on/i })
      .first()
      .waitFor()
  })

  test('a height dragged by the keys of its slider moves the relief, and undo brings it back', async () => {
    const slider = page.getByRole('slider', { name: '1 Ground, height, dragged' })
    await slider.focus()
    for (let press = 0; press < 6; press += 1) await page.keyboard.press('ArrowRight')
    await page.getByRole('button', { name: /^1 Ground, height: 1\.9 mm/ }).waitFor()
    await settle(page)
    await page.getByRole('button', { name: 'Undo', exact: true }).click()
    await page.getByRole('button', { name: /^1 Ground, height: 1\.3 mm/ }).waitFor()
  })

  test('stands in its relief, in wax and in metal, turned by keys', async () => {
    const relief = page.getByRole('region', { name: 'The relief' })
    await relief.getByRole('img', { name: /^Cloak clasp in wax, turned 24 degrees/ }).waitFor()
    await relief.getByRole('slider', { name: /^Turn/ }).focus()
    await page.keyboard.press('ArrowRight')
    await relief.getByRole('img', { name: /turned 29 degrees/ }).waitFor()
    await relief.getByRole('button', { name: 'metal' }).click()
    await relief.getByRole('img', { name: /^Cloak clasp in metal/ }).waitFor()
    await relief.getByRole('img', { name: /^Section A, heights from left to right: .*1\.3/ }).waitFor()
  })

  test('a speck is left out by a typed place, and the correction can be taken back', async () => {
    await page.getByRole('button', { name: 'Drop specks' }).click()
    await page.getByRole('textbox', { name: 'x', exact: true }).fill('10')
    await page.getByRole('textbox', { name: 'y', exact: true }).fill('10')
    await page.getByRole('button', { name: 'Do it there' }).click()
    await page.getByText('One correction by hand').click()
    await page.getByRole('button', { name: /^take back/ }).click()
    await page.getByRole('button', { name: 'Done with it' }).click()
    await settle(page)
    expect(await page.getByText('One correction by hand').count()).toBe(0)
  })

  test('stands in nobody’s way and moves nothing sideways', async () => {
    await settle(page)
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    expect(await barriersOn(page, 'all')).toEqual([])
    for (const theme of ['Dark', 'Bench', 'Light']) {
      await chooseInHead(page, theme)
      expect(await barriersOn(page, 'colours'), theme).toEqual([])
    }
  })

  test('gives a template in PDF', async () => {
    const answered = page.waitForResponse((response) => response.url().includes('/template?'))
    await page.getByRole('button', { name: /^Print the template, [\d.]+% over/ }).click()
    const answer = await answered
    expect(answer.status()).toBe(200)
    expect(answer.headers()['content-type']).toBe('application/pdf')
    await page.getByRole('link', { name: 'Open the template' }).waitFor()
    await page.bringToFront()
    // the sheet stands for the heights that it was printed from, and for no others
    await page.getByRole('button', { name: /^1 Ground, height: 1\.3 mm/ }).click()
    await page.getByRole('textbox', { name: '1 Ground, height' }).fill('1.4')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: /^Print the template, [\d.]+% over/ }).waitFor()
    expect(await page.getByRole('link', { name: 'Open the template' }).count()).toBe(0)
    await page.getByRole('button', { name: /^1 Ground, height: 1\.4 mm/ }).click()
    await page.getByRole('textbox', { name: '1 Ground, height' }).fill('1.3')
    await page.keyboard.press('Enter')
    await settle(page)
  })

  test('weighed once it is carved, is compared with what the drawing let expect', async () => {
    const means = page.getByRole('region', { name: 'What it means' })
    const wax = numberIn(await readFigure(page, 'Cloak clasp, wax by the drawing'))
    await means.getByRole('button', { name: /^Carved wax on the scale: not yet/ }).click()
    await means.getByRole('textbox', { name: 'Carved wax on the scale' }).fill(String(wax))
    await page.keyboard.press('Enter')
    await means.getByText(/wax and drawing agree/).waitFor()
    await settle(page)
    expect((await storedPour(page)).pieces[0]?.source).toMatchObject({ carved_g: wax })
  })

  test('a file that is no drawing is told so, and its bytes are kept', async () => {
    await turnTo(page, 'pieces')
    const main = page.getByRole('main')
    await main.getByRole('button', { name: 'a drawing', exact: true }).click()
    await main.getByRole('textbox', { name: 'Name', exact: true }).fill('Broken')
    await main.getByLabel(/^Drawing or photo/).setInputFiles({
      name: 'broken.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from('<svg width="10mm" height="10mm"><path d="M0 0'),
    })
    await main.getByRole('button', { name: 'Add it' }).click()
    await page.waitForURL(/\/pattern\/piece-2$/)
    await settle(page)
    const drawing = page.getByRole('region', { name: 'The drawing', exact: true })
    await drawing
      .getByText(/Stop\./)
      .first()
      .waitFor()
    const source = (await storedPour(page)).pieces[1]?.source
    if (source?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
    const kept = await page.request.get(new URL(`/api/models/${source.sha256}`, app.url).href)
    expect(kept.status()).toBe(200)
  })

  test('brings no fault into the console', () => {
    expect(someone.faults).toEqual([])
  })
})

describe('with a finger on a phone', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, PHONE)
    page = someone.page
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles({
      name: 'plate.svg',
      mimeType: 'image/svg+xml',
      // a plate whose upper right corner lies 3 mm low, a speck in its middle, and a round well for a stone
      buffer: Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><path id="plate" d="M5 5H55V8V35H5Z"/><circle id="speck" cx="30" cy="20" r="1" fill="#888"/><circle id="well" cx="15" cy="25" r="4" fill="#bbb"/></svg>',
      ),
    })
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    await page.locator('.found').waitFor()
    await settle(page)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const heightsNow = async () => {
    await settle(page)
    const source = (await storedPour(page)).pieces[0]?.source
    if (source?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
    return source.heights
  }
  /** A finger on a place of the drawing, mm; the view has a margin of 6 % of the longer side all round. */
  const tap = async (across: number, up: number): Promise<void> => {
    const surface = page.locator('.drawing-surface svg').first()
    await surface.scrollIntoViewIfNeeded()
    const box = await surface.boundingBox()
    if (box === null) throw new Error('the drawing does not show')
    const margin = 0.06 * 50
    const perMm = box.width / (50 + 2 * margin)
    await surface.tap({
      position: { x: (across - 5 + margin) * perMm, y: (35 - up + margin) * perMm },
    })
  }

  test('a speck is dropped, a corner moved and a section placed', async () => {
    await page.getByRole('button', { name: 'Drop specks' }).tap()
    await tap(30, 20)
    await expect.poll(async () => (await heightsNow()).corrections.length).toBe(1)
    await page.getByRole('button', { name: 'Done with it' }).tap()
    await expect.poll(() => textOf(page.locator('.found'))).toContain('2 regions')
    await page.getByRole('button', { name: 'Move a point' }).tap()
    await tap(55, 35)
    await page.getByText('Press where it should lie.').waitFor()
    await tap(53, 33)
    await expect.poll(async () => (await heightsNow()).corrections.length).toBe(2)
    await page.getByRole('button', { name: 'Done with it' }).tap()
    const [dropped, moved] = (await heightsNow()).corrections
    expect(dropped).toMatchObject({ do: 'drop' })
    if (moved?.do !== 'move') throw new Error('no point was moved')
    expect(Math.hypot(moved.from_mm[0] - 55, moved.from_mm[1] - 35)).toBeLessThan(0.3)
    expect(Math.hypot(moved.to_mm[0] - 53, moved.to_mm[1] - 33)).toBeLessThan(0.3)
    await page.getByRole('button', { name: 'Place a section' }).tap()
    await tap(4, 15)
    await page.getByText('Press where it ends.').waitFor()
    await tap(56, 15)
    await page.getByText(/^Section A, as placed/).waitFor()
    expect((await heightsNow()).sections).toHaveLength(1)
  })

  test('a stone is sized in millimetres though the bench measures in inches', async () => {
    await tap(15, 15)
    const role = page.getByRole('combobox', { name: /^\d Well, role/ })
    await role.selectOption('seat')
    await page.getByRole('button', { name: /^cut it for a cabochon by its size/ }).tap()
    await page.getByRole('button', { name: /, long: 7\.5 mm/ }).tap()
    await page.getByRole('textbox', { name: /, long$/ }).fill('6')
    await page.keyboard.press('Enter')
    // the gap is the bench's own length: inches here
    await page.getByRole('button', { name: /, room all round: 0\.004 in/ }).waitFor()
    const seats = Object.values((await heightsNow()).regions).filter((one) => one.role === 'seat')
    expect(seats).toMatchObject([{ stone: { length_mm: 6 } }])
  })

  test('what is left for the file is in the wax', async () => {
    const wax = async () => numberIn(await readFigure(page, 'plate, wax by the drawing'))
    const before = await wax()
    await page.getByRole('button', { name: /^Left for the file: 0\.000 in/ }).tap()
    await page.getByRole('textbox', { name: 'Left for the file' }).fill('0.02')
    await page.keyboard.press('Enter')
    expect((await heightsNow()).filing_mm).toBeCloseTo(0.508, 3)
    await expect.poll(() => wax().catch(() => 0)).toBeGreaterThan(before)
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    expect(someone.faults).toEqual([])
  })
})

describe('a drawing in numbers', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, DESKTOP)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('without a unit shows every size, and the one pressed counts', async () => {
    const { page } = someone
    await page.goto(`${app.url}pours/new`)
    await chooseInHead(page, 'mm')
    await page.getByLabel(/^Drawing or photo/).setInputFiles({
      name: 'tag.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 20"><rect id="tag" width="30" height="20"/></svg>',
      ),
    })
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    const sizes = page.getByRole('region', { name: 'Which size is it?' })
    // 30 px of 96 to the inch are 7.9375 mm
    await sizes.getByRole('button', { name: /^96 to the inch 7\.9 × 5\.3 mm/ }).waitFor()
    // 30 by 20 by 3 mm of sterling at 10.36 g/cm3: 18.6 g; in px a fourteenth of it
    const weight = async (name: RegExp): Promise<number> =>
      numberIn(/about (.*) cast/.exec(await textOf(sizes.getByRole('button', { name })))?.[1] ?? '')
    await expect.poll(() => weight(/^Millimetres/)).toBeCloseTo(18.6, 0)
    expect(await weight(/^96 to the inch/)).toBeCloseTo(1.3, 0)
    await sizes.getByRole('button', { name: /^Millimetres 30 × 20 mm/ }).click()
    await settle(page)
    expect(await textOf(page.locator('.comes-out'))).toContain('30 × 20 mm')
    await page.getByRole('button', { name: /^Wax to cut from, thick: 3 mm/ }).waitFor()
    expect((await storedPour(page)).pieces[0]?.source).toMatchObject({ heights: { units: 'mm' } })
    // 30 by 20 by 3 mm, over by the shrink of about a hundredth and a half: 1.8 cm3 and a little
    await turnTo(page, 'pieces')
    const volume = numberIn(await readFigure(page, 'Volume of tag, to carve'))
    expect(volume).toBeGreaterThan(1.8)
    expect(volume).toBeLessThan(1.92)
    expect(someone.faults).toEqual([])
  })

  test('in a browser that draws no 3D shows the relief from above and its sections, and says so', async () => {
    const page = await someone.context.newPage()
    await page.addInitScript(() => {
      HTMLCanvasElement.prototype.getContext = () => null
    })
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles(fileOf('examples/clasp-drawing.svg'))
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    const relief = page.getByRole('region', { name: 'The relief' })
    await relief.getByText(/draws nothing in three dimensions/).waitFor()
    await relief.getByRole('img', { name: /from above, heights in mm: 1 3, 2 3/ }).waitFor()
    await relief.getByRole('img', { name: /^Section A/ }).waitFor()
    expect(await relief.getByRole('slider').count()).toBe(0)
    await page.close()
  })

  test('with a gap is offered its closing, and a section is placed by two presses', async () => {
    const { page } = someone
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles({
      name: 'slide.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><g fill="none" stroke="#000" stroke-width=".3"><path id="rim" d="M5 5H55V35H5Z"/><path id="cord" d="M20 12H40V28H20V13.2"/></g></svg>',
      ),
    })
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    await page.getByText(/^Open by 1\.2 mm at/).waitFor()
    await page.getByRole('button', { name: 'Close it' }).click()
    await settle(page)
    await expect.poll(() => textOf(page.locator('.found'))).toContain('2 regions')
    // 50 by 30 without 20 by 16: the smaller is cut through, and the wax is lighter by 320 in 1500
    const whole = numberIn(await readFigure(page, 'slide, wax by the drawing'))
    await page
      .getByRole('button', { name: '2 Rim', exact: true })
      .or(page.getByRole('button', { name: '2 Cord', exact: true }))
      .click()
    await page.getByRole('combobox', { name: /^2 .*role/ }).selectOption('through')
    await settle(page)
    await expect
      .poll(async () => numberIn(await readFigure(page, 'slide, wax by the drawing').catch(() => '')) / whole)
      .toBeCloseTo(1 - 320 / 1500, 1)
    await page.getByRole('button', { name: 'Place a section' }).click()
    const surface = await page.locator('.drawing-surface svg').first().boundingBox()
    if (surface === null) throw new Error('the drawing does not show')
    const { x, y, width, height } = surface
    await page.mouse.click(x + 0.02 * width, y + 0.5 * height)
    await page.getByText('Press where it ends.').waitFor()
    await page.mouse.click(x + 0.98 * width, y + 0.5 * height)
    await page.getByText(/^Section A, as placed/).waitFor()
    await settle(page)
    const source = (await storedPour(page)).pieces[0]?.source
    if (source?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
    expect(source.heights.sections).toHaveLength(1)
    expect(source.heights.corrections).toMatchObject([{ do: 'join' }])
  })

  test('hardware stands where the drawing is pressed, is dragged on, and undo brings it back', async () => {
    const { page } = someone
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles({
      name: 'tag.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><path id="plate" d="M5 5H55V35H5Z"/></svg>',
      ),
    })
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    await chooseInHead(page, 'mm')
    await page.getByRole('combobox', { name: 'Add' }).selectOption('post')
    await settle(page)
    const stands = async (): Promise<readonly [number, number]> => {
      const source = (await storedPour(page)).pieces[0]?.source
      if (source?.from !== 'pattern') throw new Error('the piece does not come from a drawing')
      return source.heights.hardware[0]?.at_mm ?? [0, 0]
    }
    // the plate runs from 5 to 55 and 5 to 35: its middle
    expect(await stands()).toEqual([30, 20])
    const surface = page.locator('.drawing-surface svg').first()
    const spot = async (across: number, up: number): Promise<{ x: number; y: number }> => {
      const box = await surface.boundingBox()
      if (box === null) throw new Error('the drawing does not show')
      // as the view lays a drawing out: a margin of 6 % of its longer side all round
      const margin = 0.06 * 50
      const perMm = box.width / (50 + 2 * margin)
      return { x: (across - 5 + margin) * perMm, y: (35 - up + margin) * perMm }
    }
    const standsAt = async (x: number, y: number): Promise<void> => {
      const off = async (): Promise<number> => {
        const [across, up] = await stands()
        return Math.hypot(across - x, up - y)
      }
      await expect.poll(off, { timeout: 10_000 }).toBeLessThan(0.3)
      await settle(page)
    }
    await page.getByRole('button', { name: /^Place it on the drawing/ }).click()
    await surface.click({ position: await spot(15, 25) })
    await standsAt(15, 25)
    await surface.hover({ position: await spot(15, 25) })
    await page.mouse.down()
    await surface.hover({ position: await spot(30, 12) })
    await surface.hover({ position: await spot(45, 10) })
    await page.mouse.up()
    await standsAt(45, 10)
    expect(numberIn(await textOf(page.getByRole('button', { name: /^Post, stands across/ })))).toBeCloseTo(
      45,
      0,
    )
    await page.keyboard.press('Control+z')
    await standsAt(15, 25)
  })

  test('goes out as files at the size of the wax', async () => {
    const { page } = someone
    await page.goto(`${app.url}pours/new`)
    await page.getByLabel(/^Drawing or photo/).setInputFiles(fileOf('examples/clasp-drawing.svg'))
    await page.getByRole('button', { name: 'Start from this drawing' }).click()
    await page.waitForURL(/\/pattern\//)
    await page.getByRole('button', { name: /^Print the template, [\d.]+% over/ }).waitFor()
    await settle(page)
    for (const [kind, begins] of [
      ['SVG', /^<(\?xml|svg)/],
      ['DXF', /^\s*0\r?\nSECTION/],
      ['STL', /^Millimetres, scaled by 1\.0/],
      ['3MF', /^PK/],
    ] as const) {
      const coming = page.waitForEvent('download')
      await page.getByRole('button', { name: kind, exact: true }).click()
      const download = await coming
      expect(download.suggestedFilename()).toBe(`clasp-drawing.${kind.toLowerCase()}`)
      expect(
        readFileSync(await download.path())
          .subarray(0, 200)
          .toString('latin1'),
      ).toMatch(begins)
    }
  })

  test('brings no fault into the console', () => {
    expect(someone.faults).toEqual([])
  })
})
