import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { solve as solveBySecondOpinion } from 'yalps'
import { createHighsSolver } from '../../../solver/highs.ts'
import { METRIC, writeWords } from '../../quantity/index.ts'
import { findFractions } from './find-charge.ts'
import type { ChargeAnswer, ChargeMade, ChargeRequest, Lot } from './index.ts'
import { causesOf, inWords, makeUpCharge } from './index.ts'
import { limitsOf } from './limits.ts'
import { countLots } from './lots.ts'
import { exactly, lot, request, sterling } from './sample.ts'

const solver = createHighsSolver()
const makeUp = (asked: ChargeRequest): Promise<ChargeAnswer> => makeUpCharge(asked, solver)

const made = (answer: ChargeAnswer): ChargeMade => {
  if (answer.kind !== 'made-up') throw new Error(answer.problems.map(inWords).join('; '))
  return answer
}

const kindsOf = (answer: ChargeAnswer): string[] =>
  answer.kind === 'cannot' ? answer.problems.map((problem) => problem.kind) : ['made-up']

const gramsOf = (answer: ChargeAnswer): Record<string, number> =>
  Object.fromEntries(made(answer).lines.map((line) => [line.lot, Number((line.mass_kg * 1000).toFixed(6))]))

// --- An account of a charge kept by the test alone, in whole steps, sharing no arithmetic with the source. ---

const reach = 1.6448536269514722

const countsOf = (asked: ChargeRequest, answer: ChargeMade): number[] =>
  asked.lots.map(({ id }) =>
    Math.round((answer.lines.find((line) => line.lot === id)?.mass_kg ?? 0) / asked.scaleStep_kg),
  )

const silverOf = (one: Lot) => one.composition.Ag ?? exactly(0)

const breachesOf = (asked: ChargeRequest, counts: number[]): string[] => {
  const { alloy, lots } = asked
  const total = counts.reduce((sum, count) => sum + count, 0)
  const share = (of: (one: Lot) => number) =>
    lots.reduce((sum, one, index) => sum + ((counts[index] ?? 0) / total) * of(one), 0)
  const wanted = (alloy.finenessTarget_ppt ?? alloy.finenessLeast_ppt ?? 0) / 1000
  const pulls = lots.map((one, index) =>
    (counts[index] ?? 0) > 0 ? Math.abs(silverOf(one).value - wanted) / total : 0,
  )
  const expected = share((one) => silverOf(one).value)
  const variance = lots.reduce((sum, one, index) => {
    const assay = ((counts[index] ?? 0) / total) * (silverOf(one).value - silverOf(one).low)
    return sum + assay ** 2 + ((pulls[index] ?? 0) * reach) ** 2 / 12
  }, 0)
  const lowest = {
    expected,
    'fifth percentile': expected - Math.sqrt(variance),
    'worst case': share((one) => silverOf(one).low) - pulls.reduce((sum, pull) => sum + pull / 2, 0),
  }[asked.guard ?? 'fifth percentile']
  const breaches: string[] = []
  const hold = (holds: boolean, what: string) => {
    if (!holds) breaches.push(what)
  }
  hold(total === Math.round(asked.target_kg / asked.scaleStep_kg), 'sum')
  hold(expected >= (alloy.finenessTarget_ppt ?? 0) / 1000 - 1e-9, 'aim')
  hold(expected <= (alloy.finenessMost_ppt ?? 1000) / 1000 + 1e-9, 'most fineness')
  hold(lowest >= (alloy.finenessLeast_ppt ?? 0) / 1000 - 1e-9, 'guard')
  for (const [element, most] of Object.entries(alloy.forbidden ?? {}))
    hold(share((one) => one.composition[element]?.high ?? 0) <= most + 1e-9, `forbidden ${element}`)
  const old = share((one) => (['returns', 'scrap', 'coin'].includes(one.kind) ? 1 : 0))
  hold(old <= (asked.returnedMost ?? 0.5) + 1e-9, 'returned')
  hold(counts.filter((count) => count > 0).length <= (asked.mostLots ?? counts.length), 'lots')
  lots.forEach((one, index) => {
    const count = counts[index] ?? 0
    if (!one.wholePieces_kg) hold(count * asked.scaleStep_kg <= one.mass_kg + 1e-9, `stock of ${one.id}`)
    hold(count === 0 || count * asked.scaleStep_kg >= (one.leastUse_kg ?? 0) - 1e-9, `least of ${one.id}`)
    hold(one.mayUse || count === 0, `leave to use ${one.id}`)
  })
  return breaches
}

const costOf = (asked: ChargeRequest, counts: number[]): number =>
  asked.lots.reduce(
    (sum, one, index) => sum + (counts[index] ?? 0) * asked.scaleStep_kg * one.price_per_kg,
    0,
  )

// --- Random requests: sterling-like aims from lots that sometimes can and sometimes cannot reach them. ---

const step = 0.0001
const anyLot = (id: string): fc.Arbitrary<Lot> =>
  fc
    .record({
      kind: fc.constantFrom<Lot['kind'][]>('fine', 'alloying', 'casting grain', 'returns', 'scrap'),
      silver: fc.integer({ min: 700, max: 999 }),
      below: fc.integer({ min: 0, max: 6 }),
      lead: fc.constantFrom(0, 0, 0.00005, 0.0004),
      stock: fc.integer({ min: 0, max: 60 }),
      price: fc.integer({ min: 1, max: 900 }),
      leastUse: fc.constantFrom(undefined, undefined, 8),
    })
    .map(({ kind, silver, below, lead, stock, price, leastUse }) => {
      const value = (kind === 'fine' ? 999 : kind === 'alloying' ? 0 : silver) / 1000
      const half = kind === 'fine' || kind === 'alloying' ? 0 : below / 1000
      return lot(id, kind, value * 1000, {
        mass_kg: stock * step,
        price_per_kg: price,
        composition: {
          Ag: { value, low: value - half, high: Math.min(1, value + half) },
          Cu: exactly(Math.max(0, 1 - value - lead)),
          Pb: { value: lead, low: 0, high: lead },
        },
        ...(leastUse === undefined ? {} : { leastUse_kg: leastUse * step }),
      })
    })

const anyRequest = (lotCount: { min: number; max: number }): fc.Arbitrary<ChargeRequest> =>
  fc
    .record({
      target: fc.integer({ min: 12, max: 45 }),
      aim: fc.integer({ min: 900, max: 950 }),
      margin: fc.integer({ min: 0, max: 8 }),
      guard: fc.constantFrom<NonNullable<ChargeRequest['guard']>[]>(
        'expected',
        'fifth percentile',
        'worst case',
      ),
      most: fc.constantFrom(undefined, 970),
      returnedMost: fc.constantFrom(0, 0.5, 1),
      mostLots: fc.constantFrom(undefined, undefined, 2),
      lots: fc
        .integer(lotCount)
        .chain((n) => fc.tuple(...Array.from({ length: n }, (_, i) => anyLot(`lot ${i}`)))),
    })
    .map(({ target, aim, margin, guard, most, returnedMost, mostLots, lots }) => ({
      target_kg: Number((target * step).toFixed(4)),
      scaleStep_kg: step,
      alloy: sterling({
        finenessTarget_ppt: aim,
        finenessLeast_ppt: aim - margin,
        finenessMost_ppt: most,
        forbidden: { Pb: 0.0001 },
      }),
      lots,
      returnedMost,
      guard,
      mostLots,
    }))

/** Every charge of up to three lots, counted out. */
const everyCharge = (asked: ChargeRequest): number[][] => {
  const total = Math.round(asked.target_kg / asked.scaleStep_kg)
  const fill = (left: number, lots: number): number[][] =>
    lots === 1
      ? [[left]]
      : Array.from({ length: left + 1 }, (_, count) =>
          fill(left - count, lots - 1).map((rest) => [count, ...rest]),
        ).flat()
  return fill(total, asked.lots.length)
}

describe('charges made up from random stock', () => {
  test('hold every limit, sum to the target to the last step and leave no lot overdrawn', async () => {
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 2, max: 7 }), async (asked) => {
        const answer = await makeUp(asked)
        if (answer.kind === 'made-up') expect(breachesOf(asked, countsOf(asked, answer))).toEqual([])
      }),
      { numRuns: 150 },
    )
  })

  test('cost exactly what the cheapest of all countable charges costs, or there is none', async () => {
    let feasible = 0
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 2, max: 3 }), async (asked) => {
        const allowed = everyCharge(asked).filter((counts) => breachesOf(asked, counts).length === 0)
        const answer = await makeUp(asked)
        expect(answer.kind).toBe(allowed.length > 0 ? 'made-up' : 'cannot')
        if (answer.kind === 'cannot') return
        feasible += 1
        const cheapest = Math.min(...allowed.map((counts) => costOf(asked, counts)))
        expect(answer.cost).toBeCloseTo(cheapest, 9)
      }),
      { numRuns: 200 },
    )
    expect(feasible).toBeGreaterThan(10)
  })

  test('cost exactly the cheapest where a vague lot can be blended with fine and copper', async () => {
    let guardCosts = 0
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 1, max: 1 }), async (drawn) => {
        const shelf = [lot('fine', 'fine', 999, { price_per_kg: 950 }), lot('copper', 'alloying', 0)]
        const lots = [...drawn.lots.map((one) => ({ ...one, mass_kg: 1 })), ...shelf]
        const asked: ChargeRequest = { ...drawn, lots, returnedMost: 1 }
        const allowed = everyCharge(asked).filter((counts) => breachesOf(asked, counts).length === 0)
        const answer = await makeUp(asked)
        expect(answer.kind).toBe(allowed.length > 0 ? 'made-up' : 'cannot')
        if (answer.kind === 'cannot') return
        const cheapest = Math.min(...allowed.map((counts) => costOf(asked, counts)))
        expect(answer.cost).toBeCloseTo(cheapest, 9)
        const free = made(await makeUp({ ...asked, guard: 'expected' }))
        if ((free.cost ?? 0) < cheapest - 1e-9) guardCosts += 1
      }),
      { numRuns: 150 },
    )
    // The guard must have mattered, or nothing was shown.
    expect(guardCosts).toBeGreaterThan(5)
  })

  test('are never dearer than a random competitor that keeps every limit', async () => {
    await fc.assert(
      fc.asyncProperty(
        anyRequest({ min: 4, max: 8 }),
        fc.array(fc.array(fc.nat(60), { minLength: 8, maxLength: 8 }), { minLength: 40, maxLength: 40 }),
        async (asked, draws) => {
          const total = Math.round(asked.target_kg / asked.scaleStep_kg)
          const rivals = draws.map((draw) => {
            let left = total
            return asked.lots.map((one, index) => {
              const stock = Math.round(one.mass_kg / asked.scaleStep_kg)
              const count = Math.min(left, stock, index === asked.lots.length - 1 ? left : (draw[index] ?? 0))
              left -= count
              return count
            })
          })
          const allowed = rivals.filter((counts) => breachesOf(asked, counts).length === 0)
          if (allowed.length === 0) return
          const answer = made(await makeUp(asked))
          for (const counts of allowed) expect(answer.cost).toBeLessThanOrEqual(costOf(asked, counts) + 1e-9)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('agree with a second solver on the least cost of a free blend, and on whether there is one', async () => {
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 2, max: 7 }), async (drawn) => {
        const asked: ChargeRequest = {
          ...drawn,
          guard: 'expected',
          mostLots: undefined,
          lots: drawn.lots.map((one) => ({ ...one, leastUse_kg: undefined })),
        }
        const { lots } = countLots(asked)
        const total = Math.round(asked.target_kg / step)
        const ours = await findFractions(
          {
            request: asked,
            lots,
            total,
            limits: limitsOf(asked),
            guarded: false,
            objective: { direction: 'least', perStep: lots.map((one) => one.lot.price_per_kg) },
          },
          solver,
        )
        const { alloy } = asked
        const theirs = solveBySecondOpinion({
          direction: 'minimize',
          objective: 'cost',
          constraints: {
            mass: { equal: total },
            silver: { min: ((alloy.finenessTarget_ppt ?? 0) / 1000) * total },
            silverMost: { max: ((alloy.finenessMost_ppt ?? 1000) / 1000) * total },
            lead: { max: 1e-4 * total * 1e4 },
            old: { max: (asked.returnedMost ?? 0.5) * total },
            ...Object.fromEntries(lots.map((one) => [one.lot.id, { max: one.stock }])),
          },
          variables: Object.fromEntries(
            lots.map(({ lot: one }) => [
              one.id,
              {
                cost: one.price_per_kg,
                mass: 1,
                silver: silverOf(one).value,
                silverMost: silverOf(one).value,
                lead: (one.composition.Pb?.high ?? 0) * 1e4,
                old: one.kind === 'returns' || one.kind === 'scrap' ? 1 : 0,
                [one.id]: 1,
              },
            ]),
          ),
        })
        expect(ours.kind).toBe(theirs.status === 'optimal' ? 'found' : 'none')
        if (ours.kind !== 'found') return
        const cost = ours.amounts.reduce(
          (sum, amount, i) => sum + amount * (lots[i]?.lot.price_per_kg ?? 0),
          0,
        )
        expect(Math.abs(cost - theirs.result)).toBeLessThanOrEqual(1e-6 * Math.max(1, theirs.result))
      }),
      { numRuns: 200 },
    )
  })

  test('do not depend on the order in which the lots are listed', async () => {
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 3, max: 6 }), async (asked) => {
        const turned = { ...asked, lots: [...asked.lots].reverse() }
        expect(await makeUp(turned)).toEqual(await makeUp(asked))
      }),
      { numRuns: 30 },
    )
  })

  test('come within reach once the metal that a refusal asks for is bought', async () => {
    await fc.assert(
      fc.asyncProperty(anyRequest({ min: 1, max: 5 }), async (asked) => {
        const answer = await makeUp(asked)
        if (answer.kind === 'made-up') return
        const problem = answer.problems[0]
        expect(problem?.remedy).not.toBe('')
        if (!problem || !('buy' in problem) || !problem.buy) return
        const bought = problem.buy.map((item) =>
          lot(item.lot, item.lot === 'fine-Ag' ? 'fine' : 'alloying', item.lot === 'fine-Ag' ? 999 : 0, {
            mass_kg: item.mass_kg,
            composition: item.lot === 'fine-Ag' ? { Ag: exactly(0.999) } : { Cu: exactly(1) },
          }),
        )
        expect(kindsOf(await makeUp({ ...asked, lots: [...asked.lots, ...bought] }))).toEqual(['made-up'])
      }),
      { numRuns: 80 },
    )
  })
})

const fine = lot('fine', 'fine', 999, { composition: { Ag: exactly(0.999) } })
const copper = lot('copper', 'alloying', 0, { price_per_kg: 10 })
const returns = lot('returns', 'returns', 925, { mass_kg: 0.06, price_per_kg: 500, generation: 2 })

describe('a charge from the shelf', () => {
  test('60 g of returns with fine silver and copper makes 140 g at 927 on a tenth-gram scale', async () => {
    // Fine by alligation: (140 x 927 - 60 x 925) / 999 = 74.354 g, up to the next tenth.
    const asked = request({
      alloy: sterling({ finenessTarget_ppt: 927 }),
      returnedMost: 0.5,
      lots: [returns, fine, copper],
    })
    expect(gramsOf(await makeUp(asked))).toEqual({ returns: 60, fine: 74.4, copper: 5.6 })
  })

  test('half of the charge at most is metal melted before, unless the shop says otherwise', async () => {
    const cheap = lot('cheap', 'returns', 925, { price_per_kg: 1 })
    const asked = request({ target_kg: 0.1, returnedMost: undefined, lots: [cheap, fine, copper] })
    expect(made(await makeUp(asked)).returnedShare).toBe(0.5)
  })

  test('whole pieces go in whole, and only so many as fit', async () => {
    // Pieces of 30, 25 and 12 g under a limit of 45 g returned: 30 + 12 is the most that fits.
    const coins = lot('coins', 'coin', 925, { price_per_kg: 100, wholePieces_kg: [0.03, 0.025, 0.012] })
    const asked = request({ target_kg: 0.1, returnedMost: 0.45, lots: [coins, fine, copper] })
    const line = made(await makeUp(asked)).lines.find((one) => one.lot === 'coins')
    expect(line?.mass_kg).toBe(0.042)
    expect(line?.pieces_kg).toEqual([0.03, 0.012])
  })

  test('a least amount is kept or the lot is left out', async () => {
    const cheap = lot('cheap', 'returns', 925, { price_per_kg: 1, leastUse_kg: 0.08, mass_kg: 0.2 })
    const within = request({ target_kg: 0.1, returnedMost: 0.9, lots: [cheap, fine, copper] })
    expect(gramsOf(await makeUp(within)).cheap).toBe(90)
    const beyond = request({ target_kg: 0.1, returnedMost: 0.5, lots: [cheap, fine, copper] })
    expect(gramsOf(await makeUp(beyond)).cheap).toBeUndefined()
  })

  test("a client's metal stays out unless that client is named, and must-use metal goes in", async () => {
    const band = lot('band', 'scrap', 925, { owner: 'client 7', price_per_kg: 0, mass_kg: 0.01 })
    const asked = request({ target_kg: 0.05, returnedMost: 0.5, lots: [band, fine, copper] })
    expect(gramsOf(await makeUp(asked)).band).toBeUndefined()
    expect(gramsOf(await makeUp({ ...asked, clientMetal: ['client 7'] })).band).toBe(10)
    const dear = { ...band, price_per_kg: 9000, mustUse_kg: 0.01 }
    const forced = { ...asked, clientMetal: ['client 7'], lots: [dear, fine, copper] }
    expect(gramsOf(await makeUp(forced)).band).toBe(10)
  })

  test('of two like lots the older returns go first where that is wanted', async () => {
    const young = lot('a young', 'returns', 925, { price_per_kg: 500, generation: 1, mass_kg: 0.06 })
    const old = lot('b old', 'returns', 925, { price_per_kg: 500, generation: 3, mass_kg: 0.06 })
    const asked = request({ target_kg: 0.1, returnedMost: 0.5, lots: [young, old, fine, copper] })
    expect(gramsOf(await makeUp({ ...asked, preferOldReturns: true }))['b old']).toBe(50)
  })

  test('a poorly known assay is made up for with fine silver until nineteen in twenty are legal', async () => {
    const vague = lot('vague', 'returns', 925, {
      price_per_kg: 100,
      composition: { Ag: { value: 0.925, low: 0.915, high: 0.935 }, Cu: exactly(0.075) },
    })
    const alloy = sterling({ finenessLeast_ppt: 925 })
    const asked = request({ target_kg: 0.1, returnedMost: 0.5, alloy, lots: [vague, fine, copper] })
    const guarded = made(await makeUp(asked))
    expect(guarded.fineness.low_ppt).toBeGreaterThanOrEqual(925 - 1e-6)
    expect(made(await makeUp({ ...asked, guard: 'worst case' })).finenessWorst_ppt).toBeGreaterThanOrEqual(
      925 - 1e-6,
    )
    expect(made(await makeUp({ ...asked, guard: 'expected' })).finenessExpected_ppt).toBeLessThan(
      guarded.finenessExpected_ppt,
    )
  })

  test('scrap that nobody has tested for lead is named in the answer', async () => {
    const alloy = sterling({ finenessTarget_ppt: 925, forbidden: { Pb: 0.0001 } })
    const spoons = lot('spoons', 'scrap', 925, { price_per_kg: 1 })
    const answer = made(await makeUp(request({ alloy, lots: [spoons] })))
    expect(answer.notes).toEqual([
      { kind: 'untested-scrap', lot: 'spoons', name: 'spoons', elements: ['Pb'] },
    ])
  })
})

describe('a charge that cannot be made says why', () => {
  test('too little metal: how much is short, and what to buy', async () => {
    const answer = await makeUp(request({ lots: [{ ...returns, mass_kg: 0.1 }] }))
    expect(answer).toMatchObject({
      kind: 'cannot',
      problems: [{ kind: 'not-enough-metal', usable_kg: 0.1, target_kg: 0.14, short_kg: 0.04 }],
    })
  })

  test('stock under the fineness: the best it can reach, and the fine silver that would lift it', async () => {
    // 80 g of 900 needs 80 (925 - 900) / (999 - 925) = 27.027 g of fine; for 100 g, 66.2 % of that mix.
    const coinSilver = lot('coin silver', 'returns', 900, { mass_kg: 0.1 })
    const answer = await makeUp(request({ target_kg: 0.1, lots: [coinSilver] }))
    expect(answer).toMatchObject({
      problems: [
        { kind: 'fineness-out-of-reach', wanted_ppt: 925, buy: [{ lot: 'fine-Ag', mass_kg: 0.0253 }] },
      ],
    })
    if (answer.kind !== 'cannot' || answer.problems[0]?.kind !== 'fineness-out-of-reach') throw new Error()
    expect(answer.problems[0].best_ppt).toBeCloseTo(900, 9)
    expect(inWords(answer.problems[0])).toContain('900 in 1000')
    expect(answer.problems[0].remedy).toBe('buy or add 25.3\u00a0g of fine silver 999')
  })

  test('a purchase of the least metal takes no more silver than the aim asks', async () => {
    // half of 100 g at most may be returns at 925: 50 g of new metal, whatever it is. 927 x 100 - 925 x 50 =
    // 46 450 parts of silver in it, 46.5 g of fine 999, and 3.5 g of copper; all fine would make 962
    const alloy = sterling({ finenessTarget_ppt: 927 })
    const lots = [lot('old', 'returns', 925)]
    const answer = await makeUp(request({ target_kg: 0.1, returnedMost: 0.5, alloy, lots }))
    expect(answer).toMatchObject({
      problems: [
        {
          kind: 'fineness-out-of-reach',
          buy: [
            { lot: 'fine-Ag', mass_kg: 0.0465 },
            { lot: 'alloying-Cu', mass_kg: 0.0035 },
          ],
        },
        { kind: 'too-much-returned' },
      ],
    })
  })

  test('limits that one purchase meets are one cause, told once and in parts of a thousand', async () => {
    const alloy = sterling({
      limits: { Ag: { low: 0.925, high: 0.94 }, Cu: { low: 0.06, high: 0.075 } },
      finenessTarget_ppt: 927,
      finenessLeast_ppt: 925,
    })
    const lots = [lot('old', 'returns', 900)]
    const answer = await makeUp(request({ target_kg: 0.1, returnedMost: 0.5, alloy, lots }))
    if (answer.kind !== 'cannot') throw new Error('made up; expected a refusal')
    expect(answer.problems).toHaveLength(5)
    const causes = causesOf(answer.problems)
    expect(causes).toHaveLength(1)
    const words = writeWords(causes[0]?.trouble ?? [], METRIC)
    expect(words).toContain('900 in 1000, and 927 in 1000 is wanted')
    expect(words).toContain('silver, copper, the share melted before, the fineness at its lowest')
    for (const problem of answer.problems) expect(inWords(problem)).not.toContain('%')
  })

  test('causes that want different remedies stay apart', async () => {
    const alloy = sterling({ finenessTarget_ppt: 925, forbidden: { Pb: 0.0001 } })
    const soldered = lot('soldered bowl', 'scrap', 900, {
      composition: { Ag: exactly(0.9), Cu: exactly(0.098), Pb: { value: 0.002, low: 0.001, high: 0.003 } },
    })
    const answer = await makeUp(request({ target_kg: 0.1, alloy, lots: [soldered] }))
    if (answer.kind !== 'cannot') throw new Error('made up; expected a refusal')
    expect(causesOf(answer.problems).map(({ lead }) => lead.kind)).toEqual([
      'fineness-out-of-reach',
      'forbidden-element',
    ])
  })

  test('leaded scrap: the element and the lot it comes from', async () => {
    const alloy = sterling({ finenessTarget_ppt: 925, forbidden: { Pb: 0.0001 } })
    const soldered = lot('soldered bowl', 'scrap', 950, {
      composition: { Ag: exactly(0.95), Cu: exactly(0.048), Pb: { value: 0.002, low: 0.001, high: 0.003 } },
    })
    const answer = await makeUp(request({ alloy, lots: [soldered] }))
    expect(answer).toMatchObject({
      problems: [{ kind: 'forbidden-element', element: 'Pb', from: ['soldered bowl'], most: 0.0001 }],
    })
  })

  test('scrap of which the rest is not said is left aside, and the numbers are without it', async () => {
    const spoon = lot('old spoon', 'scrap', 92.5, { mass_kg: 0.05, composition: { Ag: exactly(0.0925) } })
    const lots = [lot('grain', 'casting grain', 925, { mass_kg: 0.06 }), spoon]
    const answer = await makeUp(request({ target_kg: 0.1, lots }))
    if (answer.kind !== 'cannot') throw new Error('made up; expected a refusal')
    expect(answer.problems).toMatchObject([{ kind: 'not-enough-metal', usable_kg: 0.06, short_kg: 0.04 }])
    const [cause] = causesOf(answer.problems)
    expect(writeWords(cause?.trouble ?? [], METRIC)).toContain('old spoon (its rest is not known)')
    expect(writeWords(cause?.remedy ?? [], METRIC)).toMatch(/^state what else is in old spoon, or have it as/)
    // once its copper is stated it counts, and bought metal counts on its maker's word
    const told = { ...spoon, composition: { Ag: exactly(0.925), Cu: exactly(0.075) } }
    const grain = lot('grain', 'casting grain', 925, { mass_kg: 0.06, composition: { Ag: exactly(0.925) } })
    const asked = request({ target_kg: 0.1, lots: [grain, told], alloy: sterling({ limits: {} }) })
    expect(made(await makeUp(asked)).lines.map((line) => line.lot)).toContain('old spoon')
  })

  test('too much metal melted before: the new metal that is missing', async () => {
    const lots = [lot('old', 'returns', 930), lot('grain', 'casting grain', 925, { mass_kg: 0.03 })]
    const answer = await makeUp(request({ target_kg: 0.1, returnedMost: 0.5, lots }))
    expect(answer).toMatchObject({
      problems: [{ kind: 'too-much-returned', most: 0.5, newMetalShort_kg: 0.02 }],
    })
  })

  test('several limits out of reach are all named at once', async () => {
    const lots = [lot('old', 'returns', 800)]
    const answer = await makeUp(request({ target_kg: 0.1, returnedMost: 0.5, lots }))
    expect(kindsOf(answer)).toEqual(['fineness-out-of-reach', 'too-much-returned'])
  })

  test('limits that hold one by one but not together are named as the conflict', async () => {
    // New metal is all at 900; only old metal is rich, and half of each gives 920.
    const lots = [lot('rich', 'returns', 940), lot('poor', 'casting grain', 900)]
    const answer = await makeUp(request({ target_kg: 0.1, returnedMost: 0.5, lots }))
    expect(answer).toMatchObject({
      problems: [
        {
          kind: 'limits-conflict',
          limits: ['fineness at least 925 in 1000', 'at most 500 in 1000 melted before'],
        },
      ],
    })
  })

  test('pieces that do not add up: the nearest charges that do', async () => {
    const lots = [lot('coins', 'coin', 925, { wholePieces_kg: [0.03, 0.025] })]
    const answer = await makeUp(request({ target_kg: 0.04, lots }))
    expect(answer).toMatchObject({
      problems: [{ kind: 'pieces-do-not-add-up', nearestBelow_kg: 0.03, nearestAbove_kg: 0.055 }],
    })
  })

  test('more lots than are allowed: how many it takes', async () => {
    // No legal lot holds 100 g by itself; 50 g of returns with 50 g of fine do.
    const lots = [{ ...returns, mass_kg: 0.05 }, { ...fine, mass_kg: 0.06 }, copper]
    const answer = await makeUp(request({ target_kg: 0.1, mostLots: 1, lots }))
    expect(answer).toMatchObject({ problems: [{ kind: 'too-few-lots', most: 1, fewest: 2 }] })
  })

  test('a scale too coarse for the limits', async () => {
    // 3 g in whole grams of 999 and copper is 999, 666 or less: nothing between 920 and 930.
    const alloy = sterling({ finenessTarget_ppt: 920, finenessMost_ppt: 930 })
    const answer = await makeUp(
      request({ target_kg: 0.003, scaleStep_kg: 0.001, alloy, lots: [fine, copper] }),
    )
    expect(kindsOf(answer)).toEqual(['scale-too-coarse'])
  })

  test('numbers that are not usable, all at once', async () => {
    const lots = [
      { ...fine, mass_kg: Number.NaN },
      { ...copper, price_per_kg: -1 },
    ]
    const answer = await makeUp(request({ target_kg: 0.14005, returnedMost: 1.2, lots }))
    expect(answer.kind === 'cannot' && answer.problems.map((problem) => problem.where)).toEqual([
      'target_kg',
      'returnedMost',
      'lots.fine.mass_kg',
      'lots.copper.price_per_kg',
    ])
    const client = lot('band', 'scrap', 925, { owner: 'client 7', mass_kg: 0.01, mustUse_kg: 0.02 })
    const unnamed = await makeUp(request({ target_kg: 0.015, lots: [client] }))
    expect(unnamed.kind === 'cannot' && unnamed.problems.map(inWords)).toEqual([
      "lots is 0.02 kg to be used at least; at most the charge's 0.015 kg is wanted",
      "lots.band.mustUse_kg is 0.02; at most the lot's 0.01 kg is wanted",
      'lots.band.mustUse_kg is 0.02; client 7 named in clientMetal is wanted',
    ])
  })
})
