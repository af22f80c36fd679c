import { useMemo, useSyncExternalStore } from 'react'
import type { DrawnSheet } from '../../engine/arrange/index.ts'
import { type ArrangementFacts, arrangementKey } from '../../engine/arrangement-verdict.ts'
import type { Given, Plan } from '../../engine/plan.ts'
import type {
  Arranged,
  ArrangeJob,
  ArrangeTold,
  DrawnShape,
  Followed,
  SheetAsked,
} from '../arrange-worker.ts'

interface Kept {
  readonly found: Readonly<Record<string, Arranged>>
  /** what the plan takes of them */
  readonly facts: Readonly<Record<string, ArrangementFacts>>
  readonly shapes: Readonly<Record<string, DrawnShape>>
  /** the metal as one closed solid, as a file */
  readonly bodies: Readonly<Record<string, Uint8Array>>
  readonly investment?: { readonly key: string; readonly shape: DrawnShape }
  readonly sheet?: SheetAsked & DrawnSheet
  /** places before they were found anew, by the tree */
  readonly before: Readonly<Record<string, Arranged>>
  /** the tree that is to be worked on, once it has stood unchanged for a moment */
  readonly soon?: string
  /** the tree that is being worked on */
  readonly working?: string
  /** the tree whose metal is being measured: it has places, and the plan reckons with them only after */
  readonly weighing?: string
  /** what is shown while a hand's change is being settled */
  readonly settling?: Arranged
  readonly followed?: Followed
  readonly trouble?: string
}

const MOST_KEPT = 40
const MOST_BODIES = 4

let kept: Kept = { found: {}, facts: {}, shapes: {}, bodies: {}, before: {} }
/** Trees whose places could not be worked out: tried again only when asked. */
const failed = new Set<string>()
let pause: ReturnType<typeof setTimeout> | undefined
let worker: Worker | undefined
const listeners = new Set<() => void>()

const set = (next: Partial<Kept>): void => {
  kept = { ...kept, ...next }
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

const latest = <T>(
  all: Readonly<Record<string, T>>,
  key: string,
  value: T,
  most: number,
): Record<string, T> =>
  Object.fromEntries(
    [...Object.entries(all).filter(([old]) => old !== key), [key, value] as const].slice(-most),
  )

/** @param weighing  its metal is still to be measured, and the plan takes it only whole */
const keep = (arranged: Arranged, weighing: boolean): void => {
  const { key } = arranged
  const found = latest(kept.found, key, arranged, MOST_KEPT)
  const told = Object.entries(found).filter(([old]) => !(weighing && old === key))
  set({
    found,
    facts: Object.fromEntries(told.map(([old, { facts }]) => [old, facts])),
    working: undefined,
    weighing: weighing ? key : undefined,
    settling: undefined,
    trouble: undefined,
  })
}

let following = 0
let waiting: ArrangeJob | undefined
let outstanding = 0

const hear = (told: ArrangeTold): void => {
  if ('arranged' in told) {
    set({ shapes: { ...kept.shapes, ...told.shapes }, followed: undefined })
    keep(told.arranged, told.arranged.arrangement?.flask != null)
  } else if ('bodyOf' in told) {
    const { body, measured, problem, bodyOf } = told
    if (body !== undefined) set({ bodies: latest(kept.bodies, bodyOf, body, MOST_BODIES) })
    const arranged = kept.found[bodyOf]
    if (arranged !== undefined) {
      const facts = measured === undefined ? arranged.facts : { ...arranged.facts, measured }
      const problems = problem === undefined ? arranged.problems : [...arranged.problems, problem]
      set({
        found: { ...kept.found, [bodyOf]: { ...arranged, facts, problems } },
        facts: { ...kept.facts, [bodyOf]: facts },
      })
    }
    if (kept.weighing === bodyOf) set({ weighing: undefined })
  } else if ('followed' in told) {
    outstanding = 0
    if (told.followed.id <= following) set({ followed: told.followed })
    const next = waiting
    waiting = undefined
    if (next !== undefined) send(next)
  } else if ('investmentOf' in told) {
    const { investment, investmentOf, problem } = told
    if (investment !== undefined) set({ investment: { key: investmentOf, shape: investment } })
    if (problem !== undefined) set({ trouble: problem.what })
  } else if ('drawn' in told) set({ sheet: told.drawn })
  else fail(told.failed)
}

const fail = (trouble: string): void => {
  if (kept.working !== undefined) failed.add(kept.working)
  set({ working: undefined, weighing: undefined, settling: undefined, trouble })
}

const stop = (): void => {
  const { weighing, found } = kept
  // what was not measured yet is to be found again, or its plan would stand by outside boxes for good
  if (weighing !== undefined)
    set({
      weighing: undefined,
      found: Object.fromEntries(Object.entries(found).filter(([key]) => key !== weighing)),
    })
  worker?.terminate()
  worker = undefined
  outstanding = 0
  waiting = undefined
}

const send = (job: ArrangeJob): void => {
  if (worker === undefined) {
    const made = new Worker(new URL('../arrange-worker.ts', import.meta.url), { type: 'module' })
    made.onmessage = ({ data }: MessageEvent<ArrangeTold>) => {
      // what a worker that was stopped still had to tell is of another tree
      if (made === worker) hear(data)
    }
    made.onerror = (event) => {
      stop()
      fail(event.message === '' ? 'the program failed at this' : event.message)
    }
    worker = made
  }
  if (job.do === 'follow') outstanding = job.id
  worker.postMessage(job)
}

/** What was to be worked on soon is of another tree by now, or is begun. */
const waitNoMore = (): void => {
  clearTimeout(pause)
  if (kept.soon !== undefined) set({ soon: undefined })
}

/** Works out where the waxes go, away from the page; another tree pushes the one being worked on out. */
const start = (key: string, job: Extract<ArrangeJob, { do: 'arrange' }>): void => {
  waitNoMore()
  if (kept.working !== undefined) stop()
  const old = kept.found[key]
  set({
    working: key,
    trouble: undefined,
    ...(old !== undefined && { before: latest(kept.before, key, old, MOST_KEPT) }),
  })
  send(job)
}

/** A hand's change, on what is shown: places that were being found for the tree before it are not waited for. */
const settle = (shown: Arranged, job: Extract<ArrangeJob, { do: 'settle' }>): void => {
  waitNoMore()
  if (kept.working !== undefined) stop()
  waiting = undefined
  set({ working: undefined, settling: shown, trouble: undefined })
  send(job)
}

/** One question at a time is out; of those asked meanwhile only the last is of interest. */
const follow = (job: Omit<Extract<ArrangeJob, { do: 'follow' }>, 'do' | 'id'>): void => {
  following += 1
  const asked: ArrangeJob = { ...job, do: 'follow', id: following }
  if (outstanding > 0) waiting = asked
  else send(asked)
}

/** Answers still under way are of a hand that has let go. */
const letGo = (): void => {
  waiting = undefined
  following += 1
  set({ followed: undefined })
}

const putBack = (key: string): void => {
  const old = kept.before[key]
  const now = kept.found[key]
  if (old === undefined || now === undefined) return
  set({ before: latest(kept.before, key, now, MOST_KEPT) })
  keep(old, false)
}

/** Long enough that places are looked for once for a row of changes, and not for each. */
const PAUSE_MS = 400

/**
 * Every page reckons with a place for each wax, so they are looked for without being asked for.
 * @param measuring  a shape is still being measured, and the places wait for it
 * @returns whether places of this tree are still to come, so that what rests on them had better wait
 */
export const placeWaxes = (plan: Plan, given: Given, measuring: boolean): boolean => {
  const { shop, pour } = plan
  if (pour.pieces.length === 0 || measuring || kept.settling !== undefined) {
    waitNoMore()
    return pour.pieces.length > 0
  }
  const key = arrangementKey(plan)
  if (kept.soon === key || kept.working === key || kept.weighing === key) return true
  waitNoMore()
  if (kept.found[key] !== undefined || failed.has(key)) return false
  set({ soon: key })
  const ask = { shop, pour, now: given.now, meshes: given.meshes ?? {} }
  pause = setTimeout(() => start(key, { do: 'arrange', ask }), PAUSE_MS)
  return true
}

/** What arrangements are known, for the plan. */
export const useArrangementFacts = (): Kept['facts'] => useSyncExternalStore(subscribe, () => kept).facts

/** Whether places are being worked out or what stands in them is measured, for figures that will rest on them; or why not. */
export const useArrangementWorking = (): { readonly seeking: boolean; readonly trouble?: string } => {
  const { soon, working, settling, weighing, trouble } = useSyncExternalStore(subscribe, () => kept)
  return { seeking: [soon, working, settling, weighing].some((one) => one !== undefined), trouble }
}

export interface ArrangementView {
  /** of this very tree, or the one before it while a change of the hand is being settled */
  readonly arranged?: Arranged
  readonly shapes: Kept['shapes']
  readonly body?: Uint8Array
  readonly investment?: DrawnShape
  readonly sheet?: Kept['sheet']
  readonly working: boolean
  readonly settling: boolean
  /** places that were before these were found anew */
  readonly hasBefore: boolean
  readonly followed?: Followed
  readonly trouble?: string
  start(job: Extract<ArrangeJob, { do: 'arrange' }>): void
  settle: typeof settle
  follow: typeof follow
  letGo: typeof letGo
  putBack(): void
  askInvestment(job: Extract<ArrangeJob, { do: 'investment' }>): void
  askSheet(job: Extract<ArrangeJob, { do: 'draw' }>): void
}

export const useArrangement = (plan: Plan): ArrangementView => {
  const all = useSyncExternalStore(subscribe, () => kept)
  const key = useMemo(() => arrangementKey(plan), [plan])
  const { found, soon, working, settling, investment } = all
  const arranged = settling ?? found[key]
  return {
    arranged,
    shapes: all.shapes,
    body: all.bodies[key],
    ...(investment?.key === key && { investment: investment.shape }),
    ...(all.sheet?.key === arranged?.key && { sheet: all.sheet }),
    working: working === key || soon === key,
    settling: settling !== undefined,
    hasBefore: all.before[key] !== undefined,
    followed: all.followed,
    trouble: all.trouble,
    start: (job) => start(key, job),
    settle,
    follow,
    letGo,
    putBack: () => putBack(key),
    askInvestment: send,
    askSheet: send,
  }
}
