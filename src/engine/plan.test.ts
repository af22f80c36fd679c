import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readPath, withPath } from './documents/index.ts'
import { quantitiesOf } from './explain.ts'
import { normalQuantile } from './physics/normal.ts'
import { planPour } from './plan.ts'
import { planToJson } from './plan-json.ts'
import { METRIC, type Quantity, reworked, writeWords } from './quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

const given = { now: SAMPLE_NOW }
const shop = sampleShop()
const six = samplePour({
  pieces: [1.02, 1.08, 1.12, 1.15, 1.2, 1.3].map((mass, index) => sampleWax(`ring-${index + 1}`, mass)),
})

/** A seeded generator, so that a failure can be run again (mulberry32). */
const seeded = (seed: number): (() => number) => {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

const rootsOf = (quantity: Quantity): Quantity[] =>
  [...quantitiesOf(quantity).values()].filter((one) => one.body === undefined && one.u > 0)

/** Draws of a quantity with its roots spread normally; decisions such as sprue sizes are held. */
const draws = (quantity: Quantity, count: number): Float64Array => {
  const random = seeded(20301115)
  const roots = rootsOf(quantity)
  const held = [...quantitiesOf(quantity).values()].filter((one) => one.body !== undefined && one.u === 0)
  const values = new Float64Array(count)
  for (let draw = 0; draw < count; draw += 1) {
    const drawn = new Map<Quantity, number>()
    for (const from of roots) drawn.set(from, from.value + from.u * normalQuantile(Math.max(1e-12, random())))
    values[draw] = reworked(quantity, drawn, new Map(held.map((one) => [one, one.value])))
  }
  return values.sort()
}

describe('the plan of a six-piece tree', () => {
  const plan = planPour(shop, six, given)
  const fill = plan.needed.fill as Quantity
  const needed = plan.needed.needed as Quantity
  const toWeigh = plan.needed.toWeigh as Quantity

  it('spreads as a Monte Carlo over its roots does', () => {
    const values = draws(needed, 40_000)
    const at = (share: number): number => values[Math.floor(share * values.length)] as number
    const width = needed.high - needed.low
    expect(Math.abs(at(0.05) - needed.low)).toBeLessThan(0.03 * width)
    expect(Math.abs(at(0.5) - needed.value)).toBeLessThan(0.03 * width)
    expect(Math.abs(at(0.95) - needed.high)).toBeLessThan(0.03 * width)
  })

  it('counts the wax’s density once for all six, so the spread is wider than six independent pieces', () => {
    const pieces = plan.pieces.castMass as Quantity
    const apart = Math.hypot(...plan.pieces.pieces.map((piece) => (piece.castMass as Quantity).u))
    expect(pieces.u).toBeGreaterThan(2 * apart)
  })

  it('falls short as often as a Monte Carlo of the cavity does', () => {
    const tight = planPour(
      shop,
      { ...six, charge: { ...six.charge, toWeigh_g: Number((fill.value * 1000).toFixed(1)) + 1 } },
      given,
    )
    const there = (tight.needed.toWeigh as Quantity).value
    const values = draws(tight.needed.fill as Quantity, 40_000)
    const short = values.filter((value) => value > there).length / values.length
    expect(Math.abs(short - (tight.needed.probabilityShort as Quantity).value)).toBeLessThan(0.012)
  })

  it('weighs the least the scale can that keeps both chances', () => {
    const step = shop.scales.metal.resolution_g / 1000
    const less = planPour(
      shop,
      { ...six, charge: { ...six.charge, toWeigh_g: (toWeigh.value - step) * 1000 } },
      given,
    )
    const { shortChance, buttonChance } = shop.rules
    expect((plan.needed.probabilityShort as Quantity).value).toBeLessThanOrEqual(shortChance)
    expect((plan.needed.probabilityButtonShort as Quantity).value).toBeLessThanOrEqual(buttonChance)
    const lessShort = (less.needed.probabilityShort as Quantity).value > shortChance
    const lessButton = (less.needed.probabilityButtonShort as Quantity).value > buttonChance
    expect(lessShort || lessButton).toBe(true)
  })

  it('keeps the mass of metal: charge = pieces + sprues + button + crucible', () => {
    const { button, crucible } = plan.needed
    const parts =
      (plan.pieces.castMass as Quantity).value +
      (plan.spruesMetal as Quantity).value +
      (button as Quantity).value +
      crucible.value
    expect(parts).toBeCloseTo(toWeigh.value, 12)
  })

  it('makes up exactly the charge to weigh', () => {
    const sum = plan.charge.lines.reduce((total, line) => total + line.mass, 0)
    expect(sum).toBeCloseTo(toWeigh.value, 9)
  })
})

describe('any plan', () => {
  it('is the same to the bit when planned twice', () => {
    const once = JSON.stringify(planToJson(planPour(shop, six, given)))
    expect(JSON.stringify(planToJson(planPour(shop, six, given)))).toBe(once)
  })

  it('has one quantity for each id', () => {
    const plan = planPour(shop, six, given)
    const byId = new Map<string, Quantity>()
    const clashes: string[] = []
    const visit = (quantity: Quantity): void => {
      const before = byId.get(quantity.id)
      if (before === quantity) return
      if (before !== undefined && before.value !== quantity.value) clashes.push(quantity.id)
      byId.set(quantity.id, quantity)
      Object.values(quantity.inputs).forEach(visit)
    }
    for (const quantity of quantitiesOf(plan).values()) visit(quantity)
    expect(clashes).toEqual([])
  })

  it('gives every reckoned number words, a source and an id, and every root a source', () => {
    for (const quantity of quantitiesOf(planPour(shop, six, given)).values()) {
      expect(quantity.title, quantity.id).not.toBe('')
      expect(quantity.source, quantity.id).not.toBe('')
      if (quantity.kind === 'reckoned') expect(quantity.says, quantity.id).not.toBe('')
      expect(Number.isFinite(quantity.value), quantity.id).toBe(true)
      expect(quantity.low, quantity.id).toBeLessThanOrEqual(quantity.value)
      expect(quantity.high, quantity.id).toBeGreaterThanOrEqual(quantity.value)
    }
  })

  it('gives the same when an input is changed through its explanation as when planned afresh', () => {
    const pour = samplePour({
      pieces: [1.02, 1.3].map((mass, index) => sampleWax(`ring-${index + 1}`, mass)),
    })
    const quantities = quantitiesOf(planPour(shop, pour, given))
    const changeable = [...quantities.values()].filter(
      (one) => one.path !== undefined && one.body === undefined,
    )
    expect(changeable.length).toBeGreaterThan(60)
    // a make-up is chosen anew for each charge, and a chance is read at the spread it was planned with: both
    // are re-planned by the page, and are left out of this comparison with what rests on them
    const rechosen = (one: Quantity): boolean =>
      /^charge\.(fineness|short|buttonShort)$/.test(one.id) || Object.values(one.inputs).some(rechosen)
    const targets = [...quantities.values()].filter((one) => one.body !== undefined && !rechosen(one))
    expect(targets.length).toBeGreaterThan(100)
    const differing: string[] = []
    for (const input of changeable) {
      const path = input.path as string
      const { documentScale: scale = 1, documentOffset: offset = 0 } = input
      const before = (input.value - offset) / scale
      if (Number.isInteger(before) && /count|quantity|steps|pours|spoiled/.test(path)) continue
      const after = before === 0 ? 0.01 : before * 1.002
      const [root = '', ...rest] = path.split('/').slice(1)
      const inner = `/${rest.join('/')}`
      const fresh = quantitiesOf(
        planPour(
          root === 'shop' ? withPath(shop, inner, after) : shop,
          root === 'pour' ? withPath(pour, inner, after) : pour,
          given,
        ),
      )
      const changed = new Map(
        changeable.filter((one) => one.path === path).map((one) => [one, after * scale + offset]),
      )
      for (const target of targets) {
        const planned = fresh.get(target.id)?.value
        if (planned === undefined) continue
        const through = reworked(target, changed)
        if (Math.abs(through - planned) > 1e-6 * Math.max(Math.abs(planned), 1e-9))
          differing.push(`${target.id} through ${path}: ${through}, planned afresh ${planned}`)
      }
    }
    expect(differing).toEqual([])
  })

  it('moves as its slopes say when a root moves a little', () => {
    const plan = planPour(shop, six, given)
    const cavity = plan.needed.cavity as Quantity
    for (const [from, slope] of cavity.slopes) {
      const by = from.value === 0 ? 1e-4 : Math.abs(from.value) * 1e-3
      const moved = reworked(cavity, new Map([[from, from.value + by]]), new Map())
      if (slope === 0) continue
      expect((moved - cavity.value) / by / slope, from.id).toBeCloseTo(1, 1)
    }
  })

  it('leaves fit and sprues open for a wax without calipers, and says so as a check', () => {
    const bare = samplePour({
      pieces: [
        {
          id: 'wax',
          name: 'Wax',
          quantity: 1,
          source: { from: 'weighed-wax', mass_g: 5, wax: 'hard-carving' },
        },
      ],
    })
    const plan = planPour(shop, bare, given)
    expect(plan.flask).toBeUndefined()
    expect(plan.tree.gates).toHaveLength(0)
    expect(plan.needed.toWeigh).toBeUndefined()
    expect(plan.pieces.pieces[0]?.castMass?.value).toBeCloseTo((5 / 0.95 / 1000) * 10.36, 9)
    expect(plan.go.stops).toEqual([])
    expect(plan.go.checks.map((one) => one.id)).toEqual(
      expect.arrayContaining(['pieces.wax.calipers', 'flask.open', 'charge.open']),
    )
  })

  it('takes the sprues from the scale when the tree was weighed', () => {
    const weighed = samplePour({
      tree: { weighed: { base_g: 68.42, baseWithTree_g: 68.42 + 1.2 + 1.5, baseWeighed: 'today' } },
    })
    const plan = planPour(shop, weighed, given)
    // 1.5 g of sprue wax at 0.945 g/cm3 in sterling at 10.36
    expect((plan.spruesMetal as Quantity).value * 1000).toBeCloseTo((1.5 / 0.945) * 10.36, 6)
  })

  it('stops when the tree weighs less than its parts', () => {
    const stale = samplePour({
      tree: { weighed: { base_g: 69.4, baseWithTree_g: 70.1, baseWeighed: 'earlier' } },
    })
    expect(planPour(shop, stale, given).go.stops.map((one) => one.id)).toContain('pieces.tree')
  })

  it('stops for a charge that the casting machine cannot hold', () => {
    const big = samplePour({ pieces: [sampleWax('big', 18, { quantity: 2 })] })
    expect(planPour(shop, big, given).go.stops.map((one) => one.id)).toContain('spin.capacity.charge')
  })

  it('stops for pieces that alone are too much, though nobody has measured them', () => {
    const bare = (mass_g: number) =>
      planPour(
        shop,
        samplePour({
          pieces: [
            {
              id: 'wax',
              name: 'Wax',
              quantity: 1,
              source: { from: 'weighed-wax', mass_g, wax: 'hard-carving' },
            },
          ],
        }),
        given,
      ).go
    // 416 g of wax at 0.95 is 4.5 kg of sterling; the crucible holds 300 g, the arm takes 200 g, the scale 200 g
    const { stops, checks } = bare(416)
    expect(stops.map((one) => one.id)).toEqual(
      expect.arrayContaining(['melt.crucible', 'spin.capacity.charge']),
    )
    expect(checks.map((one) => one.id)).toContain('pieces.wax.scale')
    // 20 g is 218 g of metal: inside the crucible, past the arm, and a weight the scale can show
    expect(bare(20).stops.map((one) => one.id)).toEqual(['spin.capacity.charge'])
    expect(bare(20).checks.map((one) => one.id)).not.toContain('pieces.wax.scale')
    expect(bare(5).stops).toEqual([])
  })

  it('tells once that a charge is too big for the machine', () => {
    const big = samplePour({ pieces: [sampleWax('big', 18, { quantity: 2 })] })
    const machine = /casting machine|arm takes|machine takes/
    const told = planPour(shop, big, given).go.stops.filter((one) =>
      machine.test(writeWords(one.reason, METRIC)),
    )
    expect(told.map((one) => one.id)).toEqual(['spin.capacity.charge'])
  })

  it('keeps an accepted check with its reason, and lets no stop be accepted away', () => {
    const accepted = samplePour({
      accepted: { 'go.trial': 'cast a scrap this morning', 'spin.capacity.charge': 'it will do' },
      pieces: [sampleWax('big', 18, { quantity: 2 })],
    })
    const { go } = planPour(shop, accepted, given)
    expect(go.accepted.map((one) => one.id)).toContain('go.trial')
    expect(go.stops.map((one) => one.id)).toContain('spin.capacity.charge')
    expect(go.accepted.map((one) => one.id)).not.toContain('spin.capacity.charge')
  })

  it('says which way a casting time that the clocks skip was read', () => {
    const skipped = samplePour({ castAt: { weekday: 'sunday', time: '02:30' } })
    const plan = planPour(shop, skipped, { now: Date.parse('2027-03-12T08:00:00-07:00') })
    expect(plan.go.checks.map((one) => one.id)).toContain('burnout.clocks')
    expect(planToJson(plan).castAt).toBe('2027-03-14T03:30:00-06:00')
  })

  it('asks about a flask far from what casters use, and gives no metal for an alloy it does not know', () => {
    expect(planPour(shop, samplePour({ flask_C: 20 }), given).go.stops.map((one) => one.id)).toContain(
      'burnout.aim',
    )
    const unknown = planPour(shop, samplePour({ alloy: 'unobtainium' }), given)
    expect(unknown.pieces.castMass).toBeUndefined()
    expect(unknown.needed.toWeigh).toBeUndefined()
    expect(unknown.go.stops.map((one) => one.id)).toContain('problem.not-in-shop')
  })

  it('gives the core at casting with the kiln’s doubt in it', () => {
    const { burnout } = planToJson(planPour(shop, six, given))
    const width = (of: { low: number; high: number } | null): number => (of === null ? 0 : of.high - of.low)
    expect(width(burnout.coreAtCast_C)).toBeGreaterThanOrEqual(width(burnout.castingTemperature_C) - 1e-6)
    expect(width(burnout.coreAtCast_C)).toBeGreaterThan(5)
  })

  it('takes a casting moment in the past as a check, not an error', () => {
    const past = planPour(shop, samplePour({ castAt: '2020-01-04T15:30:00-07:00' }), given)
    expect(past.go.stops).toEqual([])
    expect(past.go.checks.map((one) => one.part)).toContain('burnout')
  })

  it('comes out whole for any sensible pour, with clearances kept whenever a flask is passed', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            mass: fc.double({ min: 0.2, max: 12, noNaN: true }),
            length: fc.double({ min: 4, max: 70, noNaN: true }),
            width: fc.double({ min: 4, max: 50, noNaN: true }),
            height: fc.double({ min: 1, max: 30, noNaN: true }),
            thickest: fc.double({ min: 0.8, max: 6, noNaN: true }),
            thinnest: fc.double({ min: 0.3, max: 6, noNaN: true }),
            quantity: fc.integer({ min: 1, max: 4 }),
          }),
          { minLength: 1, maxLength: 4 },
        ),
        (rows) => {
          const pour = samplePour({
            pieces: rows.map((row, index) => ({
              id: `piece-${index}`,
              name: `Piece ${index}`,
              quantity: row.quantity,
              source: {
                from: 'weighed-wax' as const,
                mass_g: row.mass,
                wax: 'hard-carving',
                calipers: {
                  length_mm: row.length,
                  width_mm: row.width,
                  height_mm: row.height,
                  thickest_mm: row.thickest,
                  thinnest_mm: row.thinnest,
                },
              },
            })),
          })
          const plan = planPour(shop, pour, given)
          const passed = plan.go.passes.map((one) => one.id)
          if (passed.includes('flask.wall'))
            expect(plan.flask?.sideGap?.value ?? 0).toBeGreaterThanOrEqual(6.35e-3 - 1e-6)
          if (passed.includes('flask.top'))
            expect(plan.flask?.topGap?.value ?? 0).toBeGreaterThanOrEqual(
              (plan.flask?.neededTop.value ?? 1) - 1e-6,
            )
        },
      ),
      { numRuns: 60 },
    )
  })

  it('comes out, with a stop, for a wax that fills the flask and for a mould as hot as the metal', () => {
    const huge = planPour(shop, samplePour({ pieces: [sampleWax('huge', 15_000)] }), given)
    expect(huge.go.stops.map((one) => one.id)).toContain('flask.room')
    const hot = planPour(shop, samplePour({ flask_C: 890 }), given)
    expect(hot.go.stops.map((one) => one.id)).toContain('freeze.mould')
  })

  it('writes no unit into a sentence by hand, so that every figure follows the reader’s units', () => {
    const seat = {
      name: 'carnelian',
      length_mm: 18,
      width_mm: 13,
      gap_mm: 0.1,
      polish_mm: 0.05,
      heatSensitive: true,
    }
    const pours = [
      samplePour({
        pieces: [sampleWax('clasp', 1.2, { seat }), sampleWax('tag', 0.8)],
        tree: { weighed: { base_g: 68.4, baseWithTree_g: 71, baseWeighed: 'earlier' } },
        price: { labour_h: {}, clientsMetal: false },
      }),
      samplePour({ pieces: [sampleWax('big', 250, { quantity: 3, seat })], flask_C: 40, flask: 'flask-2x2' }),
    ]
    const byHand = /\d\s*(mm|cm|g|kg|oz|°?C|°?F|inHg|mbar|kPa|‰|%)(?![\w.])/
    for (const pour of pours) {
      const plan = planPour(shop, pour, given)
      const sentences = [
        ...plan.verdicts.flatMap((one) => [one.title, one.reason, one.remedy]),
        ...plan.cautions.map((one) => one.words),
        ...plan.problems.flatMap((one) => [one.what, one.remedy]),
      ]
      for (const words of sentences)
        for (const part of words) if (typeof part === 'string') expect(part).not.toMatch(byHand)
    }
  })

  it('sends nobody back to measure pieces that are measured and too large for the rack', () => {
    const wide = sampleWax('wide', 12)
    const calipers = { length_mm: 150, width_mm: 120, height_mm: 4, thickest_mm: 2.2, thinnest_mm: 1.4 }
    const plan = planPour(
      shop,
      samplePour({
        pieces: [
          { ...wide, source: { from: 'weighed-wax', mass_g: 12, wax: 'hard-carving', calipers } },
          sampleWax('small', 1),
        ],
      }),
      given,
    )
    const stop = plan.go.stops.find((one) => one.id === 'flask.rack')
    expect(writeWords(stop?.title ?? [], METRIC)).toContain('wide: too large for any flask')
    const told = [
      ...plan.problems.map((one) => one.remedy),
      ...plan.go.stops.flatMap((one) => [one.reason, one.remedy]),
    ].map((words) => writeWords(words, METRIC))
    expect(told.length).toBeGreaterThan(3)
    for (const one of told) expect(one).not.toMatch(/measure|two flasks/i)
  })

  it('says a casting time that is past before any other check, with the earliest possible one', () => {
    const past = planPour(shop, samplePour({ castAt: '2030-11-14T15:30:00-07:00' }), given)
    const [first] = past.go.checks
    expect(writeWords(first?.title ?? [], METRIC)).toBe('This casting time is past')
    expect(writeWords(first?.reason ?? [], METRIC)).toContain('would have had to be on at')
    expect(writeWords(first?.remedy ?? [], METRIC)).toContain('earliest possible now, Friday 15 November')
  })

  it('stops for a burnout that no longer fits before any other stop', () => {
    const plan = planPour(
      shop,
      samplePour({ castAt: '2030-11-15T10:00:00-07:00', flask: 'flask-2x2' }),
      given,
    )
    const [first] = plan.go.stops
    expect(first?.id).toBe('burnout.start')
    expect(writeWords(first?.title ?? [], METRIC)).toMatch(/^A \d+ h.* burnout no longer fits$/)
  })

  it('takes a weekday whose burnout no longer fits for that of the week after', () => {
    const pour = samplePour({ castAt: { weekday: 'friday', time: '15:30' } })
    const plan = planPour(shop, pour, given)
    // now is Friday 15 November, 8 am: a night's burnout for 3:30 pm is too late
    expect(plan.castAt).toBe(Date.parse('2030-11-22T15:30:00-07:00'))
    expect(plan.burnout.castAt).toBe(plan.castAt)
    expect(plan.verdicts.find(({ id }) => id === 'burnout.start')?.verdict).toBe('pass')
  })

  it('changes one value of a document by its path and leaves the rest alone', () => {
    const changed = withPath(shop, '/waxes/0/density_g_cm3', 0.97)
    expect(readPath(changed, '/waxes/0/density_g_cm3/value')).toBe(0.97)
    expect(changed.waxes[1]).toBe(shop.waxes[1])
    expect(readPath(shop, '/waxes/0/density_g_cm3/value')).toBe(0.95)
  })
})
