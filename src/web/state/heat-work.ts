import type { AskedOnce, HeatAsk, HeatKind, HeatTold, HeatWork, ToldOnce } from '../heat-worker.ts'

type Hear = (told: HeatTold | { readonly key: string; readonly passedOver: true }) => void
interface Waiting {
  readonly ask: HeatAsk
  readonly hear: Hear
}

let worker: Worker | undefined
let busy: Waiting | undefined
/** the newest of each kind that waits */
const next = new Map<HeatKind, Waiting>()

const goOn = (): void => {
  const [first] = next.values()
  if (busy !== undefined || first === undefined) return
  busy = first
  next.delete(first.ask.kind)
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
 * Solves aside from the page, one at a time; while one is under way only the newest of each kind waits, and an
 * older one that waited is passed over. Undefined for one passed over or failed: it may be asked again.
 */
const solve = (ask: HeatAsk): Promise<HeatWork[HeatKind]['answer'] | undefined> =>
  new Promise((settle) => {
    next.get(ask.kind)?.hear({ key: ask.key, passedOver: true })
    next.set(ask.kind, { ask, hear: (told) => settle('answer' in told ? told.answer : undefined) })
    goOn()
  })

export const solveBurnout = (
  key: string,
  question: HeatWork['burnout']['question'],
): Promise<HeatWork['burnout']['answer'] | undefined> =>
  solve({ kind: 'burnout', key, question }) as Promise<HeatWork['burnout']['answer'] | undefined>

export const solveCooling = (
  key: string,
  question: HeatWork['cooling']['question'],
): Promise<HeatWork['cooling']['answer'] | undefined> =>
  solve({ kind: 'cooling', key, question }) as Promise<HeatWork['cooling']['answer'] | undefined>

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
