import { useMemo, useSyncExternalStore } from 'react'
import { type ArrangementFacts, arrangementKey } from '../../engine/arrangement-verdict.ts'
import type { Plan } from '../../engine/plan.ts'
import type { ArrangeAsk, Arranged, ArrangeTold } from '../arrange-worker.ts'

interface Kept {
  readonly found: Readonly<Record<string, Arranged>>
  /** what the plan takes of them */
  readonly facts: Readonly<Record<string, ArrangementFacts>>
  /** the tree that is being worked on */
  readonly working?: string
  readonly trouble?: string
}

const MOST_KEPT = 12

let kept: Kept = { found: {}, facts: {} }
let worker: Worker | undefined
const listeners = new Set<() => void>()

const set = (next: Kept): void => {
  kept = next
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

const finish = (next: Omit<Kept, 'working'>): void => {
  worker?.terminate()
  worker = undefined
  set(next)
}

/** Works out where the waxes go, away from the page; another tree pushes the one being worked on out. */
const start = (key: string, ask: ArrangeAsk): void => {
  worker?.terminate()
  worker = new Worker(new URL('../arrange-worker.ts', import.meta.url), { type: 'module' })
  set({ found: kept.found, facts: kept.facts, working: key })
  worker.onmessage = ({ data }: MessageEvent<ArrangeTold>) => {
    if ('failed' in data) {
      finish({ found: kept.found, facts: kept.facts, trouble: data.failed })
      return
    }
    const found = Object.fromEntries(
      [...Object.entries(kept.found).filter(([old]) => old !== key), [key, data] as const].slice(-MOST_KEPT),
    )
    finish({
      found,
      facts: Object.fromEntries(Object.entries(found).map(([old, { facts }]) => [old, facts])),
    })
  }
  worker.onerror = (event) => {
    const what = event.message === '' ? 'the program failed at this' : event.message
    finish({ found: kept.found, facts: kept.facts, trouble: what })
  }
  worker.postMessage(ask)
}

/** What arrangements are known, for the plan. */
export const useArrangementFacts = (): Kept['facts'] => useSyncExternalStore(subscribe, () => kept).facts

export interface ArrangementView {
  /** of this very tree */
  readonly arranged?: Arranged
  readonly working: boolean
  readonly trouble?: string
  start(ask: ArrangeAsk): void
}

export const useArrangement = (plan: Plan): ArrangementView => {
  const { found, working, trouble } = useSyncExternalStore(subscribe, () => kept)
  const key = useMemo(() => arrangementKey(plan), [plan])
  return { arranged: found[key], working: working === key, trouble, start: (ask) => start(key, ask) }
}
