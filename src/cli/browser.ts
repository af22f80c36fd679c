import { spawn } from 'node:child_process'

const commandFor = (url: string): [string, string[]] => {
  switch (process.platform) {
    case 'darwin':
      return ['open', [url]]
    case 'win32':
      return ['cmd', ['/c', 'start', '', url]]
    default:
      return ['xdg-open', [url]]
  }
}

/** Asks the desktop to show the address. The address is printed anyway, so a failure is no matter. */
export const openInBrowser = (url: string): void => {
  const [command, args] = commandFor(url)
  const child = spawn(command, args, { stdio: 'ignore', detached: true })
  child.on('error', () => undefined)
  child.unref()
}
