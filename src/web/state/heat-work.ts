import type { DesignedBurnout } from '../../engine/heat/index.ts'
import type { AskedOnce, HeatAsk, HeatTold, ToldOnce } from '../heat-worker.ts'

type Hear = (told: HeatTold | { readonly key: string; readonly passedOver: true }) => void

let worker: Worker | undefined
let busy: { readonly ask: HeatAsk; readonly hear: Hear } | undefined
let next: { readonly ask: HeatAsk; readonly hear: Hear } | undefined

const goOn = (): void => {
  if (busy !== undefined || next === undefined) return
  busy = next
  next = undefined
  worker ??= open()
  worker.postMessage(busy.ask)
}

const done = (told: HeatTold): void => {
  const { hear } = busy ?? {}
  busy = undefined
  hear?.(told)
  goOn()
}

const open = (): Worker => {
  const opened = new Worker(new URL('../heat-worker.ts', import.meta.url), { type: 'module' })
  opened.onmessage = ({ data }: MessageEvent<HeatTold>) => done(data)
  opened.onerror = (event) => {
    // a worker that fell is left, and the next question opens another
    event.preventDefault()
    opened.terminate()
    if (worker === opened) worker = undefined
    if (busy !== undefined) done({ key: busy.ask.key, failed: event.message })
  }
  return opened
}

/**
 * Solves a burnout aside from the page, one at a time; while one is under way only the newest waits, and an
 * older one that waited is passed over. Undefined for one passed over or failed: it may be asked again.
 */
export const solveBurnout = (ask: HeatAsk): Promise<DesignedBurnout | undefined> =>
  new Promise((settle) => {
    next?.hear({ key: next.ask.key, passedOver: true })
    next = { ask, hear: (told) => settle('answer' in told ? told.answer : undefined) }
    goOn()
  })

/** Asks a worker of its own, which ends with its answer. @throws what the worker fell over */
export const workOnce = (asked: AskedOnce): Promise<ToldOnce> =>
  new Promise((settle, fail) => {
    const opened = new Worker(new URL('../heat-worker.ts', import.meta.url), { type: 'module' })
    opened.onmessage = ({ data }: MessageEvent<ToldOnce>) => {
      opened.terminate()
      settle(data)
    }
    opened.onerror = (event) => {
      event.preventDefault()
      opened.terminate()
      fail(new Error(event.message))
    }
    opened.postMessage(asked)
  })
