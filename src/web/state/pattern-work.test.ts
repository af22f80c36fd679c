import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { heightsSchema } from '../../engine/documents/heights.ts'
import { shapeKey } from '../../engine/piece/mesh-facts.ts'
import type { PatternAsk, PatternTold } from '../pattern-worker.ts'
import type { PatternPiece } from './pattern-work.ts'

/** A worker that does nothing until the test lets it. */
class Still {
  static all: Still[] = []
  readonly asked: PatternAsk[] = []
  onmessage: ((event: { data: PatternTold }) => void) | null = null
  onerror: unknown = null
  constructor() {
    Still.all.push(this)
  }
  postMessage(ask: PatternAsk): void {
    this.asked.push(ask)
  }
  terminate(): void {
    this.asked.length = 0
  }
  tell(answer: unknown): void {
    const { ask } = this.asked.at(-1) ?? { ask: 0 }
    this.onmessage?.({ data: { ask, answer } as PatternTold })
  }
}

const piece = (blank_mm: number, id = 'piece-1'): PatternPiece => ({
  id,
  source: {
    from: 'pattern',
    file: 'clasp.svg',
    sha256: 'a'.repeat(64),
    heights: heightsSchema.parse({ kind: 'heights', version: 1, blank_mm }),
  },
})

const facts = (volume_mm3: number, thickest?: number) => ({
  volume_mm3,
  area_mm2: 1,
  bounds_mm: null,
  thickness_mm: thickest === undefined ? null : { thinnest: 1, usual: 1.5, thickest },
  problems: [],
})

const reading = { regions: { regions: [] } }
const blankOf = (ask: PatternAsk | undefined): number | undefined => ask?.question.heights.blank_mm

/** Builds what was asked last and measures it. */
const finish = (volume: number): void => {
  const [building, measuring] = Still.all
  building?.tell({ is: 'read', reading })
  building?.tell({ is: 'shape', relief: {}, facts: facts(volume) })
  ;(measuring ?? Still.all[1])?.tell({ is: 'facts', facts: facts(volume, 2) })
}

// What a test leaves unanswered would lose its patience a minute later, in whichever file runs then.
beforeEach(() => {
  vi.resetModules()
  vi.useFakeTimers()
  Still.all = []
  vi.stubGlobal('Worker', Still)
})
afterEach(() => {
  vi.useRealTimers()
})

test('of heights that change faster than they are worked out, those in between are let go', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const rough = (): void => undefined
  const one = factsOfDrawing(piece(1), rough)
  const two = factsOfDrawing(piece(2), rough)
  const three = factsOfDrawing(piece(3), rough)
  expect(await two).toBeUndefined()
  const [building] = Still.all
  expect(building?.asked.map(blankOf)).toEqual([1])
  finish(10)
  expect((await one)?.volume_mm3).toBe(10)
  expect(building?.asked.map(blankOf)).toEqual([1, 3])
  finish(30)
  expect((await three)?.volume_mm3).toBe(30)
})

test('what was built of a drawing is kept to be shown in lists and in the flask', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const { meshOfDrawing } = await import('./drawn-meshes.ts')
  const mesh = { positions: [0, 0, 0], corners: [] }
  const told = factsOfDrawing(piece(1), () => undefined)
  const [building] = Still.all
  building?.tell({ is: 'read', reading })
  building?.tell({ is: 'shape', relief: { mesh }, facts: facts(10) })
  Still.all[1]?.tell({ is: 'facts', facts: facts(10, 2) })
  await told
  expect(meshOfDrawing(piece(1).source)).toBe(mesh)
})

test('what was worked out once is not asked for again', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const first = factsOfDrawing(piece(1), () => undefined)
  finish(10)
  await first
  expect((await factsOfDrawing(piece(1), () => undefined))?.volume_mm3).toBe(10)
  expect(Still.all[0]?.asked).toHaveLength(1)
})

test('a changed shape tells its weight before its walls are measured, with the walls it had', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const first = factsOfDrawing(piece(1), () => undefined)
  finish(10)
  await first
  const rough = vi.fn()
  const second = factsOfDrawing(piece(2), rough)
  Still.all[0]?.tell({ is: 'read', reading })
  Still.all[0]?.tell({ is: 'shape', relief: {}, facts: facts(20) })
  expect(rough).toHaveBeenCalledWith(
    expect.objectContaining({ volume_mm3: 20, thickness_mm: facts(0, 2).thickness_mm }),
  )
  Still.all[1]?.tell({ is: 'facts', facts: facts(20, 4) })
  expect((await second)?.thickness_mm?.thickest).toBe(4)
})

test('two pieces of one pour never push one another out', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const one = factsOfDrawing(piece(1, 'clasp'), () => undefined)
  const other = factsOfDrawing(piece(2, 'slide'), () => undefined)
  finish(10)
  finish(20)
  expect((await one)?.volume_mm3).toBe(10)
  expect((await other)?.volume_mm3).toBe(20)
})

test('a drawing that can’t be worked on still gets an answer', async () => {
  const { factsOfDrawing, hasFailed } = await import('./pattern-work.ts')
  const asked = factsOfDrawing(piece(1), () => undefined)
  Still.all[0]?.tell({ is: 'failed', what: 'its bytes are not here' })
  const told = await asked
  expect(told).toMatchObject({ volume_mm3: null, problems: [{ what: 'its bytes are not here' }] })
  expect(told !== undefined && hasFailed(told)).toBe(true)
})

test('heights taken back while newer ones are built leave the relief that belongs to them', async () => {
  const { factsOfDrawing, showPattern, shownPattern } = await import('./pattern-work.ts')
  const key = (blank_mm: number) => shapeKey(piece(blank_mm).source)
  showPattern(piece(1))
  finish(10)
  expect(shownPattern().shapeOf).toBe(key(1))
  showPattern(piece(2))
  showPattern(piece(1))
  const back = factsOfDrawing(piece(1), () => undefined)
  finish(20)
  expect(shownPattern().shapeOf).toBe(key(1))
  expect((await back)?.volume_mm3).toBe(10)
})

test('of two changes and the first again, the first is built once more', async () => {
  const { showPattern, shownPattern } = await import('./pattern-work.ts')
  showPattern(piece(1))
  finish(10)
  showPattern(piece(2))
  Still.all[0]?.tell({ is: 'read', reading })
  Still.all[0]?.tell({ is: 'shape', relief: {}, facts: facts(20) })
  showPattern(piece(3))
  showPattern(piece(2))
  finish(30)
  finish(20)
  expect(shownPattern().shapeOf).toBe(shapeKey(piece(2).source))
})

test('a shape that waits to be measured keeps its place when it is built again', async () => {
  const { factsOfDrawing, showPattern } = await import('./pattern-work.ts')
  const build = (): void => {
    Still.all[0]?.tell({ is: 'read', reading })
    Still.all[0]?.tell({ is: 'shape', relief: {}, facts: facts(20) })
  }
  const other = factsOfDrawing(piece(9, 'slide'), () => undefined)
  build()
  const asked = factsOfDrawing(piece(2), () => undefined)
  build()
  showPattern(piece(2))
  build()
  Still.all[1]?.tell({ is: 'facts', facts: facts(9) })
  Still.all[1]?.tell({ is: 'facts', facts: facts(20) })
  expect((await other)?.volume_mm3).toBe(9)
  expect((await asked)?.volume_mm3).toBe(20)
})

test('what failed is tried again when it is next asked for', async () => {
  const { factsOfDrawing, showPattern, shownPattern } = await import('./pattern-work.ts')
  showPattern(piece(1))
  Still.all[0]?.tell({ is: 'failed', what: 'its bytes are not here' })
  expect(shownPattern().trouble).toBe('its bytes are not here')
  const again = factsOfDrawing(piece(1), () => undefined)
  showPattern(piece(1))
  finish(10)
  expect((await again)?.volume_mm3).toBe(10)
  expect(shownPattern().trouble).toBeUndefined()
})

test('a worker that says nothing for a minute is let go, and the next drawing is worked on', async () => {
  const { factsOfDrawing } = await import('./pattern-work.ts')
  const stuck = factsOfDrawing(piece(1, 'clasp'), () => undefined)
  const next = factsOfDrawing(piece(2, 'slide'), () => undefined)
  vi.advanceTimersByTime(61_000)
  expect((await stuck)?.problems[0]?.what).toContain('longer than a minute')
  expect(Still.all).toHaveLength(2)
  Still.all[1]?.tell({ is: 'read', reading })
  Still.all[1]?.tell({ is: 'shape', relief: {}, facts: facts(20) })
  Still.all[2]?.tell({ is: 'facts', facts: facts(20) })
  expect((await next)?.volume_mm3).toBe(20)
})

test('a drawing read for heights that were taken back does not stay beside the relief of those that stand', async () => {
  const { showPattern, shownPattern } = await import('./pattern-work.ts')
  const [one, two] = [{ regions: { regions: [] } }, { regions: { regions: [] } }]
  const [reliefOfOne, reliefOfTwo] = [{}, {}]
  showPattern(piece(1))
  const [building] = Still.all
  building?.tell({ is: 'read', reading: one })
  building?.tell({ is: 'shape', relief: reliefOfOne, facts: facts(10) })
  showPattern(piece(2))
  building?.tell({ is: 'read', reading: two })
  // undone before the second is built
  showPattern(piece(1))
  building?.tell({ is: 'shape', relief: reliefOfTwo, facts: facts(20) })
  expect(shownPattern().relief).toBe(reliefOfOne)
  expect(building?.asked.map(blankOf)).toEqual([1, 2, 1])
  building?.tell({ is: 'read', reading: one })
  building?.tell({ is: 'shape', relief: reliefOfOne, facts: facts(10) })
  const { reading: shown, relief, readOf, shapeOf } = shownPattern()
  expect([shown, relief]).toEqual([one, reliefOfOne])
  expect(shown).toBe(one)
  expect(readOf).toBe(shapeOf)
})
