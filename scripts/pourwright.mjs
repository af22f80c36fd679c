#!/usr/bin/env node
// The command line: builds itself when its sources changed, then answers. Nothing but the answer is written
// to standard output.
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { buildNode, buildWeb } from './build.mjs'
import { ensureDependencies } from './ensure.mjs'
import { root } from './root.mjs'

export const run = async (args) => {
  ensureDependencies()
  const folder = await buildNode()
  const serves = args[0] === 'open' && !args.includes('--help')
  const { runCommandLine } = await import(pathToFileURL(join(folder, 'main.js')).href)
  return runCommandLine(args, {
    write: (text) => process.stdout.write(text),
    tell: (line) => process.stderr.write(`${line}\n`),
    now: () => new Date(),
    root,
    webFolder: serves ? await buildWeb() : undefined,
  })
}

// A reader that stops early, such as `head`, is no fault.
process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error
})

const isStart = process.argv[1]?.endsWith('start.mjs') === true
const args = process.argv.slice(2)
try {
  process.exitCode = await run(isStart ? ['open', ...args] : args)
} catch (error) {
  // Bad input is worded by its command; what comes here is a fault of the program or of its build.
  process.stderr.write(
    `pourwright failed: ${error instanceof Error ? (error.stack ?? error.message) : error}\n`,
  )
  process.exitCode = 70
}
