import { beforeAll, describe, expect, it } from 'vitest'
import { loadSolids } from '../solids/manifold.ts'
import { investmentBody } from './arrange/index.ts'
import { type ArrangedPlan, arrangePlan } from './arrange-plan.ts'
import { type ArrangementFacts, arrangementKey } from './arrangement-verdict.ts'
import type { Pour } from './documents/index.ts'
import { explain } from './explain.ts'
import { keepArrangement } from './keep-arrangement.ts'
import type { FarPoint, MeasuredTree } from './measure-arrangement.ts'
import type { Solids } from './piece/mesh/index.ts'
import { type Plan, planPour } from './plan.ts'
import { planToJson } from './plan-json.ts'
import { planJsonSchema } from './plan-schema.ts'
import { METRIC, writeWords } from './quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

const shop = sampleShop()
const pour = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('tag', 1.1)] })
const now = SAMPLE_NOW
const planned = (of: Pour, facts?: ArrangementFacts): Plan => {
  const plan = planPour(shop, of, { now })
  return facts === undefined
    ? plan
    : planPour(shop, of, { now, arrangements: { [arrangementKey(plan)]: facts } })
}

let solids: Solids
let found: ArrangedPlan
let measured: MeasuredTree
const byRule = planned(pour)
let plan: Plan

beforeAll(async () => {
  solids = await loadSolids()
  found = arrangePlan(byRule, {}, solids)
  if (found.facts.measured === undefined) throw new Error('the sample pour can be placed and joined')
  measured = found.facts.measured
  plan = planned(pour, found.facts)
})

describe('a plan with an arrangement that fits', () => {
  it('takes its flask, its gaps, and says that it does', () => {
    expect(plan.flask?.flask.id).toBe(found.facts.flask?.id)
    const wall = found.arrangement?.clearances.filter(({ between }) => between[0] === 'wall') ?? []
    expect((plan.flask?.sideGap?.value ?? 0) * 1000).toBeCloseTo(
      Math.min(...wall.map(({ distance_mm }) => distance_mm)),
      6,
    )
    const top = found.arrangement?.clearances.filter(({ between }) => between[0] === 'top') ?? []
    expect((plan.flask?.topGap?.value ?? 0) * 1000).toBeLessThanOrEqual(
      Math.min(...top.map(({ distance_mm }) => distance_mm)) + 1e-6,
    )
    expect(plan.verdicts.find(({ id }) => id === 'flask.arranged')?.verdict).toBe('pass')
  })

  it('fills with as much metal as the joined solid holds', () => {
    const density = plan.conditions.metalDensity.value
    const { cavity } = plan.needed
    const { mass: button } = plan.tree.button
    const ofBody = measured.body_mm3 * 1e-9 * density
    expect((cavity?.low ?? Number.NaN) + button.low).toBeLessThanOrEqual(ofBody)
    expect((cavity?.high ?? Number.NaN) + button.high).toBeGreaterThanOrEqual(ofBody)
    // pieces by their own waxes, and every other part by its solid
    const pieces = (plan.pieces.castMass?.value ?? 0) - measured.pieces_mm3 * 1e-9 * density
    expect((cavity?.value ?? 0) + button.value - pieces).toBeCloseTo(ofBody, 5)
  })

  it('mixes for the room that the solids leave, and by rule for less or more by just that', () => {
    if (found.request === undefined || found.arrangement === undefined) throw new Error('it was arranged')
    const investment = investmentBody(found.request, found.arrangement, solids)
    if ('problem' in investment) throw new Error(investment.problem.what)
    expect(measured.investment_mm3 / investment.volume_mm3).toBeCloseTo(1, 4)
    expect((plan.mould.room?.value ?? 0) * 1e9).toBeCloseTo(investment.volume_mm3, -2)
    const same = planned({ ...pour, flask: found.facts.flask?.id })
    const spruesMore = measured.sprues_mm3 * 1e-9 - (same.sprues?.value ?? 0)
    const roomLess = (same.mould.room?.value ?? 0) - (plan.mould.room?.value ?? 0)
    expect(roomLess).toBeCloseTo(spruesMore, 12)
    const slurry = (of: Plan): number => (of.mix.powder?.value ?? 0) / (of.mould.room?.value ?? 1)
    expect(Math.sign((plan.mix.powder?.value ?? 0) - (same.mix.powder?.value ?? 0))).toBe(
      -Math.sign(roomLess),
    )
    expect(slurry(plan) / slurry(same)).toBeCloseTo(1, 2)
  })

  it('says of each such figure that the arrangement is where it comes from', () => {
    for (const quantity of [plan.spruesMetal, plan.flask?.sideGap, plan.spin.pressure, plan.mix.powder]) {
      if (quantity === undefined) throw new Error('the figure is worked out')
      expect(JSON.stringify(sourcesOf(quantity))).toContain('the arrangement')
    }
    expect(explain(plan.sprues ?? fail()).inputs.length).toBe(1)
  })

  it('is the same to the bit each time, and its key does not move with it', () => {
    const again = planned(pour, found.facts)
    expect(JSON.stringify(planToJson(again))).toBe(JSON.stringify(planToJson(plan)))
    expect(arrangementKey(plan)).toBe(arrangementKey(byRule))
  })

  it('holds what the rule says beside it, and tells where the two lie apart', () => {
    const { arranged } = planToJson(plan)
    expect(planJsonSchema.safeParse(planToJson(plan)).error).toBeUndefined()
    expect(arranged?.byRule.flask).toBe(byRule.flask?.flask.id)
    expect(arranged?.byRule.sprues_g?.expected).toBeCloseTo((byRule.spruesMetal?.value ?? 0) * 1000, 6)
    expect(arranged?.sprues).toHaveLength(found.arrangement?.sprues.length ?? -1)
    const mass =
      (arranged?.stem.mass_g ?? 0) + (arranged?.sprues ?? []).reduce((sum, one) => sum + one.mass_g, 0)
    expect(mass).toBeCloseTo((plan.spruesMetal?.value ?? 0) * 1000, 6)
    const far: ArrangementFacts = {
      ...found.facts,
      measured: { ...measured, sprues_mm3: 3 * measured.sprues_mm3 },
    }
    const told = planned(pour, far).verdicts.find(({ id }) => id === 'flask.arranged')
    expect(writeWords(told?.reason ?? [], METRIC)).toMatch(
      /By outside boxes it would be .*of sprues instead of/,
    )
  })

  it('stands by rule where it fits nothing, was not measured, or is of another flask', () => {
    const { measured: _measured, ...unmeasured } = found.facts
    expect(planned(pour, unmeasured).arranged).toBeUndefined()
    expect(planned(pour, { ...found.facts, fits: false }).arranged).toBeUndefined()
    const other = shop.flasks.find(({ id }) => id !== found.facts.flask?.id)
    expect(planned({ ...pour, flask: other?.id }, found.facts).arranged).toBeUndefined()
  })
})

describe('a wax further out', () => {
  const moved = (by: number): ArrangementFacts => ({
    ...found.facts,
    measured: {
      ...measured,
      centre: { ...measured.centre, off_mm: measured.centre.off_mm + 0.2 * by },
      farthest: measured.farthest.map(
        ({ depth_mm, out_mm }): FarPoint => ({ depth_mm, out_mm: out_mm + by }),
      ),
    },
  })

  it('presses harder at its farthest point and pulls harder sideways', () => {
    const plans = [0, 1, 2, 4].map((by) => planned(pour, moved(by)))
    const pressures = plans.map(({ spin }) => spin.pressure?.value ?? Number.NaN)
    const pulls = plans.map(({ spin }) => spin.balance?.pull.sideways?.value ?? Number.NaN)
    for (const row of [pressures, pulls])
      row.slice(1).forEach((value, at) => {
        expect(value).toBeGreaterThan(row[at] ?? Number.POSITIVE_INFINITY)
      })
  })

  it('is said to pull sideways up to the upper end of what is known', () => {
    const { spin, verdicts } = planned(pour, found.facts)
    const pull = spin.balance?.pull.sideways ?? fail()
    expect(pull.high).toBeGreaterThan(1.2 * pull.value)
    const told = verdicts.find(({ id }) => id === 'spin.balance') ?? fail()
    const upper = told.reason.find((part) => typeof part === 'object' && part.value === pull.high)
    expect(upper).toBeDefined()
    expect(writeWords(told.reason, METRIC)).toMatch(/up to [\d.]+.kg of pull by what is known/)
  })

  it('that is really moved, and not only in its figures, does the same', () => {
    const [piece] = pour.pieces
    if (piece === undefined) throw new Error('the sample pour has a piece')
    const one = { ...pour, pieces: [{ ...piece, quantity: 1 }], flask: shop.flasks.at(-1)?.id }
    const start = arrangePlan(planned(one), {}, solids)
    if (start.arrangement === undefined || start.request === undefined) throw new Error('it was arranged')
    const kept = keepArrangement(one, start.arrangement, start.request)
    const outward = (by: number): MeasuredTree => {
      const locked = (kept.tree.locked ?? []).map((lock) => {
        const [x = 0, y = 0] = [lock.matrix[3], lock.matrix[7]]
        const away = Math.hypot(x, y)
        const matrix = lock.matrix.map((value, k) =>
          k === 3 || k === 7 ? (value * (away + by)) / away : value,
        )
        return { ...lock, matrix }
      })
      const of = { ...kept, tree: { ...kept.tree, locked, sprues: undefined } }
      const told = arrangePlan(planned(of), {}, solids).facts.measured
      if (told === undefined) throw new Error('a locked wax is measured')
      return told
    }
    const [near, far] = [outward(0), outward(6)]
    // parts added up differ from the joined solid by their joints, and the sprue was sought anew
    expect(Math.abs((start.arrangement.offAxis_mm ?? 0) / near.centre.off_mm - 1)).toBeLessThan(0.1)
    expect(far.centre.off_mm).toBeGreaterThan(near.centre.off_mm)
    const fromPivot = ({ farthest }: MeasuredTree): number =>
      Math.max(...farthest.map(({ depth_mm, out_mm }) => Math.hypot(150 + depth_mm, out_mm)))
    expect(fromPivot(far)).toBeGreaterThan(fromPivot(near))
  })
})

describe('a tree that is built and weighed after its places were found', () => {
  it.each([1, 9, 12])('of %d waxes still has them, and the same button', (quantity) => {
    const many = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity })] })
    const before = planned(many)
    const { facts } = arrangePlan(before, {}, solids)
    const sprues_g = ((facts.measured?.sprues_mm3 ?? Number.NaN) / 1000) * 0.95
    const weighed = {
      base_g: 60,
      baseWithTree_g: 60 + 1.2 * quantity + sprues_g,
      baseWeighed: 'today' as const,
    }
    const after = { ...many, tree: { ...many.tree, weighed } }
    const arrangements = { [arrangementKey(before)]: facts }
    const [found, then] = [many, after].map((of) => planPour(shop, of, { now, arrangements }))
    expect(found?.arranged?.flask.id).toBe(facts.flask?.id)
    expect(then?.arranged?.flask.id).toBe(facts.flask?.id)
    expect(then?.tree.button.depth.value).toBe(found?.tree.button.depth.value)
  })
})

describe('the room of sprues by outside boxes', () => {
  it('has the placed one in its range for most trees, of few waxes and of many', () => {
    const kinds: readonly (readonly [string, readonly number[], number])[] = [
      ['ring', [22.6, 22.6, 6, 3, 1.6], 1.02],
      ['stud', [8, 8, 3, 2.2, 1.5], 0.12],
      ['sheet', [30, 20, 2, 2, 2], 1],
      ['fitting', [28, 14, 11, 3, 2], 1.2],
    ]
    const within = kinds.flatMap(([id, sizes, mass_g]) =>
      [1, 3, 8, 12].map((quantity) => {
        const [length_mm = 0, width_mm = 0, height_mm = 0, thickest_mm = 0, thinnest_mm = 0] = sizes
        const calipers = { length_mm, width_mm, height_mm, thickest_mm, thinnest_mm, section: 'bar' as const }
        const source = { from: 'weighed-wax' as const, mass_g, wax: 'hard-carving', calipers }
        const many = samplePour({ pieces: [sampleWax(id, mass_g, { quantity, source })] })
        const boxes = planned(many)
        const placed_mm3 = arrangePlan(boxes, {}, solids).facts.measured?.sprues_mm3
        if (placed_mm3 === undefined || boxes.sprues === undefined)
          throw new Error(`${quantity} of ${id} fit`)
        const placed = placed_mm3 * 1e-9
        expect(placed / boxes.sprues.value, `${quantity} of ${id}`).toBeGreaterThan(0.35)
        expect(placed / boxes.sprues.value, `${quantity} of ${id}`).toBeLessThan(2.8)
        return placed >= boxes.sprues.low && placed <= boxes.sprues.high
      }),
    )
    expect(within.filter(Boolean).length).toBeGreaterThanOrEqual(0.85 * within.length)
  }, 120_000)
})

describe('a pour that no flask holds by shape either', () => {
  it('is told one thing to do: what the search by shape says would do', () => {
    const many = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity: 120 })] })
    const { facts } = arrangePlan(planned(many), {}, undefined, 0)
    expect(facts.flask).toBeNull()
    const remedies = planned(many, facts)
      .verdicts.filter(({ id }) => id === 'flask.rack' || id === 'flask.arranged')
      .map(({ remedy }) => writeWords(remedy, METRIC))
    expect(remedies.length).toBe(2)
    expect(new Set(remedies).size).toBe(1)
    const reason = planned(many, facts).verdicts.find(({ id }) => id === 'flask.arranged')?.reason
    expect(writeWords(reason ?? [], METRIC)).not.toContain('meanwhile')
  })
})

describe('a pour that keeps its places', () => {
  it('stops where a locked wax comes too near another', () => {
    if (found.arrangement === undefined || found.request === undefined) throw new Error('it was arranged')
    const kept = keepArrangement(pour, found.arrangement, found.request)
    const [first, second] = kept.tree.locked ?? []
    if (first === undefined || second === undefined) throw new Error('two waxes are locked')
    const onTop = second.matrix.map((value, k) => (k % 4 === 3 ? (first.matrix[k] ?? 0) : value))
    const locked = [first, { ...second, matrix: onTop }, ...(kept.tree.locked ?? []).slice(2)]
    const near = { ...kept, tree: { ...kept.tree, locked } }
    const { facts } = arrangePlan(planned(near), {}, solids)
    const told = planned(near, facts)
    expect(told.arranged).toBeUndefined()
    expect(told.go.stops.map(({ id }) => id)).toContain('flask.arranged')
  })
})

const fail = (): never => {
  throw new Error('the sprues are worked out')
}

const sourcesOf = (quantity: {
  source: string
  inputs: Readonly<Record<string, typeof quantity>>
}): string[] => [quantity.source, ...Object.values(quantity.inputs).flatMap(sourcesOf)]

describe('the pressure at the farthest metal', () => {
  const judged = (of: Pour) =>
    planned(of, arrangePlan(planned(of), {}, solids).facts).verdicts.find(({ id }) => id === 'spin.pressure')

  it('passes where it is far above what the thinnest wall asks, and is judged only of placed waxes', () => {
    expect(byRule.verdicts.find(({ id }) => id === 'spin.pressure')).toBeUndefined()
    const told = judged(pour)
    expect(told?.verdict).toBe('pass')
    expect(writeWords(told?.reason ?? [], METRIC)).toMatch(/thinnest wall needs/)
  })

  it('is no pass once the arm hardly turns', () => {
    const slow = { ...shop, machines: shop.machines.map((machine) => ({ ...machine, speedAtTurns_rpm: 40 })) }
    const plan = planPour(slow, pour, { now })
    const told = planPour(slow, pour, { now, arrangements: { [arrangementKey(plan)]: found.facts } })
    expect(told.verdicts.find(({ id }) => id === 'spin.pressure')?.verdict).toBe('stop')
  })
})
