import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type App, startApp } from './app.ts'
import { DESKTOP, openBrowser, PHONE, type Visit, visit } from './browser.ts'
import { ask, chooseInHead, numberIn, openDemo, PARTS, storedPour, turnTo } from './steps.ts'

interface Shown {
  readonly title: string
  readonly value: number
  readonly unit: string
  /** half of the last digit written */
  readonly half: number
}

/** Every figure of the page that names its unit, in the order of the page. */
const figuresOn = async (page: Page): Promise<Shown[]> => {
  const names = await page
    .getByRole('main')
    .getByRole('button', { name: /: .*, (change|what it rests on)$/ })
    .evaluateAll((buttons) => buttons.map((button) => button.getAttribute('aria-label') ?? ''))
  return names.flatMap((name) => {
    const found = /^(.*): (-?[\d,]*\.?\d+) ?(in|mm|°F|°C|g|dwt|oz t)? ?, (?:change|what it rests on)$/.exec(
      name,
    )
    if (found?.[3] === undefined) return []
    const digits = found[2] ?? ''
    const places = /\.(\d+)$/.exec(digits)?.[1]?.length ?? 0
    return [{ title: found[1] ?? '', value: numberIn(digits), unit: found[3], half: 0.5 * 10 ** -places }]
  })
}

/** What the page says in words; a chart may draw a scale in each unit. */
const wordsOn = (page: Page): Promise<string> =>
  page.getByRole('main').evaluate((main) => {
    const walk = document.createTreeWalker(main, NodeFilter.SHOW_TEXT)
    const words: string[] = []
    while (walk.nextNode())
      if (!walk.currentNode.parentElement?.closest('svg')) words.push(walk.currentNode.nodeValue ?? '')
    return words.join(' ').replace(/\s+/g, ' ')
  })

const GRAMS_IN_TROY_OUNCE = 31.1034768
const OTHER: Readonly<Record<string, string>> = { in: 'mm', '°F': '°C', g: 'oz t' }

/** Degrees between two temperatures have no zero to move. */
const isDifference = (title: string): boolean => /above the mould$/.test(title)

const titleOf = ({ title }: Shown): string => title

const IMPERIAL = { choices: ['in', '°F', 'g'], foreign: /.{0,40}\d ?(mm|°C)\b.{0,20}/ }
/** "1 in 80" is a chance and "17 in gravities" a table, not lengths. */
const METRIC = {
  choices: ['mm', '°C', 'oz t'],
  foreign: /.{0,40}([\d½¼¾] in\b(?! \d| gravities)|\d ?°F).{0,20}/,
}

/** The reading in inches, Fahrenheit or grams that a reading in the other unit says. */
const backFrom = ({ title, value, unit }: Shown): { value: number; per: number } => {
  if (unit === 'mm') return { value: value / 25.4, per: 1 / 25.4 }
  if (unit === '°C') return { value: value * 1.8 + (isDifference(title) ? 0 : 32), per: 1.8 }
  if (unit === 'oz t') return { value: value * GRAMS_IN_TROY_OUNCE, per: GRAMS_IN_TROY_OUNCE }
  return { value, per: 1 }
}

describe.each([
  ['a desktop', DESKTOP, ['', ...PARTS, 'go']],
  ['a phone', PHONE, ['', 'charge', 'burnout']],
] as const)('on %s, another choice of units', (_name, size, pages) => {
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

  test('changes every figure on the plan and its parts, and nothing that is stored', async () => {
    const stored = await storedPour(page)
    const shop = await (await ask(page, `${app.url}api/shop`)).json()
    const seen = new Set<string>()
    const strayed: string[] = []
    for (const choice of IMPERIAL.choices) await chooseInHead(page, choice)
    let sides = [IMPERIAL, METRIC] as const
    for (const part of pages) {
      await turnTo(page, part)
      const shown = new Map<typeof IMPERIAL, Shown[]>()
      for (const side of sides) {
        if (side === sides[1]) for (const choice of side.choices) await chooseInHead(page, choice)
        shown.set(side, await figuresOn(page))
        const other = side.foreign.exec(await wordsOn(page))
        if (other !== null) strayed.push(`${part} in ${side.choices.join(', ')}: ${other[0]}`)
      }
      // the next page opens in the units that this one was left in
      sides = [sides[1], sides[0]]
      const before = shown.get(IMPERIAL) ?? []
      const after = shown.get(METRIC) ?? []
      expect(after.map(titleOf), part).toEqual(before.map(titleOf))
      for (const [index, was] of before.entries()) {
        const is = after[index]
        if (is === undefined) continue
        seen.add(is.unit)
        const back = backFrom(is)
        const slack = was.half + is.half * back.per
        if (Math.abs(back.value - was.value) > slack * 1.001)
          strayed.push(`${part}: ${was.title}: ${was.value} ${was.unit}, then ${is.value} ${is.unit}`)
        if (was.unit !== 'g' && is.unit !== OTHER[was.unit])
          strayed.push(`${part}: ${was.title} stays in ${was.unit}`)
      }
    }
    expect(strayed).toEqual([])
    for (const unit of ['mm', '°C', 'oz t', 'g'])
      expect([...seen], 'powder and wax keep their grams').toContain(unit)
    expect(await storedPour(page)).toEqual(stored)
    expect(await (await ask(page, `${app.url}api/shop`)).json()).toEqual(shop)
  })

  test('lasts until another is made', async () => {
    await chooseInHead(page, 'oz t')
    await page.reload()
    await turnTo(page, 'charge')
    const metal = (await figuresOn(page)).find(({ title }) => title === 'Metal needed')
    expect(metal?.unit).toBe('oz t')
    await chooseInHead(page, 'dwt')
    const inPennyweights = (await figuresOn(page)).find(({ title }) => title === 'Metal needed')
    // twenty pennyweights make a troy ounce
    expect(Math.abs((inPennyweights?.value ?? 0) - 20 * (metal?.value ?? 0))).toBeLessThan(
      20 * (metal?.half ?? 0) + (inPennyweights?.half ?? 0) + 1e-9,
    )
    expect(someone.faults).toEqual([])
  })
})
