import type { Browser } from 'playwright-core'
import { startApp } from '../e2e/app.ts'
import { openBrowser, PHONE, visit } from '../e2e/browser.ts'

/**
 * What a phone has to fetch and to do before the first view answers: a processor four times slower than this
 * one, 1.6 Mbit/s, 150 ms to the server and back, nothing in its cache. Goals: under 200 kB of script as
 * sent, interactive under 1.5 s. Interactive is when the view's main button stands there and the last task
 * longer than 50 ms is over, with a second of quiet after it. Printed as a table; nothing is asserted.
 */
const RUNS = 5
const SLOWER = 4
const DOWN_BYTES_S = 1.6e6 / 8
const UP_BYTES_S = 0.75e6 / 8
const LATENCY_MS = 150
const QUIET_MS = 1000

interface Measured {
  readonly script_kB: number
  readonly all_kB: number
  readonly shown_ms: number
  readonly interactive_ms: number
}

const measure = async (browser: Browser, url: string, button: string): Promise<Measured> => {
  const { page, context, leave } = await visit(browser, PHONE)
  const sent = { Script: 0, all: 0 }
  const types = new Map<string, string>()
  const devtools = await context.newCDPSession(page)
  devtools.on('Network.responseReceived', ({ requestId, type }) => types.set(requestId, type))
  devtools.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
    sent.all += encodedDataLength
    if (types.get(requestId) === 'Script') sent.Script += encodedDataLength
  })
  await devtools.send('Network.enable')
  await devtools.send('Network.setCacheDisabled', { cacheDisabled: true })
  await devtools.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: LATENCY_MS,
    downloadThroughput: DOWN_BYTES_S,
    uploadThroughput: UP_BYTES_S,
  })
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER })
  await page.addInitScript((name) => {
    const seen = { shown: 0, busyUntil: 0 }
    Object.assign(globalThis, { seen })
    new PerformanceObserver((list) => {
      for (const task of list.getEntries())
        seen.busyUntil = Math.max(seen.busyUntil, task.startTime + task.duration)
    }).observe({ type: 'longtask', buffered: true })
    const look = (): void => {
      const stands = [...document.querySelectorAll('button')].some((one) => one.textContent === name)
      if (stands) seen.shown = performance.now()
      else requestAnimationFrame(look)
    }
    requestAnimationFrame(look)
  }, button)
  await page.goto(url, { waitUntil: 'commit' })
  const read = await page.waitForFunction(
    (quiet) => {
      const { seen } = globalThis as unknown as { seen: { shown: number; busyUntil: number } }
      const ready = Math.max(seen.shown, seen.busyUntil)
      return seen.shown > 0 && performance.now() - ready > quiet && { shown: seen.shown, ready }
    },
    QUIET_MS,
    { timeout: 60_000, polling: 100 },
  )
  const found = await read.jsonValue()
  await leave()
  if (found === false) throw new Error('the view never came to rest')
  return {
    script_kB: sent.Script / 1000,
    all_kB: sent.all / 1000,
    shown_ms: found.shown,
    interactive_ms: found.ready,
  }
}

const middleOf = (runs: readonly Measured[], key: keyof Measured): number => {
  const sorted = runs.map((run) => run[key]).sort((a, b) => a - b)
  return Math.round(sorted[Math.floor(sorted.length / 2)] ?? Number.NaN)
}

const app = await startApp()
const browser = await openBrowser()
try {
  const demo = await fetch(`${app.url}api/demo`, {
    method: 'POST',
    headers: { origin: app.url.slice(0, -1) },
  })
  const { id } = (await demo.json()) as { id: string }
  const bare = await startApp()
  const rows: Record<string, Record<keyof Measured, number>> = {}
  for (const [view, url, button] of [
    ['first run', bare.url, 'Open the demo'],
    ['start a pour', `${bare.url}pours/new`, 'Plan it'],
    ['a plan', `${app.url}pours/${id}`, 'Print run sheet'],
  ] as const) {
    const runs: Measured[] = []
    for (let run = 0; run < RUNS; run += 1) runs.push(await measure(browser, url, button))
    rows[view] = {
      script_kB: middleOf(runs, 'script_kB'),
      all_kB: middleOf(runs, 'all_kB'),
      shown_ms: middleOf(runs, 'shown_ms'),
      interactive_ms: middleOf(runs, 'interactive_ms'),
    }
  }
  await bare.stop()
  console.table(rows)
} finally {
  await browser.close()
  await app.stop()
}
