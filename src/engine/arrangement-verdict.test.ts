import { describe, expect, it } from 'vitest'
import {
  type ArrangementFacts,
  arrangementKey,
  factsOfArrangement,
  nameInFlask,
} from './arrangement-verdict.ts'
import { planPour } from './plan.ts'
import { METRIC, writeWords } from './quantity/index.ts'
import { samplePour, sampleShop } from './sample-pour.ts'

const shop = sampleShop({})
const pour = samplePour({})
const now = Date.UTC(2026, 2, 2)
const byRule = planPour(shop, pour, { now })
const [piece] = pour.pieces
const own = byRule.flask?.flask
if (piece === undefined || own === undefined) throw new Error('the sample pour has a piece and a flask')

const found = (change: Partial<ArrangementFacts>): ArrangementFacts => ({
  fits: true,
  flask: { id: own.id, diameter_mm: own.insideDiameter_mm, height_mm: own.insideHeight_mm },
  tightest: { between: ['wall', `${piece.id}/1`], distance_mm: 8.8, needed_mm: 6.35 },
  minds: [],
  stop: null,
  ...change,
})

const judged = (facts: ArrangementFacts, key = arrangementKey(byRule)) => {
  const plan = planPour(shop, pour, { now, arrangements: { [key]: facts } })
  const verdict = plan.verdicts.find(({ id }) => id === 'flask.arranged')
  return (
    verdict && {
      verdict: verdict.verdict,
      title: writeWords(verdict.title, METRIC),
      reason: writeWords(verdict.reason, METRIC),
    }
  )
}

describe('an arrangement handed to the plan', () => {
  it('passes in the same flask, with its tightest distance and what is needed', () => {
    const told = judged(found({}))
    expect(told?.verdict).toBe('pass')
    expect(told?.reason).toMatch(/from the wall to .*: 8\.80.mm, and 6\.35.mm is needed/)
  })

  it('is a check when something was decided that is to be looked at, and says what', () => {
    const minds = [
      { what: 'The clasp gets one sprue', remedy: 'turn it' },
      { what: 'The tag too', remedy: 'turn it' },
    ]
    const told = judged(found({ minds }))
    expect(told?.verdict).toBe('check')
    expect(told?.reason).toMatch(/^The clasp gets one sprue; and 1 more, .*from the wall to /)
  })

  it('is a check when it took another flask, and names both', () => {
    const told = judged(found({ flask: { id: 'other', diameter_mm: 101.6, height_mm: 127 } }))
    expect(told?.verdict).toBe('check')
    expect(told?.reason).toMatch(/101\.6.mm × 127\.0.mm/)
  })

  it('is a stop when nothing fits or a locked wax comes too near, and a check when it was not worked out', () => {
    const stop = { kind: 'nothing-fits', what: 'It is 3 mm too wide', remedy: 'take a larger flask' }
    expect(judged(found({ fits: false, flask: null, tightest: null, stop }))).toMatchObject({
      verdict: 'stop',
      reason: expect.stringMatching(/^It is 3 mm too wide/),
    })
    const unknown = { kind: 'not-worked-out', what: 'It fell', remedy: 'have it worked out again' }
    expect(judged(found({ fits: false, flask: null, tightest: null, stop: unknown }))?.verdict).toBe('check')
    // the plan asks for the piece's sizes by itself
    const lacking = { kind: 'no-solid', what: 'It has no outside sizes', remedy: 'measure it' }
    expect(judged(found({ fits: false, flask: null, tightest: null, stop: lacking }))).toBeUndefined()
    expect(judged(found({ fits: false }))).toMatchObject({
      verdict: 'stop',
      // nothing was put there by hand in this pour
      title: 'A wax or a sprue comes too near as it was placed',
    })
    const matrix = [1, 0, 0, 20, 0, 1, 0, 0, 0, 0, 1, 40, 0, 0, 0, 1]
    const locked = { ...pour, tree: { ...pour.tree, locked: [{ piece: piece.id, copy: 1, matrix }] } }
    const key = arrangementKey(planPour(shop, locked, { now }))
    const { go } = planPour(shop, locked, { now, arrangements: { [key]: found({ fits: false }) } })
    const told = go.stops.find(({ id }) => id === 'flask.arranged')
    expect(writeWords(told?.title ?? [], METRIC)).toBe('A wax or a sprue put there by hand comes too near')
  })

  it('leaves a piece’s name as the caster wrote it, whatever unit the rest is read in', () => {
    const named = { ...pour, pieces: pour.pieces.map((one) => ({ ...one, name: 'Ring 18 mm' })) }
    const stop = { kind: 'nothing-fits', what: 'Ring 18 mm is 3 mm too wide', remedy: 'turn it' }
    const key = arrangementKey(planPour(shop, named, { now }))
    const facts = found({ fits: false, flask: null, tightest: null, stop })
    const plan = planPour(shop, named, { now, arrangements: { [key]: facts } })
    const reason = plan.verdicts.find(({ id }) => id === 'flask.arranged')?.reason ?? []
    expect(writeWords(reason, METRIC)).toMatch(/^Ring 18 mm is 3 mm too wide/)
    expect(writeWords(reason, { ...METRIC, length: 'in' })).toMatch(/^Ring 18 mm is 0\.118.in too wide/)
  })

  it('names a stop that is no distance for what it is', () => {
    const stop = {
      kind: 'sprue-through-piece',
      what: 'Sprue 1 placed on clasp 1 passes through its own wax',
      remedy: 'turn the piece',
    }
    expect(judged(found({ fits: false, stop }))).toMatchObject({
      verdict: 'stop',
      title: 'The tree can’t be poured as it stands',
      reason: expect.stringMatching(/^Sprue 1 placed on clasp 1 passes through its own wax\. The tightest/),
    })
  })

  it('says nothing under the key of another tree', () => {
    expect(judged(found({}), 'another')).toBeUndefined()
    const more = samplePour({ pieces: [{ ...piece, quantity: piece.quantity + 1 }] })
    expect(arrangementKey(planPour(shop, more, { now }))).not.toBe(arrangementKey(byRule))
  })

  it('has another key where the casting machine takes other flasks', () => {
    const machines = shop.machines.map((one) => ({ ...one, mostFlaskHeight_mm: 50 }))
    expect(arrangementKey(planPour({ ...shop, machines }, pour, { now }))).not.toBe(arrangementKey(byRule))
  })

  it('has another key where only what a sprue must outlast is another', () => {
    const [gate, ...others] = byRule.tree.gates
    if (gate === undefined) throw new Error('the sample piece has a sprue')
    const { pieceFreezes } = gate
    const longer = { ...gate, pieceFreezes: { ...pieceFreezes, value: 1.5 * pieceFreezes.value } }
    const other = { ...byRule, tree: { ...byRule.tree, gates: [longer, ...others] } }
    expect(arrangementKey(other)).not.toBe(arrangementKey(byRule))
  })

  it('fits only where nothing stops it', () => {
    const problem = { kind: 'no-solid', level: 'stop', where: '', what: 'open', remedy: 'mend it' } as const
    expect(factsOfArrangement(undefined, [problem])).toMatchObject({
      fits: false,
      flask: null,
      stop: { kind: 'no-solid', what: 'open', remedy: 'mend it' },
    })
  })

  it('tells the tightest of all, the main sprue and the base too, but no sprues that run together', () => {
    const clearance = (one: string, other: string, distance_mm: number, byStem?: true) => ({
      between: [one, other] as const,
      distance_mm,
      needed_mm: 3.2,
      ...(byStem && { byStem }),
    })
    const arrangement = {
      fits: true,
      flask: null,
      placements: [],
      sprues: [],
      sections: [],
      stem: null,
      clearances: [clearance('wall', 'tag/1', 4.2)],
      stemClearances: [clearance('sprue/1', 'sprue/2', 0.8, true), clearance('stem', 'tag/1', 3.3)],
      offAxis_mm: null,
      problems: [],
    }
    expect(factsOfArrangement(arrangement, []).tightest?.between).toEqual(['stem', 'tag/1'])
    expect(nameInFlask('stem', [piece])).toBe('the main sprue')
  })

  it('calls places as the caster does', () => {
    const two = [{ ...piece, quantity: 2 }]
    expect(nameInFlask('sprue/3', two)).toBe('sprue 3')
    expect(nameInFlask(`${piece.id}/2`, two)).toBe(`${piece.name} 2`)
    expect(nameInFlask(`${piece.id}/1`, [{ ...piece, quantity: 1 }])).toBe(piece.name)
  })
})
