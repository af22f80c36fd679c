import { useEffect, useSyncExternalStore } from 'react'
import type { Heights } from '../../engine/documents/heights.ts'
import type { Piece } from '../../engine/documents/pour.ts'
import type { CastableFindings } from '../../engine/pattern/castable/index.ts'
import type { PatternReading } from '../../engine/pattern/read-pattern.ts'
import type { Relief } from '../../engine/pattern/relief/index.ts'
import { type MeshFacts, shapeKey } from '../../engine/piece/mesh-facts.ts'
import type {
  DrawingFile,
  PatternAnswer,
  PatternAsk,
  PatternQuestion,
  PatternTold,
} from '../pattern-worker.ts'
import type { ReliefEdges } from '../scene/relief-edges.ts'
import { keepMesh } from './drawn-meshes.ts'

export type PatternSource = Extract<Piece['source'], { from: 'pattern' }>

/** A piece that is still a drawing. */
export interface PatternPiece {
  readonly id: string
  readonly source: PatternSource
}

/** What is known of a drawing by now. While newer heights are worked on, what came of the last ones stays. */
export interface PatternView {
  /** the shape that reading, relief and findings belong to */
  readonly readOf?: string
  readonly shapeOf?: string
  readonly measuredOf?: string
  readonly reading?: PatternReading
  readonly relief?: Relief
  /** of the relief */
  readonly edges?: ReliefEdges
  /** of `measuredOf`, which may be an earlier shape than the relief's */
  readonly castable?: CastableFindings
  readonly trouble?: string
  /** how long reading took, ms */
  readonly read_ms?: number
  /** how long the last change took from asking to its relief, ms */
  readonly change_ms?: number
}

interface Job {
  /** the piece it is worked out for: its newer heights push older ones out */
  readonly of: string
  readonly key: string
  readonly drawing: DrawingFile
  readonly heights: Heights
  readonly asked_ms: number
}

interface Measuring {
  readonly job: Job
  readonly reading: PatternReading
  readonly relief: Relief
}

/** A worker that has said nothing for so long is stuck, and is left. */
const SILENT_AT_MOST_MS = 60_000

/** A worker that is given one question at a time. */
class Bench {
  #worker: Worker | undefined
  #count = 0
  #patience: ReturnType<typeof setTimeout> | undefined
  #hear: ((answer: PatternAnswer) => void) | undefined
  busy = false

  ask(question: PatternQuestion, hear: (answer: PatternAnswer) => void): void {
    this.#worker ??= this.#open()
    this.#count += 1
    this.#hear = hear
    this.busy = true
    this.#wait()
    this.#worker.postMessage({ ask: this.#count, question } satisfies PatternAsk)
  }

  #open(): Worker {
    const worker = new Worker(new URL('../pattern-worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<PatternTold>) => {
      if (data.ask !== this.#count) return
      if (data.answer.is === 'read') this.#wait()
      else clearTimeout(this.#patience)
      this.#hear?.(data.answer)
    }
    worker.onerror = (event) =>
      this.#leave(event.message === '' ? 'the drawing could not be worked on' : event.message)
    return worker
  }

  #wait(): void {
    clearTimeout(this.#patience)
    this.#patience = setTimeout(
      () =>
        this.#leave(
          'the drawing took longer than a minute to work out, and was left; simplify its lines and bring it again',
        ),
      SILENT_AT_MOST_MS,
    )
  }

  /** A worker that fell or is stuck is let go, and the next question opens another. */
  #leave(what: string): void {
    clearTimeout(this.#patience)
    this.#worker?.terminate()
    this.#worker = undefined
    this.#hear?.({ is: 'failed', what })
  }
}

const MOST_KEPT = 60

interface Heard {
  settle(facts: MeshFacts | undefined): void
  rough(facts: MeshFacts): void
}

/**
 * Works drawings out, away from the page: one bench reads and builds, another looks at walls, so that a height
 * can be moved while walls are still being measured. Of one piece only the newest heights are worked on.
 */
class PatternWork {
  #view: PatternView = {}
  /** the piece that the page looks at, at its newest heights */
  #shown: Job | undefined
  /** by piece: the shape that is wanted now, whatever is still being worked on */
  readonly #newest = new Map<string, string>()
  readonly #listeners = new Set<() => void>()
  readonly #building = new Bench()
  readonly #measuring = new Bench()
  #jobs: Job[] = []
  #measures: Measuring[] = []
  /** built or measured right now, or built and waiting to be measured */
  readonly #underway = new Set<string>()
  readonly #facts = new Map<string, MeshFacts>()
  readonly #heard = new Map<string, Heard[]>()
  readonly #lastWalls = new Map<string, MeshFacts['thickness_mm']>()

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
  readonly view = (): PatternView => this.#view

  /** What the page looks at. */
  show(piece: PatternPiece): void {
    const job = jobOf(piece)
    if (job === undefined) return
    const isOther = this.#shown?.of !== job.of
    this.#shown = job
    if (isOther) {
      this.#view = {}
      this.#tell({})
    }
    if (this.#isShowing(job)) this.#want(job)
    else this.#add(job, true)
  }

  /**
   * What the plan takes of a drawing, once it is worked out; undefined when newer heights came first.
   * @param rough  told the weight before the walls are measured
   */
  facts(piece: PatternPiece, rough: Heard['rough']): Promise<MeshFacts | undefined> | undefined {
    const job = jobOf(piece)
    if (job === undefined) return undefined
    const known = this.#facts.get(job.key)
    if (known !== undefined) return Promise.resolve(known)
    return new Promise((settle) => {
      this.#heard.set(job.key, [...(this.#heard.get(job.key) ?? []), { settle, rough }])
      this.#add(job, false)
    })
  }

  /** Drawing and relief are both of these heights. What failed is tried again when it is next looked at. */
  #isShowing({ key }: Job): boolean {
    const { readOf, shapeOf, trouble } = this.#view
    return readOf === key && shapeOf === key && trouble === undefined
  }

  #tell(change: Partial<PatternView>): void {
    this.#view = { ...this.#view, ...change }
    for (const listener of this.#listeners) listener()
  }

  /** Older heights of the same piece that wait are let go. */
  #want(job: Job): void {
    this.#newest.set(job.of, job.key)
    for (const older of this.#jobs.filter(({ of, key }) => of === job.of && key !== job.key))
      this.#drop(older.key)
    this.#jobs = this.#jobs.filter(({ of }) => of !== job.of)
  }

  #add(job: Job, first: boolean): void {
    this.#want(job)
    // a page that opens meanwhile has not heard what was read, and asks again
    if (!first && this.#underway.has(job.key)) return
    this.#jobs = first ? [job, ...this.#jobs] : [...this.#jobs, job]
    this.#next()
  }

  #drop(key: string): void {
    for (const { settle } of this.#heard.get(key) ?? []) settle(undefined)
    this.#heard.delete(key)
    this.#underway.delete(key)
  }

  #next(): void {
    if (this.#building.busy) return
    const job = this.#jobs.shift()
    if (job !== undefined) this.#build(job)
  }

  #build(job: Job): void {
    let reading: PatternReading | undefined
    const { key, drawing, heights } = job
    // heights that were taken back meanwhile must not cover those that stand
    const tell = (change: Partial<PatternView>): void => {
      const shown = this.#shown
      const stands = shown?.key === this.#view.shapeOf && this.#view.trouble === undefined
      if (shown?.of === job.of && (shown.key === key || !stands)) this.#tell(change)
    }
    const done = (): void => {
      this.#building.busy = false
      const shown = this.#shown
      const isBehind = shown !== undefined && shown.of === job.of && shown.key !== key
      const isWaiting = this.#jobs.some((waiting) => waiting.key === shown?.key)
      if (isBehind && !isWaiting && !this.#isShowing(shown)) this.#jobs.unshift(shown)
      this.#next()
    }
    this.#underway.add(key)
    this.#building.ask({ do: 'shape', drawing, heights }, (answer) => {
      if (answer.is === 'read') {
        reading = answer.reading
        tell({ readOf: key, reading, read_ms: answer.took_ms, trouble: undefined })
        return
      }
      if (answer.is === 'shape') {
        const { relief, edges } = answer
        keepMesh(key, drawing.sha256, relief.mesh)
        this.#tellRough(job, answer.facts)
        tell({ shapeOf: key, relief, edges, trouble: undefined, change_ms: performance.now() - job.asked_ms })
        if (reading !== undefined) this.#addMeasure({ job, reading, relief })
      } else if (answer.is === 'facts') {
        tell({
          shapeOf: key,
          measuredOf: key,
          relief: undefined,
          edges: undefined,
          castable: undefined,
          trouble: undefined,
        })
        this.#settle(key, answer.facts)
      } else {
        tell({ readOf: key, shapeOf: key, trouble: answer.what })
        this.#answer(key, unreadable(drawing.file, answer.what))
      }
      done()
    })
  }

  /** The weight of a new shape at once, with the walls of the shape before it, until its own are measured. */
  #tellRough(job: Job, facts: MeshFacts): void {
    const thickness_mm = this.#lastWalls.get(job.of)
    if (thickness_mm === undefined || thickness_mm === null || facts.volume_mm3 === null) return
    for (const { rough } of this.#heard.get(job.key) ?? []) rough({ ...facts, thickness_mm })
  }

  #addMeasure(next: Measuring): void {
    const { of, key } = next.job
    const newest = this.#newest.get(of)
    const waiting = this.#measures.filter(({ job }) => job.of === of)
    // the shape that is wanted now may have been built before this one, and taken back to
    if (key !== newest && waiting.some(({ job }) => job.key === newest)) this.#drop(key)
    else {
      for (const { job } of waiting) if (job.key !== key) this.#drop(job.key)
      this.#measures = [...this.#measures.filter(({ job }) => job.of !== of), next]
    }
    this.#measure()
  }

  #measure(): void {
    if (this.#measuring.busy) return
    const next = this.#measures.shift()
    if (next === undefined) return
    const { job, reading, relief } = next
    this.#measuring.ask({ do: 'measure', reading, relief, heights: job.heights }, (answer) => {
      if (answer.is === 'facts') {
        if (job.of === this.#shown?.of && this.#view.shapeOf === job.key)
          this.#tell({ measuredOf: job.key, castable: answer.castable })
        this.#lastWalls.set(job.of, answer.facts.thickness_mm)
        this.#settle(job.key, answer.facts)
      } else if (answer.is === 'failed') this.#answer(job.key, unreadable(job.drawing.file, answer.what))
      this.#measuring.busy = false
      this.#measure()
    })
  }

  #settle(key: string, facts: MeshFacts): void {
    this.#facts.set(key, facts)
    const oldest = this.#facts.keys().next().value
    if (this.#facts.size > MOST_KEPT && oldest !== undefined) this.#facts.delete(oldest)
    this.#answer(key, facts)
  }

  /** Told, but not remembered by itself: what failed once may go well when it is next asked for. */
  #answer(key: string, facts: MeshFacts): void {
    for (const { settle } of this.#heard.get(key) ?? []) settle(facts)
    this.#heard.delete(key)
    this.#underway.delete(key)
  }
}

const failures = new WeakSet<MeshFacts>()

const unreadable = (file: string, what: string): MeshFacts => {
  const facts: MeshFacts = {
    volume_mm3: null,
    area_mm2: null,
    bounds_mm: null,
    thickness_mm: null,
    problems: [{ what, where: file, remedy: 'choose the file again' }],
  }
  failures.add(facts)
  return facts
}

/** Whether these facts tell of a failure that may pass, such as a worker that fell, and nothing of the drawing. */
export const hasFailed = (facts: MeshFacts): boolean => failures.has(facts)

const jobOf = ({ id, source }: PatternPiece): Job | undefined => {
  const key = shapeKey(source)
  const { sha256, file, heights } = source
  if (key === undefined || sha256 === undefined) return undefined
  return { of: id, key, drawing: { sha256, file }, heights, asked_ms: performance.now() }
}

const work = new PatternWork()

/** What the page looks at; `usePattern` calls it. */
export const showPattern = (piece: PatternPiece): void => work.show(piece)
export const shownPattern = (): PatternView => work.view()

export const factsOfDrawing = (
  piece: PatternPiece,
  rough: (facts: MeshFacts) => void,
): Promise<MeshFacts | undefined> | undefined => work.facts(piece, rough)

/** What is known of this drawing, kept up with its heights; the last relief stands until the new one comes. */
export const usePattern = (piece: PatternPiece): PatternView & { readonly behind: boolean } => {
  const view = useSyncExternalStore(work.subscribe, shownPattern)
  const key = shapeKey(piece.source)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key names everything the shape rests on
  useEffect(() => showPattern(piece), [piece.id, key])
  return { ...view, behind: view.shapeOf !== key || view.readOf !== key }
}
