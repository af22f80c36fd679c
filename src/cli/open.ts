import { parseArgs } from 'node:util'
import { badArguments, type ExitStatus, refuse, type Shell } from './command.ts'

export const summary = 'starts the app on this computer and opens it in the browser'

export const usage = `pourwright open [--port N] [--data DIR] [--host NAME] [--no-browser]

  --port N      4747 otherwise, or the next that is free; 0 takes any
  --data DIR    where everything is kept; a folder of your own otherwise
  --host NAME   the address to listen on: 127.0.0.1, this computer only, unless you say otherwise
  --no-browser  only print the address`

const loopback = new Set(['127.0.0.1', 'localhost', '::1'])

const parse = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    options: {
      port: { type: 'string' },
      data: { type: 'string' },
      host: { type: 'string', default: '127.0.0.1' },
      'no-browser': { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
    },
  })

/** Runs until it is told to stop. */
const untilStopped = (): Promise<void> =>
  new Promise((resolve) => {
    process.once('SIGINT', () => resolve())
    process.once('SIGTERM', () => resolve())
  })

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  let parsed: ReturnType<typeof parse>
  try {
    parsed = parse(args)
  } catch (error) {
    return badArguments(shell, args, error, usage)
  }
  const { host, data, json, port: asked } = parsed.values
  const port = asked === undefined ? undefined : Number(asked)
  if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65_535))
    return refuse(shell, json, [
      { where: '--port', what: `"${asked}" is not a port`, remedy: 'give a number from 0 to 65535' },
    ])
  if (!loopback.has(host))
    shell.tell(
      `Warning: with --host ${host} everybody on this network can read and change the shop's records.`,
    )
  // The signals are watched from here on, so that one that comes while starting still ends it tidily.
  const stopped = untilStopped()
  const { startServer } = await import('../server/index.ts')
  const started = await startServer({
    folder: data,
    host,
    port,
    root: shell.root,
    webFolder: shell.webFolder,
    onFault: (error) => shell.tell(String(error instanceof Error ? (error.stack ?? error) : error)),
  })
  if (!started.ok) return refuse(shell, json, [started.problem])
  shell.write(`Pourwright is at ${started.url}\n`)
  if (!parsed.values['no-browser'] && process.stdout.isTTY === true && process.env.CI === undefined) {
    const { openInBrowser } = await import('./browser.ts')
    openInBrowser(started.url)
  }
  await stopped
  await started.close()
  return 0
}
