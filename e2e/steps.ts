import type { APIResponse, Locator, Page } from 'playwright-core'
import { expect } from 'vitest'
import type { Pour } from '../src/engine/documents/pour.ts'

export const PARTS: readonly string[] = [
  'pieces',
  'flask',
  'freeze',
  'charge',
  'price',
  'mix',
  'burnout',
  'spin',
  'quench',
  'finish',
]

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')

/** Models are measured and sheets made on the same busy cores as the tests; only a hang takes this long [ms]. */
const SETTLED_WITHIN = 45_000

/** The page shows its plan, nothing in it is still being worked out, and everything is kept. */
export const settle = async (page: Page): Promise<void> => {
  const isSettled = (): boolean => {
    const main = document.querySelector('main')
    if (main === null || document.querySelector('[aria-busy=true]') !== null) return false
    const said = [...document.querySelectorAll('[role=status]')].map((status) => status.textContent)
    const unfinished = /being (measured|placed|worked out)|Measuring |Working the plan out/
    const foot = document.querySelector('[aria-label="Where the plan stands"]')
    const words = `${main.textContent}${foot?.textContent ?? ''}`
    return main.textContent !== '' && !said.includes('Keeping') && !unfinished.test(words)
  }
  await page.waitForFunction(isSettled, undefined, { timeout: SETTLED_WITHIN })
}

/** The pour whose pages stand open. */
export const pourId = (page: Page): string => {
  const id = /\/pours\/([0-9a-f-]{36})/.exec(page.url())?.[1]
  if (id === undefined) throw new Error(`${page.url()} is no pour`)
  return id
}

/** Turns to a page of the same pour as a reader would: a part by the rule, `go` by the foot, '' the plan. */
export const turnTo = async (page: Page, part: string): Promise<void> => {
  const path = `/pours/${pourId(page)}/${part}`.replace(/\/$/, '')
  if (new URL(page.url()).pathname !== path) {
    const number = PARTS.indexOf(part) + 1
    const link =
      part === ''
        ? page.getByRole('region', { name: 'This pour' }).getByRole('link', { name: 'Plan' })
        : part === 'go'
          ? page.getByRole('link', { name: 'Go or no-go' })
          : page
              .getByRole('navigation', { name: 'The pour, in order' })
              .getByRole('link', { name: new RegExp(`^${number} ?${part}`, 'i') })
    await link.click()
    await page.waitForURL((url) => url.pathname === path)
  }
  await settle(page)
}

/** Every page there is, one after another: those of the pour that stands open, then the three places. */
export const walkPages = async (page: Page, look: () => Promise<void>): Promise<void> => {
  for (const part of ['', ...PARTS, 'go']) {
    await turnTo(page, part)
    await look()
  }
  for (const place of ['Metal', 'Shop', 'Pours']) {
    await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: place }).click()
    await page.getByRole('heading', { name: place, level: 1 }).waitFor()
    await settle(page)
    await look()
  }
}

export const openDemo = async (page: Page, url: string): Promise<void> => {
  await page.goto(url)
  await page.getByRole('button', { name: 'Open the demo' }).click()
  await page.waitForURL(/\/pours\//)
  await settle(page)
}

/** A figure of the plan, whichever way it may be pressed: by what it is of. */
export const figureOf = (within: Page | Locator, title: string): Locator =>
  within.getByRole('button', { name: new RegExp(`^${escaped(title)}: `) }).first()

/** What a figure says, with its unit as far as its name tells it. */
export const readFigure = async (within: Page | Locator, title: string): Promise<string> => {
  const name = await figureOf(within, title).getAttribute('aria-label')
  return (name ?? '')
    .slice(title.length + 2)
    .replace(/\s*,\s(change|what it rests on)$/, '')
    .trim()
}

/** What stands there, hidden words too, with single spaces. */
export const textOf = async (what: Locator): Promise<string> =>
  ((await what.textContent()) ?? '').replace(/\s+/g, ' ')

/** The number of a figure: `1,300 °F` gives 1300. */
export const numberIn = (text: string): number => {
  const found = /-?[\d,]*\.?\d+/.exec(text)
  return found === null ? Number.NaN : Number(found[0].replaceAll(',', ''))
}

/** Waits until a figure says something else than it said before, and gives what it says. */
export const changedFrom = async (page: Page, title: string, before: string): Promise<string> => {
  await expect.poll(() => readFigure(page, title)).not.toBe(before)
  return readFigure(page, title)
}

/** Presses a figure that may be changed in place and types another. */
export const change = async (page: Page, title: string, value: string): Promise<void> => {
  await figureOf(page, title).click()
  await page.getByRole('textbox', { name: title, exact: true }).fill(value)
}

/** One of the choices in the head; on a phone they lie under the units in use. */
export const chooseInHead = async (page: Page, choice: string): Promise<void> => {
  const head = page.getByRole('banner')
  const button = head.getByRole('button', { name: choice, exact: true })
  if (!(await button.isVisible())) await head.locator('summary').click()
  await button.click()
}

/** Asks the server itself; an idle connection that it has just closed is opened again. */
export const ask = (page: Page, url: string): Promise<APIResponse> => page.request.get(url, { maxRetries: 3 })

export const storedPour = async (page: Page): Promise<Pour> => {
  const answer = await ask(page, new URL(`/api/pours/${pourId(page)}`, page.url()).href)
  return ((await answer.json()) as { pour: Pour }).pour
}

export interface OwnWax {
  readonly mass: string
  /** length, width, height, thickest, thinnest; in the unit the page shows */
  readonly calipers?: readonly [string, string, string, string, string]
  readonly name?: string
}

const CALIPERS = ['Length', 'Width', 'Height', 'Thickest section', 'Thinnest section'] as const

/** Counts what a person has to do: each field filled in and each thing pressed is one entry. */
export class Entries {
  count = 0
  async press(what: Locator): Promise<void> {
    this.count += 1
    await what.click()
  }
  async fill(what: Locator, text: string): Promise<void> {
    this.count += 1
    await what.fill(text)
  }
}

/** From the first page to the plan of one weighed wax. */
export const planOwnWax = async (page: Page, wax: OwnWax, entries = new Entries()): Promise<void> => {
  const start = page.getByRole('link', { name: /^(Start|Plan) a pour$/ })
  await entries.press(start)
  await entries.fill(page.getByRole('textbox', { name: /^Wax on the scale/ }), wax.mass)
  for (const [index, text] of (wax.calipers ?? []).entries())
    await entries.fill(page.getByRole('textbox', { name: new RegExp(`^${CALIPERS[index]}, `) }), text)
  if (wax.calipers !== undefined) await entries.press(page.getByRole('radio', { name: /^a flat plate/ }))
  if (wax.name !== undefined) await entries.fill(page.getByRole('textbox', { name: /^What is it/ }), wax.name)
  await entries.press(page.getByRole('button', { name: 'Plan it' }))
  await page.waitForURL(/\/pours\/[0-9a-f-]{36}/)
  await settle(page)
}
