import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { findBrowser } from '../scripts/find-browser.mjs'

export const DESKTOP = { width: 1440, height: 900 } as const
export const PHONE = { width: 390, height: 844 } as const
export type Size = { readonly width: number; readonly height: number }

/** @throws when this computer has no Chromium that could be started */
export const openBrowser = async (): Promise<Browser> => {
  const found = await findBrowser()
  if (found === undefined) throw new Error('there is no browser here; set CHROME_PATH to one')
  return chromium.launch({ executablePath: found.executablePath, args: found.args })
}

export interface Visit {
  readonly page: Page
  readonly context: BrowserContext
  /** what the page complained of: console errors, faults of scripts, answers of 500 and above */
  readonly faults: string[]
  leave(): Promise<void>
}

/** Somebody in Denver who has never been here: no choices kept, inches and Fahrenheit by the place. */
export const visit = async (
  browser: Browser,
  size: Size,
  { phone = size === PHONE, locale = 'en-US' }: { phone?: boolean; locale?: string } = {},
): Promise<Visit> => {
  const context = await browser.newContext({
    viewport: size,
    locale,
    timezoneId: 'America/Denver',
    reducedMotion: 'reduce',
    ...(phone && { hasTouch: true, isMobile: true }),
  })
  // only a hang takes as long
  context.setDefaultTimeout(45_000)
  const page = await context.newPage()
  const faults: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(`${message.text()} ${message.location().url}`.trim())
  })
  page.on('pageerror', (fault) => faults.push(String(fault)))
  page.on('response', (response) => {
    if (response.status() >= 500) faults.push(`${response.status()} from ${response.url()}`)
  })
  return { page, context, faults, leave: () => context.close() }
}
