import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Shop } from '../src/engine/documents/shop.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, type Visit, visit } from './browser.ts'
import { ask, openDemo, planOwnWax, settle, storedPour, textOf, turnTo } from './steps.ts'

const SIZES = ['1.1', '0.9', '0.5', '0.25', '0.08'] as const

const goTo = async (page: Page, place: string): Promise<void> => {
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: place }).click()
  await page.getByRole('heading', { name: place, level: 1 }).waitFor()
  await settle(page)
}

const shopOf = async (page: Page, path: string): Promise<Shop> =>
  ((await (await ask(page, new URL(path, page.url()).href)).json()) as { shop: Shop }).shop

const sizeEntry = (page: Page, name: string) => page.getByRole('textbox', { name: `${name}, in` })

describe('somebody who enters waxes of their own', () => {
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

  test('is asked what the thickest place is, and told in plain words what would not do', async () => {
    const { page } = someone
    await page.goto(new URL('pours/new', app.url).href)
    await page.getByRole('textbox', { name: /^Wax on the scale/ }).fill('4.2')
    for (const [index, name] of [
      'Length',
      'Width',
      'Height',
      'Thickest section',
      'Thinnest section',
    ].entries())
      await sizeEntry(page, name).fill(SIZES[index] ?? '')
    await sizeEntry(page, 'Length').fill('1000')
    await page.getByRole('button', { name: 'Plan it' }).click()
    const main = page.getByRole('main')
    await main.getByText('Say what the thickest place is.').waitFor()
    expect(await textOf(main)).toContain('Length must lie between 0.02 and 15.74 in.')
    expect(await textOf(main)).not.toContain('/pieces')
    await sizeEntry(page, 'Length').fill('1.1')
    await page.getByRole('radio', { name: /wider than thick/ }).check()
    await sizeEntry(page, 'Width of the bar').fill('0.5')
    await page.getByRole('button', { name: 'Plan it' }).click()
    await page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
    await settle(page)
    const [piece] = (await storedPour(page)).pieces
    expect(piece?.source).toMatchObject({ calipers: { section: 'bar', sectionWidth_mm: 12.7 } })
  })

  test('changes the thick place on the pieces’ page, where a wide bar is one from its width on', async () => {
    const { page } = someone
    await turnTo(page, 'pieces')
    const calipers = async (): Promise<object> => {
      await settle(page)
      return (await storedPour(page)).pieces[0]?.source ?? {}
    }
    await page.getByRole('radio', { name: /ball or lump/ }).check()
    await expect.poll(calipers).toMatchObject({ calipers: { section: 'ball' } })
    await page.getByRole('radio', { name: /wider than thick/ }).check()
    await expect.poll(calipers).not.toHaveProperty('calipers.section')
    expect(await textOf(page.getByRole('main'))).toContain('is taken as a plate')
    await page.getByRole('button', { name: /width of the thickest place: not entered yet/ }).click()
    await page.getByRole('textbox', { name: /width of the thickest place/ }).fill('0.4')
    await page.keyboard.press('Enter')
    await expect.poll(calipers).toHaveProperty('calipers.sectionWidth_mm', 10.16)
  })

  test('adds waxes of one shape by their weights alone', async () => {
    const { page } = someone
    await page.getByRole('button', { name: 'the same as A' }).click()
    const form = page.getByRole('form', { name: /^Another / })
    for (const mass of ['4.31', '4.4', '4.52']) {
      await form.getByRole('textbox').fill(mass)
      await page.keyboard.press('Enter')
      await expect.poll(() => form.getByRole('textbox').inputValue()).toBe('')
    }
    await settle(page)
    const { pieces } = await storedPour(page)
    expect(pieces.map(({ source }) => source.from === 'weighed-wax' && source.mass_g)).toEqual([
      4.2, 4.31, 4.4, 4.52,
    ])
    expect(new Set(pieces.map(({ source }) => JSON.stringify(source.calipers))).size).toBe(1)
    expect(new Set(pieces.map(({ id }) => id)).size).toBe(4)
  })

  test('puts metal on the shelf only when it is named, weighed and made of something', async () => {
    const { page } = someone
    await goTo(page, 'Metal')
    await page.getByRole('button', { name: 'Something else' }).click()
    const form = page.getByRole('form', { name: 'A new lot' })
    await form.getByRole('button', { name: 'Put it on the shelf' }).click()
    await form.getByText(/What is it called\?/).waitFor()
    expect((await shopOf(page, '/api/shop')).lots).toEqual([])
    await form.getByLabel('Called').fill('Old spoon')
    await form.getByLabel(/^On the scale/).fill('210')
    await form.getByLabel(/^Silver/).fill('800')
    await form.getByLabel('It also holds').selectOption({ label: 'copper' })
    await form.getByLabel(/^Copper/).fill('200')
    await form.getByRole('button', { name: 'Put it on the shelf' }).click()
    await page.getByRole('heading', { name: 'Old spoon' }).waitFor()
    await settle(page)
    expect((await shopOf(page, '/api/shop')).lots).toMatchObject([
      { name: 'Old spoon', mass_g: 210, composition: { Ag: 0.8, Cu: 0.2 } },
    ])
  })

  test('has the next pour made up from that shelf, and is told when an earlier one is not', async () => {
    const { page } = someone
    await page.goBack()
    await settle(page)
    await turnTo(page, 'charge')
    await page.getByText(/lot on your shelf is left aside/).waitFor()
    await page.getByRole('button', { name: 'Make it up from the shelf' }).click()
    await expect.poll(async () => (await storedPour(page)).charge.fromStock).toBe(true)
    await goTo(page, 'Pours')
    await planOwnWax(page, { mass: '3', calipers: SIZES })
    expect((await storedPour(page)).charge.fromStock).toBe(true)
  })

  test('sees no fault in the console on the way', () => {
    expect(someone.faults).toEqual([])
  })
})

describe('somebody who has looked the demo over', () => {
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

  test('is told whose shop and shelf they look at, one press from their own', async () => {
    const { page } = someone
    await openDemo(page, app.url)
    await goTo(page, 'Shop')
    const whose = page.getByRole('region', { name: 'Whose shop' })
    expect(await textOf(whose)).toContain('demo studio’s')
    await whose.getByRole('button', { name: 'To my own shop' }).click()
    await whose.waitFor({ state: 'detached' })
    await page.getByRole('heading', { name: 'Shop', level: 1 }).waitFor()
  })

  test('begins again with a usual shop in one press, and has the old one back in another', async () => {
    const { page } = someone
    const before = await shopOf(page, '/api/shop')
    await page.getByRole('button', { name: /^Height above the sea: / }).click()
    await page.getByRole('textbox', { name: 'Height above the sea' }).fill('7000')
    await page.keyboard.press('Enter')
    const height = async () => (await shopOf(page, '/api/shop')).place
    await expect.poll(height).not.toEqual(before.place)
    const entered = await height()
    await page.getByRole('button', { name: 'Begin again with a usual shop' }).click()
    await expect.poll(height).toEqual(before.place)
    await page.getByRole('button', { name: 'Put it back as it was' }).click()
    await expect.poll(height).toEqual(entered)
    await page.getByRole('button', { name: 'Begin again with a usual shop' }).click()
    await expect.poll(height).toEqual(before.place)
  })

  test('plans their own wax in a shop of their own, which the demo never touched', async () => {
    const { page } = someone
    await goTo(page, 'Pours')
    const demoUrl = await page
      .getByRole('link', { name: 'Cloak clasp set', exact: true })
      .getAttribute('href')
    await page.getByRole('link', { name: 'Plan a pour' }).click()
    await page.getByText(/Planned in a usual shop until you enter yours/).waitFor()
    for (const entry of [
      'Height above the sea',
      'Metal scale reads to',
      'Metal scale takes at most',
      'Turns wound',
      'Fastest climb of the kiln',
    ])
      expect(await page.getByRole('button', { name: new RegExp(`^${entry}: `) }).isVisible(), entry).toBe(
        true,
      )
    await page.getByRole('button', { name: /^Height above the sea: / }).click()
    await page.getByRole('textbox', { name: 'Height above the sea' }).fill('5200')
    await page.keyboard.press('Enter')
    await page.getByText(/Planned in your own shop, 1 of 5 entered/).waitFor()
    await page.getByRole('textbox', { name: /^Wax on the scale/ }).fill('2')
    await page.getByRole('button', { name: 'Plan it' }).click()
    await page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
    await settle(page)
    const [own, studio] = [await shopOf(page, '/api/shop'), await shopOf(page, '/api/demo/shop')]
    expect(own.record).toBeUndefined()
    expect(own.name).not.toBe(studio.name)
    expect(own.place).not.toEqual(studio.place)
    expect(studio.record).toBeDefined()
    // the demo keeps its studio
    await page.goto(new URL(demoUrl ?? '', app.url).href)
    await settle(page)
    expect(await textOf(page.getByRole('region', { name: 'This pour' }))).toContain('demo studio')
    expect(someone.faults).toEqual([])
  })
})
