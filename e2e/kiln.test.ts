import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { follow } from '../src/engine/heat/solved/index.ts'
import { celsius, toCelsius } from '../src/engine/quantity/index.ts'
import { barriersOn, sidewaysOf } from './access.ts'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { openDemo, settle, storedPour, textOf, turnTo } from './steps.ts'

/** A flask of the demo's size in a kiln of our own making, by the solver itself: a reading each five minutes. */
const log = (): string => {
  const course = {
    temperatures: [20, 150, 150, 205, 205, 704, 704, 510, 510].map(celsius),
    durations: [2800, 7200, 1200, 14_400, 10_800, 7200, 6400, 3600],
  }
  const { times, core } = follow(
    {
      radius: 0.04445,
      height: 0.1016,
      wall: 0.0016,
      waxShare: 0.02,
      conductivity: 0.5,
      wetConductivity: 1,
      heat: 1000,
      hemihydrate: 0.3,
      ratio: 0.38,
      particle: 2550,
      waterDoubt: 1,
      boiling: celsius(94),
      film: 9,
      emissivity: 0.8,
    },
    course,
    celsius(20),
  )
  const kilnAt = (s: number): number => {
    let from = 0
    for (const [index, duration] of course.durations.entries()) {
      const [low, high] = [
        course.temperatures[index] ?? Number.NaN,
        course.temperatures[index + 1] ?? Number.NaN,
      ]
      if (s <= from + duration) return low + ((high - low) * (s - from)) / duration
      from += duration
    }
    return course.temperatures.at(-1) ?? Number.NaN
  }
  const rows = times.map(
    (s, index) =>
      `${s / 60},${toCelsius(core[index] ?? Number.NaN).toFixed(1)},${toCelsius(kilnAt(s)).toFixed(1)}`,
  )
  return ['time_min,core_C,kiln_C', ...rows].join('\n')
}

describe('on the burnout’s page', () => {
  let app: App
  let browser: Browser
  let someone: Visit
  beforeAll(async () => {
    ;[app, browser] = await Promise.all([startApp(), openBrowser()])
    someone = await visit(browser, DESKTOP)
    await openDemo(someone.page, app.url)
    await turnTo(someone.page, 'burnout')
    await someone.page.getByText(/Dashed: the flask/).waitFor()
  })
  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  test('a stop of the kiln tells what is still to come and by how much the cast moves', async () => {
    const { page } = someone
    const part = page.getByRole('region', { name: 'If the kiln stops, or you are late' })
    await part.getByLabel(/^It stopped/).fill('soon')
    await part.getByRole('button', { name: 'Plan what is left' }).click()
    await part.getByText('Write hours and minutes as 4:10').waitFor()
    await part.getByLabel(/^It stopped/).fill('4:10')
    await part.getByLabel(/^It was off for/).fill('1:00')
    await part.getByRole('button', { name: 'Plan what is left' }).click()
    await part.getByRole('row', { name: /^Drying hold/ }).waitFor()
    expect(await textOf(part.getByRole('status'))).toMatch(/comes .* later.*: .*\d/)
    // a day to spare: the flask waits at its casting heat
    await part.getByLabel(/^Cast, after/).fill('24:00')
    await part.getByRole('button', { name: 'Plan what is left' }).click()
    await part.getByText(/later; the flask waits/).waitFor()
  })

  test('a log without units is asked for them, is fitted once they are said, and can be kept', async () => {
    const { page } = someone
    const part = page.getByRole('region', { name: 'A thermocouple’s log' })
    const bare = log().split('\n').slice(1).join('\n')
    await part.getByLabel('Log, as CSV').setInputFiles({
      name: 'log.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(bare),
    })
    await part.getByText(/does not say whether its times/).waitFor()
    await part.getByLabel(/^Times are in/).selectOption('min')
    await part.getByLabel(/^heats in/).selectOption('C')
    await part.getByRole('img', { name: /^The log over 14\.9 hours/ }).waitFor()
    await part.getByRole('button', { name: 'Keep it in the shop' }).click()
    await part.getByText(/^Kept in the shop for/).waitFor()
    await settle(page)
    const { shop } = (await (await page.request.get(`${app.url}api/demo/shop`)).json()) as {
      shop: { kilns: { film_W_m2K?: { source?: string; measured?: string } }[] }
    }
    const [kept] = shop.kilns.flatMap(({ film_W_m2K }) => (film_W_m2K === undefined ? [] : [film_W_m2K]))
    expect(kept?.source).toMatch(/^fitted to a thermocouple/)
    expect(kept?.measured).toMatch(/^\d{4}-\d\d-\d\d$/)
  })

  test('a flask put beside it has a middle of its own, and taken out again leaves the program as it was', async () => {
    const { page } = someone
    const total = async (): Promise<string> => textOf(page.locator('.title-row'))
    const before = await total()
    const middles = (): Promise<number> =>
      page.locator('svg[aria-label^="Kiln from"] path[stroke="var(--heat)"]').count()
    expect(await middles()).toBe(1)
    const beside = page.getByRole('combobox', { name: 'Put a flask beside it' })
    const sizes = await beside.locator('option').allTextContents()
    await beside.selectOption({ label: sizes.at(-1) ?? '' })
    await page.getByText(/dry after .*, carbon burns after/).waitFor()
    await settle(page)
    expect((await storedPour(page)).load).toHaveLength(1)
    await expect.poll(middles).toBe(2)
    await page.getByRole('button', { name: /^take out/ }).click()
    await settle(page)
    await expect.poll(middles).toBe(1)
    await expect.poll(total).toBe(before)
    expect((await storedPour(page)).load).toBeUndefined()
  })

  test('nothing runs off a phone, and nothing bars the way', async () => {
    const { page } = someone
    await page.setViewportSize(PHONE)
    await settle(page)
    expect(await sidewaysOf(page)).toEqual({ by: 0, past: [] })
    expect(await barriersOn(page, 'all')).toEqual([])
    expect(someone.faults).toEqual([])
  })
})
