import { decode } from 'fast-png'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { barriersOn, sidewaysOf } from './access.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { chooseInHead, numberIn, openDemo, settle, storedPour, turnTo } from './steps.ts'

/** The tokens of wax and metal in the light theme. */
const WAX = [
  [0xd6, 0xe6, 0xdb],
  [0xa9, 0xcb, 0xb6],
  [0x7f, 0xae, 0x92],
] as const
const METAL = [
  [0xdd, 0xe3, 0xe8],
  [0xb9, 0xc4, 0xcd],
] as const

describe.each([
  ['a desktop', DESKTOP],
  ['a phone', PHONE],
] as const)('on %s, an arrangement by hand', (_name, size) => {
  let app: App
  let browser: Browser
  let someone: Visit
  let page: Page
  const waxes = () => page.getByRole('region', { name: 'Waxes by hand' })
  const entry = (title: string) => page.getByRole('button', { name: new RegExp(`^${title}: `) })
  const read = async (title: string): Promise<number> =>
    numberIn(((await entry(title).getAttribute('aria-label')) ?? '').slice(title.length))
  const type = async (title: string, value: string): Promise<void> => {
    await entry(title).click()
    const box = page.getByRole('textbox', { name: title, exact: true })
    await box.fill(value)
    await box.press('Enter')
    await settle(page)
  }
  const lockedPieces = async (): Promise<string[]> =>
    ((await storedPour(page)).tree.locked ?? []).map(({ piece }) => piece)
  const placeOf = async (name: string): Promise<readonly number[]> => {
    const button = waxes().getByRole('button', { name, exact: true })
    if ((await button.getAttribute('aria-expanded')) !== 'true') await button.click()
    const all = []
    for (const title of ['Angle', 'Up', 'Out', 'Tilt']) all.push(await read(`${title} of ${name}`))
    return all
  }
  const undo = async (): Promise<void> => {
    await page
      .getByRole('region', { name: 'Places, sprues and distances' })
      .getByRole('button', { name: 'Undo' })
      .click()
    await settle(page)
  }

  /** How many pixels of the picture have one of these colours, or nearly. */
  const paintedIn = async (colours: readonly (readonly [number, number, number])[]): Promise<number> => {
    const { data, channels } = decode(await page.locator('.arrangement-hands canvas').screenshot())
    let count = 0
    for (let at = 0; at < data.length; at += channels)
      if (colours.some((colour) => colour.every((value, k) => Math.abs((data[at + k] ?? 0) - value) <= 3)))
        count += 1
    return count
  }

  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, size)
    page = someone.page
    await openDemo(page, app.url)
    await turnTo(page, 'flask')
    await chooseInHead(page, 'mm')
    await page.getByRole('img', { name: /in its flask, turned/ }).waitFor({ timeout: 60_000 })
    await settle(page)
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('is drawn in its flask with its tightest distance said', async () => {
    const name = await page.getByRole('img', { name: /in its flask, turned/ }).getAttribute('aria-label')
    expect(name).toMatch(/Tightest: .+ is [\d.]+ mm from .+; [\d.]+ mm needed/)
    expect(await paintedIn(WAX)).toBeGreaterThan(3000)
  })

  let tagBefore: readonly number[] = []
  let claspBefore: readonly number[] = []

  test('a tag moved by typing is locked there, breaks a clearance in words, and leaves the others', async () => {
    claspBefore = await placeOf('Clasp')
    tagBefore = await placeOf('Tag')
    await type('Out of Tag', '36')
    expect(await read('Out of Tag')).toBeCloseTo(36, 1)
    await waxes()
      .getByText(/Tag (is [\d.]+ mm from|goes [\d.]+ mm past) the wall; [\d.]+ mm needed/)
      .first()
      .waitFor()
    await expect.poll(lockedPieces).toEqual(['tag'])
    expect(await placeOf('Clasp')).toEqual(claspBefore)
    await waxes().getByRole('button', { name: 'Let Tag go' }).waitFor()
    // the pour knows of the tag alone: a sheet would be printed of other places than the ones that are seen
    await page.getByText(/may stand elsewhere on the printed sheet/).waitFor()
    await page.getByRole('button', { name: 'Print run sheet' }).click()
    await page.getByText(/Not printed: your hand has changed where waxes stand/).waitFor()
  })

  test('a place past every flask is refused in words that run off no screen', async () => {
    await placeOf('Tag')
    await entry('Out of Tag').click()
    const box = page.getByRole('textbox', { name: 'Out of Tag', exact: true })
    await box.fill('999')
    await box.press('Enter')
    await page.getByText(/is more than the 200(\.0)? mm taken here/).waitFor()
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    await box.press('Escape')
    await settle(page)
  })

  test('undo takes it back to where it was', async () => {
    await undo()
    expect(await placeOf('Tag')).toEqual(tagBefore)
    await expect.poll(lockedPieces).toEqual([])
    expect(
      await waxes()
        .getByText(/mm needed/)
        .count(),
    ).toBe(0)
  })

  test('a handle drags it, its distances follow at once, and letting go locks it', async () => {
    const handle = page.getByRole('slider', { name: 'Up and down, Tag' })
    await handle.scrollIntoViewIfNeeded()
    await page.evaluate(() =>
      document.querySelector('.arrangement-field')?.scrollIntoView({ block: 'center' }),
    )
    const box = await handle.boundingBox()
    if (box === null) throw new Error('the handle is not seen')
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
    await page.mouse.move(x, y)
    await page.mouse.down()
    for (let step = 1; step <= 8; step += 1) await page.mouse.move(x, y - 12 * step)
    // on its way: the numbers follow, and nothing is written yet
    await expect.poll(() => read('Up of Tag')).toBeGreaterThan((tagBefore[1] ?? 0) + 5)
    expect(await lockedPieces()).toEqual([])
    await page.mouse.up()
    await settle(page)
    await expect.poll(lockedPieces).toEqual(['tag'])
    expect(await read('Up of Tag')).toBeGreaterThan((tagBefore[1] ?? 0) + 5)
  })

  test('arrow keys turn it about the axis, as a hand does', async () => {
    const before = await read('Angle of Tag')
    await page.getByRole('slider', { name: 'Round the axis, Tag' }).press('ArrowRight')
    await settle(page)
    await expect.poll(async () => ((await read('Angle of Tag')) - before + 360) % 360).toBeCloseTo(5, 0)
    await undo()
    await expect.poll(() => read('Angle of Tag')).toBeCloseTo(before, 0)
  })

  test('a sprue takes another thickness, and its wax keeps it', async () => {
    const table = page.getByRole('table', { name: /^Sprues, mm/ })
    await table.getByRole('button', { name: /Tag$/ }).first().click()
    const title = /^Thickness of sprue \d+: /
    const name = (await page.getByRole('button', { name: title }).getAttribute('aria-label')) ?? ''
    await type(name.split(':')[0] ?? '', '5')
    await expect
      .poll(async () => (await storedPour(page)).tree.sprues?.map(({ diameter_mm }) => diameter_mm))
      .toContain(5)
    await expect.poll(() => table.getByRole('row', { name: /Tag/ }).first().textContent()).toMatch(/5\.0$/)
    await page.getByRole('button', { name: 'Keep its place on the wax clear' }).click()
    await settle(page)
    await expect
      .poll(async () => (await storedPour(page)).pieces.find(({ id }) => id === 'tag')?.keepClear?.length)
      .toBe(1)
    await undo()
    await expect
      .poll(async () => (await storedPour(page)).pieces.find(({ id }) => id === 'tag')?.keepClear)
      .toBeUndefined()
    await page.getByRole('button', { name: 'Find its sprues anew' }).click()
    await settle(page)
    await expect.poll(async () => (await storedPour(page)).tree.sprues).toBeUndefined()
  })

  test('a wax gets another sprue by hand, and it is taken off again', async () => {
    const table = page.getByRole('table', { name: /^Sprues, mm/ })
    const onTag = table.getByRole('row', { name: /Tag/ })
    const before = await onTag.count()
    const first = onTag.first().getByRole('button')
    if ((await first.getAttribute('aria-expanded')) !== 'true') await first.click()
    await page.getByRole('button', { name: 'Another sprue on this wax' }).click()
    await settle(page)
    await expect.poll(() => onTag.count()).toBe(before + 1)
    expect((await storedPour(page)).tree.sprues?.length).toBe(before + 1)
    await onTag.last().getByRole('button').click()
    await page.getByRole('button', { name: 'Take this sprue off' }).click()
    await settle(page)
    await expect.poll(() => onTag.count()).toBe(before)
    await onTag.first().getByRole('button').click()
    await page.getByRole('button', { name: 'Find its sprues anew' }).click()
    await settle(page)
    await expect.poll(async () => (await storedPour(page)).tree.sprues).toBeUndefined()
  })

  test('a press on a wax keeps that place clear of sprues, and undo takes it off', async () => {
    const view = page.getByRole('region', { name: 'The arrangement in its flask' })
    await view.getByRole('button', { name: 'From the front' }).click()
    await view.getByRole('button', { name: 'keeps clear' }).click()
    const marks = async (): Promise<number> =>
      (await storedPour(page)).pieces.reduce((sum, { keepClear }) => sum + (keepClear?.length ?? 0), 0)
    await page.evaluate(() =>
      document.querySelector('.arrangement-field')?.scrollIntoView({ block: 'center' }),
    )
    const box = await page.locator('.arrangement-hands').boundingBox()
    if (box === null) throw new Error('the view is not seen')
    // wherever a wax is first met, going up the picture from the base, at its middle and to either side
    const places = [0.34, 0.5, 0.66].flatMap((across) =>
      [0.75, 0.69, 0.63, 0.57, 0.51, 0.45, 0.39, 0.33, 0.27].map((up) => ({ across, up })),
    )
    for (const { across, up } of places) {
      if ((await marks()) > 0) break
      await page.mouse.click(box.x + box.width * across, box.y + box.height * up)
      await settle(page)
    }
    expect(await marks()).toBe(1)
    await undo()
    await expect.poll(marks).toBe(0)
    await view.getByRole('button', { name: 'moves', exact: true }).click()
  })

  test('the others are placed anew round the one that is locked', async () => {
    const locked = await placeOf('Tag')
    await page.getByRole('button', { name: 'Place the others anew' }).click()
    await page.getByRole('button', { name: 'The places before' }).waitFor({ timeout: 60_000 })
    await settle(page)
    const again = await placeOf('Tag')
    for (const [k, value] of locked.entries()) expect(again[k]).toBeCloseTo(value, 1)
  })

  test('kept, every place, sprue and the flask stand in the pour, and let go only the caster’s own do', async () => {
    const { flask, tree } = await storedPour(page)
    expect(await lockedPieces()).toEqual(['tag'])
    await page.getByRole('button', { name: 'Keep this arrangement' }).click()
    await settle(page)
    expect(await page.getByText(/may stand elsewhere on the printed sheet/).count()).toBe(0)
    // the tag was locked wherever the hand had let it go, which may break a clearance
    await page.getByText(/^Kept(: the whole plan reckons| in the pour; until the stop is mended)/).waitFor()
    await expect.poll(async () => (await lockedPieces()).sort()).toEqual(['clasp', 'slide', 'tag'])
    const pour = await storedPour(page)
    expect(pour.flask).toBeDefined()
    expect(pour.tree.sprues?.length).toBeGreaterThanOrEqual(3)
    await page.getByRole('button', { name: 'Let it go' }).click()
    await settle(page)
    await expect.poll(lockedPieces).toEqual(['tag'])
    const left = await storedPour(page)
    expect({ flask: left.flask, tree: left.tree }).toEqual({ flask, tree })
    await undo()
    await expect.poll(async () => (await lockedPieces()).length).toBe(3)
  })

  test('kept, its charge is said to be worked out until it no longer stands by outside boxes', async () => {
    const fresh = await page.context().newPage()
    await fresh.goto(page.url().replace(/flask$/, 'charge'))
    const seen = async () => {
      const foot = (await fresh.getByLabel('Where the plan stands').textContent()) ?? ''
      const byBoxes = (await fresh.getByText('by outside boxes').count()) > 0
      return byBoxes ? (/being (placed|measured)/.test(foot) ? 'working' : 'unsaid') : 'placed'
    }
    const states: string[] = []
    await expect
      .poll(
        async () => {
          states.push(await seen())
          return states.at(-1)
        },
        { timeout: 45_000, interval: 50 },
      )
      .toBe('placed')
    expect(states).not.toContain('unsaid')
    await fresh.close()
  })

  test('is seen in metal and as the investment, cut open', async () => {
    const view = page.getByRole('region', { name: 'The arrangement in its flask' })
    await view.getByRole('button', { name: 'investment', exact: true }).click()
    await page.getByText('The investment is being worked out.').waitFor({ state: 'hidden', timeout: 60_000 })
    await expect.poll(() => paintedIn(WAX)).toBe(0)
    await view.getByRole('button', { name: 'metal', exact: true }).click()
    await expect.poll(() => paintedIn(METAL)).toBeGreaterThan(500)
    expect(await paintedIn(WAX)).toBeLessThan(200)
  })

  test('stands in nobody’s way, moves nothing sideways, and made no fault', async () => {
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    expect(await barriersOn(page, 'all')).toEqual([])
    expect(someone.faults).toEqual([])
  })
})
