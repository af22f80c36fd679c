import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

// A drawing surface without a graphics card, and pages isolated as they are for a user; what is not drawn in
// three dimensions is laid on the page without the detour over that surface, and what is drawn so has no smoothed
// edges, each at half the work. The sandbox cannot start as root, as which build machines run.
const args = [
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-gpu-compositing',
  '--webgl-antialiasing-mode=none',
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
]

const usualPlaces = {
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ],
  win32: [process.env.PROGRAMFILES, process.env['PROGRAMFILES(X86)'], process.env.LOCALAPPDATA]
    .filter((folder) => folder !== undefined)
    .map((folder) => join(folder, 'Google', 'Chrome', 'Application', 'chrome.exe')),
}

const names = ['google-chrome', 'google-chrome-stable', 'chromium', 'chromium-browser']

const installed = () => {
  const onPath = (process.env.PATH ?? '')
    .split(delimiter)
    .flatMap((folder) => names.map((name) => join(folder, name)))
  return [...(usualPlaces[process.platform] ?? []), ...onPath].find((path) => existsSync(path))
}

const packaged = async () => {
  if (process.platform !== 'linux') return undefined
  // It unpacks the system libraries that it needs only where it takes itself to run in this environment.
  process.env.AWS_EXECUTION_ENV ??= 'AWS_Lambda_nodejs22.x'
  try {
    const { default: chromium } = await import('@sparticuz/chromium')
    return await chromium.executablePath()
  } catch {
    return undefined
  }
}

/** A browser for the tests: CHROME_PATH, then an installed one, then the one among the dependencies. */
export const findBrowser = async () => {
  const given = process.env.CHROME_PATH
  if (given) {
    if (!existsSync(given)) throw new Error(`CHROME_PATH names ${given}, and there is nothing there`)
    return { executablePath: given, args, from: 'CHROME_PATH' }
  }
  const found = installed()
  if (found !== undefined) return { executablePath: found, args, from: 'installed' }
  const path = await packaged()
  return path === undefined ? undefined : { executablePath: path, args, from: 'packaged' }
}
