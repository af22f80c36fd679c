import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))

/** A file of the checkout, by its path from the root. */
export const fileOf = (path: string): string => join(root, path)

export interface App {
  /** with a slash at its end */
  readonly url: string
  stop(): Promise<void>
}

const spoken = (program: ChildProcess): Promise<string> =>
  new Promise((settle, fail) => {
    let said = ''
    const hear = (text: string): void => {
      said += text
      const url = /http:\/\/localhost:\d+\//.exec(said)?.[0]
      if (url !== undefined) settle(url)
    }
    program.stdout?.setEncoding('utf8').on('data', hear)
    program.stderr?.setEncoding('utf8').on('data', hear)
    program.once('error', fail)
    program.once('exit', (status) => fail(new Error(`the app ended with status ${status}: ${said}`)))
  })

const ended = (program: ChildProcess): Promise<void> =>
  new Promise((settle) => {
    if (program.exitCode !== null || program.signalCode !== null) settle()
    else program.once('exit', () => settle())
  })

/** Starts the program as a caster would, with a data folder that is empty and a port that is free. */
export const startApp = async (): Promise<App> => {
  const folder = await mkdtemp(join(tmpdir(), 'pourwright-e2e-'))
  // what says to this process that it is a test would have a stale page built otherwise than a caster's
  const { NODE_ENV: _, ...env } = process.env
  const program = spawn(
    process.execPath,
    [fileOf('scripts/start.mjs'), '--data', folder, '--port', '0', '--no-browser'],
    { cwd: root, env, stdio: ['ignore', 'pipe', 'pipe'] },
  )
  const stop = async (): Promise<void> => {
    program.kill('SIGTERM')
    await ended(program)
    await rm(folder, { recursive: true, force: true })
  }
  try {
    return { url: await spoken(program), stop }
  } catch (error) {
    await stop()
    throw error
  }
}
