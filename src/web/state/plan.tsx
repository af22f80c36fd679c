import {
  createContext,
  type ReactNode,
  useContext,
  useDeferredValue,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import { arrangementOf } from '../../engine/arrangement-verdict.ts'
import { quantitiesOf } from '../../engine/explain.ts'
import { type Given, isShape, type Plan } from '../../engine/plan.ts'
import { type PlacedBefore, planMeanwhile } from '../../engine/plan-meanwhile.ts'
import type { Quantity } from '../../engine/quantity/quantity.ts'
import { forgetTroubles, placeWaxes, useArrangementFacts, usePlacing } from './arrangement.ts'
import { changed, placeOf } from './change.ts'
import { useDocuments, usePour } from './documents.tsx'
import { useSlowResults } from './slow-results.ts'

export interface Planned {
  readonly plan: Plan
  /** any quantity of the plan, or one that they rest on, by id */
  find(id: string): Quantity | undefined
  /** a slow result is still out, so some figures stand by rule */
  readonly working: boolean
  /** a shape is still being measured */
  readonly measuring: boolean
  /** places are still being found for the waxes: the plan stands by their outside boxes, or by places from before a change */
  readonly placing: boolean
  /** a figure's last known value, for while its slow result is out */
  before(id: string): Quantity | undefined
  /** the plan as it would be with other values by path; nothing is kept */
  tried(changes: ReadonlyMap<string, number>): Plan
  /** what the plan was made of beside its documents */
  readonly given: Given
  /** ids of the explanations opened one from another; the last is shown */
  readonly why: readonly string[]
  explain(id: string): void
  follow(id: string): void
  back(): void
  close(): void
}

const indexes = new WeakMap<Plan, ReadonlyMap<string, Quantity>>()

/** Walks the plan once, and only when an explanation or an older figure is asked for. */
const indexOf = (plan: Plan): ReadonlyMap<string, Quantity> => {
  let index = indexes.get(plan)
  if (index === undefined) {
    index = quantitiesOf(plan)
    indexes.set(plan, index)
  }
  return index
}

const PlanContext = createContext<Planned | undefined>(undefined)

export const usePlan = (): Planned => {
  const found = useContext(PlanContext)
  if (found === undefined) throw new Error('a part that reads the plan stands outside its provider')
  return found
}

const MINUTE = 60_000

/** The time, to the minute: the plan follows the clock, and not each tick of it. */
const useNow = (): number => {
  const [now, setNow] = useState(() => Math.floor(Date.now() / MINUTE) * MINUTE)
  useEffect(() => {
    const timer = setInterval(() => setNow(Math.floor(Date.now() / MINUTE) * MINUTE), MINUTE / 4)
    return () => clearInterval(timer)
  }, [])
  return now
}

export const PlanProvider = ({ children }: { children: ReactNode }) => {
  const documents = useDocuments()
  const wanted = usePour()
  // typing comes first: the plan follows as soon as the entry has been drawn
  const shop = useDeferredValue(documents.shop)
  const pour = useDeferredValue(wanted)
  const now = useNow()
  const { results, work } = useSlowResults()
  const [why, setWhy] = useState<readonly string[]>([])
  const arrangements = useArrangementFacts()
  const given = useMemo<Given>(() => ({ now, ...results, arrangements }), [now, results, arrangements])
  /** what the plan last reckoned with, for while the places of a changed tree are sought */
  const placed = useRef<PlacedBefore | undefined>(undefined)
  const plan = useMemo(() => planMeanwhile(shop, pour, given, placed.current), [shop, pour, given])
  const settled = useRef<Plan | undefined>(undefined)
  const measuring = plan.wanted.some(isShape) || results.rough
  const placing = usePlacing(plan)

  // biome-ignore lint/correctness/useExhaustiveDependencies: slow results are asked for when the plan changes
  useEffect(() => {
    work(plan, placeWaxes(plan, given, measuring))
    if (!plan.wanted.some(isShape)) settled.current = plan
    const facts = arrangementOf(given.arrangements, plan)
    if (facts !== undefined) placed.current = plan.arranged && { plan, facts }
  }, [plan, placing])
  useEffect(forgetTroubles, [])

  useEffect(() => {
    document.body.classList.toggle('slip-open', why.length > 0)
    return () => document.body.classList.remove('slip-open')
  }, [why.length])

  const planned = useMemo<Planned>(
    () => ({
      plan,
      find: (id) => indexOf(plan).get(id),
      working: plan.wanted.length > 0 || measuring || placing,
      measuring,
      placing,
      before: (id) => (settled.current === undefined ? undefined : indexOf(settled.current).get(id)),
      tried: (changes) => {
        let shopTried = shop
        let pourTried = pour
        for (const [path, value] of changes) {
          const place = placeOf(path)
          if (place.in === 'shop') shopTried = changed(shopTried, place.inside, value)
          else pourTried = changed(pourTried, place.inside, value)
        }
        return planMeanwhile(shopTried, pourTried, given, placed.current)
      },
      given,
      why,
      explain: (id) => setWhy([id]),
      follow: (id) => setWhy((path) => [...path, id]),
      back: () => setWhy((path) => path.slice(0, -1)),
      close: () => setWhy([]),
    }),
    [plan, shop, pour, given, why, measuring, placing],
  )
  return <PlanContext value={planned}>{children}</PlanContext>
}
