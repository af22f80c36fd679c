// Builds what is stale: the Node side into dist/node/HASH, the page into dist/web/HASH. The hash is of the
// sources' names, sizes and times, so a fresh build costs one walk over src, and two builds at once, or a
// build beside a running program, never share a folder.
import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, renameSync, rmSync, statSync, utimesSync } from 'node:fs'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { promisify } from 'node:util'
import { root } from './root.mjs'

const say = (line) => process.stderr.write(`${line}\n`)
const isThere = (path) => statSync(path, { throwIfNoEntry: false }) !== undefined

const addFolder = (hash, folder, isSkipped) => {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (isSkipped(path)) continue
    if (entry.isDirectory()) addFolder(hash, path, isSkipped)
    else {
      const { size, mtimeMs } = statSync(path)
      hash.update(`${path}\0${size}\0${mtimeMs}\n`)
    }
  }
}

const isTest = (path) => /\.test\.tsx?$/.test(path)

const fingerprint = (isSkipped, files) => {
  const hash = createHash('sha256').update(process.versions.node)
  addFolder(hash, join(root, 'src'), (path) => isTest(path) || isSkipped(path))
  for (const file of ['package.json', 'package-lock.json', 'scripts/build.mjs', ...files]) {
    const { size, mtimeMs } = statSync(join(root, file))
    hash.update(`${file}\0${size}\0${mtimeMs}\n`)
  }
  return hash.digest('hex').slice(0, 16)
}

/** Programs still running may load a part of an older build, so the last few stay. */
const keptBuilds = 3
const isBuild = /^[0-9a-f]{16}(\.part-\d+)?$/
const isUnfinished = (name) => name.includes('.part-')
const abandonedAfter_ms = 3_600_000

const dropOld = (folder) => {
  const builds = readdirSync(folder)
    .filter((name) => isBuild.test(name))
    .map((name) => ({ name, time: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => b.time - a.time)
  const finished = builds.filter(({ name }) => !isUnfinished(name)).slice(keptBuilds)
  const abandoned = builds.filter(
    ({ name, time }) => isUnfinished(name) && Date.now() - time > abandonedAfter_ms,
  )
  for (const { name } of [...finished, ...abandoned])
    rmSync(join(folder, name), { recursive: true, force: true })
}

/** The folder of the build of these sources, made by `make` if it is not there. */
const built = async (kind, hash, make) => {
  const folder = join(root, 'dist', kind)
  const finished = join(folder, hash)
  if (isThere(finished)) return finished
  const part = join(folder, `${hash}.part-${process.pid}`)
  mkdirSync(part, { recursive: true })
  try {
    await make(part)
    const now = new Date()
    utimesSync(part, now, now)
    renameSync(part, finished)
  } catch (error) {
    rmSync(part, { recursive: true, force: true })
    // another process built the same sources at the same moment
    if (!isThere(finished)) throw error
  }
  dropOld(folder)
  return finished
}

/** The command line and the server. Packages with native code, WebAssembly or data files stay outside. */
export const buildNode = () => {
  const web = join(root, 'src', 'web')
  const hash = fingerprint((path) => path === web, [])
  return built('node', hash, async (outdir) => {
    const { build } = await import('esbuild')
    await build({
      entryPoints: [
        { in: join(root, 'src/cli/main.ts'), out: 'main' },
        { in: join(root, 'src/server/measure-worker.ts'), out: 'measure-worker' },
        { in: join(root, 'src/server/print-worker.ts'), out: 'print-worker' },
      ],
      outdir,
      bundle: true,
      splitting: true,
      platform: 'node',
      target: 'node20',
      format: 'esm',
      minifySyntax: true,
      external: ['@photostructure/sqlite', 'highs', 'manifold-3d', 'pdfkit'],
      banner: {
        js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);",
      },
      logLevel: 'error',
    })
  })
}

const packed = /\.(html|js|css|json|svg|wasm|webmanifest|txt)$/

/** Each file also as gzip and brotli, so that the server only has to choose. */
const pack = async (folder) => {
  const zlib = await import('node:zlib')
  const [gzip, brotli] = [promisify(zlib.gzip), promisify(zlib.brotliCompress)]
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    if (!packed.test(name)) continue
    const file = join(folder, name)
    const bytes = await readFile(file)
    if (bytes.length < 1024) continue
    const quality = { params: { [zlib.constants.BROTLI_PARAM_QUALITY]: bytes.length > 1_000_000 ? 9 : 11 } }
    const [small, smaller] = await Promise.all([gzip(bytes, { level: 9 }), brotli(bytes, quality)])
    if (small.length < bytes.length) await writeFile(`${file}.gz`, small)
    if (smaller.length < bytes.length) await writeFile(`${file}.br`, smaller)
  }
}

/** The page. */
export const buildWeb = () => {
  const outside = ['cli', 'server', 'store', 'print'].map((name) => join(root, 'src', name))
  const hash = fingerprint((path) => outside.includes(path), ['vite.config.ts'])
  return built('web', hash, async (outDir) => {
    say('Building the page; a few seconds, once.')
    const { build } = await import('vite')
    await build({
      root: join(root, 'src', 'web'),
      configFile: join(root, 'vite.config.ts'),
      logLevel: 'warn',
      build: { outDir, emptyOutDir: true },
    })
    await pack(outDir)
  })
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { ensureDependencies } = await import('./ensure.mjs')
  ensureDependencies()
  say(await buildNode())
  say(await buildWeb())
}
