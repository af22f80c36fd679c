import { expect, test } from 'vitest'
import { runBeside } from './run-beside.ts'

const threadOf = (text: string): URL => new URL(`data:text/javascript,${encodeURIComponent(text)}`)

test('a thread answers with what it was ordered', async () => {
  const echo = threadOf(`
    import { parentPort, workerData } from 'node:worker_threads'
    parentPort.postMessage({ ok: true, pdf: workerData.bytes, plan: undefined })`)
  const bytes = Uint8Array.of(1, 2, 3)
  expect(await runBeside(echo, { bytes }, 20_000)).toEqual({ ok: true, pdf: bytes, plan: undefined })
})

test('a thread that never ends is let go after its limit, and says what to do', async () => {
  const began = performance.now()
  const printed = await runBeside(threadOf('for (;;);'), {}, 300)
  expect(performance.now() - began).toBeLessThan(10_000)
  expect(printed).toMatchObject({ ok: false, problems: [{ remedy: expect.stringContaining('simplify') }] })
})

test('a thread that falls is told as a fault of ours', async () => {
  await expect(runBeside(threadOf('throw new Error("fell")'), {}, 20_000)).rejects.toThrow('fell')
})
