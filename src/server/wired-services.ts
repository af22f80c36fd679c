import { existsSync, readFileSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { Worker } from 'node:worker_threads'
import type { LinearSolver } from '../engine/charge/make-up/index.ts'
import { pourFileSchema, readDocument, restsOnFile } from '../engine/documents/index.ts'
import { usualShop } from '../engine/materials/index.ts'
import { drawingLoaders } from './drawing-loaders.ts'
import { filesOf, type PrintOrder } from './print-order.ts'
import { runBeside } from './run-beside.ts'
import type { Demo, MeasureAsked, Services } from './services.ts'

/** Files over this are measured in a thread of their own, so that the page goes on being answered [bytes]. */
const largeModel = 512 * 1024

const measureHere = async (bytes: Uint8Array, name: string, asked: MeasureAsked): Promise<unknown> =>
  (await import('./measure-model-file.ts')).measureModelFile(bytes, name, asked)

const measureBeside = (bytes: Uint8Array, name: string, asked: MeasureAsked): Promise<unknown> =>
  new Promise((settle, fail) => {
    const worker = new Worker(new URL('./measure-worker.js', import.meta.url), {
      workerData: { bytes, name, asked },
    })
    worker.once('message', settle)
    worker.once('error', fail)
    worker.once('exit', (code) => fail(new Error(`the measuring thread ended early: got ${code}`)))
  })

/** Loaded at the first charge and kept. */
const solverOnce = (): (() => Promise<LinearSolver>) => {
  let loading: Promise<LinearSolver> | undefined
  return () => {
    loading ??= import('../solver/highs.ts').then(({ createHighsSolver }) => createHighsSolver())
    return loading
  }
}

const makeUpWith =
  (loadSolver: () => Promise<LinearSolver>): Services['makeUp'] =>
  async (asked) => {
    const { makeUpCharge } = await import('../engine/charge/make-up/index.ts')
    const { makeUpRequestSchema } = await import('./make-up-request.ts')
    const reading = readDocument(makeUpRequestSchema, asked)
    if (!reading.ok) return reading
    return { ok: true, answer: await makeUpCharge(reading.value, await loadSolver()) }
  }

/** Only a built program has it; from its sources everything is printed in the thread that is asked. */
const printWorker = new URL('./print-worker.js', import.meta.url)
const hasPrintWorker = printWorker.protocol === 'file:' && existsSync(printWorker)
/** Building the largest drawing takes some tens of seconds, and so may placing very many waxes. */
const longestPrint_ms = 120_000

const printWith =
  (loadSolver: () => Promise<LinearSolver>): Services['print'] =>
  async (asked) => {
    const { readModel, ...plain } = asked
    if (!hasPrintWorker)
      return (await import('./print-sheet.ts')).printSheet(asked, {
        ...(await drawingLoaders()),
        loadSolver,
      })
    const files = await filesOf(asked.pour.pieces, readModel)
    const order: PrintOrder = { print: 'sheet', asked: plain, files }
    return runBeside(printWorker, order, longestPrint_ms)
  }

const template: Services['template'] = async (asked) => {
  const { readModel, ...plain } = asked
  if (!hasPrintWorker)
    return (await import('./print-template.ts')).printPatternTemplate(asked, await drawingLoaders())
  const order: PrintOrder = {
    print: 'template',
    asked: plain,
    files: await filesOf([asked.piece], readModel),
  }
  return runBeside(printWorker, order, longestPrint_ms)
}

/** The example pour with its shop and models, as they lie beside the program. */
const readExample = (file: string): Demo => {
  const reading = readDocument(pourFileSchema, JSON.parse(readFileSync(file, 'utf8')))
  if (!reading.ok) {
    const [first] = reading.problems
    throw new Error(`the example pour should be a valid document: at ${first?.where}, ${first?.what}`)
  }
  const { shop, ...pour } = reading.value
  const names = new Set(pour.pieces.flatMap(({ source }) => (restsOnFile(source) ? [source.file] : [])))
  return {
    shop: shop ?? usualShop(),
    pours: [pour],
    models: [...names].map((name) => ({ name, bytes: readFileSync(join(dirname(file), name)) })),
  }
}

/** @param root the program's own folder */
export const wiredServices = (root: string): Services => {
  const loadSolver = solverOnce()
  const example = join(root, 'examples', 'cloak-clasp.json')
  const hasDemo = statSync(example, { throwIfNoEntry: false })?.isFile() === true
  return {
    measure: (bytes, name, asked) =>
      bytes.length > largeModel ? measureBeside(bytes, name, asked) : measureHere(bytes, name, asked),
    makeUp: makeUpWith(loadSolver),
    print: printWith(loadSolver),
    template,
    ...(hasDemo && { demo: async () => readExample(example) }),
  }
}
