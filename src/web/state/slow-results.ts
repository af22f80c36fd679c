import { useCallback, useEffect, useRef, useSyncExternalStore } from 'react'
import type { ChargeAnswer } from '../../engine/charge/make-up/index.ts'
import type { CooledFlask, DesignedBurnout } from '../../engine/heat/index.ts'
import { factsOf, type MeshFacts } from '../../engine/piece/mesh-facts.ts'
import { isShape, type Plan } from '../../engine/plan.ts'
import { measureModel, workOutMakeUp } from './api.ts'
import { solveBurnout, solveCooling } from './heat-work.ts'
import type { ModelAnswer } from './model-facts.ts'

export interface SlowResults {
  readonly meshes: Readonly<Record<string, MeshFacts>>
  readonly makeUps: Readonly<Record<string, ChargeAnswer>>
  readonly burnouts: Readonly<Record<string, DesignedBurnout>>
  readonly coolings: Readonly<Record<string, CooledFlask>>
  /** some shapes have their weight, and their walls are still being measured */
  readonly rough: boolean
}

/** Results outlive a page, since their keys name their inputs: coming back finds them ready. */
let known: Omit<SlowResults, 'rough'> = { meshes: {}, makeUps: {}, burnouts: {}, coolings: {} }
/** by piece: what stands until the walls of its newest shape are measured */
const rough = new Map<string, { readonly key: string; readonly facts: MeshFacts }>()
let current: SlowResults = { ...known, rough: false }

/** Every page that stands is told, whichever of them asked: it may have been left since. */
const listeners = new Set<() => void>()
const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

const gather = (): void => {
  const meantime = Object.fromEntries([...rough.values()].map(({ key, facts }) => [key, facts]))
  current = { ...known, meshes: { ...meantime, ...known.meshes }, rough: rough.size > 0 }
  for (const listener of listeners) listener()
}
const asked = new Set<string>()
/** What could not be worked out, for a reason that may pass: it stands until a page is next opened. */
const failed = new Set<string>()

const forgetFailures = (): void => {
  if (failed.size === 0) return
  for (const key of failed) asked.delete(key)
  known = {
    ...known,
    meshes: Object.fromEntries(Object.entries(known.meshes).filter(([key]) => !failed.has(key))),
  }
  failed.clear()
  gather()
}

const unreadable = (file: string, trouble: Error): MeshFacts => ({
  volume_mm3: null,
  area_mm2: null,
  bounds_mm: null,
  thickness_mm: null,
  problems: [{ what: trouble.message, where: file, remedy: 'choose the file again' }],
})

const withoutBytes = (file: string): MeshFacts =>
  unreadable(file, new Error('the pour names this drawing, and its bytes are not here'))

/** Pause before a make-up is asked for, so that one is worked out for the number typed and not for each digit. */
const PAUSE_MS = 250

export interface SlowResultsAsked {
  readonly results: SlowResults
  /** @param placing  the waxes get other places yet: what rests on the flask and its metal waits for them */
  work(plan: Plan, placing: boolean): void
}

/** Hands the plan what has been worked out, and asks for what it still wants. */
export const useSlowResults = (): SlowResultsAsked => {
  const results = useSyncExternalStore(subscribe, () => current)
  const timers = useRef(new Map<string, ReturnType<typeof setTimeout>>())
  useEffect(forgetFailures, [])
  const work = useCallback((plan: Plan, placing: boolean): void => {
    for (const wanted of plan.wanted) {
      if (asked.has(wanted.key) || (placing && !isShape(wanted))) continue
      if (wanted.kind === 'mesh') {
        const source = plan.pour.pieces[wanted.pieceIndex]?.source
        if (source?.from !== 'mesh' || source.sha256 === undefined) continue
        asked.add(wanted.key)
        measureModel<ModelAnswer>(source.sha256, {
          name: source.file,
          units: source.units,
          acceptRepair: source.acceptRepair,
        })
          .then(factsOf)
          .catch((trouble: Error) => {
            failed.add(wanted.key)
            return unreadable(source.file, trouble)
          })
          .then((facts) => {
            known = { ...known, meshes: { ...known.meshes, [wanted.key]: facts } }
            gather()
          })
        continue
      }
      if (wanted.kind === 'pattern') {
        const piece = plan.pour.pieces[wanted.pieceIndex]
        if (piece?.source.from !== 'pattern') continue
        const { id, source } = piece
        asked.add(wanted.key)
        void import('./pattern-work.ts')
          .then(async ({ factsOfDrawing, hasFailed }) => {
            const meantime = (facts: MeshFacts): void => {
              rough.set(id, { key: wanted.key, facts })
              gather()
            }
            const facts = await (factsOfDrawing({ id, source }, meantime) ?? withoutBytes(source.file))
            if (facts !== undefined && hasFailed(facts)) failed.add(wanted.key)
            return facts
          })
          .then((facts) => {
            if (rough.get(id)?.key === wanted.key) rough.delete(id)
            // newer heights came first; should these ever stand again, they are asked for again
            if (facts === undefined) asked.delete(wanted.key)
            else known = { ...known, meshes: { ...known.meshes, [wanted.key]: facts } }
            gather()
          })
        continue
      }
      if (wanted.kind === 'burnout') {
        const { asked: question } = plan.burnout
        if (question === undefined) continue
        asked.add(wanted.key)
        void solveBurnout(wanted.key, question.question).then((answer) => {
          // passed over for a newer one, or failed: the rule stays and stays marked; the next change asks again
          if (answer === undefined) asked.delete(wanted.key)
          else {
            known = { ...known, burnouts: { ...known.burnouts, [wanted.key]: answer } }
            gather()
          }
        })
        continue
      }
      if (wanted.kind === 'cooling') {
        const { asked: question } = plan.quench
        if (question === undefined) continue
        asked.add(wanted.key)
        void solveCooling(wanted.key, question.question).then((answer) => {
          if (answer === undefined) asked.delete(wanted.key)
          else {
            known = { ...known, coolings: { ...known.coolings, [wanted.key]: answer } }
            gather()
          }
        })
        continue
      }
      for (const [key, timer] of timers.current) {
        clearTimeout(timer)
        timers.current.delete(key)
      }
      const { request } = plan.charge
      if (request === undefined) continue
      const start = (): void => {
        timers.current.delete(wanted.key)
        asked.add(wanted.key)
        workOutMakeUp<ChargeAnswer>(request)
          .then((answer) => {
            known = { ...known, makeUps: { ...known.makeUps, [wanted.key]: answer } }
            gather()
          })
          .catch(() => {
            // the rule's make-up stays, and stays marked; the next change asks again
            asked.delete(wanted.key)
          })
      }
      timers.current.set(wanted.key, setTimeout(start, PAUSE_MS))
    }
  }, [])
  return { results, work }
}
