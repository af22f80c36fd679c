import { useMemo, useSyncExternalStore } from 'react'
import type { DrawnSheet } from '../../engine/arrange/index.ts'
import { type ArrangementFacts, arrangementKey, NOT_WORKED_OUT } from '../../engine/arrangement-verdict.ts'
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
  /** why a tree's places could not be worked out, by the tree: tried again only when asked, or when a pour is opened */
  readonly troubles: Readonly<Record<string, string>>
  /** why something else could not */
  readonly trouble?: string
}

const MOST_KEPT = 40
const MOST_BODIES = 4

let kept: Kept = { found: {}, facts: {}, shapes: {}, bodies: {}, before: {}, troubles: {} }
let pause: ReturnType<typeof setTimeout> | undefined
let worker: Worker | undefined
const listeners = new Set<() => void>()

/** A tree whose places could not be worked out, as the plan tells it. */
const unplaced = (trouble: string): ArrangementFacts => ({
  fits: false,
  flask: null,
  tightest: null,
  minds: [],
  stop: {
    kind: NOT_WORKED_OUT,
    what: `It could not be worked out: ${trouble}`,
    remedy: 'have it worked out again, on the flask’s page',
  },
})

/** Of a tree whose metal is still to be measured the plan is told nothing yet: it takes it only whole. */
const factsOf = ({ found, troubles, weighing }: Omit<Kept, 'facts'>): Kept['facts'] =>
  Object.fromEntries([
    ...Object.entries(troubles).map(([key, trouble]) => [key, unplaced(trouble)] as const),
    ...Object.entries(found).flatMap(([key, { facts }]) => (key === weighing ? [] : [[key, facts] as const])),
  ])

const set = (next: Partial<Omit<Kept, 'facts'>>): void => {
  const old = kept
  kept = { ...kept, ...next }
  const isTold = (['found', 'troubles', 'weighing'] as const).every((of) => kept[of] === old[of])
  if (!isTold) kept = { ...kept, facts: factsOf(kept) }
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

/** @param weighing  its metal is still to be measured */
const keep = (arranged: Arranged, weighing: boolean): void => {
  const { key } = arranged
  set({
    found: latest(kept.found, key, arranged, MOST_KEPT),
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
        ...(kept.weighing === bodyOf && { weighing: undefined }),
      })
    }
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
  else fell(told.failed, told.at)
}

const troubleAt = (key: string | undefined, trouble: string): Partial<Kept> =>
  key === undefined ? { trouble } : { troubles: { ...kept.troubles, [key]: trouble } }

/** A job that fell: jobs are done in turn, so it is of the tree that is being measured, if one is. */
const fell = (trouble: string, at: ArrangeJob['do']): void => {
  const { weighing, working } = kept
  if (at !== 'arrange' && at !== 'settle') set({ trouble })
  // its places are known all the same, and the plan judges them
  else if (weighing !== undefined) set({ weighing: undefined, ...troubleAt(weighing, trouble) })
  // the plan is made anew, and finds that the tree the hand left has no places yet
  else if (at === 'settle') set({ settling: undefined, trouble, found: { ...kept.found } })
  else set({ working: undefined, ...troubleAt(working, trouble) })
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
      const at = kept.working ?? kept.weighing
      stop()
      const trouble = event.message === '' ? 'the program failed at this' : event.message
      set({ working: undefined, settling: undefined, found: { ...kept.found }, ...troubleAt(at, trouble) })
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
  // places whose metal is not measured yet are not put back: nothing would measure them
  const old = kept.facts[key] === undefined ? undefined : kept.found[key]
  const { [key]: _past, ...troubles } = kept.troubles
  set({
    working: key,
    trouble: undefined,
    troubles,
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
  if (kept.soon === key) return true
  waitNoMore()
  if (kept.working === key || kept.weighing === key) return true
  if (kept.found[key] !== undefined || kept.troubles[key] !== undefined) return false
  set({ soon: key })
  const ask = { shop, pour, now: given.now, meshes: given.meshes ?? {} }
  pause = setTimeout(() => start(key, { do: 'arrange', ask }), PAUSE_MS)
  return true
}

/** What arrangements are known, for the plan. */
export const arrangementFacts = (): Kept['facts'] => kept.facts
export const useArrangementFacts = (): Kept['facts'] => useSyncExternalStore(subscribe, arrangementFacts)

/** What failed for a reason that may pass is tried again when a pour is opened: a file may have come meanwhile. */
export const forgetTroubles = (): void =>
  set({
    troubles: {},
    found: Object.fromEntries(
      Object.entries(kept.found).filter(([, { arrangement }]) => arrangement !== undefined),
    ),
  })

/** Whether places of this tree are to come: told from the first moment on, before they are begun to be looked for. */
export const isSought = (tree: Plan): boolean => {
  const { found, troubles, working, settling, weighing } = kept
  if (settling !== undefined) return true
  if (tree.pour.pieces.length === 0) return false
  const key = arrangementKey(tree)
  const isKnown = found[key] !== undefined || troubles[key] !== undefined
  return !isKnown || working === key || weighing === key
}

/** Whether places of this plan's tree are still to come, for figures that will rest on them. */
export const usePlacing = (plan: Plan): boolean =>
  useSyncExternalStore(subscribe, () => isSought(plan)) && plan.arranged?.meanwhile !== false

/** Whether these places are a hand's that are written in no pour: a sheet would be printed of others. */
export const useOnlyHere = (plan: Plan): boolean =>
  useSyncExternalStore(subscribe, () => kept).found[arrangementKey(plan)]?.onlyHere === true

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
    trouble: all.troubles[key] ?? all.trouble,
    start: (job) => start(key, job),
    settle,
    follow,
    letGo,
    putBack: () => putBack(key),
    askInvestment: send,
    askSheet: send,
  }
}
