// `npm test`: sets up whatever is missing, then runs every check in order, says what it does, and ends with
// one line of totals. Ends with a status other than 0 if anything failed.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { ensureDependencies } from './ensure.mjs'
import { root } from './root.mjs'

ensureDependencies()

const say = (line) => process.stdout.write(`${line}\n`)
const bin = (path) => join(root, 'node_modules', path)
const cache = join(root, '.cache')
mkdirSync(cache, { recursive: true })

/** Runs a program of Node's, its output passed on; `quiet` keeps it to be looked at. */
const runNode = (args, { quiet = false, env = {} } = {}) =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, args, {
      cwd: root,
      stdio: ['ignore', quiet ? 'pipe' : 'inherit', 'inherit'],
      env: { ...process.env, ...env },
    })
    let output = ''
    child.stdout?.setEncoding('utf8').on('data', (text) => {
      output += text
    })
    child.on('error', (error) => resolve({ status: 1, output: String(error) }))
    child.on('close', (status) => resolve({ status: status ?? 1, output }))
  })

const totals = { passed: 0, failed: 0 }
const failedSteps = []

const step = async (title, work) => {
  say(`\n== ${title}`)
  const started = performance.now()
  const passed = await work()
  const seconds = ((performance.now() - started) / 1000).toFixed(1)
  say(`${passed ? 'ok' : 'FAILED'}: ${title} (${seconds} s)`)
  if (!passed) failedSteps.push(title)
  return passed
}

const succeeds = async (args) => (await runNode(args)).status === 0

/** Runs one set of tests and adds its counts; a set without a single test has failed. */
const runTests = async (name, args, env) => {
  const report = join(cache, `${name}.json`)
  rmSync(report, { force: true })
  const { status } = await runNode(
    [
      bin('vitest/vitest.mjs'),
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
      ...args,
    ],
    { env },
  )
  if (!existsSync(report)) return false
  const { numPassedTests, numFailedTests } = JSON.parse(readFileSync(report, 'utf8'))
  totals.passed += numPassedTests
  totals.failed += numFailedTests
  if (numPassedTests + numFailedTests === 0) say('No test was run at all.')
  return status === 0 && numPassedTests > 0
}

const followMap = async () => {
  const cruiser = bin('dependency-cruiser/bin/dependency-cruise.mjs')
  const { status, output } = await runNode(
    [cruiser, 'src', '--config', join(root, '.dependency-cruiser.cjs')],
    { quiet: true },
  )
  say(output.trim())
  // Without a compiler it can use, the tool sees no module and finds every rule kept.
  const seen = Number(/(\d+) modules/.exec(output)?.[1] ?? 0)
  if (seen === 0) say('Not one module was looked at, so this says nothing.')
  return status === 0 && seen > 0
}

const buildAll = async () => {
  const { buildNode, buildWeb } = await import('./build.mjs')
  try {
    await buildNode()
    await buildWeb()
    return true
  } catch (error) {
    say(error instanceof Error ? error.message : String(error))
    return false
  }
}

const walkInBrowser = async () => {
  const files = existsSync(join(root, 'e2e'))
    ? readdirSync(join(root, 'e2e'), { recursive: true, encoding: 'utf8' })
    : []
  if (!files.some((name) => name.endsWith('.test.ts'))) {
    say('There are no browser tests in e2e/.')
    return false
  }
  const { findBrowser } = await import('./find-browser.mjs')
  const browser = await findBrowser()
  if (browser === undefined) {
    say('NO BROWSER: none by CHROME_PATH, none installed, none among the dependencies for this system.')
    say('The browser tests were NOT run. Install Chrome or Chromium, or set CHROME_PATH.')
    return process.env.CI === undefined
  }
  say(`Browser (${browser.from}): ${browser.executablePath}`)
  return runTests('e2e', ['--config', 'vitest.e2e.config.ts'], { CHROME_PATH: browser.executablePath })
}

await step('Types', () => succeeds([bin('ts7/bin/tsc'), '-p', root, '--noEmit']))
await step('Form and lint', () => succeeds([bin('@biomejs/biome/bin/biome'), 'check', '.']))
await step('Which way imports point', followMap)
await step('Nothing unused', () => succeeds([bin('knip/bin/knip.js'), '--no-progress']))
await step('Unit tests and published checks', () => runTests('unit', []))
if (await step('Build', buildAll)) await step('The main job in a real browser', walkInBrowser)

say('')
if (failedSteps.length > 0) say(`Failed: ${failedSteps.join('; ')}`)
// A step that failed outside the tests counts too: nothing failed must mean that everything passed.
const others = failedSteps.length > 0 && totals.failed === 0 ? failedSteps.length : 0
say(`${totals.passed} passed, ${totals.failed + others} failed`)
process.exitCode = failedSteps.length > 0 ? 1 : 0
