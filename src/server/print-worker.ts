import { parentPort, workerData } from 'node:worker_threads'
import { createHighsSolver } from '../solver/highs.ts'
import { drawingLoaders } from './drawing-loaders.ts'
import type { PrintOrder } from './print-order.ts'
import { printSheet } from './print-sheet.ts'
import { printPatternTemplate } from './print-template.ts'
import type { Printed } from './services.ts'

const answer = async (order: PrintOrder): Promise<Printed> => {
  const loaders = await drawingLoaders()
  const readModel = async (sha256: string): Promise<Uint8Array | undefined> => order.files.get(sha256)
  return order.print === 'sheet'
    ? printSheet({ ...order.asked, readModel }, { ...loaders, loadSolver: async () => createHighsSolver() })
    : printPatternTemplate({ ...order.asked, readModel }, loaders)
}

parentPort?.postMessage(await answer(workerData as PrintOrder))
