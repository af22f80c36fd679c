import { Worker } from 'node:worker_threads'
import type { Printed } from './services.ts'

/**
 * Runs a worker on one order, so that the page goes on being answered, and lets it go when it is done or takes
 * longer than `limit_ms`.
 * @returns rejects where the thread falls
 */
export const runBeside = <Plan>(worker: URL, order: unknown, limit_ms: number): Promise<Printed<Plan>> =>
  new Promise((settle, fail) => {
    const thread = new Worker(worker, { workerData: order })
    const limit = setTimeout(() => {
      settle(tookTooLong(limit_ms))
      void thread.terminate()
    }, limit_ms)
    thread.once('message', settle)
    thread.once('error', fail)
    thread.once('exit', (code) => {
      clearTimeout(limit)
      fail(new Error(`the printing thread ended early: got ${code}`))
    })
  })

const tookTooLong = (limit_ms: number): Printed<never> => ({
  ok: false,
  problems: [
    {
      where: 'the sheet',
      what: `it was still being worked out after ${Math.round(limit_ms / 1000)} seconds, and was left`,
      remedy: 'simplify the lines of its drawings, or pour fewer pieces at once',
    },
  ],
})
