import { parentPort, workerData } from 'node:worker_threads'
import { measureModelFile } from './measure-model-file.ts'
import type { MeasureAsked } from './services.ts'

const { bytes, name, asked } = workerData as { bytes: Uint8Array; name: string; asked: MeasureAsked }
parentPort?.postMessage(await measureModelFile(bytes, name, asked))
