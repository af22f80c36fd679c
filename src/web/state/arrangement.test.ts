import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { arrangementKey } from '../../engine/arrangement-verdict.ts'
import { planPour } from '../../engine/plan.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../../engine/sample-pour.ts'
import type { Arranged, ArrangeJob, ArrangeTold } from '../arrange-worker.ts'

/** A worker that does nothing until the test lets it. */
class Still {
  static all: Still[] = []
  readonly asked: ArrangeJob[] = []
  ended = false
  onmessage: ((event: { data: ArrangeTold }) => void) | null = null
  onerror: ((event: { message: string }) => void) | null = null
  constructor() {
    Still.all.push(this)
  }
  postMessage(job: ArrangeJob): void {
    this.asked.push(job)
  }
  terminate(): void {
    this.ended = true
  }
  tell(data: ArrangeTold): void {
    this.onmessage?.({ data })
  }
}

const given = { now: SAMPLE_NOW }
const planOf = (wax_g: number) =>
  planPour(sampleShop(), samplePour({ pieces: [sampleWax('tag', wax_g)] }), given)
const [light, middling, heavy] = [planOf(1.2), planOf(1.25), planOf(1.3)]
const flask = { id: 'flask', diameter_mm: 60, height_mm: 60 }
const facts: Arranged['facts'] = { fits: true, flask, tightest: null, minds: [], stop: null }
const measured = {} as NonNullable<Arranged['facts']['measured']>

const placesOf = (plan: typeof light, over: Partial<Arranged> = {}): ArrangeTold => ({
  arranged: {
    key: arrangementKey(plan),
    facts,
    sprues: [],
    dimensions: [],
    offAxis_mm: null,
    problems: [],
    pieces: {},
    button_mm: 0,
    onlyHere: false,
    took_ms: 0,
    arrangement: { flask } as NonNullable<Arranged['arrangement']>,
    ...over,
  },
  shapes: {},
})

let work: typeof import('./arrangement.ts')
beforeEach(async () => {
  vi.resetModules()
  vi.useFakeTimers()
  Still.all = []
  vi.stubGlobal('Worker', Still)
  work = await import('./arrangement.ts')
})
afterEach(() => {
  vi.useRealTimers()
})

/** Looked for on a page, and begun once the pause is over. */
const place = (plan: typeof light): boolean => {
  const isToCome = work.placeWaxes(plan, given, false)
  vi.advanceTimersByTime(1000)
  return isToCome
}
const worker = (): Still => {
  const last = Still.all.at(-1)
  if (last === undefined) throw new Error('no worker was opened')
  return last
}
const masses = (): unknown[] =>
  Still.all.flatMap(({ asked }) =>
    asked
      .flatMap((job) => (job.do === 'arrange' ? [job.ask.pour.pieces[0]?.source] : []))
      .map((source) => (source !== undefined && 'mass_g' in source ? source.mass_g : undefined)),
  )
const factsKnown = (plan: typeof light) => work.arrangementFacts()[arrangementKey(plan)]

test('a row of changes is worked on once, for the last of them', () => {
  for (const plan of [light, middling, heavy]) expect(work.placeWaxes(plan, given, false)).toBe(true)
  vi.advanceTimersByTime(1000)
  expect(masses()).toEqual([1.3])
  expect(place(heavy)).toBe(true)
  expect(masses()).toEqual([1.3])
})

test('nothing is looked for while a shape is measured, and what rests on places waits', () => {
  expect(work.placeWaxes(light, given, true)).toBe(true)
  vi.advanceTimersByTime(1000)
  expect(Still.all).toEqual([])
})

test('the plan is told of places once their metal is measured, and they are not sought again', () => {
  place(light)
  worker().tell(placesOf(light))
  expect(factsKnown(light)).toBeUndefined()
  expect(place(light)).toBe(true)
  worker().tell({ bodyOf: arrangementKey(light), measured })
  expect(factsKnown(light)?.measured).toBe(measured)
  expect(place(light)).toBe(false)
  expect(masses()).toEqual([1.2])
})

test('a change taken back within the pause leaves the first search at work', () => {
  place(light)
  work.placeWaxes(middling, given, false)
  expect(place(light)).toBe(true)
  expect(masses()).toEqual([1.2])
  expect(worker().ended).toBe(false)
})

test('a search that fell is told to the plan, not begun again by itself, and begun when a pour is opened', () => {
  place(middling)
  worker().tell({ failed: 'out of memory', at: 'arrange' })
  expect(factsKnown(middling)).toMatchObject({ fits: false, flask: null })
  expect(factsKnown(middling)?.stop?.what).toContain('out of memory')
  place(heavy)
  worker().tell(placesOf(heavy))
  worker().tell({ bodyOf: arrangementKey(heavy), measured })
  expect(place(middling)).toBe(false)
  expect(factsKnown(middling)?.stop?.what).toContain('out of memory')
  work.forgetTroubles()
  expect(factsKnown(middling)).toBeUndefined()
  expect(factsKnown(heavy)).toBeDefined()
  expect(place(middling)).toBe(true)
  expect(masses()).toEqual([1.25, 1.3, 1.25])
})

test('places are said to be to come from the first moment, and no longer once they are known or fell', () => {
  expect(work.isSought(light)).toBe(true)
  place(light)
  worker().tell(placesOf(light))
  expect(work.isSought(light)).toBe(true)
  worker().tell({ bodyOf: arrangementKey(light), measured })
  expect(work.isSought(light)).toBe(false)
  place(heavy)
  worker().tell({ failed: 'out of memory', at: 'arrange' })
  expect(work.isSought(heavy)).toBe(false)
})

test('a hand’s change that fell leaves the plan to be made anew, so that places are looked for', () => {
  place(light)
  worker().tell(placesOf(light))
  worker().tell({ bodyOf: arrangementKey(light), measured })
  const before = work.arrangementFacts()
  worker().tell({ failed: 'no wasm', at: 'settle' })
  expect(work.arrangementFacts()).not.toBe(before)
  expect(work.arrangementFacts()).toEqual(before)
})

test('a drawing that fell while another tree is worked on does not end that', () => {
  place(light)
  worker().tell({ failed: 'no room for the sheet', at: 'draw' })
  expect(place(light)).toBe(true)
  expect(factsKnown(light)).toBeUndefined()
})

test('where measuring the metal fell the places found are told all the same, and a next tree goes on', () => {
  place(light)
  worker().tell(placesOf(light))
  place(middling)
  worker().tell({ failed: 'not closed', at: 'arrange' })
  expect(factsKnown(light)).toBe(facts)
  expect(place(light)).toBe(false)
  expect(place(middling)).toBe(true)
})

test('a worker that falls down over one tree is not set on it without end', () => {
  place(light)
  worker().tell(placesOf(light))
  worker().onerror?.({ message: '' })
  expect(worker().ended).toBe(true)
  expect(place(light)).toBe(false)
  expect(factsKnown(light)?.stop?.what).toContain('the program failed at this')
  expect(Still.all).toHaveLength(1)
})

test('a pour that could not be placed for want of a solid is looked at again when it is opened', () => {
  place(light)
  const stop = { kind: 'no-solid', what: 'its bytes are not here', remedy: 'bring them' } as const
  worker().tell(
    placesOf(light, { arrangement: undefined, facts: { ...facts, fits: false, flask: null, stop } }),
  )
  expect(place(light)).toBe(false)
  work.forgetTroubles()
  expect(place(light)).toBe(true)
})
