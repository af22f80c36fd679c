// Node built-ins only: this runs before anything is installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { root } from './root.mjs'

const leastNode = [20, 19]
const lockFile = join(root, 'package-lock.json')
const installedFile = join(root, 'node_modules', '.package-lock.json')
const stampFile = join(root, 'node_modules', '.pourwright-lock')

const say = (line) => process.stderr.write(`${line}\n`)

const requireNode = () => {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > leastNode[0] || (major === leastNode[0] && minor >= leastNode[1])) return
  say(`Pourwright needs Node ${leastNode.join('.')} or newer; this is ${process.versions.node}.`)
  process.exit(2)
}

const readIf = (file) => (existsSync(file) ? readFileSync(file, 'utf8') : undefined)

/** Whether somebody's own `npm ci` left every package at the version that the lock names. */
const isInstalled = (lockText) => {
  const installedText = readIf(installedFile)
  if (installedText === undefined) return false
  const installed = JSON.parse(installedText).packages
  return Object.entries(JSON.parse(lockText).packages).every(([path, wanted]) => {
    const got = installed[path]
    // packages for other systems are left out by the installer
    return path === '' || (got === undefined ? wanted.optional === true : got.version === wanted.version)
  })
}

/** Installs the dependencies if they are missing or not those of the lock, and says so. */
export const ensureDependencies = () => {
  requireNode()
  const lockText = readFileSync(lockFile, 'utf8')
  const lockHash = createHash('sha256').update(lockText).digest('hex')
  if (readIf(stampFile) === lockHash) return
  if (!isInstalled(lockText)) {
    say('Installing the dependencies (npm ci); this takes a minute or two, once.')
    // On Windows npm is a script of the shell. Its own words go to standard error, answers stay clean.
    const { status } = spawnSync('npm', ['ci', '--no-audit', '--no-fund'], {
      cwd: root,
      stdio: ['ignore', 2, 2],
      shell: process.platform === 'win32',
    })
    if (status !== 0) {
      say('The dependencies could not be installed; see above.')
      process.exit(2)
    }
  }
  writeFileSync(stampFile, lockHash)
}
