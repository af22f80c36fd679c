import fc from 'fast-check'
import { expect, test } from 'vitest'
import { openRoots, type Piece, type Pour, pourSchema, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { movedBothWays } from '../moved-both-ways.ts'
import { METRIC, type Quantity, root, type Unit, writeWords } from '../quantity/index.ts'
import { type PriceInput, planPrice, spoiledShare } from './index.ts'

const given = (id: string, unit: Unit, value: number): Quantity =>
  root({ id, title: id, unit, value, kind: 'weighed', source: 'given for this test' })

const set: Piece = {
  id: 'clasp',
  name: 'Clasp',
  quantity: 1,
  source: { from: 'volume', volume_cm3: 7 },
  seat: {
    name: 'carnelian',
    length_mm: 18,
    width_mm: 13,
    gap_mm: 0.05,
    polish_mm: 0.03,
    heatSensitive: true,
    price: 40,
  },
}

const pourWith = (price: Partial<Pour['price']> = {}): Pour =>
  pourSchema.parse({
    kind: 'pour',
    version: 1,
    name: 'Cloak clasp set',
    alloy: 'sterling',
    pieces: [set],
    tree: {},
    investment: { id: 'gypsum-bonded', water_C: 21 },
    kiln: 'kiln',
    machine: 'spring-arm',
    crucible: 'crucible',
    torch: 'torch',
    castAt: { weekday: 'saturday', time: '15:30' },
    charge: {},
    spin: {},
    price: { labour_h: { carving: 14, casting: 2, finishing: 6, setting: 1.5 }, failedPours: 0.09, ...price },
  })

/** Scenario prices: fine silver 1.00 a gram, 32 an hour, overhead 15 %, no margin, gas and powder 9 in all. */
const shopWith = (prices: Partial<Shop['prices']> = {}, over: Partial<Shop> = {}): Shop => {
  const shop = usualShop()
  return {
    ...shop,
    prices: {
      ...shop.prices,
      metal_g: { Ag: 1, Cu: 0 },
      gas_pour: 4,
      labour_h: 32,
      overhead: 0.15,
      margin: 0,
      unrecoveredLoss: 0.35,
      ...prices,
    },
    ...over,
  }
}

const price = (over: Partial<PriceInput> = {}, pour = pourWith(), shop = shopWith()) =>
  planPrice({
    roots: openRoots(shop, pour),
    shop,
    pour,
    alloyIndex: 0,
    fineness: given('fineness', 'ppt', 927),
    charge: given('charge', 'kg', 0.14),
    castMassTotal: given('cast', 'kg', 0.0738),
    finishedMassTotal: given('finished', 'kg', 0.0675),
    metalBack: given('back', 'kg', 0.0603),
    powderCost: given('powder', 'money', 5),
    energyCost: given('energy', 'money', 0),
    waxMass: given('wax', 'kg', 0),
    ...over,
  })

const amount = (answer: ReturnType<typeof price>, name: string): number | undefined =>
  answer.lines.find((line) => line.name === name)?.amount.value

test('the worked quote comes out line by line: metal, loss, labour, overhead and the share of a second try', () => {
  const answer = price()
  // 67.5 g x 0.927 = 62.57; 6.3 g x 0.35 x 0.927 = 2.044; 23.5 h x 32 = 752
  expect(amount(answer, 'metal')).toBeCloseTo(62.5725, 6)
  expect(amount(answer, 'metal lost')).toBeCloseTo(2.044035, 6)
  expect(amount(answer, 'labour')).toBeCloseTo(752, 9)
  // + stone 40 + gas and powder 9 = 865.6; 15 % of it 129.8
  expect(answer.direct?.value).toBeCloseTo(865.6165, 3)
  expect(answer.overhead?.value).toBeCloseTo(129.842, 2)
  // second try: (14 + 2) h x 32 + 9 = 521; 9 in 100 of it 46.89
  expect(answer.secondTry?.cost.value).toBeCloseTo(521, 9)
  expect(answer.secondTry?.share?.value).toBeCloseTo(46.89, 9)
  expect(answer.ask?.value).toBeCloseTo(865.6165 + 129.8425 + 46.89, 2)
})

test('with only the carving named to be done again, the share of a second try is as worked by hand', () => {
  // 9 % x (14 x 32 + 12): gas and powder stand at 12 here; 865.6 + 3, overhead 15 % of it
  const answer = price({ powderCost: given('powder', 'money', 8) }, pourWith({ again: ['carving'] }))
  expect(answer.secondTry?.share?.value).toBeCloseTo(0.09 * (14 * 32 + 12), 9)
})

test('the deposit is half of what the client is quoted, and the client is quoted what is asked, rounded up', () => {
  const vague = pourWith({
    labour_h: { carving: { value: 14, low: 10, high: 18 }, casting: 2, finishing: 6 },
  })
  const answer = price({}, vague)
  const [asked = 0, quoted = 0] = [answer.ask?.value, answer.quote?.price]
  expect(answer.deposit?.value).toBeCloseTo(quoted / 2, 9)
  expect(answer.quote?.deposit).toBe(answer.deposit?.value)
  // between a hundred and a thousand, so up to the next five and no further
  expect(asked).toBeGreaterThan(100)
  expect(quoted % 5).toBe(0)
  expect(quoted).toBeGreaterThanOrEqual(asked)
  expect(quoted - asked).toBeLessThan(5)
  // what the client reads adds up, and shows nothing of overhead, margin or the second try
  const shown = answer.quote?.lines.map((line) => line.amount) ?? []
  expect(shown).toHaveLength(3)
  expect(shown.reduce((sum, amount) => sum + amount, 0)).toBeCloseTo(answer.quote?.price ?? 0, 9)
})

test('no quote is made up from hours that nobody entered, unless the caster names the figure', () => {
  const waiting = price({}, pourWith({ labour_h: { carving: 14 } }))
  expect(waiting.quoteWaitsFor).toEqual(['casting', 'finishing'])
  expect(waiting.ask).toBeDefined()
  expect(waiting.quote).toBeUndefined()
  expect(waiting.deposit).toBeUndefined()
  expect(price().quoteWaitsFor).toEqual([])
  const named = price({}, pourWith({ labour_h: { carving: 14 }, quote: 1240 }))
  expect(named.quote).toMatchObject({ price: 1240, deposit: 620 })
})

test('the client reads of the day’s price of the metal, and no price by the gram', () => {
  const words = writeWords(price().quote?.words ?? [], METRIC)
  expect(words).toContain("if silver moves by more than a tenth, the metal is charged at the day's price")
  expect(words).not.toMatch(/per\sg|a\sgram|alloy/)
})

test('a quote under what it costs the shop is a check', () => {
  const low = price({}, pourWith({ quote: 900 }))
  expect(low.answer.verdicts.find((one) => one.id === 'price.quote')?.verdict).toBe('check')
  expect(price().answer.verdicts.map((one) => one.id)).not.toContain('price.quote')
})

test('three spoiled of twelve may truly be one in ten to one in two, and nothing spoiled is not never', () => {
  const twelve = spoiledShare(12, 3)
  // Beta(3.5, 9.5): mean 3.5 / 13
  expect(twelve.mean).toBeCloseTo(3.5 / 13, 12)
  expect(twelve.low).toBeGreaterThan(0.08)
  expect(twelve.low).toBeLessThan(0.12)
  expect(twelve.high).toBeGreaterThan(0.42)
  expect(twelve.high).toBeLessThan(0.52)
  expect(spoiledShare(40, 0).high).toBeGreaterThan(0.03)
})

test('the chance comes from what was asked, else from the record, else it is left open and said', () => {
  const withRecord = shopWith({}, { record: { pours: 12, spoiled: 3 } })
  const unasked = pourWith({ failedPours: undefined })
  expect(price({}, pourWith(), withRecord).chance.from).toBe('asked')
  const fromRecord = price({}, unasked, withRecord).chance
  expect(fromRecord.from).toBe('record')
  expect(fromRecord.chance?.value).toBeCloseTo(3.5 / 13, 12)
  expect(fromRecord.chance?.low).toBe(spoiledShare(12, 3).low)
  const open = price({}, unasked)
  expect(open.chance.chance).toBeUndefined()
  expect(open.secondTry?.share).toBeUndefined()
  expect(open.chance.verdict.verdict).toBe('check')
  expect(open.chance.verdict.reason.join('')).toContain('never invented')
  expect(open.ask).toBeDefined()
})

test('a record with more spoiled pours than pours is refused, not averaged', () => {
  const bad = shopWith({}, { record: { pours: 2, spoiled: 3 } })
  const answer = price({}, pourWith({ failedPours: undefined }), bad)
  expect(answer.chance.chance).toBeUndefined()
  expect(answer.answer.problems.map((problem) => problem.kind)).toEqual(['record-impossible'])
})

test('a longer record with the same share is surer', () => {
  const width = (pours: number, spoiled: number): number => {
    const { low, high } = spoiledShare(pours, spoiled)
    return high - low
  }
  fc.assert(
    fc.property(fc.integer({ min: 4, max: 60 }), fc.integer({ min: 2, max: 6 }), (pours, times) => {
      const spoiled = Math.floor(pours / 4)
      expect(width(pours * times, spoiled * times)).toBeLessThan(width(pours, spoiled))
    }),
    { numRuns: 60 },
  )
})

test('a mould of 30 pays at a chance of 9 in 100 against a second carving of 450, and not at 5 in 100', () => {
  // 0.09 x 450 = 40.5 > 30; 0.05 x 450 = 22.5 < 30; break even at 30 / 450
  const shop = shopWith({ mould: 30, labour_h: 45 })
  const at = (failedPours: number) =>
    price({}, pourWith({ labour_h: { carving: 10 }, failedPours }), shop).mould
  expect(at(0.09)?.saves?.value).toBeCloseTo(40.5, 9)
  expect(at(0.09)?.pays).toBe('yes')
  expect(at(0.05)?.pays).toBe('no')
  expect(at(0.05)?.breakEven.value).toBeCloseTo(30 / 450, 12)
})

test('a vague record makes the mould too close to call', () => {
  const shop = shopWith({ mould: 120 }, { record: { pours: 12, spoiled: 3 } })
  expect(price({}, pourWith({ failedPours: undefined }), shop).mould?.pays).toBe('too close to call')
})

test("a client's own metal is not billed, and every fine gram stands on the account", () => {
  const answer = price(
    {
      fineness: given('fineness', 'ppt', 585),
      charge: given('charge', 'kg', 0.01758),
      castMassTotal: given('cast', 'kg', 0.00855),
      finishedMassTotal: given('finished', 'kg', 0.00752),
      metalBack: given('back', 'kg', 0.00903),
    },
    pourWith({ clientsMetal: true }),
  )
  expect(amount(answer, 'metal')).toBeUndefined()
  expect(amount(answer, 'metal lost')).toBeUndefined()
  expect(answer.ask).toBeDefined()
  const account = answer.clientsMetal
  // 17.58 x 0.585 = 10.284 g fine; 17.58 = 7.52 + 9.03 + 1.03, so nothing is unexplained
  expect(account?.charged?.value).toBeCloseTo(0.010284, 6)
  expect(account?.unexplained?.value ?? 1).toBeCloseTo(0, 9)
  expect((account?.lost?.value ?? 0) + (account?.filings?.value ?? 0)).toBeCloseTo(0.00103 * 0.585, 9)
})

test('without a finished weight or a metal price there is no sum to be misled by', () => {
  expect(price({ finishedMassTotal: undefined }).ask).toBeUndefined()
  const unpriced = price({}, pourWith(), shopWith({ metal_g: { Cu: 0.01 } }))
  expect(unpriced.ask).toBeUndefined()
  expect(unpriced.answer.problems.map((problem) => problem.kind)).toEqual(['metal-price-missing'])
})

test('money scales with money: every price doubled doubles what to ask', () => {
  const doubled = shopWith({ metal_g: { Ag: 2, Cu: 0 }, gas_pour: 8, labour_h: 64 })
  const pour = pourWith()
  const dear: Pour = { ...pour, pieces: [{ ...set, seat: { ...(set.seat ?? never()), price: 80 } }] }
  const once = price()
  const twice = price({ powderCost: given('powder', 'money', 10) }, dear, doubled)
  expect(twice.ask?.value).toBeCloseTo(2 * (once.ask?.value ?? 0), 6)
})

const never = (): never => {
  throw new Error('the example has no seat; expected one')
}

test('hours that nobody entered are usual ones, said to be not yours, and make the price wide', () => {
  const answer = price({}, pourWith({ labour_h: {} }))
  const verdict = answer.answer.verdicts.find((one) => one.id === 'price.labour')
  expect(verdict?.verdict).toBe('check')
  expect(writeWords(verdict?.title ?? [], METRIC)).toContain('usual, not yours')
  expect(answer.labour.steps.map((step) => [step.name, step.usual])).toEqual([
    ['carving', true],
    ['casting', true],
    ['finishing', true],
  ])
  const [carving] = answer.labour.steps
  expect((carving?.time.high ?? 0) / (carving?.time.low ?? 1)).toBeGreaterThan(5)
  // as many hours, entered exactly: a range no wider than the rest of the price makes it
  const entered = price({}, pourWith({ labour_h: { carving: 3, casting: 1, finishing: 1.5 } }))
  const width = (one: ReturnType<typeof price>) => (one.ask?.high ?? 0) - (one.ask?.low ?? 0)
  expect(entered.ask?.value).toBeCloseTo(answer.ask?.value ?? 0, 6)
  expect(width(answer)).toBeGreaterThan(width(entered) + 100)
  expect(entered.answer.verdicts.find((one) => one.id === 'price.labour')?.verdict).toBe('pass')
})

test('hours entered for one kind of work leave the others usual, and none is an entry too', () => {
  const some = price({}, pourWith({ labour_h: { carving: 10 } }))
  expect(some.labour.steps.filter((step) => step.usual).map((step) => step.name)).toEqual([
    'casting',
    'finishing',
  ])
  const none = price({}, pourWith({ labour_h: { carving: 10, casting: 2, finishing: 0 } }))
  expect(none.labour.steps.some((step) => step.usual)).toBe(false)
  expect(amount(none, 'labour')).toBeCloseTo(12 * 32, 9)
})

test('undated prices and missing hours are checks', () => {
  const verdicts = price({}, pourWith({ labour_h: {} })).answer.verdicts
  expect(verdicts.find((verdict) => verdict.id === 'price.metal')?.verdict).toBe('check')
  expect(verdicts.find((verdict) => verdict.id === 'price.labour')?.verdict).toBe('check')
  const dated = price({}, pourWith(), shopWith({ asOf: '2026-11-09' })).answer.verdicts
  expect(dated.find((verdict) => verdict.id === 'price.metal')?.verdict).toBe('pass')
})

test('the sum asked is the same through its explanation as when planned afresh', () => {
  const vague = { value: 14, low: 10, high: 18 }
  const shop = shopWith({ margin: 0.15 }, { record: { pours: 12, spoiled: 3 } })
  const pour = pourWith({ labour_h: { carving: vague, casting: 2 }, failedPours: undefined })
  const { ask } = price({}, pour, shop)
  if (ask === undefined) throw new Error('no sum; expected one')
  const moved = movedBothWays(ask, (path, value) => {
    const inner = path.replace(/^\/(shop|pour)/, '')
    return path.startsWith('/shop')
      ? price({}, pour, withPath(shop, inner, value)).ask
      : price({}, withPath(pour, inner, value), shop).ask
  })
  expect(moved.length).toBeGreaterThan(9)
  for (const [through, fresh, path] of moved) expect(through, path).toBeCloseTo(fresh, 6)
})

test('hours that are vaguer never make a surer price', () => {
  const width = (spread: number): number => {
    const { ask } = price(
      {},
      pourWith({ labour_h: { carving: { value: 14, low: 14 - spread, high: 14 + spread } } }),
    )
    return (ask?.high ?? 0) - (ask?.low ?? 0)
  }
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 4, noNaN: true }),
      fc.double({ min: 0, max: 4, noNaN: true }),
      (a, b) => {
        expect(width(Math.max(a, b))).toBeGreaterThanOrEqual(width(Math.min(a, b)))
      },
    ),
    { numRuns: 40 },
  )
})
