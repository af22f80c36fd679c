import fc from 'fast-check'
import { expect, test } from 'vitest'
import { openRoots, type Piece, type Pour, pourSchema, type Shop, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { movedBothWays } from '../moved-both-ways.ts'
import { type Quantity, root, type Unit } from '../quantity/index.ts'
import { type FinishInput, planFinish } from './index.ts'

const given = (id: string, unit: Unit, value: number): Quantity =>
  root({ id, title: id, unit, value, kind: 'weighed', source: 'given for this test' })

const pieceWith = (over: Partial<Piece> = {}): Piece => ({
  id: 'clasp',
  name: 'Clasp',
  quantity: 1,
  source: { from: 'volume', volume_cm3: 4 },
  ...over,
})

const pourWith = (pieces: Piece[]): Pour =>
  pourSchema.parse({
    kind: 'pour',
    version: 1,
    name: 'Cloak clasp set',
    alloy: 'sterling',
    pieces,
    tree: {},
    investment: { id: 'gypsum-bonded', water_C: 21 },
    kiln: 'kiln',
    machine: 'spring-arm',
    crucible: 'crucible',
    torch: 'torch',
    castAt: { weekday: 'saturday', time: '15:30' },
    charge: {},
    spin: {},
    price: { labour_h: {} },
  })

interface Habits {
  readonly shrink?: Shop['alloys'][number]['castShrink']
  readonly perFace_mm?: Shop['finishing']['perFace_mm']
  readonly pickle_C?: number
}

/** The working constants of the scenarios: shrink 1.25 %, 0.10 mm a face. */
const shopWith = ({ shrink = 0.0125, perFace_mm = 0.1, pickle_C = 55 }: Habits = {}): Shop => {
  const shop = usualShop()
  return {
    ...shop,
    alloys: shop.alloys.map((alloy) => ({ ...alloy, castShrink: shrink, density_g_cm3: 10.36 })),
    finishing: { ...shop.finishing, perFace_mm, pickle_C },
  }
}

const finish = (pieces: Piece[], over: Partial<FinishInput> = {}, habits: Habits = {}) => {
  const pour = pourWith(pieces)
  const shop = shopWith(habits)
  return planFinish({
    roots: openRoots(shop, pour),
    shop,
    pour,
    alloyIndex: 0,
    pieces: pour.pieces.map((piece, index) => ({
      id: piece.id,
      name: piece.name,
      quantity: piece.quantity,
      index,
    })),
    ...over,
  })
}

const stone = {
  name: 'carnelian',
  length_mm: 18,
  width_mm: 13,
  gap_mm: 0.05,
  polish_mm: 0.03,
  heatSensitive: true,
}

test('an 18 by 13 mm stone with 0.05 mm a side is carved 18.27 by 13.21 mm', () => {
  const wide = { value: 0.0125, low: 0.0075, high: 0.0175 }
  const [piece] = finish([pieceWith({ seat: stone })], {}, { shrink: wide }).pieces
  // (18.00 + 0.10 - 0.06) / 0.9875 = 18.268; (13.00 + 0.10 - 0.06) / 0.9875 = 13.205
  expect(piece?.seat?.length.value).toBeCloseTo(0.018268, 6)
  expect(piece?.seat?.width.value).toBeCloseTo(0.013205, 6)
  // shrink 0.5 % either way: 0.09 and 0.07 mm
  const half = (size: Quantity | undefined) => (size ? (size.high - size.low) / 2 : 0)
  expect(half(piece?.seat?.length)).toBeCloseTo(0.00009, 5)
  expect(half(piece?.seat?.width)).toBeCloseTo(0.00007, 5)
})

test('the chance that a stone drops in falls with the spread of shrink and rises with the gap', () => {
  const chance = (gap_mm: number, spread: number): number => {
    const shrink = { value: 0.0125, low: 0.0125 - spread, high: 0.0125 + spread }
    const [piece] = finish([pieceWith({ seat: { ...stone, gap_mm } })], {}, { shrink }).pieces
    return piece?.seat?.dropsIn.value ?? Number.NaN
  }
  expect(chance(0, 0.005)).toBeCloseTo(0.5, 9)
  expect(chance(0.1, 0.005)).toBeGreaterThan(chance(0.05, 0.005))
  expect(chance(0.05, 0.005)).toBeLessThan(chance(0.05, 0.002))
})

test('a gap of the stated spread lets the stone drop in nineteen times of twenty', () => {
  const shrink = { value: 0.0125, low: 0.0075, high: 0.0175 }
  const seatAt = (gap_mm: number) =>
    finish([pieceWith({ seat: { ...stone, gap_mm } })], {}, { shrink }).pieces[0]?.seat
  const spread = seatAt(0.05)?.spread.value ?? 0
  // the seat itself grows a little with the gap, so the chance is the normal 0.95 to three digits
  expect(seatAt(spread * 1000)?.dropsIn.value).toBeCloseTo(0.95, 3)
})

test('a tight seat is a check that says the gap to ask for, a roomy one passes', () => {
  const verdict = (gap_mm: number) =>
    finish(
      [pieceWith({ seat: { ...stone, gap_mm } })],
      {},
      { shrink: { value: 0.0125, low: 0.0075, high: 0.0175 } },
    ).answer.verdicts.find((one) => one.id === 'finish.seat.clasp')?.verdict
  expect(verdict(0.01)).toBe('check')
  expect(verdict(0.1)).toBe('pass')
})

test('a slot for a 19.05 mm strap with 0.80 mm of play is 19.95 mm in wax', () => {
  // polish opens it by 0.15: (19.05 + 0.80 - 0.15) / 0.9875 = 19.949
  const slot = { name: 'slot', finished_mm: 19.85, faces: 2, hole: true }
  const [piece] = finish([pieceWith({ lengths: [slot] })], {}, { perFace_mm: 0.075 }).pieces
  expect(piece?.lengths[0]?.wax.value).toBeCloseTo(0.019949, 6)
})

test('a size 10 ring, 19.76 mm, is bored 19.91 mm in wax', () => {
  const bore = { name: 'bore', finished_mm: 19.76, faces: 2, hole: true }
  const [piece] = finish([pieceWith({ lengths: [bore] })], {}, { perFace_mm: 0.05 }).pieces
  expect(piece?.lengths[0]?.wax.value).toBeCloseTo(0.019909, 6)
})

test('a solid size is carved larger by what both faces lose, where a hole is carved smaller', () => {
  const lengths = [
    { name: 'across', finished_mm: 40, faces: 2 },
    { name: 'hole', finished_mm: 40, faces: 2, hole: true },
  ]
  const [piece] = finish([pieceWith({ lengths })]).pieces
  // (40 + 0.2) / 0.9875 = 40.709; (40 - 0.2) / 0.9875 = 40.304
  expect(piece?.lengths[0]?.wax.value).toBeCloseTo(0.040709, 6)
  expect(piece?.lengths[1]?.wax.value).toBeCloseTo(0.040304, 6)
})

test('what is carved by the wax size comes out at the finished size', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2, max: 80, noNaN: true }),
      fc.double({ min: 0, max: 0.03, noNaN: true }),
      fc.double({ min: 0, max: 0.2, noNaN: true }),
      (finished_mm, shrink, perFace_mm) => {
        const lengths = [{ name: 'across', finished_mm, faces: 2 }]
        const wax = finish([pieceWith({ lengths })], {}, { shrink, perFace_mm }).pieces[0]?.lengths[0]?.wax
        if (wax === undefined) throw new Error('no wax size; expected one')
        const extents = { length: wax, width: wax, height: wax }
        const cast = { id: 'clasp', name: 'Clasp', quantity: 1, index: 0, extents }
        const [back] = finish([pieceWith()], { pieces: [cast] }, { shrink, perFace_mm }).pieces
        expect(back?.sizes?.length.value).toBeCloseTo(finished_mm / 1000, 9)
      },
    ),
    { numRuns: 60 },
  )
})

test('a clasp of 40.6 cm2 loses 4.2 g of its 44.7 g at a tenth of a millimetre', () => {
  const cast = {
    id: 'clasp',
    name: 'Clasp',
    quantity: 1,
    index: 0,
    castMass: given('cast', 'kg', 0.0447),
    area: given('area', 'm2', 0.00406),
  }
  const answer = finish([pieceWith()], { pieces: [cast] })
  // 40.6 x 0.01 x 10.36 = 4.206 g; 44.7 - 4.2 = 40.5 g
  expect(answer.loss?.value).toBeCloseTo(0.004206, 6)
  expect(answer.finishedMass?.value).toBeCloseTo(0.040494, 6)
  // 65 of 100 parts of the loss are caught
  expect(answer.filings?.value).toBeCloseTo(0.004206 * 0.65, 6)
  expect(answer.pieces[0]?.lossFrom).toBe('surface')
})

test('without a surface the loss is a usual share, wider than the spread of any measured one', () => {
  const cast = { id: 'clasp', name: 'Clasp', quantity: 3, index: 0, castMass: given('cast', 'kg', 0.04) }
  const answer = finish([pieceWith({ quantity: 3 })], { pieces: [cast] })
  const [piece] = answer.pieces
  expect(piece?.lossFrom).toBe('usual share')
  expect(piece?.loss?.low ?? 0).toBeLessThan(0.04 * 0.05)
  expect(piece?.loss?.high ?? 0).toBeGreaterThan(0.04 * 0.1)
  // mass is conserved over all three: 3 x 40 g
  expect((answer.finishedMass?.value ?? 0) + (answer.loss?.value ?? 0)).toBeCloseTo(0.12, 12)
})

test('one piece without a weight leaves the total open and says so', () => {
  const weighed = { id: 'clasp', name: 'Clasp', quantity: 1, index: 0, castMass: given('cast', 'kg', 0.04) }
  const open = { id: 'tag', name: 'Tag', quantity: 1, index: 1 }
  const answer = finish([pieceWith(), pieceWith({ id: 'tag', name: 'Tag' })], { pieces: [weighed, open] })
  expect(answer.finishedMass).toBeUndefined()
  expect(answer.pieces[0]?.finishedMass).toBeDefined()
  expect(answer.answer.problems).toHaveLength(1)
})

test('the pickle for 105 g of castings is about a litre with 100 g of acid salt, never under half a litre', () => {
  const bath = (mass: number) => {
    const castMass = given('cast', 'kg', mass)
    return finish([pieceWith()], {
      pieces: [{ id: 'clasp', name: 'Clasp', quantity: 1, index: 0, castMass }],
    }).pickle
  }
  expect(bath(0.105).water?.value).toBeCloseTo(0.00105, 8)
  expect(bath(0.105).salt?.value).toBeCloseTo(0.105, 8)
  expect(bath(0.01).water?.value).toBeCloseTo(0.0005, 8)
})

test('acid goes into water, no iron, and a hot bath is a check', () => {
  const answer = finish([pieceWith()])
  const acid = answer.answer.cautions.find((caution) => caution.id === 'finish.acid')
  expect(acid?.words.join('')).toContain('Acid goes into water')
  expect(answer.steps[0]?.words.filter((part) => typeof part === 'string').join('')).toContain('no iron')
  const hot = finish([pieceWith()], {}, { pickle_C: 85 })
  expect(hot.answer.verdicts.find((verdict) => verdict.id === 'finish.pickle')?.verdict).toBe('check')
})

test('a stone that heat harms is set last of all, after every step with heat', () => {
  const { steps } = finish([pieceWith({ seat: stone })])
  expect(steps.at(-1)?.name).toBe('Set the stone')
  expect(steps.at(-1)?.words.join('')).toContain('Set cold')
  expect(steps.findLastIndex((step) => step.heat)).toBeLessThan(steps.length - 1)
})

test('a section that finishing leaves under half a millimetre is a check', () => {
  const calipers = { length_mm: 30, width_mm: 20, height_mm: 3, thickest_mm: 3, thinnest_mm: 0.6 }
  const source = { from: 'volume', volume_cm3: 1, calipers } as const
  // 0.6 x 0.9875 - 0.2 = 0.39 mm
  const answer = finish([pieceWith({ source })])
  expect(answer.pieces[0]?.thinnestLeft?.value).toBeCloseTo(0.0003925, 8)
  expect(answer.answer.verdicts.find((one) => one.id === 'finish.thin.clasp')?.verdict).toBe('check')
})

test('seat, chance and finished weight are the same through their explanation as when planned afresh', () => {
  const seat = { ...stone, length_mm: { value: 18, low: 17.95, high: 18.05 } }
  const shrink = { value: 0.0125, low: 0.0075, high: 0.0175 }
  const pour = pourWith([pieceWith({ seat, lengths: [{ name: 'across', finished_mm: 40, faces: 2 }] })])
  const shop = shopWith({ shrink, perFace_mm: { value: 0.1, low: 0.05, high: 0.18 } })
  const cast = {
    id: 'clasp',
    name: 'Clasp',
    quantity: 1,
    index: 0,
    castMass: given('cast', 'kg', 0.0447),
    area: given('area', 'm2', 0.00406),
  }
  const planned = (withShop: Shop, withPour: Pour) =>
    planFinish({
      roots: openRoots(withShop, withPour),
      shop: withShop,
      pour: withPour,
      alloyIndex: 0,
      pieces: [cast],
    })
  type Planned = ReturnType<typeof planned>
  const numbers = [
    (answer: Planned) => answer.pieces[0]?.seat?.length,
    (answer: Planned) => answer.pieces[0]?.seat?.dropsIn,
    (answer: Planned) => answer.pieces[0]?.seat?.spread,
    (answer: Planned) => answer.pieces[0]?.lengths[0]?.wax,
    (answer: Planned) => answer.finishedMass,
    (answer: Planned) => answer.filings,
  ]
  for (const number of numbers) {
    const target = number(planned(shop, pour))
    if (target === undefined) throw new Error('no number; expected one')
    const moved = movedBothWays(target, (path, value) => {
      const inner = path.replace(/^\/(shop|pour)/, '')
      return path.startsWith('/shop')
        ? number(planned(withPath(shop, inner, value), pour))
        : number(planned(shop, withPath(pour, inner, value)))
    })
    expect(moved.length).toBeGreaterThan(0)
    for (const [through, fresh, path] of moved) expect(through, `${target.id} ${path}`).toBeCloseTo(fresh, 9)
  }
})
